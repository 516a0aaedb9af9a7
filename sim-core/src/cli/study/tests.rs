//! The subcommand as it is called: same bytes however it is run, and what it says.

use std::fs;
use std::path::Path;

use super::store::RESULTS;
use crate::cli::run;

/// A small study in a folder of its own.
fn study_file(folder: &Path) -> String {
    let path = folder.join("small.ron");
    fs::write(
        &path,
        "(version: 1, name: \"small\", title: \"A small study\", site: \"orchard-cottage\",
        overrides: (source: Cistern(refill: \"8 gpm\")),
        demand: Household(occupants: 2.6), days: 1, seeds: 2, vary: [
            List(path: \"wall.pressure_switch.cut_in\", values: [\"30 psi\", \"40 psi\", \"70 psi\"]),
            List(path: \"tank.precharge\", values: [\"18 psi\", \"28 psi\"]),
        ], limits: [RunTime(least: \"20 s\"), StartsPerDay()])",
    )
    .unwrap();
    path.display().to_string()
}

/// Standard output, standard error and exit code of a command.
fn said(args: &[&str]) -> (String, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(
        ["shortcycle", "study"].iter().chain(args),
        &mut out,
        &mut err,
    );
    (
        String::from_utf8(out).unwrap(),
        String::from_utf8(err).unwrap(),
        format!("{code:?}"),
    )
}

fn results(folder: &Path) -> Vec<u8> {
    fs::read(folder.join(RESULTS)).unwrap()
}

#[test]
fn threads_shards_and_a_kill_change_no_byte() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path());
    let folder = |name: &str| temp.path().join(name);
    let text = |name: &str| folder(name).display().to_string();
    let (one, _, code) = said(&[&study, "--out", &text("one"), "--threads", "1"]);
    assert!(code.contains('0') || code.contains("Success"), "{code}");
    let whole = results(&folder("one"));

    let (two, ..) = said(&[&study, "--out", &text("two"), "--threads", "2"]);
    assert_eq!(results(&folder("two")), whole);
    assert_eq!(one, two);
    let csv = fs::read(folder("one").join("results.csv")).unwrap();
    assert_eq!(fs::read(folder("two").join("results.csv")).unwrap(), csv);

    let mut parts = Vec::new();
    for shard in ["1/3", "2/3", "3/3"] {
        let part = text(&shard.replace('/', "-"));
        let (out, err, _) = said(&[&study, "--out", &part, "--shard", shard]);
        assert_eq!(out, "");
        assert!(err.contains("--merge"), "{err}");
        parts.push(part);
    }
    // In whatever order they are named.
    let merged = text("merged");
    let (out, err, _) = said(&["--merge", &parts[2], &parts[0], &parts[1], "--out", &merged]);
    assert_eq!(results(&folder("merged")), whole, "{err}");
    assert_eq!(out, one);
    let (out, ..) = said(&["--merge", &parts[2], &parts[0], &parts[1]]);
    assert_eq!(out, one);

    // Killed at any byte: what is torn is lived through again.
    for cut in [0, 1, 90, 200, whole.len() / 2, whole.len() - 1, whole.len()] {
        let torn = folder(&format!("torn-{cut}"));
        fs::create_dir(&torn).unwrap();
        fs::write(torn.join(RESULTS), &whole[..cut.min(whole.len())]).unwrap();
        let (out, err, _) = said(&[&study, "--out", &torn.display().to_string(), "--resume"]);
        assert_eq!(results(&torn), whole, "cut at {cut}: {err}");
        assert_eq!(out, one);
    }
    // A line that was damaged takes those after it along.
    let mut damaged = whole.clone();
    let middle = whole.len() / 2;
    damaged[middle..middle + 8].copy_from_slice(b"\0\0\0\0\n{}\n");
    let torn = folder("damaged");
    fs::create_dir(&torn).unwrap();
    fs::write(torn.join(RESULTS), damaged).unwrap();
    said(&[&study, "--out", &torn.display().to_string(), "--resume"]);
    assert_eq!(results(&torn), whole);
}

#[test]
fn a_study_is_told_with_the_recommended_setting_first() {
    // The snapshot is our own output for people: read the difference, then update it.
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path());
    let (out, ..) = said(&[&study]);
    assert!(out.lines().all(|line| line.chars().count() <= 100));
    insta::assert_snapshot!(out);
    let (out, ..) = said(&[&study, "--units", "si"]);
    assert!(out.contains("kPa"));
    let (out, ..) = said(&[&study, "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(json["format"], "shortcycle-study");
    assert_eq!(json["settings"].as_array().unwrap().len(), 6);
    assert_eq!(
        json["recommended"][0], json["settings"][0]["setting"],
        "the recommended setting stands first"
    );
}

#[test]
fn reports_stand_for_themselves() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path());
    let out = temp.path().join("out");
    said(&[&study, "--out", &out.display().to_string()]);
    let page = fs::read_to_string(out.join("report.html")).unwrap();
    for needed in [
        "<svg",
        "A small study",
        "common practice, no source",
        "Local codes",
        "drawdown",
    ] {
        assert!(page.contains(needed), "{needed} is missing");
    }
    for foreign in ["http://", "https://", "<script", "src="] {
        let page = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!page.contains(foreign), "{foreign} points elsewhere");
    }
    for picture in ["heat-map", "spread", "front"] {
        assert!(out.join(format!("{picture}.svg")).is_file(), "{picture}");
        let png = fs::read(out.join(format!("{picture}.png"))).unwrap();
        assert_eq!(&png[1..4], b"PNG");
    }
    let parquet = fs::read(out.join("results.parquet")).unwrap();
    assert!(parquet.starts_with(b"PAR1") && parquet.ends_with(b"PAR1"));
    let csv = fs::read_to_string(out.join("results.csv")).unwrap();
    let mut lines = csv.lines();
    let head: Vec<&str> = lines.next().unwrap().split(',').collect();
    assert_eq!(
        head[..3],
        ["setting", "rank", "wall.pressure_switch.cut_in [psi]"]
    );
    assert_eq!(lines.count(), 6);
}

#[test]
fn what_cannot_be_done_is_said() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path());
    let out = temp.path().join("out").display().to_string();
    said(&[&study, "--out", &out, "--shard", "1/2"]);
    let shown = temp.path().display().to_string();
    let mut told = String::new();
    for args in [
        &[][..],
        &["swich-and-tank"],
        &["nowhere.ron"],
        &[&study, "--resume"],
        &[&study, "--shard", "1/2"],
        &[&study, "--shard", "3/2"],
        &[&study, "--threads", "0"],
        &[&study, "--out", &out],
        &["--merge", &out],
        &["--merge", &shown],
        &["--merge", &out, "--resume"],
        &[&study, "--out", &out, "--resume"],
    ] {
        let (_, err, code) = said(args);
        assert!(!err.is_empty(), "{args:?}");
        told += &format!("{}\n{err}{code}\n\n", args.join(" "));
    }
    let told = told.replace(&shown, "TEMP");
    insta::assert_snapshot!(told);
}

#[test]
fn every_shipped_study_fits_the_screen_and_answers_in_words() {
    let temp = tempfile::tempdir().unwrap();
    for study in crate::study::shipped() {
        // A few days of each, so that the test is quick.
        let path = temp.path().join(format!("{}.ron", study.name));
        let short = study
            .text
            .replace("years: 1,", "days: 3,")
            .replace("days: 7,", "days: 3,");
        fs::write(&path, short).unwrap();
        let path = path.display().to_string();
        for units in ["us", "si"] {
            let (out, err, _) = said(&[&path, "--units", units]);
            assert!(err.is_empty(), "{}: {err}", study.name);
            for line in out.lines() {
                assert!(line.chars().count() <= 100, "{}: {line}", study.name);
            }
            assert!(!out.contains("NaN") && !out.contains("inf"), "{out}");
        }
        let (out, ..) = said(&[&path]);
        let answers: &[&str] = match study.name {
            "half-flow" => &["Answer: steady draw", "Starts are most at steady draw"],
            "higher-pressure" => &["starts a day, mean goes from", "drawdown goes from"],
            "losing-charge" => &["Answer: years", "From years 0 to 5: starts"],
            "small-leak" => &[
                "Answer: leak 0.3 gpm",
                "Every limit is kept up to leak 0.3 gpm",
                "straight line",
            ],
            _ => &["Recommended: cut in"],
        };
        let joined = out.split_whitespace().collect::<Vec<_>>().join(" ");
        for answer in answers {
            assert!(joined.contains(answer), "{}: {answer}\n{out}", study.name);
        }
    }
}

#[test]
fn results_of_an_older_engine_are_refused_and_it_is_said_why() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path());
    let out = temp.path().join("out");
    let folder = out.display().to_string();
    said(&[&study, "--out", &folder]);
    let now = format!("\"engine\":{}", crate::study::ENGINE_VERSION);
    let old = fs::read_to_string(out.join(RESULTS)).unwrap();
    assert!(old.contains(&now));
    fs::write(out.join(RESULTS), old.replace(&now, "\"engine\":1")).unwrap();
    for args in [
        &[&study, "--out", &folder, "--resume"][..],
        &["--merge", &folder],
    ] {
        let (out, err, code) = said(args);
        assert_eq!(out, "");
        assert!(err.contains("an engine of version 1"), "{err}");
        assert!(code.contains('2'), "{code}");
    }
}

#[test]
fn a_wide_study_is_shaded_and_its_pictures_stay_small() {
    let temp = tempfile::tempdir().unwrap();
    let path = temp.path().join("wide.ron");
    fs::write(
        &path,
        "(version: 1, name: \"wide\", title: \"A wide study\", site: \"orchard-cottage\",
        overrides: (source: Cistern(refill: \"8 gpm\")),
        demand: Household(occupants: 2.6), days: 0.05, vary: [
            Range(path: \"tank.precharge\", from: \"30 psi\", to: \"38 psi\", count: 16),
            Range(path: \"tank.shell_volume\", from: \"22 gal\", to: \"45 gal\", count: 16),
        ], limits: [RunTime(least: \"30 s\")])",
    )
    .unwrap();
    let out = temp.path().join("out");
    said(&[
        &path.display().to_string(),
        "--out",
        &out.display().to_string(),
    ]);
    for picture in ["heat-map", "spread", "front"] {
        let svg = fs::read_to_string(out.join(format!("{picture}.svg"))).unwrap();
        assert!(svg.len() < 150_000, "{picture}: {}", svg.len());
    }
    let heat = fs::read_to_string(out.join("heat-map.svg")).unwrap();
    assert!(heat.matches("<rect").count() > 20);
    assert!(!heat.contains("not possible"));
}
