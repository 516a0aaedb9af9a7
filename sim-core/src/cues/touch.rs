//! What a hand feels, laid on pipes, boxes and cases from outside.  Nobody feels for
//! electricity: see the hazards of a visit.

use super::carry::is_at_wall;
use super::make::{Cues, ramp};
use super::motor;
use super::sight_source::is_motor_under_water;
use crate::catalog::PartId;
use crate::plant::{Conditions, HotJoint, Plant};
use crate::session::{Cover, Station};

/// Rise over the air at which a hand feels warmth, and at which it is drawn back [K]
/// (training values).
const WARM_K: f64 = 6.0;
const HOT_K: f64 = 40.0;
/// Rise of a winding over the air of a motor at work, and of one that is too hot [K]: class
/// B insulation is rated for about 80 K (from memory).
const MOTOR_WARM_K: f64 = 10.0;
const MOTOR_HOT_K: f64 = 95.0;
/// How much colder than the air a pipe's water must be for it to sweat [K] (training value).
const SWEATS_K: f64 = 5.0;
/// Vibration of a submersible's pipe at the wall over that of a pump under the hand
/// (training value).
const THROUGH_PIPE: f64 = 0.2;

pub(super) fn feel(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let air_k = plant.site().air_temperature.si();
    let at_wall = is_at_wall(plant);
    let station = out.attention.station;
    let is_by_pump = !out.attention.pump_is_out
        && match station {
            Station::Wall => at_wall,
            Station::Source => !at_wall && out.attention.sees_under(Cover::Source),
            _ => false,
        };
    let shakes = if now.is_turning && !out.attention.pump_is_out {
        ramp(now.speed_share, 0.2, 1.0).max(if motor::pulls(plant, now) { 0.5 } else { 0.0 })
    } else {
        0.0
    };
    if is_by_pump {
        out.add_if(
            "pump_vibrates",
            PartId::Pump,
            shakes * 0.8,
            "The pump trembles under the hand.",
        );
        let rise = now.pump_water_k - plant.site().water_temperature.si();
        // A submersible's heat reaches the hand by its riser alone.
        let reaches = if at_wall { 1.0 } else { 0.3 };
        out.add_if(
            "pump_warm",
            PartId::Pump,
            reaches * ramp(rise, WARM_K, HOT_K),
            if at_wall && rise > HOT_K {
                "The pump is too hot to leave a hand on."
            } else {
                "The pump's pipe is warm, as if its water went round and round."
            },
        );
    } else if station == Station::Wall {
        out.add_if(
            "pipe_vibrates",
            PartId::Run,
            shakes * THROUGH_PIPE,
            "The pipe from the pump trembles faintly.",
        );
    }
    if station == Station::Wall {
        if at_wall && !is_motor_under_water(plant) {
            feel_motor(out, now.winding_k - air_k);
        }
        let colder = air_k - plant.site().water_temperature.si();
        if now.pump_flow > 1e-6 && colder > SWEATS_K {
            out.add(
                "pipe_cold",
                PartId::Run,
                0.2,
                "The pipe from the pump is cold and begins to sweat.",
            );
        }
    }
    let (where_hot, part, words) = match now.hot_joint {
        HotJoint::Splice => (Station::Splice, PartId::Splice, "splice box"),
        HotJoint::Contacts => (Station::Wall, PartId::PressureSwitch, "pressure switch"),
        HotJoint::Breaker => (Station::Panel, PartId::Breaker, "panel"),
    };
    if station == where_hot {
        let level = ramp(now.joint_k - air_k, WARM_K, 2.0 * HOT_K);
        let how = match level {
            l if l < 0.3 => "a little warm",
            l if l < 0.8 => "warm",
            _ => "hot",
        };
        out.add_if(
            "box_warm",
            part,
            level,
            format!("The outside of the {words} is {how}."),
        );
    }
}

fn feel_motor(out: &mut Cues<'_>, rise_k: f64) {
    if rise_k > MOTOR_HOT_K {
        out.add(
            "motor_hot",
            PartId::Motor,
            0.6 + 0.4 * ramp(rise_k, MOTOR_HOT_K, 150.0),
            "The motor is too hot to keep a hand on.",
        );
    } else {
        out.add_if(
            "motor_warm",
            PartId::Motor,
            0.5 * ramp(rise_k, MOTOR_WARM_K, MOTOR_HOT_K),
            "The motor is warm, as one that works.",
        );
    }
}
