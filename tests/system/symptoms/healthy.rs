//! The healthy system: drawdown, run, flow, and the sag that is no leak.

use super::laws::{adiabatic_drawdown_l, boyle_drawdown_l, drawdown_l};
use super::rig::{Rig, TAP, assert_near, assert_rising, sites, widest_tap};
use crate::support::sites::shipped;
use sim_core::plant::EventKind;
use sim_core::site::SiteSpec;
use sim_core::units::Meters;
use sim_core::units::convert::{LITER, PSI};

/// A bucket filled from cut-out to cut-in through a tap open by `opening` [L].
fn bucket_to_cut_in(site: &SiteSpec, opening: f64) -> f64 {
    let mut rig = Rig::charged(site, &[]);
    rig.tap(TAP, opening);
    rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
    rig.bucket_l()
}

#[test]
fn a_slow_draw_gives_what_boyles_law_says() {
    for site in sites() {
        // Over two hours, so that the air keeps the temperature of its room.
        let bucket = bucket_to_cut_in(&site, 0.02);
        assert_near(bucket, drawdown_l(&site), 0.02, &site.name);
    }
}

#[test]
fn a_fast_draw_gives_less_but_not_less_than_without_heat() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &[]);
        rig.tap(widest_tap(&site), 1.0);
        rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
        let bucket = rig.bucket_l();
        let (least, most) = (adiabatic_drawdown_l(&site), drawdown_l(&site));
        assert!(
            least < bucket && bucket < 0.97 * most,
            "{}: {least} {bucket} {most}",
            site.name
        );
    }
}

#[test]
fn the_same_tank_gives_more_water_on_a_mountain_as_boyles_law_says() {
    // Gauges read from the local atmosphere, gas feels the absolute pressure.
    for mut site in sites() {
        let low = (bucket_to_cut_in(&site, 0.02), drawdown_l(&site));
        site.altitude = Meters(2_000.0 + site.altitude.si());
        let high = (bucket_to_cut_in(&site, 0.02), drawdown_l(&site));
        assert!(high.0 > low.0, "{}", site.name);
        assert_near(high.0 - low.0, high.1 - low.1, 0.1, &site.name);
    }
}

#[test]
fn the_pump_refills_the_tank_in_drawdown_over_flow() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &[]);
        rig.tap(TAP, 1.0);
        rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.tap(TAP, 0.0);
        let begin = (rig.now(), rig.value("tank_water"));
        let flow = rig.watch("pump_flow", 15.0, 1.0);
        let stop = rig.wait_for(EventKind::PumpStopped, 120.0).unwrap();
        // From the flow a second after the start and at the stop, as a meter would give.
        let mean = 0.5 * (flow[1].1 + stop.pump_flow_m3_per_s);
        let taken_in = rig.value("tank_water") - begin.1;
        assert_near(
            taken_in / mean,
            stop.time_s - begin.0,
            0.05,
            &format!("{}: run", site.name),
        );
        // A run of seconds, not of minutes: both tanks are small for their pumps.
        assert!((10.0..60.0).contains(&(stop.time_s - begin.0)));
    }
}

#[test]
fn flow_falls_as_pressure_rises() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &[]);
        rig.tap(TAP, 1.0);
        rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
        rig.tap(TAP, 0.0);
        rig.wait(1.0);
        let (mut gauge, mut flow, mut load) = (vec![], vec![], vec![]);
        while rig.is_running() {
            gauge.push(rig.tee_psi());
            flow.push(-rig.value("pump_flow"));
            load.push(-rig.value("shaft_power"));
            rig.wait(2.0);
        }
        assert!(gauge.len() > 5);
        assert_rising(&gauge, "gauge");
        assert_rising(&flow, "flow, falling");
        assert_rising(&load, "shaft power, falling with flow");
    }
}

/// Gauge [psi] at times after cut-out [s], nothing drawn.
fn after_cut_out(site: &SiteSpec, faults: &[&str], times_s: &[f64]) -> Vec<f64> {
    let mut rig = Rig::charged(site, faults);
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
    rig.tap(TAP, 0.0);
    rig.wait_for(EventKind::PumpStopped, 120.0).unwrap();
    rig.wait_for(EventKind::CheckShut, 5.0).unwrap();
    let begin = rig.now();
    times_s
        .iter()
        .map(|t| {
            rig.wait(t - (rig.now() - begin));
            rig.tee_psi()
        })
        .collect()
}

#[test]
fn after_cut_out_the_gauge_sags_and_holds_while_a_leak_goes_on_falling() {
    let times: Vec<f64> = [0.0, 60.0, 120.0, 600.0, 1_200.0].into();
    for site in sites() {
        let healthy = after_cut_out(&site, &[], &times);
        let leaking = after_cut_out(&site, &["house.leak=0.1"], &times);
        // The sag: some psi, by 1/e in the time constant of the air.
        let sag = healthy[0] - healthy[4];
        assert!((1.0..6.0).contains(&sag), "{}: {healthy:?}", site.name);
        let left = |i: usize| (healthy[i] - healthy[4]) / sag;
        let by_law = |t: f64| sim_core::math::exp(-t / site.tank.gas_time_constant.si());
        assert!((left(1) - by_law(60.0)).abs() < 0.02, "{}", left(1));
        assert!((left(2) - by_law(120.0)).abs() < 0.02, "{}", left(2));
        // From 10 to 20 minutes: the healthy one holds to what no needle shows.
        let held = healthy[3] - healthy[4];
        let lost = leaking[3] - leaking[4];
        assert!(held < 0.01, "{}: {healthy:?}", site.name);
        assert!(lost > 2.0, "{}: {leaking:?}", site.name);
    }
}

#[test]
fn a_needle_shows_the_sag_within_its_stiction() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &[]);
        rig.tap(TAP, 1.0);
        rig.next_run(3_600.0).unwrap();
        rig.tap(TAP, 0.0);
        for _ in 0..60 {
            rig.wait(20.0);
            let hangs_back = (rig.gauge_psi() - rig.tee_psi()).abs();
            // And by its lag of a fraction of a second while the pressure moves.
            assert!(hangs_back <= site.wall.gauge.stiction.si() / PSI + 0.03);
        }
    }
}

#[test]
fn a_healthy_system_left_alone_for_a_day_does_not_start() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &[]);
        rig.wait(86_400.0);
        assert_eq!(rig.plant.totals().pump_starts, 0, "{}", site.name);
        assert_near(rig.tee_psi(), rig.setting_psi().1, 1e-4, &site.name);
    }
}

#[test]
fn the_drawdown_of_the_cottage_by_hand() {
    // 25 gal at 38 psi, 40/60 psi, 14.47 psi of air at 420 ft: 25·52.47·(1/54.47 − 1/74.47)
    // = 6.47 gal, worked out on paper against the law that the other tests use.
    let site = shipped("orchard-cottage");
    assert_near(drawdown_l(&site), 6.47 * 3.785, 0.002, "law");
    let shell = site.tank.shell_volume.si() / LITER;
    let by_parts = boyle_drawdown_l(&site, shell, 38.0, (60.0, 40.0));
    assert_near(by_parts, drawdown_l(&site), 1e-9, "law by parts");
}
