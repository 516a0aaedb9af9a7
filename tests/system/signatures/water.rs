//! Signatures of faults on the water's way to the wall.

use super::law::Tank;
use super::{Case, FALL_S, ORCHARD, SHED, case, twins};
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
        "intake.clogged_screen",
        ORCHARD,
        a_clogged_screen_starves_the_pump_that_rattles,
    ),
    case(
        "pump.air_lock",
        ORCHARD,
        an_air_locked_pump_runs_light_and_gives_nothing,
    ),
    case(
        "source.low",
        SHED,
        a_low_source_shows_on_the_tape_and_lets_the_pump_draw_air,
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
fn a_clogged_screen_starves_the_pump_that_rattles() {
    let (sick, well) = twins("intake.clogged_screen");
    assert!(
        sick.number("run_gauge") < 0.7 * well.number("run_gauge"),
        "{sick}"
    );
    assert!(sick.number("run_s") > 1.5 * well.number("run_s"), "{sick}");
    assert!(
        sick.number("run_amps") < 0.95 * well.number("run_amps"),
        "{sick}"
    );
    assert!(sick.has("source running", "cavitation_rattle"), "{sick}");
    assert!(sick.has("pump out", "screen_clogged"), "{sick}");
    // Worn wheels are weak as well, but do not rattle, and their screen is clear.
    let (worn, _) = twins("pump.worn_impellers");
    assert!(!worn.has_anywhere("cavitation_rattle"), "{worn}");
    assert!(worn.has("pump out", "screen_clear"), "{worn}");
}

#[test]
fn an_air_locked_pump_runs_light_and_gives_nothing() {
    let (sick, well) = twins("pump.air_lock");
    assert_eq!(sick.number("gauge_arrival"), 0.0, "{sick}");
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
    assert!(sick.has("source running", "motor_hum_light"), "{sick}");
    assert!(
        sick.number("run_amps") < 0.9 * well.number("run_amps"),
        "{sick}"
    );
    assert!(
        sick.number("run_watts") < 0.55 * well.number("run_watts"),
        "{sick}"
    );
    // There is water enough, and the intake is in it.
    assert!(sick.has("source rest", "intake_under_water"), "{sick}");
}

#[test]
fn a_low_source_shows_on_the_tape_and_lets_the_pump_draw_air() {
    let (sick, well) = twins("source.low");
    assert!((sick.number("level") - 0.1).abs() < 0.03, "{sick}");
    assert!(well.number("level") > 1.0, "{well}");
    assert!(sick.has("source rest", "intake_above_water"), "{sick}");
    assert!(sick.has_anywhere("gas_rattle"), "{sick}");
    assert!(
        sick.number("run_watts") < 0.7 * well.number("run_watts"),
        "{sick}"
    );
    assert_eq!(sick.number("flow_widest"), 0.0, "{sick}");
}
