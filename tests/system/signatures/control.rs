//! Signatures of faults of what switches the pump.

use super::{Case, FARM, FROST, ORCHARD, YARD, case, exam, twins};

pub(super) const CASES: &[Case] = &[
    case(
        "pressure_switch.blocked_contacts",
        YARD,
        blocked_contacts_are_seen_at_once,
    ),
    case(
        "pressure_switch.plugged_port",
        ORCHARD,
        a_plugged_port_switches_late_both_ways,
    ),
    case(
        "pressure_switch.burnt_contacts",
        YARD,
        burnt_contacts_drop_volts_while_the_pump_pulls,
    ),
    case(
        "pressure_switch.welded_contacts",
        ORCHARD,
        welded_contacts_run_on_however_the_switch_is_set,
    ),
    case(
        "float_switch.stuck_open",
        ORCHARD,
        a_hanging_float_keeps_power_from_the_pump_over_high_water,
    ),
    case(
        "float_switch.stuck_closed",
        ORCHARD,
        a_float_stuck_up_shows_only_when_the_water_is_low,
    ),
    case(
        "pressure_switch.cut_out_high",
        ORCHARD,
        a_cut_out_out_of_reach_lets_the_pump_run_on_until_it_is_set,
    ),
    case(
        "pressure_switch.small_differential",
        ORCHARD,
        a_small_differential_shortens_runs_with_the_air_right,
    ),
    case(
        "pressure_switch.raised",
        ORCHARD,
        a_raised_switch_leaves_the_charge_behind,
    ),
    case(
        "pressure_switch.leaking_diaphragm",
        ORCHARD,
        a_leaking_diaphragm_drips_at_the_wall,
    ),
    case(
        "pressure_switch.frozen_port",
        FROST,
        a_frozen_port_does_not_call_at_no_pressure,
    ),
    case(
        "pressure_switch.cut_off_tripped",
        FARM,
        a_dropped_lever_keeps_the_pump_off_until_it_is_held,
    ),
];

#[test]
fn a_plugged_port_switches_late_both_ways() {
    let (sick, well) = twins("pressure_switch.plugged_port");
    assert!(
        sick.number("cut_out") > well.number("cut_out") + 5.0,
        "{sick}"
    );
    assert!(sick.number("draw_low") < well.number("draw_low"), "{sick}");
    assert!(sick.number("run_s") > 1.4 * well.number("run_s"), "{sick}");
    // It stops in the end, which a cut-out beyond the pump's reach does not.
    assert!(sick.get("build_s").is_some(), "{sick}");
    // The second gauge bears the first one out: the switch is late, not the needle.
    let wall = sick.number("tee_static_wall");
    assert!((wall - sick.number("tee_static")).abs() < 5.0, "{sick}");
    // On the switch's own port it does not: what the switch feels comes late.
    let late = sick.number("switch_static_wall") - sick.number("switch_static");
    assert!(late > 4.0, "{late}\n{sick}");
    let sound = well.number("switch_static_wall") - well.number("switch_static");
    assert!(sound.abs() < 2.0, "{well}");
}

#[test]
fn burnt_contacts_drop_volts_while_the_pump_pulls() {
    let (sick, well) = twins("pressure_switch.burnt_contacts");
    // Two ohms by the clamp's current, over the closed contact.
    let by_ohm = 2.0 * sick.number("run_amps");
    let drop = sick.number("run_volts_contact");
    assert!((drop / by_ohm - 1.0).abs() < 0.1, "{drop} {by_ohm}\n{sick}");
    assert!(well.number("run_volts_contact") < 0.2, "{well}");
    assert!(sick.has_anywhere("contact_buzz"), "{sick}");
    assert!(sick.has("switch rest", "contacts_pitted"), "{sick}");
    assert!((sick.number("ohms_contact1") - 2.0).abs() < 0.5, "{sick}");
    // At a bad joint the switch loses nothing.
    let (joint, _) = twins("splice.high_resistance");
    assert!(joint.number("run_volts_contact") < 0.2, "{joint}");
    assert!(sick.number("run_volts_joint") < 0.2, "{sick}");
}

#[test]
fn welded_contacts_run_on_however_the_switch_is_set() {
    let (sick, well) = twins("pressure_switch.welded_contacts");
    assert!(
        sick.number("gauge_arrival") > well.number("cut_out") + 10.0,
        "{sick}"
    );
    assert!(sick.has("switch rest", "contacts_together"), "{sick}");
    assert!(sick.number("volts_switch_load") > 100.0, "{sick}");
    assert!(sick.has("wall rest", "relief_discharging"), "{sick}");
    assert_eq!(sick.number("runs_after_adjusting"), 1.0, "{sick}");
}

#[test]
fn a_hanging_float_keeps_power_from_the_pump_over_high_water() {
    let (sick, well) = twins("float_switch.stuck_open");
    assert!(
        sick.has("source rest", "float_down_in_high_water"),
        "{sick}"
    );
    assert!(
        (sick.number("level") - well.number("level")).abs() < 0.2,
        "{sick}"
    );
    assert_eq!(sick.number("run_amps"), 0.0, "{sick}");
    // The switch calls, and power comes as far as the splice.
    assert!(sick.number("run_volts_pump") > 100.0, "{sick}");
    assert!(sick.has_none("ohms_winding"), "{sick}");
    assert!(sick.has_anywhere("silent_motor"), "{sick}");
}

#[test]
fn a_float_stuck_up_shows_only_when_the_water_is_low() {
    let (sick, well) = twins("float_switch.stuck_closed");
    // No early symptom: over high water nothing tells it from a sound one.
    for name in ["cut_in", "cut_out", "fall_open"] {
        assert!(
            (sick.number(name) - well.number(name)).abs() <= 1.0,
            "{name}\n{sick}"
        );
    }
    assert!(sick.has("source rest", "float_as_the_water"), "{sick}");
    let low = exam(ORCHARD, "source.low");
    assert!(low.has("source rest", "float_as_the_water"), "{low}");
    assert_eq!(low.number("run_amps"), 0.0, "{low}");
    let both = exam(ORCHARD, "float_switch.stuck_closed + source.low");
    assert!(both.has("source rest", "float_up_in_low_water"), "{both}");
    assert!(both.has_anywhere("motor_hum_light"), "{both}");
}

#[test]
fn a_cut_out_out_of_reach_lets_the_pump_run_on_until_it_is_set() {
    let (sick, well) = twins("pressure_switch.cut_out_high");
    assert!(
        sick.number("build_end") > well.number("cut_out") + 10.0,
        "{sick}"
    );
    assert!(sick.has_none("build_s"), "{sick}");
    assert!(sick.number("fall_open") < 3.0, "{sick}");
    // Welded contacts would run on.
    assert_eq!(sick.number("runs_after_adjusting"), 0.0, "{sick}");
}

#[test]
fn a_small_differential_shortens_runs_with_the_air_right() {
    let (sick, well) = twins("pressure_switch.small_differential");
    let swing = sick.number("cut_out") - sick.number("cut_in");
    // Stiction takes half a psi at either end.
    assert!((swing - 6.0).abs() <= 2.5, "{sick}");
    assert!(sick.number("run_s") < 0.5 * well.number("run_s"), "{sick}");
    assert!(
        sick.number("draw_cycles") > 1.8 * well.number("draw_cycles"),
        "{sick}"
    );
    assert!(
        (sick.number("tyre_drained") - well.number("tyre_drained")).abs() <= 1.0,
        "{sick}"
    );
}

#[test]
fn a_raised_switch_leaves_the_charge_behind() {
    let (sick, well) = twins("pressure_switch.raised");
    assert!(
        (sick.number("cut_in") - well.number("cut_in") - 15.0).abs() <= 1.5,
        "{sick}"
    );
    assert!(
        (sick.number("cut_out") - well.number("cut_out") - 15.0).abs() <= 1.5,
        "{sick}"
    );
    // The air is as it was set: for the new cut-in it is too little.
    assert!(
        (sick.number("tyre_drained") - well.number("tyre_drained")).abs() <= 1.0,
        "{sick}"
    );
    assert!(
        sick.number("drawdown") < 0.85 * sick.number("drawdown_due"),
        "{sick}"
    );
    let (low, _) = twins("tank.lost_precharge");
    assert!(
        low.number("tyre_drained") < sick.number("tyre_drained") - 10.0,
        "{low}"
    );
}

#[test]
fn a_leaking_diaphragm_drips_at_the_wall() {
    let (sick, well) = twins("pressure_switch.leaking_diaphragm");
    assert!(sick.has("wall rest", "drip_at_wall"), "{sick}");
    assert!(!well.has_anywhere("drip_at_wall"), "{well}");
    assert!(
        sick.number("idle_change") < well.number("idle_change") - 2.0
            || sick.number("idle_starts_h") > 0.0,
        "{sick}"
    );
    assert!(!sick.has_anywhere("water_in_house"), "{sick}");
    assert!(
        (sick.number("cut_out") - well.number("cut_out")).abs() <= 1.0,
        "{sick}"
    );
}

#[test]
fn a_frozen_port_does_not_call_at_no_pressure() {
    let (sick, well) = twins("pressure_switch.frozen_port");
    assert!(sick.has("wall rest", "frost"), "{sick}");
    assert!(sick.number("gauge_drained") < 2.0, "{sick}");
    assert!(sick.has("switch drained", "contacts_apart"), "{sick}");
    assert!(well.has("switch drained", "contacts_together"), "{well}");
    // Power stands before the contacts and not behind.
    assert!(sick.number("run_volts_line") > 100.0, "{sick}");
    assert_eq!(sick.number("run_volts_load"), 0.0, "{sick}");
    // The port holds the pressure that froze in it, the pipe has none.
    let shut_in = sick.number("switch_static") - sick.number("switch_static_wall");
    assert!(shut_in > 30.0, "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
}

#[test]
fn a_dropped_lever_keeps_the_pump_off_until_it_is_held() {
    let (sick, well) = twins("pressure_switch.cut_off_tripped");
    assert!(sick.has("wall rest", "lever_down"), "{sick}");
    assert!(well.has("wall rest", "lever_up"), "{well}");
    assert_eq!(sick.number("run_volts_load"), 0.0, "{sick}");
    assert!(sick.number("run_volts_line") > 200.0, "{sick}");
    // Held up for a minute, it builds as a sound one does.
    assert!(
        (sick.number("tee_static") - well.number("tee_static")).abs() < 3.0,
        "{sick}"
    );
}

#[test]
fn blocked_contacts_are_seen_at_once() {
    let (sick, well) = twins("pressure_switch.blocked_contacts");
    assert!(sick.has("switch drained", "contacts_blocked"), "{sick}");
    assert!(well.has("switch drained", "contacts_together"), "{well}");
    assert!(
        sick.has_none("ohms_contact1") && sick.has_none("ohms_contact2"),
        "{sick}"
    );
    assert!(sick.number("run_volts_line") > 220.0, "{sick}");
    assert!(sick.number("run_volts_load") < 5.0, "{sick}");
    // A frozen port leaves the lever where it was.
    let (frozen, _) = twins("pressure_switch.frozen_port");
    assert!(!frozen.has_anywhere("contacts_blocked"), "{frozen}");
}
