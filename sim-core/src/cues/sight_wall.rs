//! What is seen at the wall.

use super::carry::is_at_wall;
use super::electrical::{chatter_per_s, swings};
use super::make::{Cues, flow_words, ramp};
use super::tank;
use crate::catalog::PartId;
use crate::plant::{Conditions, Device, HotJoint, Plant};
use crate::session::Cover;
use crate::units::convert::{BAR, HORSEPOWER, PSI};

/// Rate at which a needle is seen to move [Pa/s] (training value).
const MOVES_PA_PER_S: f64 = 700.0;
/// Share of the dial that counts as its stop (training value).
const STOP_SHARE: f64 = 0.02;
/// Contact resistance from which faces look pitted, and from which they are burnt black
/// [Ω] (training values).
const PITTED_OHM: f64 = 0.05;
const BLACK_OHM: f64 = 5.0;
/// Contact resistance at which the faces do not touch at all [Ω] (training value).
const PARTED_OHM: f64 = 1e5;

pub(super) fn see(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    see_needle(out, plant, now);
    see_handles(out, plant);
    see_lever(out, plant);
    see_switch(out, plant, now);
    tank::see_plate(out, plant);
    if is_at_wall(plant) && !out.attention.pump_is_out {
        see_nameplate(out, plant);
    }
    if now.relieved > 0.0 {
        out.add(
            "relief_discharging",
            PartId::ReliefValve,
            ramp(now.relieved * 60_000.0, 0.0, 5.0).max(0.3),
            format!(
                "Water comes from the relief valve {}.",
                flow_words(now.relieved)
            ),
        );
    }
    if now.drained_water > 1e-7 {
        out.add(
            "drain_flowing",
            PartId::WallManifold,
            0.3,
            format!(
                "Water comes from the drain cock {}.",
                flow_words(now.drained_water)
            ),
        );
        super::sight_house::see_air(
            out,
            PartId::WallManifold,
            "drain cock",
            (now.drained_water, now.drained_air),
        );
    }
    if now.leaked_at_wall > 1e-9 {
        out.add(
            "drip_at_wall",
            PartId::WallManifold,
            ramp(now.leaked_at_wall * 60_000.0, 0.0, 2.0).max(0.2),
            format!(
                "Water leaves the pipework at the wall {}.",
                flow_words(now.leaked_at_wall)
            ),
        );
    }
    if now.leaked_at_pump > 1e-9 {
        out.add(
            "seal_drip",
            PartId::Pump,
            ramp(now.leaked_at_pump * 60_000.0, 0.0, 2.0).max(0.2),
            format!(
                "Water leaves the pump at its shaft {}.",
                flow_words(now.leaked_at_pump)
            ),
        );
    }
    see_filter(out, plant);
    if plant.site().air_temperature.si() < crate::units::convert::ZERO_CELSIUS {
        out.add(
            "frost",
            PartId::WallManifold,
            0.6,
            "There is frost on the pipes at the wall.",
        );
    }
}

fn see_needle(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let full = plant.site().wall.gauge.full_scale.si();
    let reading = plant.gauge_reading_pa();
    if chatter_per_s(out.attention.events).is_some() {
        out.add(
            "needle_blurred",
            PartId::Gauge,
            0.8,
            "The gauge's needle swings so fast that it is a blur.",
        );
        return;
    }
    if swings(out.attention.events) {
        out.add(
            "needle_swinging",
            PartId::Gauge,
            0.6,
            "The gauge's needle swings up and down without rest.",
        );
        return;
    }
    let psi = 5.0 * (reading / PSI / 5.0).round();
    let (name, caption) = if reading < STOP_SHARE * full {
        (
            "needle_on_stop",
            "The gauge's needle rests on its stop at nought.".to_owned(),
        )
    } else if now.needle_rate > MOVES_PA_PER_S {
        (
            "needle_rising",
            format!("The gauge's needle rises, near {psi:.0} psi."),
        )
    } else if now.needle_rate < -MOVES_PA_PER_S {
        (
            "needle_falling",
            format!("The gauge's needle falls, near {psi:.0} psi."),
        )
    } else {
        (
            "needle_steady",
            format!("The gauge's needle stands near {psi:.0} psi."),
        )
    };
    out.add(name, PartId::Gauge, 0.4, caption);
}

/// A valve's handle in words.
pub(super) fn handle(opening: f64) -> &'static str {
    match opening {
        o if o <= 0.0 => "shut",
        o if o < 0.95 => "partly open",
        _ => "open",
    }
}

fn see_handles(out: &mut Cues<'_>, plant: &Plant) {
    let controls = plant.controls();
    let handles = [
        (
            "house_valve_handle",
            PartId::HouseValve,
            "house valve",
            controls.house_valve_opening,
        ),
        (
            "tank_valve_handle",
            PartId::TankValve,
            "valve at the tank",
            controls.tank_valve_opening,
        ),
        (
            "drain_handle",
            PartId::WallManifold,
            "drain cock",
            controls.drain_opening,
        ),
    ];
    for (name, part, label, opening) in handles {
        out.add(
            name,
            part,
            0.2,
            format!("The {label} stands {}.", handle(opening)),
        );
    }
}

fn see_lever(out: &mut Cues<'_>, plant: &Plant) {
    let has_lever = plant
        .site()
        .wiring
        .as_ref()
        .is_some_and(|wiring| wiring.low_pressure_cut_off.is_some());
    if !has_lever {
        return;
    }
    if plant.controls().lever_held {
        out.add(
            "lever_held",
            PartId::PressureSwitch,
            0.3,
            "The lever of the pressure switch is held up.",
        );
    } else if plant.modes().circuit.low_pressure == Device::Open {
        out.add(
            "lever_down",
            PartId::PressureSwitch,
            0.6,
            "The lever of the pressure switch has dropped to off.",
        );
    } else {
        out.add(
            "lever_up",
            PartId::PressureSwitch,
            0.2,
            "The lever of the pressure switch stands at its running place.",
        );
    }
}

/// What the open cover of the pressure switch shows.  Welded faces look like closed ones.
fn see_switch(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    if !out.attention.sees_under(Cover::Switch) {
        return;
    }
    let part = PartId::PressureSwitch;
    if plant.circuit_state().contacts || now.contacts_blocked {
        if now.contacts_blocked {
            out.add(
                "contacts_blocked",
                part,
                0.8,
                "The switch has snapped shut, but an insect or dirt keeps its faces apart.",
            );
        } else if now.contact_ohm >= PARTED_OHM {
            out.add(
                "contacts_not_touching",
                part,
                0.7,
                "The contacts have closed, but their faces do not touch.",
            );
        } else {
            out.add(
                "contacts_together",
                part,
                0.2,
                "The contacts of the pressure switch are together.",
            );
        }
    } else {
        out.add(
            "contacts_apart",
            part,
            0.2,
            "The contacts of the pressure switch are apart.",
        );
    }
    if now.contact_ohm >= PITTED_OHM && now.contact_ohm < PARTED_OHM {
        let share = ramp(now.contact_ohm, PITTED_OHM, BLACK_OHM);
        out.add(
            "contacts_pitted",
            part,
            0.4 + 0.5 * share,
            if share >= 1.0 {
                "The faces of the contacts are burnt black."
            } else {
                "The faces of the contacts are pitted and grey."
            },
        );
    }
    if now.hot_joint == HotJoint::Contacts && now.joint_burns > 0 {
        out.add(
            "switch_browned",
            part,
            0.6,
            "The plastic about the contacts has gone brown.",
        );
    }
}

/// Loss of a filter at 10 L/min from which its bowl looks brown, and at which it is thick
/// with dirt [Pa] (training values).
const BROWN_PA: f64 = 35_000.0;
const THICK_PA: f64 = 250_000.0;

fn see_filter(out: &mut Cues<'_>, plant: &Plant) {
    let Some(filter) = plant.site().house.filter else {
        return;
    };
    let share = 10.0 / 60_000.0 / filter.flow.si();
    let loss = filter.drop.si() * share * share;
    if loss > BROWN_PA {
        out.add(
            "filter_brown",
            PartId::Filter,
            ramp(loss, 0.0, THICK_PA),
            "The cartridge in the filter's bowl is brown with dirt.",
        );
    } else {
        out.add(
            "filter_clear",
            PartId::Filter,
            0.1,
            "The cartridge in the filter's bowl looks clean.",
        );
    }
}

fn see_nameplate(out: &mut Cues<'_>, plant: &Plant) {
    let motor = &plant.site().motor;
    out.add(
        "motor_nameplate",
        PartId::Motor,
        0.1,
        format!(
            "The motor's plate says {:.0} V, {:.2} kW ({:.2} hp).",
            motor.rated_voltage.si(),
            motor.rated_power.si() / 1_000.0,
            motor.rated_power.si() / HORSEPOWER
        ),
    );
}

/// A gauge pressure in both units.
pub(super) fn pressure_words(pa: f64) -> String {
    format!("{:.0} psi ({:.1} bar)", pa / PSI, pa / BAR)
}
