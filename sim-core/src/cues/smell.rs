//! What is smelt: heat where it does not belong.

use super::make::{Cues, ramp};
use super::sight_source::is_motor_under_water;
use crate::catalog::PartId;
use crate::plant::{Conditions, HotJoint, Plant};
use crate::session::Station;

/// Joint temperatures at which plastic begins to smell and at which it chars [K]: 90 °C
/// and 250 °C (training values).
const SMELLS_K: f64 = 363.0;
const CHARS_K: f64 = 523.0;
/// Winding temperatures at which varnish begins to smell and at which it is lost [K]:
/// 150 °C and 200 °C (training values).
const VARNISH_K: f64 = 423.0;
const LOST_K: f64 = 473.0;

pub(super) fn smell(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let station = out.attention.station;
    let (place, part) = match now.hot_joint {
        HotJoint::Splice => (Station::Splice, PartId::Splice),
        HotJoint::Contacts => (Station::Wall, PartId::PressureSwitch),
        HotJoint::Breaker => (Station::Panel, PartId::Breaker),
    };
    if station == place {
        let charred = if now.joint_burns > 0 { 0.3 } else { 0.0 };
        let level = ramp(now.joint_k, SMELLS_K, CHARS_K).max(charred);
        out.add_if(
            "hot_joint_smell",
            part,
            level,
            if level < 0.5 {
                "There is a faint smell of hot plastic."
            } else {
                "There is a strong smell of hot plastic."
            },
        );
    }
    // Under water nothing is smelt until the motor lies on the ground.
    let is_by_motor = if is_motor_under_water(plant) {
        station == Station::Source && out.attention.pump_is_out
    } else {
        station == Station::Wall
    };
    if is_by_motor {
        let burnt = if plant.modes().damage.winding {
            0.8
        } else {
            0.0
        };
        out.add_if(
            "burnt_winding_smell",
            PartId::Motor,
            ramp(now.winding_k, VARNISH_K, LOST_K).max(burnt),
            "There is a sharp smell of burnt varnish at the motor.",
        );
    }
}
