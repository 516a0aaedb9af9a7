//! Signatures of faults of supply, breaker, cables and joints.

use super::{Case, FARM, ORCHARD, SHED, YARD, case, twins};

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
        "splice.wet",
        YARD,
        a_wet_splice_leaks_on_both_sides_and_warms,
    ),
    case("supply.dead", YARD, a_dead_supply_reads_nothing_at_any_lug),
    case("supply.weak", YARD, a_weak_supply_sags_at_the_panel_itself),
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
        "breaker.tripped",
        YARD,
        a_tripped_breaker_has_volts_before_it_and_none_behind,
    ),
    case(
        "breaker.high_resistance",
        YARD,
        a_bad_breaker_lug_drops_volts_in_the_panel,
    ),
    case(
        "switch_terminal.high_resistance",
        YARD,
        a_bad_terminal_drops_volts_between_panel_and_switch,
    ),
    case(
        "cable.undersized",
        YARD,
        a_thin_cable_drops_volts_along_its_length_with_no_hot_joint,
    ),
    case(
        "cable.ground_fault",
        FARM,
        a_leaking_cable_trips_and_reads_low_on_the_houses_side,
    ),
    case(
        "pressure_switch.damp",
        SHED,
        a_damp_switch_trips_a_fine_device_with_the_motor_sound,
    ),
    case(
        "earth.open",
        ORCHARD,
        an_open_earth_shows_on_the_ohmmeter_alone,
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
fn a_wet_splice_leaks_on_both_sides_and_warms() {
    let (sick, well) = twins("splice.wet");
    for side in ["ohms_megger_cable", "ohms_megger_motor"] {
        assert!(sick.number(side) < 5e5, "{side}\n{sick}");
        assert!(well.get(side).is_none_or(|ohm| ohm > 1e8), "{well}");
    }
    // Its joint has gone bad as well, by a little.
    let drop = sick.number("run_volts_joint");
    assert!(drop > 1.0 && drop < 5.0, "{sick}");
    assert!(sick.has("splice running", "box_warm"), "{sick}");
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.05,
        "{sick}"
    );
}

#[test]
fn a_dead_supply_reads_nothing_at_any_lug() {
    let (sick, well) = twins("supply.dead");
    for name in [
        "volts_panel_legs",
        "volts_panel_1n",
        "volts_panel_2n",
        "volts_breaker",
    ] {
        assert!(sick.number(name) < 1.0, "{name}\n{sick}");
        assert!(well.number(name) > 100.0, "{name}\n{well}");
    }
    assert!(sick.has("panel rest", "breaker_on"), "{sick}");
    assert_eq!(sick.number("run_amps"), 0.0, "{sick}");
}

#[test]
fn a_weak_supply_sags_at_the_panel_itself() {
    let (sick, well) = twins("supply.weak");
    let sag = |exam: &super::exam::Exam| 1.0 - exam.number("start_volts_panel") / 230.0;
    assert!(sag(&sick) > 0.15 && sag(&sick) > 4.0 * sag(&well), "{sick}");
    // What is lost on the way to the motor is what a sound one loses.
    let way = |exam: &super::exam::Exam| {
        exam.number("start_volts_panel") - exam.number("start_volts_pump")
    };
    assert!((way(&sick) - way(&well)).abs() < 4.0, "{sick}");
    assert!(
        sick.number("start_inrush") < well.number("start_inrush"),
        "{sick}"
    );
    assert!(sick.number("ohms_joint1") < 1.0, "{sick}");
}

#[test]
fn a_tripped_breaker_has_volts_before_it_and_none_behind() {
    let (sick, _) = twins("breaker.tripped");
    assert!(sick.has("panel rest", "breaker_tripped"), "{sick}");
    assert!(
        (sick.number("volts_panel_legs") - 230.0).abs() < 4.0,
        "{sick}"
    );
    assert!(sick.number("volts_breaker") < 1.0, "{sick}");
    // Nothing is found behind it, and after the reset it builds as ever.
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
    assert!(sick.number("tee_static") > 40.0, "{sick}");
    let (dead, _) = twins("supply.dead");
    assert!(!dead.has("panel rest", "breaker_tripped"), "{dead}");
}

#[test]
fn a_bad_breaker_lug_drops_volts_in_the_panel() {
    let (sick, well) = twins("breaker.high_resistance");
    let lugs = |exam: &super::exam::Exam| {
        exam.number("run_volts_panel_1n") + exam.number("run_volts_panel_2n")
    };
    assert!((lugs(&sick) - lugs(&well)).abs() < 3.0, "{sick}");
    // Two ohms by the clamp's current, as far as it is in step with the volts, between
    // the lugs and the load terminals.
    let drop = well.number("run_volts_panel") - sick.number("run_volts_panel");
    let by_ohm = 2.0 * in_step(&sick);
    assert!((drop / by_ohm - 1.0).abs() < 0.2, "{drop} {by_ohm}\n{sick}");
    assert!(sick.has("panel running", "box_warm"), "{sick}");
    assert!(!sick.has("wall running", "box_warm"), "{sick}");
    assert!(sick.number("run_volts_joint") < 0.2, "{sick}");
    assert!(sick.number("run_volts_contact") < 0.2, "{sick}");
}

#[test]
fn a_bad_terminal_drops_volts_between_panel_and_switch() {
    let (sick, well) = twins("switch_terminal.high_resistance");
    let way =
        |exam: &super::exam::Exam| exam.number("run_volts_panel") - exam.number("run_volts_line");
    let by_ohm = 2.0 * in_step(&sick);
    let drop = way(&sick) - way(&well);
    assert!((drop / by_ohm - 1.0).abs() < 0.2, "{drop} {by_ohm}\n{sick}");
    assert!(sick.has("wall running", "box_warm"), "{sick}");
    assert!(sick.number("run_volts_contact") < 0.2, "{sick}");
    // At a bad breaker lug they are gone before the panel's load terminals.
    let (lug, _) = twins("breaker.high_resistance");
    assert!((way(&lug) - way(&well)).abs() < 3.0, "{lug}");
}

#[test]
fn a_thin_cable_drops_volts_along_its_length_with_no_hot_joint() {
    let (sick, well) = twins("cable.undersized");
    let way = |exam: &super::exam::Exam| {
        exam.number("start_volts_load") - exam.number("start_volts_splice")
    };
    // Four times the resistance of the one it should be.
    let ratio = way(&sick) / way(&well);
    assert!((2.5..5.0).contains(&ratio), "{ratio}\n{sick}");
    assert!(
        (sick.number("start_volts_panel") / well.number("start_volts_panel") - 1.0).abs() < 0.02,
        "{sick}"
    );
    assert!(sick.number("run_volts_joint") < 0.2, "{sick}");
    assert!(!sick.has_anywhere("box_warm"), "{sick}");
    assert!(sick.number("ohms_joint1") < 1.0, "{sick}");
}

#[test]
fn a_leaking_cable_trips_and_reads_low_on_the_houses_side() {
    let (sick, _) = twins("cable.ground_fault");
    assert!(sick.has("panel rest", "ground_fault_tripped"), "{sick}");
    assert!(sick.number("ohms_megger_cable") < 5e5, "{sick}");
    // Beyond the splice all is well: the motor is not to blame.
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
    let (motor, _) = twins("motor.insulation");
    assert!(motor.has_none("ohms_megger_cable"), "{motor}");
    assert!(motor.number("ohms_megger_motor") < 5e5, "{motor}");
}

#[test]
fn a_damp_switch_trips_a_fine_device_with_the_motor_sound() {
    let (sick, well) = twins("pressure_switch.damp");
    assert!(sick.has("panel rest", "ground_fault_tripped"), "{sick}");
    assert!(!well.has_anywhere("ground_fault_tripped"), "{well}");
    let insulation = sick.number("ohms_megger_cable");
    assert!(
        (insulation / 12_000.0 - 1.0).abs() < 0.15,
        "{insulation}\n{sick}"
    );
    assert!(sick.number("ohms_megger_motor") > 1e8, "{sick}");
    assert!(
        (sick.number("ohms_winding") - well.number("ohms_winding")).abs() < 0.3,
        "{sick}"
    );
}

/// Share of the running current that is in step with the volts [A], by clamp, volts and
/// watts: what a resistance takes off the volts of a whole circuit.
fn in_step(exam: &super::exam::Exam) -> f64 {
    exam.number("run_watts") / exam.number("run_volts_load")
}
