//! The worked visit as a logbook, and the same with something added, marked.

use std::sync::Arc;

use super::vet::{Trial, VetError};
use crate::marking::{Report, mark};
use crate::scenario::Scenario;
use crate::session::{Action, Cover, Header, Logbook, Mode, Record, Station, Visit};

/// What is waited for nothing [s].
const NEEDLESS_S: f64 = 900.0;

/// Does actions and marks what came of them, up to the first that is refused.
pub(super) fn marked(
    scenario: &Arc<Scenario>,
    seed: u64,
    actions: &[Action],
) -> Result<Report, VetError> {
    let mut visit = Visit::begin(scenario, seed, Mode::Graded)?;
    let mut logbook = Logbook {
        header: Header::of(&visit, ""),
        records: Vec::with_capacity(actions.len()),
        is_torn: false,
    };
    for action in actions {
        if visit.perform(action).is_err() {
            break;
        }
        logbook.records.push(Record::of(&visit, action));
    }
    Ok(mark(scenario, &logbook)?)
}

/// The visit with the gauge read twice and a quarter of an hour waited in between, which
/// shows nothing that is not read again afterwards.
pub(super) fn needless(
    scenario: &Arc<Scenario>,
    seed: u64,
    actions: &[Action],
) -> Result<Option<Trial>, VetError> {
    let mut longer = vec![
        Action::ReadGauge,
        Action::Wait {
            seconds: NEEDLESS_S,
        },
        Action::ReadGauge,
    ];
    longer.extend_from_slice(actions);
    let report = marked(scenario, seed, &longer)?;
    // Where the site has changed so much meanwhile that the rest cannot be done, it is not
    // the same visit.
    let is_same = report.timeline.len() == longer.len();
    Ok(is_same.then_some(Trial {
        added: "15 minutes waited and the gauge read again",
        mark: report.total,
        passes: report.passes,
    }))
}

/// The visit with a climb into the source when everything else is earned already.
pub(super) fn dangerous(
    scenario: &Arc<Scenario>,
    seed: u64,
    actions: &[Action],
) -> Result<Option<Trial>, VetError> {
    let mut unsafe_path: Vec<Action> = actions.to_vec();
    if unsafe_path.last() == Some(&Action::CloseUp) {
        unsafe_path.pop();
    }
    unsafe_path.extend([
        Action::Go {
            to: Station::Source,
        },
        Action::OpenCover {
            cover: Cover::Source,
        },
        Action::EnterSource,
    ]);
    let report = marked(scenario, seed, &unsafe_path)?;
    Ok((report.counts.hazards > 0).then_some(Trial {
        added: "a climb into the source at the end",
        mark: report.total,
        passes: report.passes,
    }))
}
