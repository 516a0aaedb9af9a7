//! The bladder tank under knuckle, thumb and eye.

use super::make::{Cues, ramp};
use super::sight_wall::pressure_words;
use super::{Cue, Sense};
use crate::catalog::PartId;
use crate::plant::{Conditions, Plant};
use crate::units::convert::{LITER, US_GALLON};

/// Shares of water in the shell below which it sounds hollow all over, and above which it
/// sounds dull all over (training values).
const HOLLOW: f64 = 0.03;
const DULL: f64 = 0.92;
/// Share of gas below which water has come up to the air valve (training value: the dome's
/// last three parts in a hundred).
const DOME: f64 = 0.03;
/// Pressure at which an air valve is heard [Pa, gauge] (training value).
const BREATH_PA: f64 = 2_000.0;

/// What comes out of the tank's air valve when its pin is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum AtValve {
    Air,
    Water,
    Nothing,
}

/// What is behind the air valve: worked out from how much gas is left over the water.
fn at_air_valve(now: &Conditions) -> AtValve {
    let gas = 1.0 - now.tank_water_share;
    if gas < DOME && now.tee_pa > BREATH_PA {
        AtValve::Water
    } else if now.tank_air_pa > BREATH_PA {
        AtValve::Air
    } else {
        AtValve::Nothing
    }
}

/// A knock from top to bottom: where the tone turns from hollow to dull, by the share of
/// water in the shell, which is the level.
#[must_use]
pub fn knock_tank(plant: &Plant) -> Cue {
    let share = plant.conditions().tank_water_share;
    let caption = if share < HOLLOW {
        "The tank sounds hollow from top to bottom.".to_owned()
    } else if share > DULL {
        "The tank sounds dull and heavy from bottom to top.".to_owned()
    } else {
        let tenths = (10.0 * share).round().clamp(1.0, 9.0);
        format!("The tank sounds dull up to about {tenths:.0} tenths of its height, hollow above.")
    };
    Cue {
        name: "tank_tone".to_owned(),
        sense: Sense::Hearing,
        part: PartId::Tank,
        level: ramp(share, 0.0, 1.0),
        caption,
    }
}

/// A press on the pin of the tank's air valve: air, water or nothing.
#[must_use]
pub fn press_air_valve(plant: &Plant) -> Cue {
    let now = plant.conditions();
    let (name, level, caption) = match at_air_valve(&now) {
        AtValve::Air => (
            "air_valve_air",
            0.3 + 0.7 * ramp(now.tank_air_pa, 0.0, 500_000.0),
            "Air hisses from the tank's air valve.",
        ),
        AtValve::Water => (
            "air_valve_water",
            0.9,
            "Water comes from the tank's air valve.",
        ),
        AtValve::Nothing => (
            "air_valve_nothing",
            0.2,
            "Nothing comes from the tank's air valve.",
        ),
    };
    Cue {
        name: name.to_owned(),
        sense: Sense::Hearing,
        part: PartId::Tank,
        level: ramp(level, 0.0, 1.0),
        caption: caption.to_owned(),
    }
}

/// The tank's plate.  What the charge should be is on the plate; what it is, is not.
pub(super) fn see_plate(out: &mut Cues<'_>, plant: &Plant) {
    let tank = &plant.site().tank;
    out.add(
        "tank_plate",
        PartId::Tank,
        0.1,
        format!(
            "The tank's plate says {:.0} L ({:.0} gal), at most {}.",
            tank.shell_volume.si() / LITER,
            tank.shell_volume.si() / US_GALLON,
            pressure_words(tank.rated_pressure.si())
        ),
    );
}
