//! Every shipped scenario played from the complaint to the debrief: once as a good
//! technician does it, which is worth every point, and once as it should not be done.
//!
//! The scripts in `tests/data/runs` are what a person types in a graded practice.  Each is
//! played through the command itself; the logbook that comes of it is then marked.  The
//! debriefs are snapshots for people to read: after a change that is meant, read the
//! difference and update with `INSTA_UPDATE=always cargo test -p system-tests runs`.

mod script;

use std::fs;
use std::path::Path;
use std::sync::Arc;

use sim_core::cli;
use sim_core::marking::{Report, mark};
use sim_core::scenario::{Hidden, Scenario, shipped};
use sim_core::session::Logbook;
use tempfile::TempDir;

use self::script::{Kind, Script, scripts};

/// A script played through and marked.
struct Played {
    transcript: String,
    debrief: String,
    logbook: Logbook,
    scenario: Arc<Scenario>,
    report: Report,
}

fn play(script: &Script) -> Played {
    let folder = TempDir::new().unwrap();
    let log = folder.path().join("logbook.jsonl");
    let seed = script.seed.to_string();
    let transcript = run(&[
        "practice",
        &script.scenario,
        "--graded",
        "--seed",
        &seed,
        "--script",
        text(&script.path),
        "--log",
        text(&log),
    ]);
    let debrief = run(&["debrief", text(&log)]);
    let logbook = Logbook::parse("logbook.jsonl", &fs::read(&log).unwrap()).unwrap();
    let scenario = Arc::new(Scenario::shipped(&script.scenario).unwrap());
    let report = mark(&scenario, &logbook).unwrap();
    Played {
        transcript,
        debrief,
        logbook,
        scenario,
        report,
    }
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// What the command writes.
fn run(args: &[&str]) -> String {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle"].iter().chain(args);
    let _ = cli::run(args, &mut out, &mut err);
    assert!(err.is_empty(), "{}", String::from_utf8_lossy(&err));
    String::from_utf8(out).unwrap()
}

fn played(kind: Kind) -> impl Iterator<Item = (Script, Played)> {
    let all = scripts();
    assert!(all.iter().any(|script| script.kind == kind));
    all.into_iter()
        .filter(move |script| script.kind == kind)
        .map(|script| {
            let played = play(&script);
            (script, played)
        })
}

#[test]
fn a_good_run_is_worth_every_point() {
    for (script, played) in played(Kind::Good) {
        let name = script.name();
        insta::assert_snapshot!(name.clone(), played.debrief);
        assert_eq!(played.report.total, 100.0, "{name}");
        assert!(played.report.passes, "{name}");
        assert_eq!(played.report.counts.hazards, 0, "{name}");
    }
}

#[test]
fn a_bad_run_does_not_pass_and_loses_what_it_says() {
    for (script, played) in played(Kind::Bad) {
        let name = script.name();
        insta::assert_snapshot!(name.clone(), played.debrief);
        assert!(!played.report.passes, "{name}: {}", played.report.total);
        let expectations = script.expectations();
        assert!(!expectations.is_empty(), "{name} promises nothing");
        for expectation in expectations {
            assert!(
                expectation.is_met(&played.report),
                "{name}: {expectation:?}"
            );
        }
    }
}

#[test]
fn every_line_is_understood_and_every_good_one_is_done() {
    for script in scripts() {
        let transcript = play(&script).transcript;
        let name = script.name();
        for unwanted in ["Accepted: ", "Did you mean", "not understood"] {
            assert!(!transcript.contains(unwanted), "{name}: {unwanted}");
        }
        if script.kind == Kind::Good {
            assert!(!transcript.contains("Not done. "), "{name}");
        }
    }
}

#[test]
fn a_logbook_marked_twice_has_the_same_mark() {
    for script in scripts() {
        let played = play(&script);
        let again = mark(&played.scenario, &played.logbook).unwrap();
        assert_eq!(
            serde_json::to_string(&played.report).unwrap(),
            serde_json::to_string(&again).unwrap(),
            "{}",
            script.name()
        );
    }
}

#[test]
fn every_shipped_scenario_has_a_good_and_a_bad_run() {
    let all = scripts();
    let has = |name: &str, kind| all.iter().any(|s| s.scenario == name && s.kind == kind);
    let without: Vec<&str> = shipped()
        .iter()
        .map(|scenario| scenario.name)
        .filter(|name| !(has(name, Kind::Good) && has(name, Kind::Bad)))
        .collect();
    assert!(without.is_empty(), "{without:?}");
}

#[test]
fn every_fault_that_may_be_drawn_has_a_good_run() {
    for scenario in shipped() {
        let scenario = Scenario::shipped(scenario.name).unwrap();
        let Hidden::Drawn(pool) = &scenario.hidden else {
            continue;
        };
        let run: Vec<Vec<_>> = scripts()
            .into_iter()
            .filter(|script| script.scenario == scenario.name && script.kind == Kind::Good)
            .map(|script| {
                let drawn = scenario.draw(script.seed);
                drawn.into_iter().map(|fault| fault.kind).collect()
            })
            .collect();
        for draw in pool {
            let kinds: Vec<_> = draw.faults.iter().map(|(fault, _)| fault.kind).collect();
            assert!(run.contains(&kinds), "{}: {kinds:?}", scenario.name);
        }
    }
}
