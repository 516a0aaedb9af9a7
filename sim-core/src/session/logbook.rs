//! The logbook: what was done, in order, enough to live it again.
//!
//! JSON Lines: a header, then one record per action, each written and flushed before the
//! next is taken.  A record carries the digest of the whole visit after its action; a
//! replay that comes to another digest was recorded on another scenario or edited since.

use serde::{Deserialize, Serialize};

use super::action::Action;
use super::visit::{BeginError, Mode, Visit};
use crate::plant::Tick;
use crate::scenario::Scenario;
use crate::session::{Outcome, Refusal, Station};

/// Version of the format.
pub const LOGBOOK_VERSION: u32 = 1;

/// First line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Header {
    /// Version of the format.
    pub logbook: u32,
    /// Version of the program that wrote it.
    pub program: String,
    /// Name of the scenario.
    pub scenario: String,
    /// Digest of the scenario, 16 hex digits.
    pub digest: String,
    /// Seed of what is hidden and of the instruments' noise.
    pub seed: u64,
    /// Practice or graded.
    pub mode: Mode,
    /// Name that the person typed, or nothing.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub person: String,
}

impl Header {
    /// The header of a visit.
    #[must_use]
    pub fn of(visit: &Visit, person: &str) -> Self {
        Self {
            logbook: LOGBOOK_VERSION,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            scenario: visit.scenario().name.clone(),
            digest: hex(visit.scenario().digest),
            seed: visit.seed(),
            mode: visit.mode(),
            person: person.to_owned(),
        }
    }
}

/// A line after the first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// Number of the action, from 1.
    pub n: u64,
    /// What was done.
    pub action: Action,
    /// When it was done with.
    pub tick: Tick,
    /// Digest of the visit afterwards, 16 hex digits.
    pub state: String,
}

impl Record {
    /// The record of the action just performed.
    #[must_use]
    pub fn of(visit: &Visit, action: &Action) -> Self {
        Self {
            n: visit.actions_done(),
            action: action.clone(),
            tick: visit.now(),
            state: hex(visit.digest()),
        }
    }
}

fn hex(word: u64) -> String {
    format!("{word:016x}")
}

/// A logbook, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Logbook {
    /// First line.
    pub header: Header,
    /// What was done.
    pub records: Vec<Record>,
    /// The last line was cut off in the middle, as a crash leaves it, and was left out.
    pub is_torn: bool,
}

/// One action of a replay.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// What was done.
    pub action: Action,
    /// What it came to.
    pub outcome: Outcome,
    /// Where the person stood when they did it.
    pub station: Station,
    /// When it was begun.
    pub begun: Tick,
    /// When it was done with.
    pub ended: Tick,
}

/// Why a logbook cannot be replayed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ReplayError {
    /// Another scenario.
    #[error("recorded on scenario `{recorded}`, not on `{given}`")]
    OtherScenario {
        /// In the logbook.
        recorded: String,
        /// Given.
        given: String,
    },
    /// The scenario's file has changed.
    #[error(
        "recorded on another edition of scenario `{scenario}` (digest {recorded}; this one has {given})"
    )]
    OtherEdition {
        /// The scenario.
        scenario: String,
        /// In the logbook.
        recorded: String,
        /// Given.
        given: String,
    },
    /// The visit cannot be begun.
    #[error(transparent)]
    Begin(#[from] BeginError),
    /// An action of the logbook is refused.
    #[error("action {n} cannot have been done: {refusal}")]
    Refused {
        /// Which.
        n: u64,
        /// Why.
        refusal: Refusal,
    },
    /// Numbers are not in order.
    #[error("action {found} stands where action {expected} should: lines are missing or moved")]
    OutOfOrder {
        /// Number that should stand there.
        expected: u64,
        /// Number that does.
        found: u64,
    },
    /// The state does not come out.
    #[error(
        "action {n} does not come out as recorded: the logbook was edited, or written by another version of the program ({program})"
    )]
    Differs {
        /// Which action.
        n: u64,
        /// Version that wrote it.
        program: String,
    },
}

/// Lives a logbook again on its scenario; hands out the visit at its end and what was done.
///
/// # Errors
/// When it was recorded on another scenario or edition, or was edited.
pub fn replay(
    logbook: &Logbook,
    scenario: &std::sync::Arc<Scenario>,
) -> Result<(Visit, Vec<Done>), ReplayError> {
    let header = &logbook.header;
    if header.scenario != scenario.name {
        return Err(ReplayError::OtherScenario {
            recorded: header.scenario.clone(),
            given: scenario.name.clone(),
        });
    }
    if header.digest != hex(scenario.digest) {
        return Err(ReplayError::OtherEdition {
            scenario: scenario.name.clone(),
            recorded: header.digest.clone(),
            given: hex(scenario.digest),
        });
    }
    let mut visit = Visit::begin(scenario, header.seed, header.mode)?;
    let mut done = Vec::with_capacity(logbook.records.len());
    for (index, record) in logbook.records.iter().enumerate() {
        let expected = index as u64 + 1;
        if record.n != expected {
            return Err(ReplayError::OutOfOrder {
                expected,
                found: record.n,
            });
        }
        let (station, begun) = (visit.station(), visit.now());
        let outcome = visit
            .perform(&record.action)
            .map_err(|refusal| ReplayError::Refused {
                n: record.n,
                refusal,
            })?;
        if record.tick != visit.now() || record.state != hex(visit.digest()) {
            return Err(ReplayError::Differs {
                n: record.n,
                program: header.program.clone(),
            });
        }
        done.push(Done {
            action: record.action.clone(),
            outcome,
            station,
            begun,
            ended: visit.now(),
        });
    }
    Ok((visit, done))
}
