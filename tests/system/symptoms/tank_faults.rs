//! More faults of the tank: torn, leaking air, plugged, stuck together, too small.

use super::laws::drawdown_l;
use super::rig::{Rig, TAP, assert_near, assert_rising, sites, widest_tap};
use sim_core::plant::{Command, EventKind, Renewed};
use sim_core::units::convert::{LITER, PSI};

#[test]
fn only_a_torn_bladder_shows_water_at_the_air_valve() {
    for site in sites() {
        let torn = Rig::charged(&site, &["tank.torn_bladder"]);
        assert!(torn.plant.air_valve_shows_water(), "{}", site.name);
        for faults in [vec![], vec!["tank.lost_precharge=0"]] {
            let rig = Rig::charged(&site, &faults);
            assert!(!rig.plant.air_valve_shows_water(), "{}", site.name);
        }
    }
}

#[test]
fn a_leaking_air_valve_loses_its_pressure_a_day() {
    for site in sites() {
        let reading = |faults: &[&str], seconds: f64| {
            let mut rig = Rig::charged(&site, faults);
            rig.breaker(false);
            rig.drain(1.0);
            rig.wait(3_600.0);
            let before = rig.plant.tank_charge_pressure_pa() / PSI;
            rig.wait(seconds);
            before - rig.plant.tank_charge_pressure_pa() / PSI
        };
        // In a tenth of a day the pressure has hardly begun to sink.
        let lost = reading(&["tank.leaking_air_valve=5"], 8_640.0);
        assert_near(lost, 0.5, 0.03, &site.name);
        assert!(reading(&[], 8_640.0).abs() < 1e-3);
    }
}

#[test]
fn a_plugged_inlet_chatters_only_while_the_pump_gives_more_than_the_tank_takes() {
    for site in sites() {
        let starts = |share: f64| {
            let mut rig = Rig::charged(&site, &[&format!("tank.plugged_inlet={share}")]);
            rig.tap(TAP, 1.0);
            rig.wait(900.0);
            rig.plant.totals().pump_starts as f64
        };
        let counts = [0.0, 0.98, 0.999].map(starts);
        assert!(
            counts[2] > counts[1] && counts[1] >= counts[0],
            "{counts:?}"
        );
        assert!(counts[2] > 20.0 * counts[0], "{}: {counts:?}", site.name);
        // At rest nothing shows: the gauge stands.
        let mut rig = Rig::charged(&site, &["tank.plugged_inlet=0.999"]);
        rig.wait(3_600.0);
        assert!((rig.tee_psi() - rig.setting_psi().1).abs() < 0.1);
    }
}

#[test]
fn a_stuck_bladder_chatters_until_it_lets_go_and_is_free_for_good() {
    for site in sites() {
        let first_fill = |sticks: bool| {
            let faults: &[&str] = if sticks {
                &["tank.stuck_bladder=15"]
            } else {
                &[]
            };
            let mut rig = Rig::charged(&site, faults);
            rig.breaker(false);
            rig.drain(1.0);
            rig.wait(1_800.0);
            rig.command(Command::Renew(Renewed::Tank));
            rig.drain(0.0);
            rig.command(Command::HoldLever(true));
            rig.breaker(true);
            rig
        };
        let filling_psi = |rig: &mut Rig| {
            let event = rig.wait_for(EventKind::BladderFilling, 600.0).unwrap();
            event.tee_pressure_pa / PSI
        };
        let precharge = site.tank.precharge.si() / PSI;
        let mut sound = first_fill(false);
        assert_near(filling_psi(&mut sound), precharge, 0.05, &site.name);
        let mut rig = first_fill(true);
        assert_near(filling_psi(&mut rig), precharge + 15.0, 0.05, &site.name);
        // Once free, it fills again at precharge.
        rig.wait(300.0);
        rig.breaker(false);
        rig.drain(1.0);
        rig.wait(1_800.0);
        rig.drain(0.0);
        rig.breaker(true);
        assert_near(filling_psi(&mut rig), precharge, 0.05, &site.name);
    }
}

#[test]
fn a_tank_too_small_gives_its_share_of_the_drawdown() {
    for site in sites() {
        let bucket = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 0.02);
            rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
            rig.bucket_l()
        };
        let share = 20.0 / (site.tank.shell_volume.si() / LITER);
        assert_near(
            bucket(&["tank.undersized=20"]),
            share * drawdown_l(&site),
            0.05,
            &site.name,
        );
        let starts = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(widest_tap(&site), 0.3);
            rig.wait(1_800.0);
            rig.plant.totals().pump_starts as f64
        };
        let starts = [
            starts(&[]),
            starts(&["tank.undersized=20"]),
            starts(&["tank.undersized=5"]),
        ];
        assert_rising(&starts, "smaller tank, more starts");
    }
}
