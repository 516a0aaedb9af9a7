//! What comes back from an action: data, which each face puts into its own form.

use serde::{Deserialize, Serialize};

use super::hazard::Hazard;
use super::station::Station;
use crate::catalog::PartId;
use crate::cues::Cue;
use crate::instruments::{NoReading, Reading};
use crate::plant::Tick;

/// What an action came to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outcome {
    /// Time that it took [s].
    pub seconds: f64,
    /// Money that it cost [USD].
    pub money: f64,
    /// What was read.
    pub readings: Vec<Entry>,
    /// What was perceived.
    pub cues: Vec<Cue>,
    /// What there is to say besides, one sentence each.
    pub remarks: Vec<String>,
    /// Cautions that belong to the act, one sentence each.
    pub cautions: Vec<String>,
    /// A dangerous act: the exercise stops here.
    pub hazard: Option<Hazard>,
    /// The exercise is over.
    pub ended: bool,
}

impl Outcome {
    /// Adds a caution that belongs to the act.
    pub(super) fn warn(&mut self, caution: &str) {
        self.cautions.push(caution.to_owned());
    }
}

/// One line of the notebook.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// When.
    pub tick: Tick,
    /// Where the person stood.
    pub station: Station,
    /// What was observed.
    pub observation: Observation,
    /// The state in which it was taken, for people: breaker, contacts, pump, valves.
    pub state: String,
}

/// What was observed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Observation {
    /// A number on an instrument.
    Reading {
        /// Instrument, by name.
        instrument: String,
        /// Where, by names of points or ports.
        place: Vec<String>,
        /// Value [SI].
        value: f64,
        /// How far the truth may lie from it [SI].
        error: f64,
        /// SI unit.
        unit: String,
        /// As the display shows it, for electrical meters; faces convert others.
        shown: String,
    },
    /// An instrument that shows no number: OL, or why there is none.
    NoReading {
        /// Instrument, by name.
        instrument: String,
        /// Where.
        place: Vec<String>,
        /// What the display shows or why there is nothing.
        shown: String,
    },
    /// A gauge watched for a while.
    Log {
        /// Instrument, by name.
        instrument: String,
        /// Seconds since the log began, and pressure [Pa, gauge].
        points: Vec<(f64, f64)>,
    },
    /// Something perceived.
    Perceived {
        /// Name of the cue; `nothing` when there was nothing.
        cue: String,
        /// Where it came from.
        part: PartId,
        /// What a person would say of it.
        caption: String,
    },
    /// The run of a proof.
    Proof(Proof),
    /// Something written down by hand.
    Note(String),
}

impl Observation {
    /// What an instrument shows at places; `name` is the instrument's, snake_case.
    pub(super) fn of(name: &str, place: Vec<String>, answer: &Result<Reading, NoReading>) -> Self {
        match answer {
            Ok(reading) => Self::Reading {
                instrument: name.to_owned(),
                place,
                value: reading.figure.value,
                error: reading.figure.limit_of_error(),
                unit: reading.figure.quantity.unit().to_owned(),
                shown: shown(reading),
            },
            Err(nothing) => Self::NoReading {
                instrument: name.to_owned(),
                place,
                shown: nothing.to_string(),
            },
        }
    }
}

fn shown(reading: &Reading) -> String {
    let mut text = reading.figure.display();
    for figure in &reading.also {
        text.push_str(", ");
        text.push_str(&figure.display());
    }
    text
}

/// What a run of the proof showed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Proof {
    /// Gauge where the pump started [Pa]; none when it did not.
    pub cut_in: Option<f64>,
    /// Gauge where the pump stopped by itself [Pa]; none when it did not.
    pub cut_out: Option<f64>,
    /// Run from cut-in to cut-out, nothing drawn [s].
    pub run_s: Option<f64>,
    /// Gauge at the beginning and end of the hold, pump locked by its own switch, after the
    /// tank's air has cooled [Pa].
    pub hold: Option<(f64, f64)>,
    /// Water drawn from cut-out to cut-in [m³].
    pub drawdown: Option<f64>,
    /// What the law of the tank's air says that it should be [m³].
    pub drawdown_expected: f64,
    /// Earth from pump to panel: ohms; none when it was not or could not be tested.
    pub earth_ohm: Option<f64>,
}

/// Why an action could not be done; nothing has changed, no time has passed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// One stands elsewhere.
    #[error("that is done at {}; you are at {}", .at.label(), .here.label())]
    WrongStation {
        /// Where it is done.
        at: Station,
        /// Where one is.
        here: Station,
    },
    /// A cover is in the way.
    #[error("{cover} is in the way: open it first")]
    Covered {
        /// Which.
        cover: &'static str,
    },
    /// Not in the kit.
    #[error("your kit has no {tool}")]
    NotInKit {
        /// What.
        tool: &'static str,
    },
    /// The site has no such thing.
    #[error("this site has no {what}")]
    NotHere {
        /// What.
        what: String,
    },
    /// A number that cannot be.
    #[error("{what}; accepted: {accepted}")]
    BadNumber {
        /// What is wrong.
        what: String,
        /// What would do.
        accepted: String,
    },
    /// Something must come first.
    #[error("{0}")]
    First(String),
    /// Only in practice.
    #[error("{what} belongs to practice; this exercise is graded")]
    PracticeOnly {
        /// What.
        what: &'static str,
    },
    /// The exercise is over.
    #[error("the exercise is over")]
    Over,
    /// The simulated plant cannot be followed further.
    #[error("the simulated plant cannot go on: {0}; the logbook is complete up to here")]
    Plant(String),
}
