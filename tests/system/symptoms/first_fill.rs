//! The first fill: air goes before water.

use super::laws::atmosphere_psi;
use super::rig::{Rig, TAP, assert_near, assert_rising, sites};
use sim_core::plant::EventKind;
use sim_core::units::convert::LITER;
use sim_core::water::hammer::pipe_volume_m3;

#[test]
fn air_comes_first_then_spitting_then_solid_water_then_pressure() {
    for site in sites() {
        let mut rig = Rig::dry(&site, &[]);
        rig.drain(1.0);
        rig.breaker(true);
        // Half way: a blast of air, no water, next to nothing on the gauge.
        rig.wait(12.0);
        assert!(rig.value("air_out") > 1e-4, "{}", site.name);
        assert!(rig.value("drain_flow") < 1e-6, "{}", site.name);
        assert!(rig.gauge_psi() < 1.0, "{}", site.name);
        let arrives = rig.wait_for(EventKind::WaterArrived, 600.0).unwrap();
        assert!(arrives.tee_pressure_pa < 1e4, "{}", site.name);
        // Spitting: both at once.
        rig.wait(0.1);
        assert!(rig.value("air_out") > 0.0 && rig.value("drain_flow") > 0.0);
        let solid = rig.wait_for(EventKind::LineSolid, 60.0).unwrap();
        rig.wait(5.0);
        assert!(rig.value("air_out") < 1e-9, "{}", site.name);
        rig.drain(0.0);
        let stop = rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
        assert_rising(&[0.0, arrives.time_s, solid.time_s, stop.time_s], "order");
        assert_near(rig.tee_psi(), rig.setting_psi().1, 0.02, "cut-out");
        // The water that went in: the run, and what the tank and the drain took.
        let run: f64 = site.run.iter().map(pipe_volume_m3).sum();
        let totals = rig.plant.totals();
        let by_parts =
            run + site.wall.manifold_volume.si() + rig.value("tank_water") + totals.drained_m3;
        assert_near(totals.drawn_m3, by_parts, 0.01, &site.name);
    }
}

#[test]
fn the_front_takes_volume_over_flow_to_reach_the_wall() {
    for site in sites() {
        let mut rig = Rig::dry(&site, &[]);
        rig.drain(1.0);
        rig.breaker(true);
        let mut flows = vec![];
        while !rig.has_seen(EventKind::WaterArrived) {
            rig.wait(0.5);
            flows.push(rig.value("pump_flow"));
        }
        let mean = flows.iter().sum::<f64>() / flows.len() as f64;
        let run: f64 = site.run.iter().map(pipe_volume_m3).sum();
        let arrived = rig.when(EventKind::WaterArrived).unwrap();
        assert_near(run / mean, arrived, 0.05, &site.name);
    }
}

#[test]
fn with_everything_shut_the_gauge_rises_on_air_alone() {
    for site in sites() {
        let mut rig = Rig::dry(&site, &[]);
        rig.breaker(true);
        let run: f64 = site.run.iter().map(pipe_volume_m3).sum();
        let precharge = site.tank.precharge.si();
        while rig.value("tee_pressure") < 0.9 * precharge {
            rig.wait(0.2);
            assert!(rig.now() < 600.0, "{}", site.name);
        }
        // Well up the dial, and no water at the wall, none in the tank.
        assert!(!rig.has_seen(EventKind::WaterArrived), "{}", site.name);
        assert!(rig.gauge_psi() > 20.0, "{}", site.name);
        assert!(rig.value("tank_water") / LITER < 1e-3);
        // Boyle's law for the air ahead of the front (the house is shut off).
        let wall = site.wall.manifold_volume.si();
        let atmosphere = atmosphere_psi(&site);
        let squeezed = (run + wall) * atmosphere / (atmosphere + rig.tee_psi());
        let house = pipe_volume_m3(&site.house.pipe);
        assert_near(rig.value("line_air") - house, squeezed, 0.03, &site.name);
        let empty = 1.0 - (squeezed - wall) / run;
        assert!((rig.value("front") - empty).abs() < 0.02, "{}", site.name);
    }
}

#[test]
fn a_tap_opened_after_that_blows_air_spits_and_runs() {
    for site in sites() {
        let mut rig = Rig::dry(&site, &[]);
        rig.breaker(true);
        rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
        rig.house_valve(1.0);
        rig.tap(TAP, 1.0);
        rig.wait(1.0);
        let (blast, first) = (rig.value("air_out"), rig.tap_flow_l_per_min(1.0));
        // What got into the tank comes out again bit by bit.
        rig.wait(900.0);
        let (later, then) = (rig.value("air_out"), rig.tap_flow_l_per_min(5.0));
        assert!(
            blast > 10.0 * later.max(1e-7),
            "{}: {blast} {later}",
            site.name
        );
        assert!(first < 0.5 * then, "{}: {first} {then}", site.name);
    }
}
