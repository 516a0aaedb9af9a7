//! `shortcycle mark` and `debrief` from logbooks to files, in this process.

use std::fs;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use crate::cli::run;
use crate::scenario::{Scenario, ShippedSites, shipped};
use crate::session::{Action, Header, Mode, Record, Station, Visit};

/// A logbook of a visit to a shipped scenario.
fn logbook(person: &str, actions: &[Action]) -> String {
    let found = shipped().iter().find(|s| s.name == "dim-lights").unwrap();
    let scenario = Scenario::parse("dim-lights.ron", found.text, &ShippedSites).unwrap();
    let mut visit = Visit::begin(&Arc::new(scenario), 3, Mode::Graded).unwrap();
    let mut text = Header::of(&visit, person).to_line();
    for action in actions {
        visit.perform(action).unwrap();
        text += &Record::of(&visit, action).to_line();
    }
    text
}

fn shortcycle(args: &[&str]) -> (ExitCode, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle"].iter().chain(args);
    let code = run(args, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

fn path(folder: &Path, name: &str) -> String {
    folder.join(name).display().to_string()
}

fn read_and_leave() -> [Action; 2] {
    [Action::ReadGauge, Action::CloseUp]
}

#[test]
fn a_folder_is_marked_and_what_cannot_be_stops_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let one = logbook("Reader One", &read_and_leave());
    write("a.jsonl", &one);
    write("b.jsonl", &logbook("reader one", &read_and_leave()));
    write("c.jsonl", &one.replacen("read_gauge", "listen", 1));
    write("d.log", "hello");
    write("e.jsonl", &one.replacen("dim-lights", "dim-light", 1));
    write("f.jsonl", &one.replacen("dim-lights", "../dim-lights", 1));
    write("readme.txt", "no logbook");
    let (code, out, err) = shortcycle(&["mark", &folder.path().display().to_string()]);
    assert_eq!(code, ExitCode::from(2), "{out}{err}");
    let row = |name: &str| out.lines().find(|line| line.starts_with(name)).unwrap();
    assert!(row("Reader One").contains("dim-lights") && row("Reader One").contains(" no "));
    assert!(out.contains("c.jsonl: not marked: action 1 does not come out as recorded"));
    assert!(out.contains("d.log: not marked: ") && out.contains("not a logbook"));
    assert!(out.contains("no scenario `dim-light` comes with the program"));
    assert!(out.contains("is no plain name"), "{out}");
    let pages = folder.path().join("debrief");
    let mut names: Vec<String> = fs::read_dir(&pages)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "Reader-One-dim-lights.html",
            "marks.csv",
            "reader-one-dim-lights-2.html"
        ]
    );
    let csv = fs::read_to_string(pages.join("marks.csv")).unwrap();
    let mut reader = csv::ReaderBuilder::new().from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows.len(), 6);
    assert_eq!((&rows[0][1], &rows[0][4]), ("Reader One", "no"));
    assert!(rows[2][13].starts_with("not marked"));
}

#[test]
fn below_the_pass_mark_is_exit_code_1_and_forms_agree() {
    let folder = tempfile::tempdir().unwrap();
    let file = path(folder.path(), "a.jsonl");
    fs::write(&file, logbook("=SUM(A1)", &read_and_leave())).unwrap();
    let out_folder = path(folder.path(), "pages");
    let (code, json, _) = shortcycle(&["mark", &file, "--out", &out_folder, "--format", "json"]);
    assert_eq!(code, ExitCode::from(1));
    let rows: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(rows[0]["pass"], false);
    assert_eq!(rows[0]["person"], "=SUM(A1)");
    let (_, csv, _) = shortcycle(&["mark", &file, "--out", &out_folder, "--format", "csv"]);
    // A spreadsheet must not take a name for a formula.
    assert!(csv.contains("'=SUM(A1)"), "{csv}");
    let mark = rows[0]["mark"].as_f64().unwrap();
    assert!(csv.contains(&format!(",{mark:.1},no,")), "{csv}");
}

#[test]
fn a_debrief_is_told_and_written() {
    let folder = tempfile::tempdir().unwrap();
    let file = path(folder.path(), "a.jsonl");
    let actions = [
        Action::Go {
            to: Station::Source,
        },
        Action::EnterSource,
    ];
    fs::write(&file, logbook("", &actions)).unwrap();
    let page = path(folder.path(), "page.html");
    let (code, text, err) = shortcycle(&["debrief", &file, "--html", &page]);
    assert_eq!(code, ExitCode::from(1), "{err}");
    assert_eq!(err, format!("wrote {page}\n"));
    assert!(text.contains("climb into the source") && text.contains("Dangerous act."));
    assert!(text.contains("splice"), "{text}");
    assert!(fs::read_to_string(&page).unwrap().ends_with("</html>\n"));
    let (code, json, _) = shortcycle(&["debrief", &file, "--format", "json"]);
    assert_eq!(code, ExitCode::from(1));
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(value["counts"]["hazards"], 1);
}

#[test]
fn scenarios_of_a_folder_are_found_with_their_sites() {
    let folder = tempfile::tempdir().unwrap();
    let found = shipped().iter().find(|s| s.name == "dim-lights").unwrap();
    fs::write(folder.path().join("dim-lights.ron"), found.text).unwrap();
    let file = path(folder.path(), "a.jsonl");
    fs::write(&file, logbook("Reader", &read_and_leave())).unwrap();
    let scenarios = folder.path().display().to_string();
    let (code, _, err) = shortcycle(&["debrief", &file, "--scenarios", &scenarios]);
    assert_eq!(code, ExitCode::from(1), "{err}");
    // An edition that differs in one letter is another.
    fs::write(
        folder.path().join("dim-lights.ron"),
        found.text.replacen("Dim lights", "Dim light", 1),
    )
    .unwrap();
    let (code, _, err) = shortcycle(&["debrief", &file, "--scenarios", &scenarios]);
    assert_eq!(code, ExitCode::from(2));
    assert!(
        err.contains("another edition of scenario `dim-lights`"),
        "{err}"
    );
}

#[test]
fn what_cannot_be_read_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let empty = folder.path().display().to_string();
    let (code, _, err) = shortcycle(&["mark", &empty]);
    assert_eq!(code, ExitCode::from(2));
    assert!(err.contains("no logbook in"), "{err}");
    let (code, _, err) = shortcycle(&["debrief", &path(folder.path(), "none.jsonl")]);
    assert_eq!(code, ExitCode::from(2));
    assert!(err.contains("cannot read"), "{err}");
}
