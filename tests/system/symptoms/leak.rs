//! Leaks: how often the pump starts with nobody at home, and which valve stops them.

use super::laws::{column_psi, leak_interval_s};
use super::rig::{Rig, assert_near, assert_rising, sites};
use sim_core::plant::EventKind;

/// Depth of a buried run [m], as the fault has it.
const RUN_DEPTH_M: f64 = 0.9;

#[test]
fn the_pump_starts_as_often_as_drawdown_and_leak_say() {
    for site in sites() {
        let wall = column_psi(site.wall.elevation.si() + RUN_DEPTH_M);
        for (fault, below_psi) in [("house.leak", 0.0), ("run.leak", wall)] {
            let mut intervals = vec![];
            for gpm in [0.5, 0.1, 0.02] {
                let mut rig = Rig::charged(&site, &[&format!("{fault}={gpm}")]);
                let start = rig.wait_for(EventKind::PumpStarted, 1e5).unwrap();
                let by_law = leak_interval_s(&site, gpm, below_psi);
                assert_near(
                    start.time_s,
                    by_law,
                    0.04,
                    &format!("{}: {fault} {gpm}", site.name),
                );
                intervals.push(start.time_s);
            }
            assert_rising(&intervals, "a smaller leak, a longer wait");
        }
    }
}

#[test]
fn later_intervals_are_shorter_for_the_tank_was_filled_hot() {
    // Just after a run the air is warm and leaves less room for water: the interval from
    // stop to start is what the run took in over what the leak lets out.
    for site in sites() {
        let mut rig = Rig::charged(&site, &["house.leak=0.1"]);
        let first = rig.next_run(1e5).unwrap();
        let taken_in = rig.value("tank_water");
        let lost = rig.plant.totals().leaked_m3;
        let second = rig.next_run(1e5).unwrap();
        let interval = second.start_s - first.stop_s;
        assert!(interval < 0.9 * first.start_s, "{}", site.name);
        // The bucket under the leak and the tank agree on the interval.
        let from_tank = rig.value("tank_water");
        let leaked = rig.plant.totals().leaked_m3 - lost;
        assert!((from_tank - taken_in).abs() < 0.02 * taken_in);
        assert!(leaked > 0.7 * taken_in, "{leaked} {taken_in}");
    }
}

#[test]
fn shutting_the_house_valve_stops_a_leak_in_the_house_but_not_one_in_the_run() {
    for site in sites() {
        let settle = |fault: &str| {
            let mut rig = Rig::charged(&site, &[fault]);
            rig.house_valve(0.0);
            rig.wait(3_600.0);
            rig
        };
        let house = settle("house.leak=0.1");
        assert_near(house.tee_psi(), house.setting_psi().1, 1e-3, &site.name);
        let run = settle("run.leak=0.1");
        assert!(run.tee_psi() < 0.75 * run.setting_psi().1, "{}", site.name);
    }
}

#[test]
fn a_leaking_line_shut_off_from_its_tank_loses_pressure_in_seconds() {
    for site in sites() {
        for (fault, with_tank) in [("run.leak=0.1", false), ("run.leak=0.1", true)] {
            let mut rig = Rig::charged(&site, &[fault]);
            rig.breaker(false);
            if !with_tank {
                rig.command(sim_core::plant::Command::SetTankValve(0.0));
                rig.house_valve(0.0);
            }
            rig.wait(120.0);
            let left = rig.tee_psi() / rig.setting_psi().1;
            assert_eq!(left > 0.9, with_tank, "{}: {left}", site.name);
        }
    }
}

#[test]
fn a_pump_that_cannot_keep_up_with_a_big_leak_never_stops() {
    for site in sites() {
        let mut rig = Rig::charged(&site, &["house.leak=15"]);
        rig.wait(3_600.0);
        assert!(rig.is_running(), "{}", site.name);
        assert_eq!(rig.plant.totals().pump_starts, 1);
        assert!(rig.tee_psi() < rig.setting_psi().1);
    }
}
