//! Signatures of faults of the house and what it draws.

use super::law::{PSI_PER_M, Tank};
use super::{Case, FALL_S, FARM, ORCHARD, YARD, case, twins};
use crate::support::sites::shipped;

pub(super) const CASES: &[Case] = &[
    case(
        "house.leak",
        ORCHARD,
        a_leak_in_the_house_stops_at_the_house_valve,
    ),
    case(
        "toilet.running",
        ORCHARD,
        a_running_toilet_stops_at_the_house_valve_and_is_heard,
    ),
    case(
        "house.steady_draw",
        ORCHARD,
        a_steady_draw_cycles_a_sound_pump_until_the_house_is_shut,
    ),
    case(
        "house.heavy_draw",
        FARM,
        a_heavy_draw_never_lets_the_pump_stop_until_the_house_is_shut,
    ),
    case(
        "house.small_draws",
        ORCHARD,
        small_draws_look_like_a_weeping_check_but_for_the_house_valve,
    ),
    case(
        "fixture.too_high",
        YARD,
        a_high_outlet_is_weak_by_its_height_alone,
    ),
    case(
        "heater.expansion",
        ORCHARD,
        an_expanding_heater_lifts_the_gauge_with_the_pump_at_rest,
    ),
];

#[test]
fn a_leak_in_the_house_stops_at_the_house_valve() {
    let (sick, well) = twins("house.leak");
    let site = shipped(ORCHARD);
    let tank = Tank::of(&site, sick.number("tyre_drained"));
    let from = sick.number("end_open") + sick.number("fall_open");
    let by_law = tank.leaked_psi(from, 0.1, 0.0, FALL_S);
    assert!(
        (sick.number("end_open") - by_law).abs() < 2.0,
        "{by_law}\n{sick}"
    );
    assert!(sick.number("fall_house_shut") < 2.0, "{sick}");
    assert!(sick.has("house rest", "wet_patch_in_house"), "{sick}");
    // Behind the shut valve the pressure goes.
    assert!(
        sick.number("trapped_last") < 0.2 * well.number("trapped_last"),
        "{sick}"
    );
}

#[test]
fn a_running_toilet_stops_at_the_house_valve_and_is_heard() {
    let (sick, well) = twins("toilet.running");
    assert!(sick.number("end_open") < 2.0, "{sick}");
    assert!(sick.number("fall_house_shut") < 2.0, "{sick}");
    assert!(sick.number("idle_starts_h") > 3.0, "{sick}");
    assert!(sick.has("house rest", "toilet_running"), "{sick}");
    assert!(!sick.has_anywhere("wet_patch_in_house"), "{sick}");
    assert!(!well.has_anywhere("toilet_running"), "{well}");
}

#[test]
fn a_steady_draw_cycles_a_sound_pump_until_the_house_is_shut() {
    let (sick, well) = twins("house.steady_draw");
    assert!(sick.number("idle_starts_h") > 15.0, "{sick}");
    assert!(sick.number("fall_house_shut") < 2.0, "{sick}");
    assert!(sick.has("house rest", "fill_valve_running"), "{sick}");
    for name in ["cut_in", "cut_out", "tyre_drained"] {
        assert!(
            (sick.number(name) - well.number(name)).abs() <= 1.0,
            "{name}\n{sick}"
        );
    }
    // A valve held open starts the pump as often, but falls with the house shut.
    let (check, _) = twins("check_valve.stuck_open");
    assert!(check.number("end_house_shut") < 2.0, "{check}");
}

#[test]
fn a_heavy_draw_never_lets_the_pump_stop_until_the_house_is_shut() {
    let (sick, well) = twins("house.heavy_draw");
    assert!(sick.has_none("build_s"), "{sick}");
    assert!(
        sick.number("build_end") < well.number("cut_out") - 5.0,
        "{sick}"
    );
    assert_eq!(sick.number("shut_stops"), 1.0, "{sick}");
    assert!(
        (sick.number("shut_top") - well.number("shut_top")).abs() < 4.0,
        "{sick}"
    );
    assert!(
        (sick.number("run_amps") / well.number("run_amps") - 1.0).abs() < 0.1,
        "{sick}"
    );
}

#[test]
fn small_draws_look_like_a_weeping_check_but_for_the_house_valve() {
    let (sick, well) = twins("house.small_draws");
    let starts = sick.number("idle_starts_h");
    // 3.6 L an hour, a good ten between the set points, three hours long.
    assert!(starts > 0.2 && starts < 1.5, "{sick}");
    assert_eq!(well.number("idle_starts_h"), 0.0, "{well}");
    assert!(sick.number("fall_house_shut") <= 1.0, "{sick}");
    assert!(!sick.has_anywhere("water_running_back"), "{sick}");
    let (check, _) = twins("check_valve.weeping");
    assert!(check.number("fall_house_shut") > 5.0, "{check}");
}

#[test]
fn a_high_outlet_is_weak_by_its_height_alone() {
    let (sick, well) = twins("fixture.too_high");
    // By the orifice law, between the set points.
    let lift = 6.0 * PSI_PER_M;
    let weaker = |psi: f64| ((psi - lift) / psi).sqrt();
    let flow = sick.number("flow_highest") / well.number("flow_highest");
    let (least, most) = (
        weaker(well.number("cut_in")),
        weaker(well.number("cut_out")),
    );
    assert!(
        flow > least - 0.05 && flow < most + 0.05,
        "{flow} {least} {most}\n{sick}"
    );
    assert!(
        (sick.number("house_static") - well.number("house_static")).abs() < 3.0,
        "{sick}"
    );
    assert!(
        (sick.number("cut_out") - well.number("cut_out")).abs() <= 1.0,
        "{sick}"
    );
}

#[test]
fn an_expanding_heater_lifts_the_gauge_with_the_pump_at_rest() {
    let (sick, well) = twins("heater.expansion");
    let site = shipped(ORCHARD);
    // A liter an hour into the tank for three hours, by Boyle.
    let tank = Tank::of(&site, sick.number("tyre_drained"));
    let from = sick.number("gauge_arrival");
    let by_law = tank.psi(tank.water_l(from) + 3.0) - from;
    assert!(
        (sick.number("idle_change") - by_law).abs() < 1.5,
        "{by_law}\n{sick}"
    );
    assert_eq!(sick.number("idle_starts_h"), 0.0, "{sick}");
    assert!(well.number("idle_change").abs() <= 1.0, "{well}");
    // Shut in, without the tank to take it, it soars.
    assert!(
        sick.number("trapped_last") > well.number("trapped_last") + 20.0,
        "{sick}"
    );
}
