//! The water side of the pump: a clogged screen, a low source, a drawn-down well.

use super::rig::{Rig, TAP, assert_near, assert_rising, sites, widest_tap};
use crate::support::sites::shipped;
use sim_core::math::exp;
use sim_core::parts::SourceSpec;
use sim_core::plant::EventKind;
use sim_core::units::convert::LITER;

#[test]
fn the_more_the_screen_is_clogged_the_slower_the_rise_and_the_lighter_the_load() {
    for site in sites() {
        let (mut runs, mut loads, mut flows) = (vec![], vec![], vec![]);
        for clog in ["0", "0.8", "0.9", "0.95", "0.98"] {
            let mut rig = Rig::charged(&site, &[&format!("intake.clogged_screen={clog}")]);
            rig.tap(TAP, 1.0);
            rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
            rig.tap(TAP, 0.0);
            let begin = rig.now();
            rig.wait(10.0);
            loads.push(-rig.value("shaft_power"));
            flows.push(-rig.value("pump_flow"));
            let stop = rig.wait_for(EventKind::PumpStopped, 3_600.0).unwrap();
            runs.push(stop.time_s - begin);
        }
        assert_rising(&runs, "time to cut-out");
        assert_rising(&loads, "shaft power, falling");
        assert_rising(&flows, "flow, falling");
        assert!(runs[4] > 4.0 * runs[0] && loads[4] / loads[0] < 0.6);
    }
}

#[test]
fn a_badly_clogged_screen_never_reaches_cut_out_while_a_tap_runs() {
    for site in sites() {
        let settled = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.wait(3_600.0);
            rig
        };
        let healthy = settled(&[]);
        assert!(healthy.has_seen(EventKind::PumpStopped), "{}", site.name);
        let clogged = settled(&["intake.clogged_screen=0.99"]);
        assert!(
            !clogged.has_seen(EventKind::PumpStopped)
                || clogged.has_seen(EventKind::LowPressureTripped)
        );
        assert!(
            clogged.tee_psi() < 0.8 * clogged.setting_psi().0,
            "{}",
            site.name
        );
    }
}

#[test]
fn a_beached_intake_sucks_air_and_the_pump_loses_its_prime() {
    // A regression: this used to end in endless switching.
    for (name, faults) in [
        (
            "orchard-cottage",
            &["source.low=0.1", "float_switch.stuck_closed"][..],
        ),
        ("hill-farm", &["source.low=22.4"][..]),
    ] {
        let site = shipped(name);
        let mut rig = Rig::charged(&site, faults);
        rig.tap(widest_tap(&site), 1.0);
        let start = rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
        let loses = rig.wait_for(EventKind::CheckShut, 60.0).unwrap();
        assert!(rig.has_seen(EventKind::AirEntering), "{name}");
        assert!(loses.time_s - start.time_s < 30.0, "{name}");
        rig.wait(2.0);
        assert!(rig.value("bowl_air") > 0.03, "{name}");
        assert!(rig.value("pump_flow").abs() < 1e-9, "{name}");
        // The tap lives on the tank and then runs dry.
        rig.wait(300.0);
        assert!(rig.tap_flow_l_per_min(20.0) < 0.5, "{name}");
    }
}

#[test]
fn the_float_switch_keeps_the_pump_from_running_dry() {
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &["source.low=0.1"]);
    rig.tap(TAP, 1.0);
    rig.wait(3_600.0);
    assert_eq!(rig.plant.totals().pump_starts, 0);
    assert!(rig.has_seen(EventKind::FloatDown));
}

#[test]
fn as_the_intake_nears_the_surface_the_tap_spits_and_the_load_fades() {
    // A third of a metre in the cistern: the floating intake meets its stop and the
    // vortex reaches it minutes after the pump starts.
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &["source.low=0.36", "float_switch.stuck_closed"]);
    rig.tap(widest_tap(&site), 1.0);
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.wait(10.0);
    let solid = (rig.value("shaft_power"), rig.value("line_current"));
    assert_eq!(rig.value("air_out"), 0.0);
    assert!(rig.wait_for(EventKind::AirEntering, 300.0).is_some());
    rig.wait(40.0);
    assert!(rig.value("air_out") > 0.0, "air with the water at the tap");
    assert!(rig.value("bowl_air") > 0.0);
    assert!(rig.value("shaft_power") < 0.8 * solid.0);
    assert!(rig.value("line_current") < solid.1);
}

#[test]
fn a_well_draws_down_by_flow_over_capacity_and_comes_back() {
    let site = shipped("hill-farm");
    let SourceSpec::Well {
        casing_diameter,
        specific_capacity,
        ..
    } = &site.source
    else {
        panic!("a well")
    };
    let area = core::f64::consts::PI / 4.0 * casing_diameter.si() * casing_diameter.si();
    let time_constant_s = area / specific_capacity.si();
    let mut rig = Rig::charged(&site, &[]);
    let rest = rig.value("source_level");
    for tap in ["dairy-tap", "yard-tap"] {
        rig.tap(tap, 1.0);
    }
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.wait(900.0);
    let drawdown = rest - rig.value("source_level");
    let by_law = rig.value("pump_flow") / specific_capacity.si();
    assert_near(drawdown, by_law, 0.01, "drawdown");
    assert!((1.0..6.0).contains(&drawdown), "{drawdown}");
    for tap in ["dairy-tap", "yard-tap"] {
        rig.tap(tap, 0.0);
    }
    rig.wait_for(EventKind::CheckShut, 300.0).unwrap();
    let begin = rest - rig.value("source_level");
    rig.wait(120.0);
    let left = (rest - rig.value("source_level")) / begin;
    assert_near(left, exp(-120.0 / time_constant_s), 0.02, "recovery");
}

#[test]
fn a_cistern_falls_by_what_is_taken_out() {
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &[]);
    let before = rig.value("source_level");
    let SourceSpec::Cistern { shape, .. } = &site.source else {
        panic!("a cistern")
    };
    let area = shape.surface_m2(before);
    rig.tap(TAP, 1.0);
    rig.wait(7_200.0);
    let drawn = rig.plant.totals().drawn_m3;
    assert!(drawn / LITER > 500.0);
    assert_near(
        before - rig.value("source_level"),
        drawn / area,
        1e-6,
        "level",
    );
}
