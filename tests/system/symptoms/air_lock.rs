//! Air caught in the pump.

use super::rig::{Rig, TAP, sites};
use crate::support::sites::shipped;
use sim_core::parts::SourceSpec;
use sim_core::plant::EventKind;
use sim_core::units::CubicMetersPerSecond;

#[test]
fn an_air_bound_pump_turns_and_moves_nothing() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["pump.air_lock"]);
        let mut healthy = Rig::charged(&site, &[]);
        for rig in [&mut rig, &mut healthy] {
            rig.tap(TAP, 1.0);
            rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
            rig.tap(TAP, 0.0);
            rig.wait(3.0);
        }
        let name = &site.name;
        assert!(
            rig.value("shaft_speed") > healthy.value("shaft_speed"),
            "{name}"
        );
        assert!(
            rig.value("shaft_power") < 0.3 * healthy.value("shaft_power"),
            "{name}"
        );
        let amps = rig.value("line_current") / healthy.value("line_current");
        assert!((0.5..0.9).contains(&amps), "{name}: {amps}");
        assert_eq!(rig.value("pump_flow"), 0.0);
        // The gauge stays where the switch called, but for the air in the tank warming.
        let before = rig.tee_psi();
        rig.wait(120.0);
        assert!((rig.tee_psi() - before).abs() < 2.0, "{name}");
        assert!(!rig.has_seen(EventKind::CheckOpened), "{name}");
    }
}

#[test]
fn from_an_empty_tank_the_gauge_stays_flat() {
    for site in sites() {
        let mut rig = Rig::primed(&site, &["pump.air_lock"]);
        let mut healthy = Rig::primed(&site, &[]);
        rig.wait(60.0);
        healthy.wait(60.0);
        assert!(rig.gauge_psi() < 1.0, "{}", site.name);
        assert!(healthy.gauge_psi() > 20.0, "{}", site.name);
    }
}

#[test]
fn it_clears_when_the_column_no_longer_weighs_on_what_head_is_left() {
    // With a little air the pump makes a few metres: not enough against a charged line,
    // enough to lift water four metres to an open drain, and the air goes with it.
    let site = shipped("orchard-cottage");
    let mut rig = Rig::charged(&site, &["pump.air_lock=0.08"]);
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
    rig.tap(TAP, 0.0);
    rig.wait(600.0);
    assert_eq!(rig.value("pump_flow"), 0.0);
    assert!(rig.value("bowl_air") > 0.07);
    rig.drain(1.0);
    rig.wait(120.0);
    assert!(rig.value("bowl_air") < 1e-3);
    assert!(rig.value("pump_flow") > 0.0);
    rig.drain(0.0);
    assert!(rig.wait_for(EventKind::PumpStopped, 300.0).is_some());
}

#[test]
fn it_does_not_clear_while_the_column_stands_on_it() {
    // Full of air the pump makes nothing, and opening the line at the top leaves the
    // column standing; nor does a well's thirty metres come off by opening a drain.
    for (name, share) in [
        ("orchard-cottage", "1"),
        ("hill-farm", "1"),
        ("hill-farm", "0.08"),
    ] {
        let mut rig = Rig::charged(&shipped(name), &[&format!("pump.air_lock={share}")]);
        rig.drain(1.0);
        rig.wait(600.0);
        assert!(rig.is_running() || rig.has_seen(EventKind::LowPressureTripped));
        assert!(rig.value("bowl_air") > 0.07, "{name} {share}");
        assert!(rig.gauge_psi() < 1.0, "{name} {share}");
    }
}

#[test]
fn an_empty_line_lets_water_in_from_below_and_carries_the_air_away() {
    // With no column on it the check valve opens to the weight of the source alone.  The
    // farm's well stands twenty metres above its pump; the cottage's cistern a metre.
    let left = |name: &str| {
        let mut rig = Rig::dry(&shipped(name), &["pump.air_lock"]);
        rig.drain(1.0);
        rig.breaker(true);
        rig.wait(600.0);
        (rig.value("bowl_air"), rig.value("drain_flow"))
    };
    let (farm_air, farm_flow) = left("hill-farm");
    assert!(farm_air < 1e-3 && farm_flow > 0.0, "{farm_air}");
    // A known shortcoming: air and water in the pump count as mixed, so that a litre of
    // water leaves e^-2 of the air behind, just too much to pump.  A bubble would have
    // gone ahead of the water.
    let (cottage_air, _) = left("orchard-cottage");
    assert!((0.1..0.2).contains(&cottage_air), "{cottage_air}");
}

/// The cottage with its cistern run low and then filled, and the pump rested: air left in
/// the pump at the end.
fn air_after_a_rest(vent: bool) -> f64 {
    let mut site = shipped("orchard-cottage");
    if let SourceSpec::Cistern { refill, .. } = &mut site.source {
        *refill = CubicMetersPerSecond(5e-4);
    }
    if !vent {
        site.pump.vent_time = None;
    }
    let mut rig = Rig::charged(&site, &["source.low=0.1", "float_switch.stuck_closed"]);
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.wait(60.0);
    rig.tap(TAP, 0.0);
    assert!(
        rig.value("bowl_air") > 0.05,
        "the pump should have drawn air"
    );
    rig.wait(3_600.0);
    // The water is back, and the running pump is none the wiser.
    assert!(rig.value("source_level") > 0.5 && rig.is_running());
    rig.breaker(false);
    rig.wait(600.0);
    rig.breaker(true);
    rig.wait(120.0);
    let pumps = rig.tee_psi() > rig.setting_psi().0;
    assert_eq!(pumps, vent, "{}", rig.tee_psi());
    rig.value("bowl_air")
}

#[test]
fn a_vented_pump_clears_itself_at_rest_and_an_unvented_one_does_not() {
    assert!(air_after_a_rest(true) < 1e-3);
    assert!(air_after_a_rest(false) > 0.05);
}
