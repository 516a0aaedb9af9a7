//! Signatures of faults of source, intake and suction.

use super::{Case, ORCHARD, SHED, case, exam, twins};

pub(super) const CASES: &[Case] = &[
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
    case(
        "suction.air_leak",
        SHED,
        a_leaking_suction_draws_air_under_high_water,
    ),
    case(
        "intake.beached",
        ORCHARD,
        a_beached_intake_stands_dry_over_water_that_would_do,
    ),
    case(
        "intake.vortex",
        ORCHARD,
        a_vortex_draws_air_at_the_greatest_flow_only,
    ),
];

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
    assert!(sick.number("gauge_arrival") < 1.0, "{sick}");
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

#[test]
fn a_leaking_suction_draws_air_under_high_water() {
    let (sick, well) = twins("suction.air_leak");
    assert!(sick.has("source running", "gas_rattle"), "{sick}");
    assert!(
        sick.number("run_watts") < 0.7 * well.number("run_watts"),
        "{sick}"
    );
    assert!(
        sick.number("run_gauge") < 0.5 * well.number("run_gauge"),
        "{sick}"
    );
    // The source is not to blame: the tape finds as much as ever, over the intake.
    assert!(
        (sick.number("level") - well.number("level")).abs() < 0.1,
        "{sick}"
    );
    assert!(sick.has("source rest", "intake_under_water"), "{sick}");
    let (low, _) = twins("source.low");
    assert!(low.number("level") < 0.3 * sick.number("level"), "{low}");
    // Air in the suction pipe holds no vacuum while the pump runs.
    assert!(
        sick.number("run_vacuum") > well.number("run_vacuum") + 2.0,
        "{sick}"
    );
}

#[test]
fn a_beached_intake_stands_dry_over_water_that_would_do() {
    let (sick, well) = twins("intake.beached");
    // No symptom while the water stands over it.
    for name in ["cut_in", "cut_out", "run_s", "run_amps"] {
        let share = sick.number(name) / well.number(name);
        assert!((share - 1.0).abs() < 0.03, "{name} {share}\n{sick}");
    }
    assert!(
        !sick
            .said("source rest", "intake_under_water")
            .contains("float"),
        "{sick}"
    );
    assert!(
        well.said("source rest", "intake_under_water")
            .contains("float"),
        "{well}"
    );
    // At 80 cm a floating intake still draws water; a beached one, a metre up, draws air.
    let low = exam(ORCHARD, "source.low=0.8");
    assert!(low.number("gauge_arrival") > 35.0, "{low}");
    let dry = exam(ORCHARD, "intake.beached + source.low=0.8");
    assert!(dry.has("source rest", "intake_above_water"), "{dry}");
    assert!(dry.has("source running", "gas_rattle"), "{dry}");
    assert_eq!(dry.number("flow_widest"), 0.0, "{dry}");
    assert!(
        (dry.number("level") - low.number("level")).abs() < 0.5,
        "{dry}"
    );
}

#[test]
fn a_vortex_draws_air_at_the_greatest_flow_only() {
    let (sick, well) = twins("intake.vortex");
    assert!(sick.has("source wide open", "gas_rattle"), "{sick}");
    assert!(!well.has("source wide open", "gas_rattle"), "{well}");
    // Throttled it runs clear, and it does so at a level that is high enough for its twin.
    assert!(!sick.has("house throttled", "milky_water"), "{sick}");
    assert!(!sick.has("source rest", "gas_rattle"), "{sick}");
    assert!(
        (sick.number("level") - well.number("level")).abs() < 0.1,
        "{sick}"
    );
    for name in ["cut_in", "cut_out", "run_s"] {
        let share = sick.number(name) / well.number(name);
        assert!((share - 1.0).abs() < 0.03, "{name} {share}\n{sick}");
    }
}
