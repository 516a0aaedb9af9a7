//! What is seen at the source and at the splice box.

use super::make::{Cues, flow_words, ramp};
use super::sight_wall::handle;
use crate::catalog::PartId;
use crate::parts::{IntakeMount, PumpPlacement, SourceSpec};
use crate::plant::{Conditions, Device, HotJoint, Plant};
use crate::session::Cover;
use crate::units::convert::{FOOT, LITER};

/// Water lost into the ground before it shows, and when it stands in puddles [m³]
/// (training values: soil takes the first).
const SHOWS_M3: f64 = 5.0 * LITER;
const PUDDLE_M3: f64 = 300.0 * LITER;
/// How far a torch shows a surface down a well or cistern [m] (training value).
const TORCH_M: f64 = 12.0;
/// How far a float switch may be off before an eye is sure of it [m] (training value).
const SURE_M: f64 = 0.05;

/// Wet ground over a buried pipe that leaks, or has leaked.
fn see_ground(out: &mut Cues<'_>, now: &Conditions) {
    let level = ramp(now.lost_in_ground_m3, SHOWS_M3, PUDDLE_M3).sqrt();
    out.add_if(
        "wet_ground",
        PartId::Run,
        level,
        if level < 0.3 {
            "A patch of ground over the buried pipe is damp."
        } else if level < 0.9 {
            "The ground over the buried pipe is wet."
        } else {
            "Water stands on the ground over the buried pipe."
        },
    );
}

/// The splice box.
pub(super) fn see_splice(out: &mut Cues<'_>, now: &Conditions) {
    see_ground(out, now);
    if !out.attention.sees_under(Cover::Splice) {
        out.add(
            "splice_box_shut",
            PartId::Splice,
            0.1,
            "The splice box is shut.",
        );
        return;
    }
    if now.hot_joint == HotJoint::Splice && now.joint_burns > 0 {
        out.add(
            "joint_browned",
            PartId::Splice,
            ramp(f64::from(now.joint_burns), -3.0, 4.0),
            "The insulation at one joint is browned.",
        );
    } else {
        out.add(
            "joints_clean",
            PartId::Splice,
            0.1,
            "The joints in the box look clean.",
        );
    }
}

/// The source, by its lid or well cap.
pub(super) fn see(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    see_ground(out, now);
    if now.overflow > 1e-6 {
        out.add(
            "source_overflowing",
            PartId::Source,
            0.6,
            "Water runs over the brim of the source.",
        );
    }
    out.add(
        "source_valve_handle",
        PartId::SourceValve,
        0.2,
        format!(
            "The valve in the pipe at the source stands {}.",
            handle(plant.controls().source_valve_opening)
        ),
    );
    if out.attention.pump_is_out {
        see_pump_on_the_ground(out, plant);
    }
    if !out.attention.sees_under(Cover::Source) {
        out.add("lid_shut", PartId::Source, 0.1, "The lid is shut.");
        return;
    }
    see_level(out, plant, now);
    see_intake(out, plant, now);
    see_float(out, plant, now);
    if now.leaked_into_source > 1e-8 {
        out.add(
            "jet_seen_in_source",
            PartId::Riser,
            ramp(now.leaked_into_source * 60_000.0, 0.0, 10.0).max(0.3),
            format!(
                "Water leaves the riser {} inside the source.",
                flow_words(now.leaked_into_source)
            ),
        );
    }
    // A tenth of a litre a minute makes a ripple (training value).
    out.add_if(
        "water_seen_running_back",
        PartId::CheckValve,
        ramp(now.running_back * 60_000.0, 0.1, 10.0),
        "The water stirs at the pump though it stands still.",
    );
}

fn see_pump_on_the_ground(out: &mut Cues<'_>, plant: &Plant) {
    let motor = &plant.site().motor;
    out.add(
        "motor_nameplate",
        PartId::Motor,
        0.2,
        format!(
            "The pump lies beside the source; its plate says {:.0} V, {:.2} kW.",
            motor.rated_voltage.si(),
            motor.rated_power.si() / 1_000.0
        ),
    );
    let screen = plant.site().intake.screen;
    let share = 30.0 / 60_000.0 / screen.flow.si();
    let loss = screen.drop.si() * share * share;
    if loss > 20_000.0 {
        out.add(
            "screen_clogged",
            PartId::Intake,
            ramp(loss, 0.0, 100_000.0),
            "The intake's screen is covered with dirt.",
        );
    } else {
        out.add(
            "screen_clear",
            PartId::Intake,
            0.1,
            "The intake's screen is clear.",
        );
    }
}

fn see_level(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    match &plant.site().source {
        SourceSpec::Cistern { shape, .. } => {
            let share = now.depth_m / shape.height_m();
            let words = match share {
                s if s < 0.02 => "The source is empty",
                s if s < 0.15 => "There is only a little water on the floor of the source",
                s if s < 0.4 => "The water in the source stands low",
                s if s < 0.6 => "The source is about half full",
                s if s < 0.85 => "The source is well filled",
                _ => "The source is nearly full",
            };
            // An eye guesses to a decimetre.
            let guess = (10.0 * now.depth_m.max(0.0)).round() / 10.0;
            out.add(
                "source_level",
                PartId::Source,
                0.3 + 0.4 * ramp(0.4 - share, 0.0, 0.4),
                format!("{words}, about {guess:.1} m ({:.0} ft) deep.", guess / FOOT),
            );
        }
        SourceSpec::Well { .. } => {
            let down = -now.surface_m;
            let caption = if down > TORCH_M {
                "The torch does not reach down to the water in the casing.".to_owned()
            } else {
                format!("The torch shows water about {down:.0} m down.")
            };
            out.add("source_level", PartId::Source, 0.3, caption);
        }
    }
}

/// The intake, where it can be seen.
fn see_intake(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    if matches!(plant.site().source, SourceSpec::Well { .. }) || out.attention.pump_is_out {
        return;
    }
    if now.submergence_m <= 0.0 {
        out.add(
            "intake_above_water",
            PartId::Intake,
            0.9,
            "The intake's opening is above the water.",
        );
    } else if now.intake_air_share > 0.0 {
        out.add(
            "intake_vortex",
            PartId::Intake,
            0.4 + 0.6 * now.intake_air_share,
            "A swirl over the intake draws bubbles down with it.",
        );
    } else {
        let how = match plant.site().intake.mount {
            IntakeMount::Floating { .. } => "hangs from its float",
            IntakeMount::Fixed { .. } => "stands",
        };
        out.add(
            "intake_under_water",
            PartId::Intake,
            0.2,
            format!("The intake {how}, well under the water."),
        );
    }
}

/// The float switch.
fn see_float(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let float = plant
        .site()
        .wiring
        .as_ref()
        .and_then(|wiring| wiring.float_switch);
    let Some(float) = float else { return };
    let part = PartId::FloatSwitch;
    let is_up = plant.modes().circuit.float == Device::Closed;
    if !is_up && now.depth_m > float.starts_at.si() + SURE_M {
        out.add(
            "float_down_in_high_water",
            part,
            0.8,
            "The float switch hangs down though the water is high.",
        );
    } else if is_up && now.depth_m < float.stops_at.si() - SURE_M {
        out.add(
            "float_up_in_low_water",
            part,
            0.8,
            "The float switch points up though the water is below it.",
        );
    } else {
        let how = if is_up { "floats up" } else { "hangs down" };
        out.add(
            "float_as_the_water",
            part,
            0.2,
            format!("The float switch {how}, as the water would have it."),
        );
    }
}

/// Whether the motor is out of sight under the water.
pub(super) fn is_motor_under_water(plant: &Plant) -> bool {
    plant.site().pump.placement == PumpPlacement::Submersible
}
