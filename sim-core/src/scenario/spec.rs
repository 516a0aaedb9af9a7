//! A validated scenario.

use std::fmt;

use crate::faults::{Fault, FaultKind};
use crate::plant::Start;
use crate::session::Tool;
use crate::site::SiteSpec;

/// A scenario, everything in range and everything found.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// File name without its ending, kebab-case.
    pub name: String,
    /// One line for people; gives nothing away.
    pub title: String,
    /// How hard, 1 to 5.
    pub level: u8,
    /// The site with the scenario's own changes.
    pub site: SiteSpec,
    /// How the system stands at the start.
    pub start: Start,
    /// What the system went through before the technician came.
    pub history: Option<History>,
    /// What the household draws while the technician is there.
    pub use_during: Option<HouseholdUse>,
    /// What the customer says, in their words.
    pub complaint: String,
    /// What is wrong.
    pub hidden: Hidden,
    /// What may be called in place of what is hidden and counts as right: pairs of kinds
    /// that this kit cannot tell apart.
    pub accept: Vec<(FaultKind, FaultKind)>,
    /// What the technician may do.
    pub role: Role,
    /// What the technician carries.
    pub kit: Vec<Tool>,
    /// What the visit may take.
    pub budget: Budget,
    /// What a practised technician takes.
    pub par: Par,
    /// How it is marked.
    pub rubric: Rubric,
    /// Hints, weakest first.
    pub hints: Vec<String>,
    /// For the trainer, and for the debrief.
    pub teaching: String,
    /// Performance criteria, their evidence and where they come from.
    pub references: Vec<Reference>,
    /// FNV-1a of the file's bytes and of its site file's, 64 bits: what a logbook was
    /// recorded on.
    pub digest: u64,
}

/// What the scenario is evidence of, in words of a public framework or rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reference {
    /// What a competent person does.
    pub criterion: String,
    /// What in a run shows it.
    pub evidence: String,
    /// Where the criterion comes from; `common practice, no source` where it has none.
    pub framework: String,
}

impl fmt::Display for Reference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} Evidence: {} ({})",
            self.criterion, self.evidence, self.framework
        )
    }
}

/// What the system went through before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct History {
    /// How long it ran with its faults [s].
    pub time_s: f64,
    /// Draws a day of the household.
    pub draws_per_day: f64,
}

/// Water used while the technician is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HouseholdUse {
    /// Draws a day.
    pub draws_per_day: f64,
}

/// What is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum Hidden {
    /// Always this; empty for a healthy system.
    Fixed(Vec<Fault>),
    /// One of these, by seed.
    Drawn(Vec<HiddenDraw>),
}

/// One of the things that may be wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct HiddenDraw {
    /// How likely, relative to the others.
    pub weight: f64,
    /// The faults; a severity is drawn between the two, evenly in its logarithm.
    pub faults: Vec<(Fault, Fault)>,
    /// What a practised technician takes for these, where it is not the scenario's par.
    pub par: Option<Par>,
}

/// What the technician may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Not qualified for work on live parts: calls somebody who is.
    Apprentice,
    /// Qualified.
    Qualified,
}

/// What the visit may take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Budget {
    /// Minutes.
    pub minutes: f64,
    /// Money [USD].
    pub money: f64,
}

/// What a practised technician takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Par {
    /// Minutes.
    pub minutes: f64,
    /// Money [USD].
    pub money: f64,
}

/// How a run is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rubric {
    /// Weight of each part; they add up to 100.
    pub weights: Weights,
    /// Least mark that passes, of 100.
    pub pass: f64,
}

/// Weights of the parts of a mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    /// The call.
    pub call: f64,
    /// The repair.
    pub repair: f64,
    /// The proof.
    pub proof: f64,
    /// Safe work throughout.
    pub safety: f64,
    /// Time and parts against par.
    pub economy: f64,
}
