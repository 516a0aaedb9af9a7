//! What can be heard, seen, felt and smelt, from where one stands.
//!
//! A cue is computed from the plant as it stands and from what happened while one was
//! there; it never looks at the list of faults.  Each group of cues has a file; a level is
//! a ramp over one physical quantity, between the value that is just perceived and the one
//! that cannot be missed.  These two, and how far a sound carries, are training values;
//! the table of them all is in `docs/cues.md`.

mod air;
mod carry;
mod electrical;
mod make;
mod motor;
mod sight_house;
mod sight_source;
mod sight_wall;
mod smell;
mod tank;
mod touch;
mod water;
mod while_away;

use serde::{Deserialize, Serialize};

use crate::catalog::PartId;
use crate::plant::{Event, Plant};
use crate::session::{Cover, Station};

pub use tank::{knock_tank, press_air_valve};
pub use while_away::heard_while;

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

impl Sense {
    /// Every sense.
    pub const ALL: [Self; 4] = [Self::Hearing, Self::Sight, Self::Touch, Self::Smell];
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
    pub open: &'a [Cover],
    /// What happened at the plant while they were there, in order.
    pub events: &'a [Event],
    /// Ticks over which those events happened.
    pub ticks: u64,
    /// The pump has been pulled and lies beside the source.
    pub pump_is_out: bool,
}

impl Attention<'_> {
    /// Whether they stand there and the cover is open.
    fn sees_under(&self, cover: Cover) -> bool {
        self.station == cover.station() && self.open.contains(&cover)
    }
}

/// Everything that can be perceived by a sense, the strongest first; equal ones by name.
///
/// Empty when there is nothing to be perceived.  Changes nothing and always says the same
/// of the same plant.
#[must_use]
pub fn perceive(plant: &Plant, attention: &Attention<'_>, sense: Sense) -> Vec<Cue> {
    let now = plant.conditions();
    let mut out = make::Cues::new(sense, attention);
    match sense {
        Sense::Hearing => {
            motor::hear(&mut out, plant, &now);
            water::hear(&mut out, plant, &now);
            air::hear(&mut out, &now);
            electrical::hear(&mut out, plant, &now);
        }
        Sense::Sight => match attention.station {
            Station::Panel => electrical::see_panel(&mut out, plant),
            Station::Wall => sight_wall::see(&mut out, plant, &now),
            Station::Splice => sight_source::see_splice(&mut out, &now),
            Station::Source => sight_source::see(&mut out, plant, &now),
            Station::House => sight_house::see(&mut out, plant, &now),
        },
        Sense::Touch => touch::feel(&mut out, plant, &now),
        Sense::Smell => smell::smell(&mut out, plant, &now),
    }
    out.sorted()
}
