//! The check valve: stuck open, weeping, stuck shut; and the healthy one that holds.

use super::laws::{atmosphere_psi, column_psi};
use super::rig::{Rig, TAP, assert_near, assert_rising, sites};
use crate::support::sites::shipped;
use sim_core::parts::SourceSpec;
use sim_core::plant::{Command, EventKind};
use sim_core::units::convert::LITER;

#[test]
fn the_pump_starts_with_no_use_the_sooner_the_more_comes_back() {
    for site in sites() {
        let to_cut_in: Vec<f64> = [
            "check_valve.stuck_open",
            "check_valve.stuck_open=0.1",
            "check_valve.stuck_open=0.03",
            "check_valve.weeping=0.5",
            "check_valve.weeping=0.02",
        ]
        .iter()
        .map(|fault| {
            let mut rig = Rig::charged(&site, &[fault]);
            rig.wait_for(EventKind::PumpStarted, 1e5).unwrap().time_s
        })
        .collect();
        assert_rising(&to_cut_in, &site.name);
        // Wide open: tens of seconds.  Weeping: many minutes to hours.
        assert!((10.0..60.0).contains(&to_cut_in[0]), "{to_cut_in:?}");
        assert!(to_cut_in[3] > 570.0 && to_cut_in[4] > 3.0 * 3_600.0);
    }
}

#[test]
fn with_the_power_off_the_gauge_falls_to_nothing() {
    for site in sites() {
        for fault in ["check_valve.stuck_open", "check_valve.stuck_open=0.1"] {
            let mut rig = Rig::charged(&site, &[fault]);
            rig.breaker(false);
            rig.wait(300.0);
            assert!(rig.gauge_psi() < 0.1, "{}: {fault}", site.name);
        }
        // And with the house valve shut, which a leak in the house would not.
        let mut rig = Rig::charged(&site, &["check_valve.weeping=0.5"]);
        rig.breaker(false);
        rig.house_valve(0.0);
        rig.wait(300.0);
        let left = rig.gauge_psi() / rig.setting_psi().1;
        assert!((0.5..0.95).contains(&left), "{}: {left}", site.name);
        let mut healthy = Rig::charged(&site, &[]);
        healthy.breaker(false);
        healthy.wait(86_400.0);
        assert_near(healthy.tee_psi(), healthy.setting_psi().1, 1e-4, &site.name);
    }
}

#[test]
fn what_comes_back_can_be_measured_in_the_cistern() {
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &["check_valve.stuck_open"]);
    rig.breaker(false);
    let before = rig.value("source_level");
    let drawn = rig.plant.totals().drawn_m3;
    rig.wait(120.0);
    let back = drawn - rig.plant.totals().drawn_m3;
    let SourceSpec::Cistern { shape, .. } = &site.source else {
        panic!("a cistern")
    };
    let rise = back / shape.surface_m2(before);
    assert!(back / LITER > 20.0, "{back}");
    assert_near(rig.value("source_level") - before, rise, 1e-3, "level");
}

#[test]
fn debris_under_the_poppet_does_not_weaken_the_pump() {
    // It keeps the valve from closing, not from opening: the pump still reaches cut-out,
    // in about the time of a healthy run.
    for site in sites() {
        let run_s = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
            rig.tap(TAP, 0.0);
            let begin = rig.now();
            rig.wait_for(EventKind::PumpStopped, 600.0).unwrap().time_s - begin
        };
        let healthy = run_s(&[]);
        for share in ["0.01", "0.03", "0.3"] {
            let fault = format!("check_valve.stuck_open={share}");
            assert_near(run_s(&[&fault]), healthy, 0.2, &site.name);
        }
    }
}

#[test]
fn with_nothing_left_in_the_tank_the_line_hangs_on_its_own_weight() {
    // Every tap shut: water goes on to the source until the column is held by the air
    // pressure on the source's surface.  The gauge has long been at its lower stop.
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &["check_valve.weeping=0.5"]);
    rig.breaker(false);
    rig.wait(36_000.0);
    assert!(rig.gauge_psi() < 1e-9);
    let surface = site.source.bottom_elevation_m() + rig.value("source_level");
    let hangs = column_psi(site.wall.elevation.si() - surface);
    assert_near(-rig.tee_psi(), hangs, 0.01, "vacuum at the tee");
}

#[test]
fn a_column_taller_than_the_atmosphere_parts_and_stands() {
    // A regression: the column used to fall for ever, and the well to get tons of water
    // that no pipe had held.
    let site = shipped("hill-farm");
    for fault in ["check_valve.weeping=0.5", "check_valve.stuck_open"] {
        let mut rig = Rig::charged(&site, &[fault]);
        rig.breaker(false);
        rig.wait(86_400.0);
        // Riser, trench and wall pipe as sold: 32 × 26, 40 × 35.2 and 28 × 26 mm or so.
        let returned = -rig.plant.totals().drawn_m3 / LITER;
        let tank = super::laws::boyle_drawdown_l(&site, 80.0, 26.1, (50.8, 0.0));
        let run = site
            .run
            .iter()
            .map(|p| sim_core::water::hammer::pipe_volume_m3(p) / LITER);
        let (riser, rest) = (run.clone().next().unwrap(), run.skip(1).sum::<f64>());
        // What stands: the riser from the pump to 9.5 m or so above the water.
        let held_m = (atmosphere_psi(&site) - 0.17) / column_psi(1.0);
        let surface = site.source.bottom_elevation_m() + rig.value("source_level");
        let stands = (surface + held_m - site.pump.elevation.si()) / site.run[0].rise.si();
        let by_law = rest + riser * (1.0 - stands) + tank;
        assert_near(returned, by_law, 0.03, fault);
        // Power on, lever held: the column comes back and slams, and the system works.
        rig.command(Command::HoldLever(true));
        rig.breaker(true);
        rig.wait(600.0);
        assert!(!rig.is_running() || fault.contains("stuck"), "{fault}");
        assert!(
            rig.tee_psi() > rig.setting_psi().0 - 0.5,
            "{}",
            rig.tee_psi()
        );
    }
}

#[test]
fn stuck_shut_the_pump_runs_against_nothing_but_itself() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["check_valve.stuck_shut"]);
        let mut healthy = Rig::charged(&site, &[]);
        for rig in [&mut rig, &mut healthy] {
            rig.tap(TAP, 1.0);
            rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
            rig.tap(TAP, 0.0);
            rig.wait(5.0);
        }
        // Dead head: about half the power, a lower current, no flow, no rise but the
        // air's own warming.
        let share = rig.value("shaft_power") / healthy.value("shaft_power");
        assert!((0.35..0.8).contains(&share), "{}: {share}", site.name);
        assert!(rig.value("line_current") < 0.9 * healthy.value("line_current"));
        assert_eq!(rig.value("pump_flow"), 0.0);
        let before = rig.tee_psi();
        rig.wait(300.0);
        assert!(rig.is_running());
        assert!((rig.tee_psi() - before).abs() < 2.0, "{}", site.name);
        // The water in the pump gets hot: a hand on the pipe would tell.
        assert!(
            rig.value("pump_water_temperature") > healthy.value("pump_water_temperature") + 20.0
        );
    }
}
