//! The pressure switch as somebody has left it, and its own small mishaps.

use super::laws::{boyle_drawdown_l, column_psi, leak_interval_s};
use super::rig::{Rig, TAP, assert_near, sites};
use crate::support::sites::{farm_with_wall_check, shipped};
use sim_core::faults::Fault;
use sim_core::plant::{Command, EventKind, Plant, Start};
use sim_core::site::SiteSpec;
use sim_core::units::convert::{LITER, PSI};

/// Draws until the pump starts, shuts the tap and waits.
fn after_a_draw(site: &SiteSpec, faults: &[&str], wait_s: f64) -> Rig {
    let mut rig = Rig::charged(site, faults);
    rig.tap(TAP, 1.0);
    rig.wait_for(EventKind::PumpStarted, 3_600.0).unwrap();
    rig.tap(TAP, 0.0);
    rig.wait(wait_s);
    rig
}

/// Gauge pressures at which the pump starts and stops on a slow draw [psi].
fn starts_and_stops_at(site: &SiteSpec, faults: &[&str]) -> (f64, f64) {
    let mut rig = Rig::charged(site, faults);
    rig.tap(TAP, 0.05);
    let start = rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
    let stop = rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
    (start.tee_pressure_pa / PSI, stop.tee_pressure_pa / PSI)
}

#[test]
fn a_cut_out_above_what_the_pump_can_do_never_stops_it() {
    for site in sites() {
        assert!(!after_a_draw(&site, &[], 600.0).is_running());
        let mut rig = after_a_draw(&site, &["pressure_switch.cut_out_high"], 600.0);
        let before = rig.tee_psi();
        rig.wait(300.0);
        assert!(rig.is_running(), "{}", site.name);
        // Flat, above where it used to stop and below where it was told to.
        assert!((rig.tee_psi() - before).abs() < 0.2, "{}", site.name);
        let old = site.wall.pressure_switch.cut_out.si() / PSI;
        assert!(rig.tee_psi() > 1.1 * old && rig.tee_psi() < 90.0);
        // On both sites the relief valve holds the pressure and spills.
        assert!(rig.plant.totals().relieved_m3 > 0.0);
    }
}

#[test]
fn without_a_relief_valve_it_stands_at_shut_off_and_flows_no_more() {
    let mut site = shipped("garden-shed");
    site.wall.relief_valve = None;
    let mut rig = Rig::charged(&site, &["pressure_switch.cut_out_high"]);
    rig.tap("bed-tap", 1.0);
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.tap("bed-tap", 0.0);
    rig.wait(900.0);
    assert!(rig.is_running());
    assert!(rig.value("pump_flow") < 1e-6);
    let surface = site.source.bottom_elevation_m() + rig.value("source_level");
    let rated = column_psi(
        sim_core::parts::PumpMap::new(&site.pump).shut_off_head_m()
            - (site.wall.elevation.si() - surface),
    );
    // The unloaded motor is a little faster than rated.
    assert!(rig.tee_psi() > rated && rig.tee_psi() < 1.1 * rated);
}

#[test]
fn a_small_differential_cycles_between_what_it_says() {
    for site in sites() {
        let (start, stop) = starts_and_stops_at(&site, &["pressure_switch.small_differential"]);
        assert!(
            (stop - start - 6.0).abs() < 0.6,
            "{}: {start} {stop}",
            site.name
        );
        let (sound_start, sound_stop) = starts_and_stops_at(&site, &[]);
        assert_near(start, sound_start, 0.01, "cut-in is as it was");
        assert!(stop < sound_stop - 5.0, "{}", site.name);
        let starts_in_an_hour = |faults: &[&str]| {
            let mut rig = Rig::charged(&site, faults);
            rig.tap(TAP, 1.0);
            rig.wait(3_600.0);
            rig.plant.totals().pump_starts
        };
        let few = starts_in_an_hour(&[]);
        let many = starts_in_an_hour(&["pressure_switch.small_differential"]);
        assert!(many > 2 * few, "{}: {few} {many}", site.name);
    }
}

#[test]
fn a_raised_switch_gives_less_water_from_a_tank_left_as_it_was() {
    for site in sites() {
        let (start, stop) = starts_and_stops_at(&site, &["pressure_switch.raised=10"]);
        let (low, high) = (
            site.wall.pressure_switch.cut_in.si() / PSI + 10.0,
            site.wall.pressure_switch.cut_out.si() / PSI + 10.0,
        );
        assert_near(start, low, 0.01, "cut-in");
        assert_near(stop, high, 0.01, "cut-out");
        // From a tank that has cooled, slowly.
        let mut rig = Rig::charged(&site, &["pressure_switch.raised=10"]);
        rig.tap(TAP, 0.05);
        rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
        rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
        rig.tap(TAP, 0.0);
        rig.wait(1_200.0);
        let (from, before) = (rig.tee_psi(), rig.bucket_l());
        rig.tap(TAP, 0.02);
        rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
        let given = rig.bucket_l() - before;
        let shell = site.tank.shell_volume.si() / LITER;
        let precharge = site.tank.precharge.si() / PSI;
        let by_law = boyle_drawdown_l(&site, shell, precharge, (from, low));
        assert_near(given, by_law, 0.03, &site.name);
        let as_it_came = super::laws::drawdown_l(&site);
        let as_raised = boyle_drawdown_l(&site, shell, precharge, (high, low));
        assert!(as_raised < 0.8 * as_it_came, "{}", site.name);
    }
}

#[test]
fn a_leaking_diaphragm_drips_whatever_valve_is_shut() {
    let [cottage, farm] = sites();
    for site in [cottage, farm, farm_with_wall_check()] {
        let mut rig = Rig::charged(&site, &["pressure_switch.leaking_diaphragm=0.05"]);
        rig.house_valve(0.0);
        let start = rig.wait_for(EventKind::PumpStarted, 2e5).unwrap();
        assert_near(
            start.time_s,
            leak_interval_s(&site, 0.05, 0.0),
            0.04,
            &site.name,
        );
    }
}

#[test]
fn a_port_frozen_at_cut_out_never_calls_for_water() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["pressure_switch.frozen_port"]);
        let felt = rig.value("switch_pressure");
        rig.tap(TAP, 1.0);
        rig.wait(3_600.0);
        assert!(!rig.has_seen(EventKind::PumpStarted), "{}", site.name);
        assert!(
            rig.has_seen(EventKind::BladderFlat),
            "the first litres come"
        );
        assert!(rig.tee_psi() < 3.0, "{}: {}", site.name, rig.tee_psi());
        assert_near(rig.value("switch_pressure"), felt, 1e-12, &site.name);
        assert!(after_a_draw(&site, &[], 0.1).has_seen(EventKind::PumpStarted));
    }
}

#[test]
fn a_port_frozen_without_pressure_calls_for_ever() {
    for site in sites() {
        let mut rig = Rig::primed(&site, &["pressure_switch.frozen_port"]);
        rig.wait(1_200.0);
        assert!(rig.is_running(), "{}", site.name);
        assert!(rig.tee_psi() > 1.1 * rig.setting_psi().1, "{}", site.name);
    }
}

#[test]
fn a_dropped_cut_off_wants_a_hand_on_its_lever() {
    let site = shipped("hill-farm");
    let mut rig = Rig::charged(&site, &["pressure_switch.cut_off_tripped"]);
    rig.tap(TAP, 1.0);
    rig.wait(600.0);
    assert!(!rig.has_seen(EventKind::PumpStarted));
    assert!(rig.tee_psi() < rig.setting_psi().0);
    rig.tap(TAP, 0.0);
    rig.command(Command::HoldLever(true));
    rig.wait(60.0);
    rig.command(Command::HoldLever(false));
    rig.wait(120.0);
    assert!(rig.has_seen(EventKind::PumpStopped), "fills and stops");
    let fault = Fault::parse("pressure_switch.cut_off_tripped").unwrap();
    let without = Plant::build(&shipped("orchard-cottage"), &[fault], Start::Charged);
    let message = without.unwrap_err().to_string();
    assert!(message.contains("low-pressure cut-off"), "{message}");
}

#[test]
fn settings_stay_in_order_whatever_is_left_together() {
    let faults =
        |texts: &[&str]| -> Vec<Fault> { texts.iter().map(|t| Fault::parse(t).unwrap()).collect() };
    for site in sites() {
        for texts in [
            &["pressure_switch.cut_out_high=20"][..],
            &[
                "pressure_switch.raised=60",
                "pressure_switch.cut_out_high=20",
            ],
            &[
                "pressure_switch.cut_out_high=20",
                "pressure_switch.raised=60",
            ],
            &["pressure_switch.small_differential=2"],
        ] {
            let plant = Plant::build(&site, &faults(texts), Start::Charged).unwrap();
            let controls = plant.controls();
            assert!(controls.cut_out.si() > controls.cut_in.si() + 1.9 * PSI);
        }
    }
}
