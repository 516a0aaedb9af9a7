//! The pump as a machine: wheels, shaft, seal, nozzle, direction, size.

use super::laws::{column_psi, leak_interval_s};
use super::rig::{Rig, assert_near, assert_rising, sites};
use crate::support::sites::shipped;
use sim_core::plant::{BuildError, EventKind, Plant, Start};
use sim_core::site::SiteSpec;

/// The shallow cistern, the deep well, and the jet pump above its tank.
fn all_sites() -> [SiteSpec; 3] {
    let [cistern, well] = sites();
    [cistern, well, shipped("garden-shed")]
}

/// What a clamp meter, a meter on the pipe and a strobe show two seconds after a start,
/// with the drain cock open.
struct Running {
    amps: f64,
    watts: f64,
    flow: f64,
    speed: f64,
}

fn started(site: &SiteSpec, faults: &[&str]) -> (Rig, Running) {
    let mut rig = Rig::charged(site, faults);
    rig.drain(1.0);
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.wait(2.0);
    let running = Running {
        amps: rig.value("line_current"),
        watts: rig.value("supply_power"),
        flow: rig.value("pump_flow"),
        speed: rig.value("shaft_speed"),
    };
    (rig, running)
}

/// Where the gauge comes to rest with everything shut after a start, and whether the pump
/// has stopped by then.
fn filled(site: &SiteSpec, faults: &[&str]) -> (f64, bool) {
    let (mut rig, _) = started(site, faults);
    rig.drain(0.0);
    rig.wait(600.0);
    (rig.tee_psi(), !rig.is_running())
}

/// Gauge pressure at which the sound pump's head is used up at no flow, by the height of
/// the water and the curve [psi].
fn shut_off_psi(site: &SiteSpec) -> f64 {
    let plant = Plant::build(site, &[], Start::Charged).unwrap();
    let level = super::rig::Rig {
        plant,
        site: site.clone(),
    }
    .value("source_level");
    let surface = site.source.bottom_elevation_m() + level;
    let map = sim_core::parts::PumpMap::new(&site.pump);
    column_psi(map.shut_off_head_m() - (site.wall.elevation.si() - surface))
}

#[test]
fn a_worn_pump_stalls_below_cut_out_and_draws_a_little_less() {
    for site in all_sites() {
        let (healthy, stopped) = filled(&site, &[]);
        assert!(stopped, "{}: {healthy}", site.name);
        let (stall, stopped) = filled(&site, &["pump.worn_impellers=0.5"]);
        assert!(!stopped, "{}", site.name);
        // At half its head less the whole lift, and what slips back takes some more.
        let whole = shut_off_psi(&site);
        assert!(
            stall < 0.5 * whole && stall > 0.25 * whole,
            "{}: {stall} {whole}",
            site.name
        );
        let (_, sound) = started(&site, &[]);
        let (_, worn) = started(&site, &["pump.worn_impellers"]);
        let amps = worn.amps / sound.amps;
        assert!((0.8..0.99).contains(&amps), "{}: {amps}", site.name);
        let flow = worn.flow / sound.flow;
        assert!((0.5..0.8).contains(&flow), "{}: {flow}", site.name);
    }
}

#[test]
fn a_pump_worn_to_seven_tenths_cannot_shut_the_jet_pumps_switch_off() {
    let site = shipped("garden-shed");
    let (stall, stopped) = filled(&site, &["pump.worn_impellers"]);
    assert!(!stopped && (30.0..40.0).contains(&stall), "{stall}");
}

#[test]
fn an_unworn_share_of_one_is_the_pump_as_it_was() {
    for site in all_sites() {
        let (_, sound) = started(&site, &[]);
        let (_, unworn) = started(&site, &["pump.worn_impellers=1"]);
        assert_near(unworn.flow, sound.flow, 2e-3, "flow");
        assert_near(unworn.amps, sound.amps, 2e-3, "amps");
    }
}

#[test]
fn a_sheared_coupling_leaves_a_fast_idle_motor_and_no_water() {
    for site in all_sites() {
        let (_, sound) = started(&site, &[]);
        let (mut rig, free) = started(&site, &["pump.sheared_coupling"]);
        assert!(free.flow.abs() < 1e-7, "{}: {}", site.name, free.flow);
        assert!(free.speed > sound.speed, "{}", site.name);
        // A single-phase motor idles at much of its current: watts tell, not amps.
        let amps = free.amps / sound.amps;
        assert!((0.5..0.9).contains(&amps), "{}: {amps}", site.name);
        assert!(free.watts < 0.5 * sound.watts, "{}", site.name);
        rig.drain(0.0);
        let before = rig.tee_psi();
        rig.wait(120.0);
        assert!(rig.is_running());
        // No more than what the tank's chilled air regains.
        let gained = rig.tee_psi() - before;
        let cut_in = rig.setting_psi().0;
        assert!(gained < 0.25 * cut_in, "{}: {gained}", site.name);
        assert!(rig.tee_psi() < rig.setting_psi().1);
    }
}

#[test]
fn a_reversed_pump_gives_half_the_head_and_a_fifth_to_a_half_of_the_flow() {
    for site in all_sites() {
        let (_, sound) = started(&site, &[]);
        let (_, reversed) = started(&site, &["pump.reversed"]);
        let flow = reversed.flow / sound.flow;
        assert!((0.2..0.5).contains(&flow), "{}: {flow}", site.name);
        let (stall, stopped) = filled(&site, &["pump.reversed"]);
        assert!(!stopped, "{}", site.name);
        let lift = {
            let map = sim_core::parts::PumpMap::new(&site.pump);
            column_psi(map.shut_off_head_m()) - shut_off_psi(&site)
        };
        // At no load the motor is a little faster than rated: head a little above half.
        let half = 0.5 * (shut_off_psi(&site) + lift) - lift;
        assert!(
            stall > half && stall < 1.25 * half,
            "{}: {stall} {half}",
            site.name
        );
    }
}

#[test]
fn a_clogged_nozzle_lets_a_jet_pump_run_and_stall_between_20_and_35_psi() {
    let site = shipped("garden-shed");
    let (stall, stopped) = filled(&site, &["pump.clogged_nozzle"]);
    assert!(!stopped && (20.0..35.0).contains(&stall), "{stall}");
    let (worse, _) = filled(&site, &["pump.clogged_nozzle=0.6"]);
    let (better, _) = filled(&site, &["pump.clogged_nozzle=0.4"]);
    assert_rising(&[worse, stall, better], "the less of it blocked");
    // Not air: the bowl is full of water, and the pipe is solid.
    let (rig, _) = started(&site, &["pump.clogged_nozzle"]);
    assert_eq!(rig.value("bowl_air"), 0.0);
}

#[test]
fn nozzles_and_shaft_seals_are_those_of_pumps_above_the_water() {
    for name in ["pump.clogged_nozzle", "pump.seal_leak"] {
        let fault = sim_core::faults::Fault::parse(name).unwrap();
        let refused = Plant::build(&sites()[0], &[fault], Start::Charged).unwrap_err();
        let BuildError::NoSuchPart { part, .. } = refused else {
            panic!("{refused}")
        };
        assert_eq!(part, "pump above the water");
    }
}

#[test]
fn a_dripping_seal_starts_the_pump_whatever_the_house_valve_does() {
    let site = shipped("garden-shed");
    // The pump stands lower than the gauge: so much more pressure on its seal.
    let below = column_psi(site.wall.elevation.si() - site.pump.elevation.si());
    for gpm in [0.1, 0.02] {
        let mut rig = Rig::charged(&site, &[&format!("pump.seal_leak={gpm}")]);
        rig.house_valve(0.0);
        let start = rig.wait_for(EventKind::PumpStarted, 2e5).unwrap();
        assert_near(
            start.time_s,
            leak_interval_s(&site, gpm, below),
            0.04,
            "start",
        );
    }
}

#[test]
fn an_oversized_pump_runs_shorter_for_the_same_water() {
    for site in all_sites() {
        let run_s = |faults: &[&str]| {
            let (mut rig, _) = started(&site, faults);
            rig.drain(0.0);
            let begin = rig.now();
            let stop = rig.wait_for(EventKind::PumpStopped, 600.0).unwrap();
            stop.time_s - begin
        };
        let runs = [2.5, 1.6, 1.2].map(|n| run_s(&[&format!("pump.oversized={n}")]));
        assert_rising(&runs, &site.name);
        assert!(runs[1] < 0.8 * run_s(&[]), "{}: {runs:?}", site.name);
    }
}

#[test]
fn dragging_bearings_draw_a_tenth_to_two_fifths_more_and_slow_the_pump() {
    for site in all_sites() {
        let (_, sound) = started(&site, &[]);
        let (rig, drags) = started(&site, &["motor.bearing_drag"]);
        let amps = drags.amps / sound.amps;
        assert!((1.1..1.4).contains(&amps), "{}: {amps}", site.name);
        assert!(drags.speed < 0.99 * sound.speed, "{}", site.name);
        assert!(drags.flow < sound.flow, "{}", site.name);
        // The supply is not to blame: the leads have their voltage but for the drop of
        // some more current.
        let (healthy, _) = started(&site, &[]);
        let volts = rig.value("motor_voltage") / healthy.value("motor_voltage");
        assert!((0.96..1.0).contains(&volts), "{}: {volts}", site.name);
    }
}

#[test]
fn bearings_that_drag_too_hard_hold_a_motor_of_little_starting_torque() {
    // A capacitor that stays in starts with little more than half its rated torque.
    let site = shipped("hill-farm");
    let mut rig = Rig::charged(&site, &["motor.bearing_drag=1.8"]);
    rig.command(sim_core::plant::Command::HoldLever(true));
    rig.drain(1.0);
    rig.wait_for(EventKind::PumpStarted, 600.0).unwrap();
    rig.wait(2.0);
    assert!(rig.value("shaft_speed") < 1.0);
    let tripped = rig.wait_for(EventKind::ProtectorTripped, 600.0);
    assert!(tripped.is_some() || rig.has_seen(EventKind::BreakerTripped));
}
