//! What is heard of the motor and its pump.

use super::carry::{Place, pump_place};
use super::make::{Cues, ramp};
use crate::catalog::PartId;
use crate::plant::{Conditions, EventKind, Plant};
use crate::session::Cover;

/// Change of speed, in rated speeds a second, above which the shaft runs up: a sound motor
/// is up in some tenths of a second (training value).
const RUNNING_UP: f64 = 0.3;
/// Share of rated speed below which a powered shaft is taken for held, and below which it
/// is taken for laboured (training values).
const HELD: f64 = 0.5;
const LABOURED: f64 = 0.94;
/// Line current over nameplate from which a motor at speed labours (training value).
const OVERLOADED: f64 = 1.6;
/// Shaft load over the pump's greatest, below which the motor runs light (training value).
const LIGHT: f64 = 0.3;

/// Current over the nameplate's below which a winding neither hums nor shakes (training
/// value).
const NO_PULL: f64 = 0.05;

/// Whether the motor has power that it feels: its circuit may be closed and yet carry
/// nothing.
pub(super) fn pulls(plant: &Plant, now: &Conditions) -> bool {
    now.is_powered && (now.current_share > NO_PULL || plant.site().wiring.is_none())
}

pub(super) fn hear(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    if out.attention.pump_is_out {
        return;
    }
    let place = pump_place(plant);
    let mut motor = |name: &str, level: f64, caption: &str| {
        out.sound(name, PartId::Motor, (place, level), caption);
    };
    if now.is_powered && now.is_turning {
        if now.speed_rate > RUNNING_UP {
            motor("motor_starting", 0.6, "The motor is running up to speed.");
        } else if now.speed_share < HELD {
            // Without wiring there is no current to tell how hard it pulls.
            let pull = if now.current_share > 0.0 {
                ramp(now.current_share, 0.5, 4.0)
            } else {
                0.8
            };
            motor(
                "locked_rotor_growl",
                pull,
                "The motor growls loudly but does not turn up to speed.",
            );
        } else if now.speed_share < LABOURED || now.current_share > OVERLOADED {
            let level =
                ramp(1.0 - now.speed_share, 0.0, 1.0 - HELD).max(ramp(now.current_share, 1.0, 4.0));
            motor(
                "motor_hum_laboured",
                0.5 + 0.5 * level,
                "The motor hums low and hard, as if it had trouble with its load.",
            );
        } else if now.load_share < LIGHT {
            motor(
                "motor_hum_light",
                0.4,
                "The motor hums lightly, at a higher pitch than a pump at work.",
            );
        } else {
            motor(
                "motor_hum",
                0.4 + 0.2 * now.load_share,
                "The pump's motor hums evenly.",
            );
        }
    } else if now.is_turning && now.speed_share > 0.05 {
        motor("motor_coasting", 0.2, "The motor runs down to rest.");
    }
    if now.is_turning && now.speed_share > HELD && now.speed_rate.abs() < RUNNING_UP {
        // A sound shaft's drag is two parts in a hundred.
        out.sound(
            "bearing_rumble",
            PartId::Motor,
            (place, ramp(now.drag_share, 0.08, 0.4)),
            "A rough rumble runs under the hum, as of dry or worn bearings.",
        );
    }
    hear_pump(out, plant, now);
    if is_silent_though_called(out, plant) && !pulls(plant, now) {
        out.sound(
            "silent_motor",
            PartId::Motor,
            (Place::Wall, 0.6),
            "The switch calls for the pump, but no sound of a motor follows.",
        );
    }
}

/// Whether one knows from the click, or from the open switch, that the motor should run.
fn is_silent_though_called(out: &Cues<'_>, plant: &Plant) -> bool {
    let attention = out.attention;
    let last_click = attention
        .events
        .iter()
        .rev()
        .find(|e| {
            matches!(
                e.kind,
                EventKind::ContactsClosed | EventKind::ContactsOpened
            )
        })
        .map(|e| e.kind);
    let has_clicked_shut = last_click == Some(EventKind::ContactsClosed);
    plant.circuit_state().contacts
        && (has_clicked_shut || attention.sees_under(Cover::Switch))
        && attention.station == crate::session::Station::Wall
        && plant.controls().breaker_on
}

fn hear_pump(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    if !now.is_turning || now.speed_share < HELD {
        return;
    }
    let place = pump_place(plant);
    // Required NPSH is where 3 % of the head is lost; noise begins a little above.
    out.sound(
        "cavitation_rattle",
        PartId::Pump,
        (place, ramp(1.1 - now.npsh_ratio, 0.0, 0.4)),
        "The pump rattles as if gravel went through it.",
    );
    // A tenth of air and the pump moves nothing.
    if now.pump_flow > 1e-6 || now.bowl_air_share < 0.5 {
        out.sound(
            "gas_rattle",
            PartId::Pump,
            (place, ramp(now.bowl_air_share, 0.003, 0.06)),
            "The pump crackles and surges, as if air went through it with the water.",
        );
    }
}
