//! Signatures of faults of the pump as a machine.

use super::law::Tank;
use super::{Case, FALL_S, ORCHARD, SHED, YARD, case, twins};
use crate::support::sites::shipped;

pub(super) const CASES: &[Case] = &[
    case(
        "pump.jammed",
        ORCHARD,
        a_jammed_pump_growls_with_full_volts_at_the_splice,
    ),
    case(
        "pump.worn_impellers",
        ORCHARD,
        worn_impellers_are_weak_without_a_rattle_or_a_leak,
    ),
    case(
        "pump.sheared_coupling",
        ORCHARD,
        a_motor_alone_takes_the_least_watts_of_all,
    ),
    case(
        "pump.reversed",
        ORCHARD,
        a_reversed_pump_stalls_short_of_cut_out_and_holds,
    ),
    case(
        "pump.clogged_nozzle",
        SHED,
        a_clogged_nozzle_stalls_the_jet_without_air_or_vacuum,
    ),
    case(
        "pump.seal_leak",
        SHED,
        a_leaking_seal_drips_at_the_pump_whatever_is_shut,
    ),
    case(
        "pump.oversized",
        YARD,
        an_oversized_pump_fills_fast_and_takes_more_current,
    ),
    case(
        "motor.bearing_drag",
        ORCHARD,
        dragging_bearings_take_current_with_nothing_wrong_on_the_meters,
    ),
];

#[test]
fn a_jammed_pump_growls_with_full_volts_at_the_splice() {
    let (sick, well) = twins("pump.jammed");
    assert!(sick.has("wall started", "locked_rotor_growl"), "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    // Locked-rotor current, and volts in the start as at a sound one: no fault of supply.
    let inrush = sick.number("start_inrush") / well.number("start_inrush");
    assert!((inrush - 1.0).abs() < 0.1, "{inrush}\n{sick}");
    let volts = sick.number("start_volts_pump") / well.number("start_volts_pump");
    assert!(volts > 0.95, "{volts}\n{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
}

#[test]
fn worn_impellers_are_weak_without_a_rattle_or_a_leak() {
    let (sick, well) = twins("pump.worn_impellers");
    assert!(sick.number("run_s") > 1.4 * well.number("run_s"), "{sick}");
    assert!(
        sick.number("run_gauge") < 0.9 * well.number("run_gauge"),
        "{sick}"
    );
    assert!(sick.number("run_amps") < well.number("run_amps"), "{sick}");
    assert!(!sick.has_anywhere("cavitation_rattle"), "{sick}");
    assert!(sick.number("fall_open") < 3.0, "{sick}");
}

#[test]
fn a_motor_alone_takes_the_least_watts_of_all() {
    let (sick, well) = twins("pump.sheared_coupling");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    assert!(sick.has("source running", "motor_hum_light"), "{sick}");
    // Amperes hardly tell: an idle single-phase motor takes most of its current.
    assert!(
        sick.number("run_amps") > 0.6 * well.number("run_amps"),
        "{sick}"
    );
    assert!(
        sick.number("run_watts") < 0.4 * well.number("run_watts"),
        "{sick}"
    );
    for other in ["pump.air_lock", "check_valve.stuck_shut"] {
        let (other, _) = twins(other);
        assert!(
            sick.number("run_watts") < 0.8 * other.number("run_watts"),
            "{other}"
        );
        assert!(other.has("source running", "pump_warm"), "{other}");
    }
    assert!(!sick.has_anywhere("pump_warm"), "{sick}");
}

#[test]
fn a_reversed_pump_stalls_short_of_cut_out_and_holds() {
    let (sick, well) = twins("pump.reversed");
    assert!(sick.has_none("build_s"), "{sick}");
    assert!(
        sick.number("build_end") < well.number("cut_out") - 5.0,
        "{sick}"
    );
    assert!(
        sick.number("run_gauge") < 0.5 * well.number("run_gauge"),
        "{sick}"
    );
    assert!(
        sick.number("run_watts") < 0.85 * well.number("run_watts"),
        "{sick}"
    );
    assert!(sick.number("fall_open") < 3.0, "{sick}");
}

#[test]
fn a_clogged_nozzle_stalls_the_jet_without_air_or_vacuum() {
    let (sick, well) = twins("pump.clogged_nozzle");
    assert!(sick.has_none("build_s"), "{sick}");
    assert!(
        sick.number("build_end") < well.number("cut_out") - 3.0,
        "{sick}"
    );
    assert!(!sick.has_anywhere("gas_rattle"), "{sick}");
    assert!(!sick.has_anywhere("cavitation_rattle"), "{sick}");
    // Vacuum is negative: a clogged suction would pull harder than the sound pump does.
    assert!(
        sick.number("run_vacuum") > well.number("run_vacuum") - 0.5,
        "{sick}"
    );
}

#[test]
fn a_leaking_seal_drips_at_the_pump_whatever_is_shut() {
    let (sick, well) = twins("pump.seal_leak");
    assert!(sick.has("wall rest", "seal_drip"), "{sick}");
    assert!(!sick.has_anywhere("wet_ground"), "{sick}");
    assert!(!well.has_anywhere("seal_drip"), "{well}");
    let site = shipped(SHED);
    let tank = Tank::of(&site, sick.number("tyre_drained"));
    let from = sick.number("end_source_shut") + sick.number("fall_source_shut");
    let below = site.wall.elevation.si() - site.pump.elevation.si();
    let by_law = tank.leaked_psi(from, 0.02, below, FALL_S);
    assert!(
        (sick.number("end_source_shut") - by_law).abs() < 1.5,
        "{by_law}\n{sick}"
    );
}

#[test]
fn an_oversized_pump_fills_fast_and_takes_more_current() {
    let (sick, well) = twins("pump.oversized");
    assert!(sick.number("run_s") < 0.85 * well.number("run_s"), "{sick}");
    assert!(
        sick.number("run_amps") > 1.2 * well.number("run_amps"),
        "{sick}"
    );
    assert!(
        sick.number("ohms_winding") < 0.8 * well.number("ohms_winding"),
        "{sick}"
    );
    // The tank is what it should be, and gives what it should.
    let share = sick.number("drawdown") / sick.number("drawdown_due");
    assert!((share - 1.0).abs() < 0.15, "{share}\n{sick}");
}

#[test]
fn dragging_bearings_take_current_with_nothing_wrong_on_the_meters() {
    let (sick, well) = twins("motor.bearing_drag");
    let amps = sick.number("run_amps") / well.number("run_amps");
    assert!((1.1..1.4).contains(&amps), "{amps}\n{sick}");
    assert!(sick.has("source running", "bearing_rumble"), "{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.15,
        "{sick}"
    );
    let volts = sick.number("start_volts_pump") / well.number("start_volts_pump");
    assert!((volts - 1.0).abs() < 0.03, "{volts}\n{sick}");
}
