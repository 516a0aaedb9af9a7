//! Signatures of faults of the line: check valves, riser, run, filter, relief and valves.

use super::law::Tank;
use super::{Case, FALL_S, FARM, FROST, ORCHARD, TWO_CHECKS, case, exam, twins};
use crate::support::sites::shipped;

pub(super) const CASES: &[Case] = &[
    case(
        "run.leak",
        ORCHARD,
        a_leaking_run_falls_with_every_valve_shut,
    ),
    case(
        "check_valve.weeping",
        ORCHARD,
        a_weeping_check_falls_until_the_source_valve_is_shut,
    ),
    case(
        "check_valve.stuck_open",
        ORCHARD,
        an_open_check_empties_the_tank_within_minutes,
    ),
    case(
        "check_valve.stuck_shut",
        ORCHARD,
        a_stuck_check_dead_heads_a_sound_pump,
    ),
    case(
        "check_valve.missing",
        ORCHARD,
        without_a_check_the_tank_runs_empty_after_every_stop,
    ),
    case(
        "check_valve.slamming",
        ORCHARD,
        a_slamming_check_bangs_on_the_stop_and_holds,
    ),
    case(
        "riser.split",
        ORCHARD,
        a_split_riser_sprays_in_the_source_and_starts_without_end,
    ),
    case(
        "filter.clogged",
        ORCHARD,
        a_clogged_filter_keeps_the_pressure_from_the_house_alone,
    ),
    case(
        "relief_valve.low_set",
        FARM,
        a_relief_valve_set_low_runs_and_holds_the_gauge_at_its_setting,
    ),
    case(
        "run.frozen",
        FROST,
        a_frozen_run_dead_heads_the_pump_in_frost,
    ),
    case(
        "source_valve.left_shut",
        ORCHARD,
        a_shut_source_valve_dead_heads_the_pump_and_shows_its_handle,
    ),
    case(
        "house_valve.left_shut",
        ORCHARD,
        a_shut_house_valve_leaves_a_sound_gauge_and_a_dry_house,
    ),
];

#[test]
fn a_leaking_run_falls_with_every_valve_shut() {
    let (sick, well) = twins("run.leak");
    // Half a gallon a minute at 50 psi takes more than the tank holds in twenty minutes.
    assert!(sick.number("end_house_shut") < 2.0, "{sick}");
    assert!(sick.number("end_source_shut") < 2.0, "{sick}");
    assert!(well.number("fall_source_shut") < 2.0, "{well}");
    assert!(sick.has("source rest", "wet_ground"), "{sick}");
    assert!(sick.number("idle_starts_h") > 2.0, "{sick}");
    // A leaking house or a weeping check stops where this one goes on.
    let (check, _) = twins("check_valve.weeping");
    assert!(check.number("fall_source_shut") < 2.0, "{check}");
    let (house, _) = twins("house.leak");
    assert!(house.number("fall_house_shut") < 2.0, "{house}");
}

#[test]
fn a_weeping_check_falls_until_the_source_valve_is_shut() {
    let (sick, well) = twins("check_valve.weeping");
    let site = shipped(ORCHARD);
    let tank = Tank::of(&site, sick.number("tyre_drained"));
    // The water runs back to the cistern's surface, which the tape has found.
    let surface = site.source.bottom_elevation_m() + sick.number("level");
    let below = site.wall.elevation.si() - surface;
    for (fall, end) in [
        ("fall_open", "end_open"),
        ("fall_house_shut", "end_house_shut"),
    ] {
        let from = sick.number(end) + sick.number(fall);
        let by_law = tank.leaked_psi(from, 0.13, below, FALL_S);
        assert!(
            (sick.number(end) - by_law).abs() < 2.0,
            "{fall}: law {by_law}\n{sick}"
        );
    }
    assert!(
        sick.number("fall_open") > well.number("fall_open") + 5.0,
        "{sick}"
    );
    assert!(sick.number("fall_source_shut") < 2.0, "{sick}");
    assert!(
        sick.has("source after stop", "water_running_back"),
        "{sick}"
    );
    // Hours between starts, where a valve held open takes a minute.
    assert!(sick.number("idle_starts_h") < 6.0, "{sick}");
}

#[test]
fn an_open_check_empties_the_tank_within_minutes() {
    let (sick, well) = twins("check_valve.stuck_open");
    assert_eq!(sick.number("end_house_shut"), 0.0, "{sick}");
    assert!(well.number("end_house_shut") > 50.0, "{well}");
    assert!(sick.number("idle_starts_h") > 20.0, "{sick}");
    assert!(
        sick.has("source after stop", "water_running_back")
            || sick.has("wall idle", "water_running_back"),
        "{sick}"
    );
    // Built up and sound otherwise: set points and amps of a healthy pump.
    assert!(
        (sick.number("cut_out") - well.number("cut_out")).abs() < 2.0,
        "{sick}"
    );
    assert!(
        (sick.number("run_amps") / well.number("run_amps") - 1.0).abs() < 0.1,
        "{sick}"
    );
}

#[test]
fn a_stuck_check_dead_heads_a_sound_pump() {
    let (sick, well) = twins("check_valve.stuck_shut");
    assert_eq!(sick.number("run_gauge"), 0.0, "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    let watts = sick.number("run_watts") / well.number("run_watts");
    assert!((0.5..0.8).contains(&watts), "{watts}\n{sick}");
    assert!(
        sick.number("run_amps") < 0.92 * well.number("run_amps"),
        "{sick}"
    );
    assert!(sick.has("source running", "pump_warm"), "{sick}");
    // It hums as a pump at work; one that is locked by air, or turns alone, hums lightly.
    assert!(sick.has("source running", "motor_hum"), "{sick}");
    for other in ["pump.air_lock", "pump.sheared_coupling"] {
        let (light, _) = twins(other);
        assert!(!light.has("source running", "motor_hum"), "{light}");
        assert!(
            light.number("run_watts") < 0.8 * sick.number("run_watts"),
            "{light}"
        );
    }
}

#[test]
fn without_a_check_the_tank_runs_empty_after_every_stop() {
    let (sick, well) = twins("check_valve.missing");
    assert!(sick.number("end_house_shut") < 1.0, "{sick}");
    assert!(sick.number("idle_starts_h") > 20.0, "{sick}");
    assert!(
        sick.has("source after stop", "water_running_back"),
        "{sick}"
    );
    assert!(
        (sick.number("cut_out") - well.number("cut_out")).abs() < 2.0,
        "{sick}"
    );
    // A weeping check takes a quarter of an hour and more from stop to start.
    let (weep, _) = twins("check_valve.weeping");
    assert!(
        weep.number("idle_starts_h") < 0.2 * sick.number("idle_starts_h"),
        "{weep}"
    );
}

#[test]
fn a_slamming_check_bangs_on_the_stop_and_holds() {
    let (sick, well) = twins("check_valve.slamming");
    assert!(sick.has_anywhere("check_valve_thump"), "{sick}");
    assert!(!well.has_anywhere("check_valve_thump"), "{well}");
    assert!(!sick.has_anywhere("bang_on_start"), "{sick}");
    assert!(sick.number("fall_house_shut") < 2.0, "{sick}");
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.05,
        "{sick}"
    );
    // A lower check that weeps under a tight one, in a deep well, bangs on the start
    // instead.
    let void = exam(TWO_CHECKS, "check_valve.weeping");
    assert!(void.has_anywhere("bang_on_start"), "{void}");
    assert!(!void.has_anywhere("check_valve_thump"), "{void}");
    assert!(void.number("fall_house_shut") < 2.0, "{void}");
}

#[test]
fn a_split_riser_sprays_in_the_source_and_starts_without_end() {
    let (sick, well) = twins("riser.split");
    assert!(sick.has("source running", "jet_in_source"), "{sick}");
    assert!(sick.has("source running", "jet_seen_in_source"), "{sick}");
    assert!(!well.has_anywhere("jet_in_source"), "{well}");
    // Split above the check, the tank feeds it when the pump rests.
    assert!(sick.number("end_house_shut") < 2.0, "{sick}");
    assert!(sick.number("idle_starts_h") > 10.0, "{sick}");
    assert!(sick.number("run_s") > 1.2 * well.number("run_s"), "{sick}");
    assert!(sick.number("run_amps") >= well.number("run_amps"), "{sick}");
    // Worn wheels make no jet, and take less current.
    let (worn, _) = twins("pump.worn_impellers");
    assert!(!worn.has_anywhere("jet_in_source"), "{worn}");
    assert!(worn.number("run_amps") < sick.number("run_amps"), "{worn}");
}

#[test]
fn a_clogged_filter_keeps_the_pressure_from_the_house_alone() {
    let (sick, well) = twins("filter.clogged");
    // Static, both gauges agree; with a tap open they part.
    let part = |exam: &super::exam::Exam, state: &str| {
        exam.number(&format!("house_{state}_wall")) - exam.number(&format!("house_{state}"))
    };
    assert!(part(&sick, "static").abs() < 2.0, "{sick}");
    assert!(
        part(&sick, "flowing") > 3.0 * part(&well, "flowing"),
        "{sick}"
    );
    assert!(
        sick.number("flow_widest") < 0.7 * well.number("flow_widest"),
        "{sick}"
    );
    assert!(sick.has("wall rest", "filter_brown"), "{sick}");
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.05,
        "{sick}"
    );
}

#[test]
fn a_relief_valve_set_low_runs_and_holds_the_gauge_at_its_setting() {
    let (sick, well) = twins("relief_valve.low_set");
    assert!(sick.has_none("build_s"), "{sick}");
    // It opens at 45 psi and has to pass what the pump gives.
    let plateau = sick.number("build_end");
    assert!(
        plateau > 43.0 && plateau < well.number("cut_out") - 1.5,
        "{sick}"
    );
    assert!(sick.has("wall rest", "relief_discharging"), "{sick}");
    assert!(!well.has_anywhere("relief_discharging"), "{well}");
    // With the pump off it holds where it reseats.
    assert!(sick.number("fall_open") < 2.0, "{sick}");
    assert!(
        (sick.number("run_amps") / well.number("run_amps") - 1.0).abs() < 0.1,
        "{sick}"
    );
}

#[test]
fn a_frozen_run_dead_heads_the_pump_in_frost() {
    let (sick, well) = twins("run.frozen");
    assert!(sick.has("wall rest", "frost"), "{sick}");
    assert!(
        sick.number("gauge_arrival") < 1.0 && well.number("gauge_arrival") > 35.0,
        "{sick}"
    );
    let watts = sick.number("run_watts") / well.number("run_watts");
    assert!((0.5..0.8).contains(&watts), "{watts}\n{sick}");
    assert!(sick.has("source running", "pump_warm"), "{sick}");
    assert!(sick.has("source running", "motor_hum"), "{sick}");
    // Every handle stands open.
    assert!(
        sick.said("source rest", "source_valve_handle")
            .contains("open"),
        "{sick}"
    );
    assert!(
        sick.said("wall rest", "house_valve_handle")
            .contains("open"),
        "{sick}"
    );
}

#[test]
fn a_shut_source_valve_dead_heads_the_pump_and_shows_its_handle() {
    let (sick, well) = twins("source_valve.left_shut");
    assert!(
        sick.said("source rest", "source_valve_handle")
            .contains("shut"),
        "{sick}"
    );
    assert!(
        !well
            .said("source rest", "source_valve_handle")
            .contains("shut"),
        "{well}"
    );
    assert!(sick.number("gauge_arrival") < 1.0, "{sick}");
    assert!(sick.has("source running", "pump_warm"), "{sick}");
    // By the meters it is a stuck check; by its handle it is not.
    let (check, _) = twins("check_valve.stuck_shut");
    assert!(
        (sick.number("run_watts") / check.number("run_watts") - 1.0).abs() < 0.05,
        "{check}"
    );
    assert!(
        !check
            .said("source rest", "source_valve_handle")
            .contains("shut"),
        "{check}"
    );
}

#[test]
fn a_shut_house_valve_leaves_a_sound_gauge_and_a_dry_house() {
    let (sick, well) = twins("house_valve.left_shut");
    assert!(sick.has("house flowing", "outlet_dry"), "{sick}");
    assert!(
        sick.has_none("flow_widest") || sick.number("flow_widest") == 0.0,
        "{sick}"
    );
    assert!(
        sick.said("wall rest", "house_valve_handle")
            .contains("shut"),
        "{sick}"
    );
    for name in ["cut_in", "cut_out", "run_s", "tyre_drained"] {
        let share = sick.number(name) / well.number(name);
        assert!((share - 1.0).abs() < 0.05, "{name} {share}\n{sick}");
    }
    // A clogged filter still lets a thread through.
    let (filter, _) = twins("filter.clogged");
    assert!(filter.number("flow_widest") > 1.0, "{filter}");
}
