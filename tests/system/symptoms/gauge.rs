//! The gauge that lies, while the plant goes on as ever.

use super::rig::{Rig, TAP, assert_near, sites};
use sim_core::plant::{Event, EventKind};

/// A draw from cut-out until the pump has run once.
fn one_cycle(rig: &mut Rig) {
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
    rig.tap(TAP, 0.0);
    rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
}

#[test]
fn a_stuck_needle_stays_where_it_was_while_the_pressure_goes() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["gauge.stuck"]);
        let stuck_at = rig.gauge_psi();
        one_cycle(&mut rig);
        rig.breaker(false);
        rig.drain(1.0);
        rig.wait(600.0);
        assert!(rig.tee_psi() < 1.0, "{}: {}", site.name, rig.tee_psi());
        assert_eq!(rig.gauge_psi(), stuck_at, "{}", site.name);
        let mut sound = Rig::charged(&site, &[]);
        sound.breaker(false);
        sound.drain(1.0);
        sound.wait(600.0);
        assert!(sound.gauge_psi() < 2.0, "{}", site.name);
    }
}

#[test]
fn a_wrong_zero_shows_at_any_pressure_and_with_none() {
    for site in sites() {
        let watch = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.breaker(false);
            let full = rig.gauge_psi();
            rig.drain(1.0);
            rig.wait(900.0);
            (full, rig.gauge_psi(), rig.tee_psi())
        };
        let (full, empty, _) = watch(&[]);
        let (full_high, empty_high, tee) = watch(&["gauge.offset"]);
        assert!(tee < 0.5, "{}", site.name);
        assert_near(full_high - full, 8.0, 1e-6, "full");
        assert_near(empty_high - empty, 8.0, 1e-6, "empty");
        // Against its stop a needle shows no less than nought.
        let (full_low, empty_low, _) = watch(&["gauge.offset=-5"]);
        assert_near(full - full_low, 5.0, 1e-6, "full");
        assert_eq!(empty_low, 0.0, "{}", site.name);
    }
}

#[test]
fn behind_a_plugged_snubber_the_needle_crawls_after_the_pressure() {
    for site in sites() {
        let lag_s = 120.0;
        let mut rig = Rig::charged(&site, &["gauge.plugged_snubber"]);
        let full = rig.gauge_psi();
        rig.breaker(false);
        rig.house_valve(0.0);
        rig.command(sim_core::plant::Command::SetTankValve(0.0));
        // With the tank shut off the line is empty at once.
        rig.drain(1.0);
        rig.wait(5.0);
        assert!(rig.tee_psi() < 1.0, "{}: {}", site.name, rig.tee_psi());
        for _ in 0..3 {
            rig.wait(60.0);
            let by_law = full * sim_core::math::exp(-rig.now() / lag_s);
            let stiction = site.wall.gauge.stiction.si() / sim_core::units::convert::PSI;
            let apart = (rig.gauge_psi() - by_law).abs();
            assert!(apart < 1.0 + stiction, "{}: {apart}", site.name);
        }
    }
}

#[test]
fn the_plant_does_not_care_what_its_gauge_shows() {
    for site in sites() {
        let events = |faults: &[&str]| -> Vec<Event> {
            let mut rig = Rig::charged(&site, faults);
            one_cycle(&mut rig);
            one_cycle(&mut rig);
            rig.plant.events().to_vec()
        };
        let sound = events(&[]);
        for fault in ["gauge.stuck", "gauge.offset", "gauge.plugged_snubber"] {
            let lying = events(&[fault]);
            assert_eq!(lying.len(), sound.len(), "{}: {fault}", site.name);
            for (a, b) in lying.iter().zip(&sound) {
                assert_eq!(a.kind, b.kind);
                assert!((a.time_s - b.time_s).abs() < 0.02, "{a:?} {b:?}");
            }
        }
    }
}
