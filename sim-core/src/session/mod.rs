//! A visit to a site: the one door for every face.
//!
//! Terminal, yard and browser send [`Action`]s and draw the [`Outcome`]s that come back;
//! they hold no rules.

mod action;
mod hazard;
mod kit;
mod logbook;
mod logbook_text;
mod outcome;
mod station;
mod visit;

pub use action::{Action, FaultName, Moment, Port, Probe, Repair, Until};
pub use hazard::{Hazard, HazardKind};
pub use kit::Tool;
pub use logbook::{Done, Header, LOGBOOK_VERSION, Logbook, Record, ReplayError, replay};
pub use logbook_text::{
    LogbookFlaw, LogbookProblem, MAX_LINE_BYTES, MAX_LOGBOOK_BYTES, MAX_PERSON_CHARS, MAX_RECORDS,
};
pub use outcome::{Entry, Observation, Outcome, Proof, Refusal};
pub use station::{Cover, Station};
pub use visit::{BeginError, Condition, Mode, Remaining, Visit};
