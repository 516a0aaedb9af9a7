//! What can be heard, seen, felt and smelt, from where one stands.
//!
//! A cue is computed from the plant as it stands and from what happened while one was
//! there; it never looks at the list of faults.

use serde::{Deserialize, Serialize};

use crate::catalog::PartId;
use crate::plant::{Event, Plant};
use crate::session::Station;

/// By which sense.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sense {
    /// Heard.
    Hearing,
    /// Seen.
    Sight,
    /// Felt by hand.
    Touch,
    /// Smelt.
    Smell,
}

/// One thing perceived.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cue {
    /// Short stable name, snake_case, such as `motor_hum`: what tests and marks go by.
    pub name: String,
    /// By which sense.
    pub sense: Sense,
    /// Where it comes from.
    pub part: PartId,
    /// How strong, 0 (just perceived) to 1.
    pub level: f64,
    /// What a person would say of it, one sentence.
    pub caption: String,
}

/// What a person attends to at a station.
#[derive(Debug, Clone, Copy)]
pub struct Attention<'a> {
    /// Where they stand.
    pub station: Station,
    /// Covers that are open there, so that what is under them can be seen.
    pub open: &'a [crate::session::Cover],
    /// What happened at the plant while they were there, in order.
    pub events: &'a [Event],
    /// Ticks over which those events happened.
    pub ticks: u64,
    /// The pump has been pulled and lies beside the source.
    pub pump_is_out: bool,
}

/// Everything that can be perceived.
#[must_use]
pub fn perceive(_plant: &Plant, _attention: &Attention<'_>, _sense: Sense) -> Vec<Cue> {
    Vec::new()
}
