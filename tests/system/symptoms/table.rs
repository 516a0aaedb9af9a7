//! The symptoms side by side, for people to read.
//!
//! When physics changes, look at what changed here, say in the commit which physics it
//! was, and take the new table with `cargo insta review`.

use std::fmt::Write as _;

use super::rig::{Rig, TAP, sites};
use sim_core::plant::EventKind;
use sim_core::site::SiteSpec;
use sim_core::units::convert::PSI;

const FAULTS: &[&[&str]] = &[
    &[],
    &["house.leak=0.02"],
    &["house.leak=0.1"],
    &["house.leak=0.5"],
    &["run.leak=0.5"],
    &["check_valve.weeping=0.13"],
    &["check_valve.stuck_open=0.03"],
    &["check_valve.stuck_open"],
    &["check_valve.stuck_shut"],
    &["tank.lost_precharge=20"],
    &["tank.lost_precharge=10"],
    &["tank.lost_precharge=0"],
    &["tank.excess_precharge=45"],
    &["tank.torn_bladder=10"],
    &["tank.torn_bladder=2"],
    &["tank.torn_bladder=0.5"],
    &["pressure_switch.plugged_port=5"],
    &["pressure_switch.plugged_port=20"],
    &["pressure_switch.plugged_port=60"],
    &["intake.clogged_screen=0.9"],
    &["intake.clogged_screen=0.98"],
    &["pump.air_lock"],
    &["source.low=0.1"],
];

/// A time as people say it.
fn time(seconds: f64) -> String {
    if seconds < 99.5 {
        format!("{seconds:.1} s")
    } else if seconds < 5_970.0 {
        format!("{:.1} min", seconds / 60.0)
    } else {
        format!("{:.1} h", seconds / 3_600.0)
    }
}

/// One line: a fault through the channels of the table.
fn line(site: &SiteSpec, faults: &[&str]) -> String {
    let none = || "-".to_owned();
    // Nobody at home.
    let mut quiet = Rig::charged(site, faults);
    let idle = quiet
        .wait_for(EventKind::PumpStarted, 2.0 * 86_400.0)
        .map_or_else(none, |e| time(e.time_s));
    // One tap open for an hour.
    let mut rig = Rig::charged(site, faults);
    rig.tap(TAP, 1.0);
    let (mut low, mut high, mut watts, mut amps) = (f64::MAX, f64::MIN, 0.0, 0.0);
    let mut samples = 0;
    for i in 0..36_000 {
        rig.wait(0.1);
        // The first cycle begins from a cold tank and is not counted.
        if i < 3_000 {
            continue;
        }
        low = low.min(rig.tee_psi());
        high = high.max(rig.tee_psi());
        if rig.is_running() && rig.value("shaft_speed") > 200.0 {
            watts += rig.value("shaft_power");
            amps += rig.value("line_current");
            samples += 1;
        }
    }
    let totals = rig.plant.totals();
    let starts = totals.pump_starts;
    let run = if starts == 0 {
        none()
    } else {
        let still = if rig.is_running() { "+" } else { "" };
        time(totals.pump_run_s / starts as f64) + still
    };
    let mean = |sum: f64, digits: usize| {
        if samples == 0 {
            none()
        } else {
            format!("{:.digits$}", sum / f64::from(samples))
        }
    };
    let flow = totals.used_m3 / 3_600.0 * 6e4;
    let relief = totals.relieved_m3 * 1e3;
    let name = if faults.is_empty() {
        "healthy".to_owned()
    } else {
        faults.join(", ")
    };
    format!(
        "{name:34}{idle:>10}{starts:>8}{run:>12}{low:>8.1}{high:>8.1}{:>8}{:>7}{flow:>8.2}{relief:>9.1}",
        mean(watts, 0),
        mean(amps, 1),
    )
}

#[test]
fn the_table_of_symptoms() {
    let mut table = String::new();
    for site in sites() {
        let switch = &site.wall.pressure_switch;
        let (cut_in, cut_out) = (switch.cut_in.si() / PSI, switch.cut_out.si() / PSI);
        writeln!(table, "{} ({cut_in:.0}/{cut_out:.0} psi)", site.name).unwrap();
        writeln!(
            table,
            "  idle: first start with nothing drawn; the rest: {TAP} open for an hour,"
        )
        .unwrap();
        writeln!(
            table,
            "  low and high after the first five minutes, W and A while running"
        )
        .unwrap();
        writeln!(
            table,
            "{:34}{:>10}{:>8}{:>12}{:>8}{:>8}{:>8}{:>7}{:>8}{:>9}",
            "", "idle", "starts", "run", "low", "high", "shaft W", "A", "L/min", "relief L"
        )
        .unwrap();
        for faults in FAULTS {
            writeln!(table, "{}", line(&site, faults)).unwrap();
        }
        table.push('\n');
    }
    insta::assert_snapshot!(table);
}
