//! Signatures of faults of the motor: windings, capacitors, start switch, protector, leads.

use super::{Case, FARM, ORCHARD, SHED, YARD, case, twins};

pub(super) const CASES: &[Case] = &[
    case(
        "motor.insulation",
        SHED,
        lost_insulation_trips_and_reads_low_on_the_motors_side,
    ),
    case(
        "motor.open_start_capacitor",
        ORCHARD,
        without_its_capacitor_the_motor_growls_below_locked_current,
    ),
    case(
        "motor.open_winding",
        ORCHARD,
        an_open_winding_has_full_volts_and_no_ohms,
    ),
    case(
        "motor.shorted_turns",
        YARD,
        shorted_turns_take_twice_the_current_and_read_low,
    ),
    case(
        "motor.weak_start_capacitor",
        YARD,
        a_weak_start_capacitor_lowers_the_inrush_and_nothing_else,
    ),
    case(
        "motor.weak_run_capacitor",
        FARM,
        a_weak_run_capacitor_takes_more_current_for_the_same_water,
    ),
    case(
        "motor.welded_start_switch",
        YARD,
        a_welded_start_switch_labours_and_trips_the_protector,
    ),
    case(
        "motor.weak_protector",
        YARD,
        a_weak_protector_stops_a_motor_that_does_nothing_wrong,
    ),
    case(
        "drop_cable.chafed",
        YARD,
        a_chafed_cable_fails_now_and_then_and_reads_low,
    ),
];

#[test]
fn lost_insulation_trips_and_reads_low_on_the_motors_side() {
    let (sick, well) = twins("motor.insulation");
    // 20 kΩ within the tester's tenth; half a megohm is where the trade condemns.
    let insulation = sick.number("ohms_megger_motor");
    assert!(
        (insulation / 20_000.0 - 1.0).abs() < 0.12,
        "{insulation}\n{sick}"
    );
    assert!(well.number("ohms_megger_motor") > 1e8, "{well}");
    assert!(sick.has("panel rest", "ground_fault_tripped"), "{sick}");
    // The cable, tested apart, is sound, and so is the winding.
    assert!(sick.has_none("ohms_megger_cable"), "{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
}

#[test]
fn without_its_capacitor_the_motor_growls_below_locked_current() {
    let (sick, well) = twins("motor.open_start_capacitor");
    assert!(sick.has("wall started", "locked_rotor_growl"), "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    // The main winding alone: less than a sound start takes, volts full.
    let inrush = sick.number("start_inrush") / well.number("start_inrush");
    assert!((0.6..0.95).contains(&inrush), "{inrush}\n{sick}");
    assert!(
        sick.number("start_volts_pump") > well.number("start_volts_pump"),
        "{sick}"
    );
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
    // A jammed pump takes all that a start takes.
    let (jammed, _) = twins("pump.jammed");
    assert!(
        sick.number("start_inrush") < 0.95 * jammed.number("start_inrush"),
        "{jammed}"
    );
}

#[test]
fn an_open_winding_has_full_volts_and_no_ohms() {
    let (sick, _) = twins("motor.open_winding");
    assert!(sick.has_none("ohms_winding"), "{sick}");
    assert!(sick.number("run_volts_pump") > 105.0, "{sick}");
    assert!(sick.number("run_lowz_pump") > 105.0, "{sick}");
    assert!(sick.number("ohms_joint1") < 1.0, "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
}

#[test]
fn shorted_turns_take_twice_the_current_and_read_low() {
    let (sick, well) = twins("motor.shorted_turns");
    assert!(
        sick.number("run_amps") > 1.4 * well.number("run_amps"),
        "{sick}"
    );
    assert!(
        sick.number("ohms_winding") < well.number("ohms_winding") - 0.3,
        "{sick}"
    );
    assert!(sick.has("wall started", "motor_hum_laboured"), "{sick}");
    // It trips hot, with volts as they should be.
    assert!(
        sick.has_anywhere("silent_motor") || sick.number("long_starts") > 0.0,
        "{sick}"
    );
    assert!(
        sick.number("start_volts_panel") > 0.95 * well.number("start_volts_panel"),
        "{sick}"
    );
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
    // Bearings take current as well, and leave the ohms alone.
    let (drag, sound) = twins("motor.bearing_drag");
    assert!(
        (drag.number("ohms_winding") - sound.number("ohms_winding")).abs() < 0.3,
        "{drag}"
    );
}

#[test]
fn a_weak_start_capacitor_lowers_the_inrush_and_nothing_else() {
    let (sick, well) = twins("motor.weak_start_capacitor");
    let inrush = sick.number("start_inrush") / well.number("start_inrush");
    assert!((0.6..0.92).contains(&inrush), "{inrush}\n{sick}");
    assert!(
        sick.number("start_volts_pump") > well.number("start_volts_pump"),
        "{sick}"
    );
    for name in ["run_s", "run_amps", "ohms_winding"] {
        let share = sick.number(name) / well.number(name);
        assert!((share - 1.0).abs() < 0.05, "{name} {share}\n{sick}");
    }
    // Weak as it is, it starts; an open one growls.
    assert!(!sick.has_anywhere("locked_rotor_growl"), "{sick}");
}

#[test]
fn a_weak_run_capacitor_takes_more_current_for_the_same_water() {
    let (sick, well) = twins("motor.weak_run_capacitor");
    let amps = sick.number("run_amps") / well.number("run_amps");
    assert!((1.08..1.4).contains(&amps), "{amps}\n{sick}");
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.1,
        "{sick}"
    );
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.4,
        "{sick}"
    );
    // More amperes for hardly more watts: the power factor has gone.
    let watts = sick.number("run_watts") / well.number("run_watts");
    assert!(watts < amps - 0.05, "{watts} {amps}\n{sick}");
    assert!(!sick.has_anywhere("bearing_rumble"), "{sick}");
}

#[test]
fn a_welded_start_switch_labours_and_trips_the_protector() {
    let (sick, well) = twins("motor.welded_start_switch");
    assert!(sick.has("wall started", "motor_hum_laboured"), "{sick}");
    assert!(!well.has_anywhere("motor_hum_laboured"), "{well}");
    // It starts as it should, and stops though the switch still calls.
    let inrush = sick.number("start_inrush") / well.number("start_inrush");
    assert!((inrush - 1.0).abs() < 0.1, "{inrush}\n{sick}");
    assert!(sick.number("run_volts_load") > 220.0, "{sick}");
    assert_eq!(sick.number("run_amps"), 0.0, "{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
}

#[test]
fn a_weak_protector_stops_a_motor_that_does_nothing_wrong() {
    let (sick, well) = twins("motor.weak_protector");
    assert!(
        (sick.number("run_amps") / well.number("run_amps") - 1.0).abs() < 0.05,
        "{sick}"
    );
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.05,
        "{sick}"
    );
    // In a long draw it stops and comes back by itself, where its twin runs on.
    assert!(
        sick.number("long_low") < 0.3 * well.number("long_low"),
        "{sick}"
    );
    assert!(
        sick.has("wall long", "pump_started") || sick.has("wall long", "pump_started_often"),
        "{sick}"
    );
    assert_eq!(well.number("long_starts"), 0.0, "{well}");
    assert!(!sick.has_anywhere("motor_hum_laboured"), "{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
}

#[test]
fn a_chafed_cable_fails_now_and_then_and_reads_low() {
    let (sick, well) = twins("drop_cable.chafed");
    let insulation = sick.number("ohms_megger_motor");
    assert!(
        (insulation / 300_000.0 - 1.0).abs() < 0.15,
        "{insulation}\n{sick}"
    );
    assert!(sick.has_none("ohms_megger_cable"), "{sick}");
    // Of the starts in a long draw some come and some do not.
    assert!(
        sick.number("draw_low") < 0.5 * well.number("draw_low"),
        "{sick}"
    );
    assert!(
        sick.number("draw_cycles") < well.number("draw_cycles"),
        "{sick}"
    );
    assert!(sick.number("run_s") > 0.0, "{sick}");
}
