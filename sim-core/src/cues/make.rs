//! Cues in the making.

use super::carry::{Place, carried};
use super::{Attention, Cue, Sense};
use crate::catalog::PartId;

/// Level below which a sound is lost among others (training value).
const LOST: f64 = 0.02;

/// How far `value` is from `none` (0) to `all` (1); 0 for what is not a number.
pub(super) fn ramp(value: f64, none: f64, all: f64) -> f64 {
    let share = (value - none) / (all - none);
    if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// Cues of one sense at one place.
pub(super) struct Cues<'a> {
    sense: Sense,
    pub(super) attention: &'a Attention<'a>,
    list: Vec<Cue>,
}

impl<'a> Cues<'a> {
    pub(super) fn new(sense: Sense, attention: &'a Attention<'a>) -> Self {
        Self {
            sense,
            attention,
            list: Vec::new(),
        }
    }

    /// Adds a cue of a level, held between 0 and 1.
    pub(super) fn add(&mut self, name: &str, part: PartId, level: f64, caption: impl Into<String>) {
        self.list.push(Cue {
            name: name.to_owned(),
            sense: self.sense,
            part,
            level: ramp(level, 0.0, 1.0),
            caption: caption.into(),
        });
    }

    /// Adds a cue when its level is above nought.
    pub(super) fn add_if(
        &mut self,
        name: &str,
        part: PartId,
        level: f64,
        caption: impl Into<String>,
    ) {
        if level > 0.0 {
            self.add(name, part, level, caption);
        }
    }

    /// Adds a sound made at a place with a level, as loud as it gets to where one stands;
    /// nothing when it is lost on the way.
    pub(super) fn sound(
        &mut self,
        name: &str,
        part: PartId,
        (from, level): (Place, f64),
        caption: impl Into<String>,
    ) {
        let level = ramp(level, 0.0, 1.0) * carried(from, self.attention);
        if level >= LOST {
            self.add(name, part, level, caption);
        }
    }

    /// The strongest first; equal ones by name.
    pub(super) fn sorted(mut self) -> Vec<Cue> {
        self.list.sort_by(|a, b| {
            b.level
                .total_cmp(&a.level)
                .then_with(|| a.name.cmp(&b.name))
        });
        self.list
    }
}

/// A flow in words [m³/s].
pub(super) fn flow_words(m3_per_s: f64) -> &'static str {
    // Litres a minute; training values.
    match m3_per_s * 60_000.0 {
        q if q < 0.2 => "drop by drop",
        q if q < 1.0 => "in a thin thread",
        q if q < 5.0 => "in a steady stream",
        _ => "in a full stream",
    }
}
