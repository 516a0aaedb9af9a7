//! A visit to a site: the one door for every face.
//!
//! Terminal, yard and browser send [`Action`]s and draw the [`Outcome`]s that come back;
//! they hold no rules.
//!
//! `visit` is where a visit stands, `perform` carries an action out: it checks place, kit,
//! covers and lock, lets the plant go on, writes down what is observed.  What each group of
//! actions does is in a module of its own; what would be dangerous stops there
//! (`hazard`), and does not happen.

mod action;
mod arrive;
mod cautions;
mod clock;
mod condition;
mod cost;
mod gauges;
mod hazard;
mod household;
mod kit;
mod lockout;
mod logbook;
mod logbook_text;
mod meters;
mod needle;
mod notes;
mod outcome;
mod perform;
mod places;
mod proof;
mod repairs;
mod senses;
mod station;
mod valves;
mod visit;
mod walk;

pub use action::{Action, FaultName, Moment, Port, Probe, Repair, Until};
pub use condition::{Condition, Remaining};
pub use hazard::{Hazard, HazardKind};
pub use kit::Tool;
pub use logbook::{Done, Header, LOGBOOK_VERSION, Logbook, Record, ReplayError, replay};
pub use logbook_text::{
    LogbookFlaw, LogbookProblem, MAX_LINE_BYTES, MAX_LOGBOOK_BYTES, MAX_PERSON_CHARS, MAX_RECORDS,
};
pub use outcome::{Entry, Observation, Outcome, Proof, Refusal};
pub use station::{Cover, Station};
pub(crate) use visit::Books;
pub use visit::{BeginError, Mode, Visit};
