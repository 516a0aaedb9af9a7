//! Signatures of faults of supply, wiring and windings.

use super::{Case, ORCHARD, SHED, YARD, case, twins};

pub(super) const CASES: &[Case] = &[
    case(
        "splice.high_resistance",
        YARD,
        a_bad_joint_drops_volts_while_the_pump_pulls,
    ),
    case(
        "splice.open",
        YARD,
        an_open_splice_has_volts_before_it_and_none_behind,
    ),
    case(
        "supply.open_leg",
        YARD,
        an_open_leg_stands_at_volts_to_earth_but_not_to_the_other_leg,
    ),
    case(
        "supply.open_neutral",
        ORCHARD,
        an_open_neutral_lets_one_leg_sag_and_the_other_rise,
    ),
    case(
        "supply.wrong_voltage",
        YARD,
        half_the_volts_take_more_amperes_and_give_little,
    ),
    case(
        "earth.open",
        ORCHARD,
        an_open_earth_shows_on_the_ohmmeter_alone,
    ),
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
];

#[test]
fn a_bad_joint_drops_volts_while_the_pump_pulls() {
    let (sick, well) = twins("splice.high_resistance");
    let drop = sick.number("run_volts_joint");
    let by_ohm = 2.0 * sick.number("run_amps");
    assert!((drop / by_ohm - 1.0).abs() < 0.1, "{drop} {by_ohm}\n{sick}");
    assert!(well.number("run_volts_joint") < 0.2, "{well}");
    // In a start it takes several times as much, and nothing of it before the joint.
    let start = sick.number("start_volts_splice") - sick.number("start_volts_pump");
    assert!(start > 2.0 * drop, "{start} {drop}\n{sick}");
    assert!(
        sick.number("start_volts_load") > 0.98 * well.number("start_volts_load"),
        "{sick}"
    );
    assert!((sick.number("ohms_joint1") - 2.0).abs() < 0.5, "{sick}");
    assert!(sick.has("splice running", "box_warm"), "{sick}");
    assert!(!sick.has_anywhere("contact_buzz"), "{sick}");
}

#[test]
fn an_open_splice_has_volts_before_it_and_none_behind() {
    let (sick, well) = twins("splice.open");
    assert!(sick.number("run_volts_splice") > 220.0, "{sick}");
    assert!(sick.number("run_lowz_pump") < 5.0, "{sick}");
    assert_eq!(sick.number("run_amps"), 0.0, "{sick}");
    assert!(sick.has_none("ohms_joint1"), "{sick}");
    // The winding behind it is sound, as it is not when the motor itself is open.
    assert!(
        (sick.number("ohms_winding") / well.number("ohms_winding") - 1.0).abs() < 0.1,
        "{sick}"
    );
    assert!(sick.has_anywhere("silent_motor"), "{sick}");
}

#[test]
fn an_open_leg_stands_at_volts_to_earth_but_not_to_the_other_leg() {
    let (sick, well) = twins("supply.open_leg");
    assert!(well.number("run_volts_panel") > 220.0, "{well}");
    // What the dead leg shows comes back through the motor from the other one.
    assert!(sick.number("run_volts_panel") < 60.0, "{sick}");
    assert!(
        (sick.number("run_volts_panel_2n") - 115.0).abs() < 6.0,
        "{sick}"
    );
    assert!(sick.number("run_volts_panel_1n") > 60.0, "{sick}");
    assert!(sick.number("run_gauge") <= 2.0, "{sick}");
}

#[test]
fn an_open_neutral_lets_one_leg_sag_and_the_other_rise() {
    let (sick, well) = twins("supply.open_neutral");
    assert!(
        (well.number("run_volts_panel_1n") - 115.0).abs() < 4.0,
        "{well}"
    );
    assert!(sick.number("run_volts_panel_1n") < 60.0, "{sick}");
    assert!(sick.number("run_volts_panel_2n") > 160.0, "{sick}");
    // Leg to leg all is well.
    assert!(
        (sick.number("volts_panel_legs") - 230.0).abs() < 5.0,
        "{sick}"
    );
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
}

#[test]
fn half_the_volts_take_more_amperes_and_give_little() {
    let (sick, well) = twins("supply.wrong_voltage");
    assert!(
        (sick.number("volts_switch_line") - 115.0).abs() < 3.0,
        "{sick}"
    );
    assert!(
        (well.number("volts_switch_line") - 230.0).abs() < 4.0,
        "{well}"
    );
    assert!(
        sick.number("run_amps") > 1.1 * well.number("run_amps"),
        "{sick}"
    );
    assert!(sick.has_anywhere("motor_hum_laboured"), "{sick}");
    assert!(
        sick.number("run_gauge") < 0.6 * well.number("run_gauge"),
        "{sick}"
    );
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
}

#[test]
fn an_open_earth_shows_on_the_ohmmeter_alone() {
    let (sick, well) = twins("earth.open");
    assert!(well.number("ohms_earth") < 1.0, "{well}");
    assert!(sick.number("ohms_earth") > 50.0, "{sick}");
    for name in [
        "cut_in",
        "cut_out",
        "run_s",
        "run_amps",
        "start_inrush",
        "flow_widest",
    ] {
        let share = sick.number(name) / well.number(name);
        assert!((share - 1.0).abs() < 0.03, "{name} {share}\n{sick}");
    }
    assert_eq!(sick.all_cues(), well.all_cues());
}

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
