//! Signatures of faults of the bladder tank.

use super::law::Tank;
use super::{Case, ORCHARD, case, twins};
use crate::support::sites::shipped;

pub(super) const CASES: &[Case] = &[
    case(
        "tank.lost_precharge",
        ORCHARD,
        a_tank_low_on_air_gives_what_boyle_says_of_its_charge,
    ),
    case(
        "tank.excess_precharge",
        ORCHARD,
        too_much_air_lets_the_gauge_drop_at_once_before_cut_in,
    ),
    case(
        "tank.waterlogged",
        ORCHARD,
        a_waterlogged_tank_gives_water_at_its_air_valve,
    ),
];

#[test]
fn a_tank_low_on_air_gives_what_boyle_says_of_its_charge() {
    let (sick, well) = twins("tank.lost_precharge");
    let site = shipped(ORCHARD);
    assert!((sick.number("tyre_drained") - 10.0).abs() <= 1.0, "{sick}");
    assert!((well.number("tyre_drained") - 38.0).abs() <= 1.0, "{well}");
    let tank = Tank::of(&site, sick.number("tyre_drained"));
    let by_law = tank.water_l(sick.number("hold_end")) - tank.water_l(sick.number("cut_in"));
    let drawn = sick.number("drawdown");
    // Drawn in under a minute the air cools on the way: between Boyle's law and the
    // adiabatic one, and a psi on the dial is a tenth of the swing.
    let share = drawn / by_law;
    assert!(
        share > 0.9 / 1.4 && share < 1.1,
        "{drawn} {by_law}\n{sick}"
    );
    assert!(drawn < 0.6 * sick.number("drawdown_due"), "{sick}");
    assert!(sick.number("run_s") < 0.6 * well.number("run_s"), "{sick}");
    assert!(sick.has("air valve wet", "air_valve_air"), "{sick}");
    // Set points are as they were: the switch is not to blame.
    let swing = sick.number("cut_out") - sick.number("cut_in");
    let sound = well.number("cut_out") - well.number("cut_in");
    assert!((swing - sound).abs() <= 2.0, "{sick}");
}

#[test]
fn too_much_air_lets_the_gauge_drop_at_once_before_cut_in() {
    let (sick, well) = twins("tank.excess_precharge");
    assert!((sick.number("tyre_drained") - 50.0).abs() <= 1.0, "{sick}");
    assert!(
        sick.number("draw_steepest") > 8.0 * well.number("draw_steepest"),
        "{sick}"
    );
    assert!(
        sick.number("draw_low") < well.number("draw_low") - 5.0,
        "{sick}"
    );
    assert!(
        sick.number("drawdown") < 0.6 * sick.number("drawdown_due"),
        "{sick}"
    );
    // A plugged port falls through cut-in as well, but smoothly and with the charge right.
    let (port, _) = twins("pressure_switch.plugged_port");
    assert!((port.number("tyre_drained") - 38.0).abs() <= 1.0, "{port}");
    assert!(
        port.number("draw_steepest") < 3.0 * well.number("draw_steepest"),
        "{port}"
    );
}

#[test]
fn a_waterlogged_tank_gives_water_at_its_air_valve() {
    let (sick, well) = twins("tank.waterlogged");
    assert!(sick.has("air valve wet", "air_valve_water"), "{sick}");
    assert!(sick.text("tank_tone").contains("dull and heavy"), "{sick}");
    assert!(sick.number("run_s") < 0.1 * well.number("run_s"), "{sick}");
    assert!(sick.number("drawdown") < 1.0, "{sick}");
    assert!(
        sick.number("draw_cycles") > 8.0 * well.number("draw_cycles"),
        "{sick}"
    );
    // Low on air, a tank still gives air.
    let (low, _) = twins("tank.lost_precharge");
    assert!(!low.has_anywhere("air_valve_water"), "{low}");
}
