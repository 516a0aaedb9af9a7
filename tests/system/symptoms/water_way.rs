//! Faults of the water's way: air on the suction side, check valves that slam or leave a
//! void, a split riser, ice, valves left shut, a relief valve set low, a filter.

use super::rig::{Rig, TAP, assert_rising, sites, widest_tap};
use crate::support::sites::{farm_with_wall_check, shipped};
use sim_core::plant::EventKind;
use sim_core::site::SiteSpec;
use sim_core::units::convert::PSI;

/// Shed drawing with its bed tap: highest share of air in the pump and flow at the end.
fn shed_draw(faults: &[&str]) -> (f64, f64) {
    let site = shipped("garden-shed");
    let mut rig = Rig::charged(&site, faults);
    rig.tap("bed-tap", 1.0);
    let air = rig.watch("bowl_air", 300.0, 1.0);
    let most = air.iter().map(|a| a.1).fold(0.0, f64::max);
    (most, rig.tap_flow_l_per_min(60.0))
}

#[test]
fn air_drawn_in_at_the_suction_side_grows_with_the_leak_and_costs_the_prime() {
    let healthy = shed_draw(&[]);
    assert!(healthy.0 == 0.0, "{healthy:?}");
    let draws =
        ["0.05", "0.3", "1", "20"].map(|leak| shed_draw(&[&format!("suction.air_leak={leak}")]));
    assert_rising(&draws.map(|d| d.0), "air in the pump");
    assert!(draws[0].1 > 0.8 * healthy.1, "{draws:?}");
    assert!(draws[3].1 < 0.3 * healthy.1, "{draws:?} {healthy:?}");
    // With the pump off nothing shows.
    let mut rig = Rig::charged(&shipped("garden-shed"), &["suction.air_leak"]);
    rig.wait(3_600.0);
    assert!(rig.value("bowl_air") == 0.0 && !rig.has_seen(EventKind::AirEntering));
}

#[test]
fn a_vortex_at_the_intake_draws_air_only_at_high_flow() {
    let site = shipped("orchard-cottage");
    let air = |faults: &[&str], tap: &str| {
        let mut rig = Rig::charged(&site, faults);
        rig.command(sim_core::plant::Command::SetSourceValve(if tap == TAP {
            0.06
        } else {
            1.0
        }));
        rig.tap("hose-bib", 1.0);
        let air = rig.watch("bowl_air", 200.0, 1.0);
        air.iter().map(|a| a.1).fold(0.0, f64::max)
    };
    let fault: &[&str] = &["intake.vortex=1.2"];
    assert!(air(fault, "hose-bib") > 0.01, "{}", air(fault, "hose-bib"));
    // Throttled, it clears.
    assert!(air(fault, TAP) == 0.0, "{}", air(fault, TAP));
    assert!(air(&[], "hose-bib") == 0.0);
}

#[test]
fn a_beached_intake_draws_air_once_the_water_has_fallen_below_it() {
    let site = shipped("orchard-cottage");
    let draws_air = |faults: &[&str]| {
        let mut rig = Rig::charged(&site, faults);
        rig.tap(widest_tap(&site), 1.0);
        rig.wait(300.0);
        rig.has_seen(EventKind::AirEntering)
    };
    assert!(draws_air(&["intake.beached=1.6"]));
    assert!(!draws_air(&["intake.beached=0.5"]));
    // At a level at which the floating one is still under water.
    assert!(draws_air(&[
        "intake.beached=1.0",
        "source.low=0.9",
        "float_switch.stuck_closed"
    ]));
    assert!(!draws_air(&["source.low=0.9", "float_switch.stuck_closed"]));
}

/// Flow at which the check valve shuts after the first run [m³/s].
fn flow_at_shutting(site: &SiteSpec, faults: &[&str]) -> f64 {
    let mut rig = Rig::charged(site, faults);
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStopped, 3_600.0).unwrap();
    let shut = rig.wait_for(EventKind::CheckShut, 60.0).unwrap();
    shut.pump_flow_m3_per_s
}

#[test]
fn a_check_valve_that_shuts_late_meets_water_coming_back() {
    for site in sites() {
        let healthy = flow_at_shutting(&site, &[]);
        assert!(healthy.abs() < 1e-6, "{}: {healthy}", site.name);
        let bore = site.run[0].inside_diameter.si();
        for speed in [0.2, 0.5] {
            let flow = flow_at_shutting(&site, &[&format!("check_valve.slamming={speed}")]);
            let found = -flow / (0.25 * std::f64::consts::PI * bore * bore);
            assert!(
                (found / speed - 1.0).abs() < 0.01,
                "{}: {found} {speed}",
                site.name
            );
        }
    }
}

#[test]
fn a_missing_check_valve_is_one_held_wide_open() {
    for site in sites() {
        let fall = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.breaker(false);
            rig.wait(60.0);
            rig.tee_psi()
        };
        let missing = fall(&["check_valve.missing"]);
        assert!((missing - fall(&["check_valve.stuck_open"])).abs() < 1e-9);
        assert!(missing < 0.8 * fall(&[]), "{}: {missing}", site.name);
    }
}

#[test]
fn a_leaking_lower_check_under_a_tight_upper_one_bangs_at_the_start() {
    let bang = |faults: &[&str]| {
        let mut rig = Rig::charged(&farm_with_wall_check(), faults);
        // Long enough for the column to fall back, the tank held by the upper valve.
        rig.wait(1_800.0);
        let held = rig.tee_psi();
        assert!((held - rig.setting_psi().1).abs() < 0.5, "{held}");
        rig.tap("dairy-tap", 1.0);
        rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.tap("dairy-tap", 0.0);
        rig.wait_for(EventKind::VoidClosed, 900.0)
            .map(|event| event.pump_flow_m3_per_s)
    };
    for fault in [
        "check_valve.weeping=0.5",
        "check_valve.stuck_open",
        "check_valve.missing",
    ] {
        let flow = bang(&[fault]);
        assert!(flow.is_some_and(|q| q > 1e-4), "{fault}: {flow:?}");
    }
    assert!(bang(&[]).is_none());
}

#[test]
fn a_split_riser_loses_pressure_to_the_source_until_the_valve_above_it_is_shut() {
    for site in sites() {
        let watch = |faults: &[&str], valve: f64| {
            let mut rig = Rig::charged(&site, faults);
            rig.breaker(false);
            rig.command(sim_core::plant::Command::SetSourceValve(valve));
            let level = rig.value("source_level");
            rig.wait(60.0);
            let totals = rig.plant.totals();
            assert!(totals.leaked_m3 == 0.0);
            (
                rig.tee_psi(),
                rig.value("source_level") - level,
                totals.drawn_m3,
            )
        };
        let split = watch(&["riser.split"], 1.0);
        let (healthy, shut) = (watch(&[], 1.0), watch(&["riser.split"], 0.0));
        assert!(split.0 < healthy.0 - 5.0, "{}: {split:?}", site.name);
        assert!((shut.0 - healthy.0).abs() < 0.01, "{}: {shut:?}", site.name);
        // What falls out is back in the source.
        assert!(split.2 < -0.004, "{}: {split:?}", site.name);
        if site.name == "orchard-cottage" {
            assert!(split.1 > 0.0 && healthy.1 == 0.0, "{split:?}");
        }
        // Large enough, the pump never gets to cut-out.
        let large = if site.name == "hill-farm" { 8 } else { 20 };
        let mut rig = Rig::charged(&site, &[&format!("riser.split={large}")]);
        rig.wait(1_800.0);
        assert!(rig.is_running(), "{}", site.name);
    }
}

#[test]
fn ice_in_the_run_leaves_the_tank_alone_to_give_and_the_pump_dead_headed() {
    for site in sites() {
        let bucket = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            // The farm's low-pressure lever would drop.
            rig.command(sim_core::plant::Command::HoldLever(true));
            rig.tap(TAP, 1.0);
            rig.wait(1_800.0);
            (
                rig.bucket_l(),
                rig.value("pump_flow"),
                rig.value("pump_water_temperature"),
            )
        };
        let (frozen, healthy) = (bucket(&["run.frozen"]), bucket(&[]));
        let drawdown = super::laws::drawdown_at_l(&site, site.tank.precharge.si() / PSI);
        assert!(
            frozen.0 < 1.6 * drawdown,
            "{}: {frozen:?} {drawdown}",
            site.name
        );
        assert!(
            frozen.1 == 0.0 && frozen.2 > healthy.2 + 10.0,
            "{frozen:?} {healthy:?}"
        );
    }
}

#[test]
fn valves_left_shut_are_settings_that_a_hand_can_undo() {
    for site in sites() {
        let flow = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.wait(600.0);
            rig.tap_flow_l_per_min(60.0)
        };
        let healthy = flow(&[]);
        assert!(flow(&["house_valve.left_shut"]) < 0.01 * healthy);
        assert!(flow(&["source_valve.left_shut"]) < 0.3 * healthy);
        let mut rig = Rig::charged(&site, &["source_valve.left_shut", "house_valve.left_shut"]);
        rig.command(sim_core::plant::Command::SetSourceValve(1.0));
        rig.house_valve(1.0);
        rig.tap(TAP, 1.0);
        rig.wait(600.0);
        assert!((rig.tap_flow_l_per_min(60.0) / healthy - 1.0).abs() < 0.1);
        let starts = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.wait(60.0);
            rig.plant.totals().pump_starts
        };
        assert!(
            starts(&["tank_valve.left_shut"]) > 8 + starts(&[]),
            "{}",
            site.name
        );
    }
}

#[test]
fn a_relief_valve_set_low_holds_the_pressure_down_and_the_pump_on() {
    for site in sites() {
        let (cut_in, cut_out) = (
            site.wall.pressure_switch.cut_in.si() / PSI,
            site.wall.pressure_switch.cut_out.si() / PSI,
        );
        let set = 0.5 * (cut_in + cut_out);
        let mut rig = Rig::charged(&site, &[&format!("relief_valve.low_set={set}")]);
        rig.tap(TAP, 1.0);
        rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.tap(TAP, 0.0);
        rig.wait(3_600.0);
        assert!(rig.is_running(), "{}", site.name);
        assert!(
            rig.tee_psi() > set && rig.tee_psi() < 1.1 * set + 1.0,
            "{}",
            rig.tee_psi()
        );
        assert!(rig.plant.totals().relieved_m3 > 0.1);
        let mut healthy = Rig::charged(&site, &[]);
        healthy.wait(3_600.0);
        assert!(healthy.plant.totals().relieved_m3 == 0.0);
    }
}

#[test]
fn a_clogged_filter_starves_the_taps_and_not_the_gauge() {
    for site in sites() {
        let draw = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(widest_tap(&site), 1.0);
            rig.wait(5.0);
            (
                rig.value("tee_pressure") - rig.value("house_pressure"),
                rig.tap_flow_l_per_min(2.0),
            )
        };
        let draws = [
            draw(&[]),
            draw(&["filter.clogged=0.7"]),
            draw(&["filter.clogged=0.95"]),
        ];
        assert_rising(&draws.map(|d| d.0), "drop across the filter");
        assert_rising(&draws.map(|d| -d.1), "flow");
        assert!(draws[2].1 < 0.5 * draws[0].1, "{}: {draws:?}", site.name);
    }
}
