//! A mark is earned on a scenario or not given: a folder with edited logbooks in it is
//! marked, the edited ones are refused with the reason, the others are marked all the same.

use std::fs;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use sim_core::scenario::{Scenario, ShippedSites, shipped};
use sim_core::session::{Action, FaultName, Header, Mode, Record, Station, Visit};

const SCENARIO: &str = "first-steps";
const SEED: u64 = 7;

fn scenario(name: &str) -> Arc<Scenario> {
    let found = shipped().iter().find(|s| s.name == name).unwrap();
    Arc::new(Scenario::parse(&format!("{name}.ron"), found.text, &ShippedSites).unwrap())
}

/// A visit as it should be: header and records, one line each.
fn recorded(name: &str, mode: Mode) -> Vec<String> {
    let called = sim_core::faults::kinds()
        .find(|info| info.name == "house_valve.left_shut")
        .unwrap();
    let faults = vec![FaultName(called.kind)];
    let actions = [
        Action::ReadGauge,
        Action::Look { at: None },
        Action::Listen,
        Action::Go { to: Station::House },
        Action::Go { to: Station::Wall },
        Action::SetHouseValve { opening: 1.0 },
        Action::Prove,
        Action::Call { faults },
        Action::CloseUp,
    ];
    let mut visit = Visit::begin(&scenario(name), SEED, mode).unwrap();
    let mut lines = vec![Header::of(&visit, "Reader").to_line()];
    for action in &actions {
        let outcome = visit.perform(action).unwrap();
        assert!(outcome.hazard.is_none());
        lines.push(Record::of(&visit, action).to_line());
    }
    lines
}

fn graded() -> Vec<String> {
    recorded(SCENARIO, Mode::Graded)
}

/// One line with something in it written otherwise.
fn edited(mut lines: Vec<String>, line: usize, from: &str, to: &str) -> Vec<String> {
    assert!(
        lines[line].contains(from),
        "{from} is not in {}",
        lines[line]
    );
    lines[line] = lines[line].replacen(from, to, 1);
    lines
}

/// File, its lines, and what the refusal must say.
fn refused() -> Vec<(&'static str, Vec<String>, &'static str)> {
    let mut missing = graded();
    missing.remove(3);
    let mut swapped = graded();
    swapped.swap(3, 4);
    let digest = |line: &str| {
        let (_, rest) = line.split_once("\"state\":\"").unwrap();
        rest[..16].to_owned()
    };
    let state = digest(&graded()[2]);
    let another = if state.starts_with('0') { "1" } else { "0" };
    let wrong_state = format!("{another}{}", &state[1..]);
    let edition = format!("{:016x}", scenario(SCENARIO).digest);
    let other_scenario = scenario("tangled-float");
    vec![
        (
            "action-changed.jsonl",
            edited(graded(), 1, "read_gauge", "tap_gauge"),
            "action 1 does not come out as recorded",
        ),
        (
            "number-changed.jsonl",
            edited(graded(), 6, "1.0", "0.9"),
            "action 6 does not come out as recorded",
        ),
        (
            "time-changed.jsonl",
            edited(graded(), 1, "\"tick\":1500", "\"tick\":1400"),
            "action 1 does not come out as recorded",
        ),
        (
            "line-removed.jsonl",
            missing,
            "action 4 stands where action 3 should",
        ),
        (
            "lines-swapped.jsonl",
            swapped,
            "action 4 stands where action 3 should",
        ),
        (
            "state-changed.jsonl",
            edited(graded(), 2, &state, &wrong_state),
            "action 2 does not come out as recorded",
        ),
        (
            "seed-changed.jsonl",
            edited(graded(), 0, "\"seed\":7", "\"seed\":8"),
            "action 1 does not come out as recorded",
        ),
        (
            "mode-changed.jsonl",
            edited(recorded(SCENARIO, Mode::Practice), 0, "practice", "graded"),
            "action 1 does not come out as recorded",
        ),
        (
            "another-scenario.jsonl",
            edited(
                edited(graded(), 0, SCENARIO, "tangled-float"),
                0,
                &edition,
                &format!("{:016x}", other_scenario.digest),
            ),
            "action 1 does not come out as recorded",
        ),
        (
            "another-name.jsonl",
            edited(graded(), 0, SCENARIO, "tangled-float"),
            "another edition of scenario `tangled-float`",
        ),
        (
            "another-edition.jsonl",
            edited(graded(), 0, &edition, "0123456789abcdef"),
            "another edition of scenario `first-steps`",
        ),
        (
            "action-that-cannot-be.jsonl",
            edited(graded(), 3, "{\"do\":\"listen\"}", "{\"do\":\"prime\"}"),
            "action 3 cannot have been done",
        ),
        (
            "line-torn-in-the-middle.jsonl",
            edited(graded(), 3, "}\n", "\n"),
            "torn-in-the-middle.jsonl:4: ",
        ),
    ]
}

fn shortcycle(args: &[&str]) -> (ExitCode, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle"].iter().chain(args);
    let code = sim_core::cli::run(args, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(err))
}

fn write(folder: &Path, name: &str, lines: &[String]) {
    fs::write(folder.join(name), lines.concat()).unwrap();
}

#[test]
fn edited_logbooks_are_refused_with_the_reason_and_the_others_are_marked() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "as-recorded.jsonl", &graded());
    write(folder.path(), "zz-as-recorded-too.jsonl", &graded());
    let refused = refused();
    for (name, lines, _) in &refused {
        write(folder.path(), name, lines);
    }
    let (code, table, _) = shortcycle(&["mark", &folder.path().display().to_string()]);
    assert_eq!(code, ExitCode::from(2), "{table}");
    for (name, _, reason) in &refused {
        let told = table
            .lines()
            .find(|line| line.starts_with(&format!("{name}: not marked: ")))
            .unwrap_or_else(|| panic!("{name} is not refused:\n{table}"));
        assert!(told.contains(reason), "{told}\nshould say: {reason}");
    }
    let marked = table
        .lines()
        .filter(|line| line.starts_with("Reader "))
        .count();
    assert_eq!(marked, 2, "{table}");

    let csv = fs::read_to_string(folder.path().join("debrief/marks.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows.len(), refused.len() + 2);
    for (name, _, reason) in &refused {
        let row = rows.iter().find(|row| row[0] == **name).unwrap();
        assert_eq!(&row[3], "", "{name} has a mark");
        assert!(row[13].contains(reason), "{row:?}");
    }
    let pages = fs::read_dir(folder.path().join("debrief")).unwrap().count();
    assert_eq!(
        pages,
        1 + 2,
        "marks.csv and a page for each that could be marked"
    );
}

#[test]
fn what_stands_in_the_header_is_believed_only_as_far_as_it_comes_out() {
    // As recorded, both modes can be marked; so it is the claim that is refused above.
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "graded.jsonl", &graded());
    write(
        folder.path(),
        "practice.jsonl",
        &recorded(SCENARIO, Mode::Practice),
    );
    let (code, table, err) = shortcycle(&["mark", &folder.path().display().to_string()]);
    assert_ne!(code, ExitCode::from(2), "{table}{err}");
    assert!(!table.contains("not marked"), "{table}");
}

#[test]
fn a_last_line_cut_off_is_what_a_power_cut_leaves_and_is_said_so() {
    let folder = tempfile::tempdir().unwrap();
    let whole = graded().concat();
    fs::write(folder.path().join("torn.jsonl"), &whole[..whole.len() - 30]).unwrap();
    let (code, table, _) = shortcycle(&["mark", &folder.path().display().to_string()]);
    assert_ne!(code, ExitCode::from(2), "{table}");
    assert!(table.contains("last line cut off"), "{table}");
    assert!(table.contains("not closed up"), "{table}");
}
