//! Marks over a replay: of whole visits to shipped scenarios.

use std::sync::Arc;

use super::mark;
use crate::faults::FaultKind;
use crate::scenario::{Scenario, ShippedSites, shipped};
use crate::session::{
    Action, FaultName, Header, Logbook, Mode, Record, ReplayError, Station, Visit,
};

fn scenario(name: &str) -> Arc<Scenario> {
    let text = shipped().iter().find(|s| s.name == name).unwrap().text;
    Arc::new(Scenario::parse(name, text, &ShippedSites).unwrap())
}

/// Lives a visit and keeps its logbook.
fn visit(name: &str, mode: Mode, actions: &[Action]) -> Logbook {
    let mut visit = Visit::begin(&scenario(name), 7, mode).unwrap();
    let header = Header::of(&visit, "Reader One");
    let mut records = Vec::new();
    for action in actions {
        let result = visit.perform(action);
        assert!(result.is_ok(), "{action:?}: {}", result.unwrap_err());
        records.push(Record::of(&visit, action));
    }
    Logbook {
        header,
        records,
        is_torn: false,
    }
}

fn short() -> Logbook {
    visit(
        "dim-lights",
        Mode::Graded,
        &[
            Action::ReadGauge,
            Action::Wait { seconds: 120.0 },
            Action::ReadGauge,
            Action::Go { to: Station::Panel },
            Action::Call {
                faults: vec![FaultName(FaultKind::PumpJammed)],
            },
            Action::CloseUp,
        ],
    )
}

#[test]
fn a_mark_is_the_same_each_time_and_survives_the_file() {
    let logbook = short();
    let scenario = scenario("dim-lights");
    let report = mark(&scenario, &logbook).unwrap();
    assert_eq!(report, mark(&scenario, &logbook).unwrap());
    let records: String = logbook.records.iter().map(Record::to_line).collect();
    let text = logbook.header.to_line() + &records;
    let read = Logbook::parse("a.jsonl", text.as_bytes()).unwrap();
    assert_eq!(report, mark(&scenario, &read).unwrap());
}

#[test]
fn a_report_tells_the_visit() {
    let report = mark(&scenario("dim-lights"), &short()).unwrap();
    assert_eq!(report.person, "Reader One");
    assert_eq!(report.timeline.len(), 6);
    assert!(report.is_over && !report.passes && !report.hidden.is_empty());
    assert_eq!(report.called.as_ref().unwrap().len(), 1);
    let sum: f64 = report.parts.iter().map(|part| part.earned).sum();
    assert!((sum - report.total).abs() < 0.05, "{sum}");
    let weights: f64 = report.parts.iter().map(|part| part.weight).sum();
    assert!((weights - 100.0).abs() < 1e-9);
    // The needle is followed from arrival to the end.
    assert!(report.gauge.len() >= 2);
    assert_eq!(report.gauge[0].0, 0.0);
    let end_s = report.gauge.last().unwrap().0;
    assert!((end_s / 60.0 - report.minutes).abs() < 0.1, "{end_s}");
    assert!(report.gauge.windows(2).all(|pair| pair[0].0 <= pair[1].0));
}

#[test]
fn climbing_in_fails_and_a_practice_that_undid_it_fails_as_well() {
    let graded = visit(
        "dim-lights",
        Mode::Graded,
        &[
            Action::Go {
                to: Station::Source,
            },
            Action::EnterSource,
        ],
    );
    let report = mark(&scenario("dim-lights"), &graded).unwrap();
    assert!(report.is_over && !report.passes);
    assert_eq!(report.parts[3].earned, 0.0);
    assert!(report.timeline[1].hazard.is_some());
    let practice = visit(
        "dim-lights",
        Mode::Practice,
        &[
            Action::Go {
                to: Station::Source,
            },
            Action::EnterSource,
            Action::Undo,
            Action::CloseUp,
        ],
    );
    let report = mark(&scenario("dim-lights"), &practice).unwrap();
    assert!(report.timeline[1].is_undone);
    assert!(!report.timeline[0].is_undone && !report.timeline[2].is_undone);
    assert_eq!((report.counts.hazards, report.counts.undone), (1, 1));
    assert_eq!(report.parts[3].earned, 0.0);
}

#[test]
fn an_edited_logbook_is_refused() {
    let scenario = scenario("dim-lights");
    let refuse = |edit: &dyn Fn(&mut Logbook)| {
        let mut logbook = short();
        edit(&mut logbook);
        mark(&scenario, &logbook).unwrap_err()
    };
    // Another action than was done.
    let other = refuse(&|logbook| logbook.records[1].action = Action::Wait { seconds: 60.0 });
    assert!(
        matches!(other, ReplayError::Differs { n: 2, .. }),
        "{other}"
    );
    // Another call at the end, which moves nothing of the plant.
    let call = refuse(&|logbook| logbook.records[4].action = Action::Call { faults: vec![] });
    assert!(matches!(call, ReplayError::Differs { n: 5, .. }), "{call}");
    let seed = refuse(&|logbook| logbook.header.seed = 8);
    assert!(matches!(seed, ReplayError::Differs { .. }), "{seed}");
    let cut = refuse(&|logbook| drop(logbook.records.remove(0)));
    assert!(matches!(cut, ReplayError::OutOfOrder { .. }), "{cut}");
    let digest = refuse(&|logbook| logbook.header.digest = "0".repeat(16));
    assert!(
        matches!(digest, ReplayError::OtherEdition { .. }),
        "{digest}"
    );
    let begin = refuse(&|logbook| {
        logbook.records.truncate(1);
        logbook.records[0].action = Action::Undo;
    });
    assert!(
        matches!(begin, ReplayError::Refused { n: 1, .. }),
        "{begin}"
    );
}

#[test]
fn a_logbook_of_another_scenario_is_refused() {
    let mut other = Scenario::clone(&scenario("dim-lights"));
    other.name = "bright-lights".to_owned();
    let error = mark(&Arc::new(other), &short()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "recorded on scenario `dim-lights`, not on `bright-lights`"
    );
}
