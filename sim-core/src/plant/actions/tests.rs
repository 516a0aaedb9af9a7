//! Hands on a shipped site: each action does what it says and keeps the accounts level.

use super::*;
use crate::faults::Fault;
use crate::plant::tests::{cottage, hose_bib, seconds, value};
use crate::plant::{EventKind, Start, Tick};
use crate::units::Pascals;
use crate::units::convert::PSI;

fn plant(faults: &[&str]) -> Plant {
    let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
    Plant::build(&cottage(), &faults, Start::Charged).unwrap()
}

fn open_hose(plant: &mut Plant, opening: f64) {
    let fixture = hose_bib(plant);
    plant
        .apply(Command::SetFixture { fixture, opening })
        .unwrap();
}

fn wait(plant: &mut Plant, time_s: f64) {
    let until = Tick(plant.now().0 + seconds(time_s).0);
    plant.advance_to(until).unwrap();
}

#[track_caller]
fn assert_level(before: crate::plant::Balance, plant: &Plant) {
    let after = plant.balance();
    let water = (after.water_m3 - before.water_m3).abs();
    assert!(water < 1e-9 * after.water_scale_m3, "{before:?} {after:?}");
    let air = (after.air_kg - before.air_kg).abs();
    assert!(
        air < 1e-9 * after.air_scale_kg.max(1e-6),
        "{before:?} {after:?}"
    );
}

#[test]
fn a_tapped_gauge_shows_its_movement() {
    let mut site = cottage();
    site.wall.gauge.stiction = Pascals(3.0 * PSI);
    let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
    open_hose(&mut plant, 0.2);
    wait(&mut plant, 20.0);
    open_hose(&mut plant, 0.0);
    wait(&mut plant, 20.0);
    let off = |plant: &Plant| {
        ((value(plant, "gauge_pressure") - value(plant, "tee_pressure")) / PSI).abs()
    };
    assert!(off(&plant) > 2.0, "{}", off(&plant));
    plant.apply(Command::TapGauge).unwrap();
    assert!(off(&plant) < 0.01, "{}", off(&plant));
}

#[test]
fn a_tyre_gauge_reads_the_precharge_only_when_the_bladder_is_flat() {
    let mut plant = plant(&[]);
    let reads = |plant: &Plant| plant.tank_charge_pressure_pa() / PSI;
    assert!((reads(&plant) - 60.0).abs() < 0.01, "{}", reads(&plant));
    plant.apply(Command::SetBreaker(false)).unwrap();
    plant.apply(Command::SetDrain(1.0)).unwrap();
    wait(&mut plant, 1_800.0);
    assert!((reads(&plant) - 38.0).abs() < 0.01, "{}", reads(&plant));
}

#[test]
fn air_is_added_to_a_wanted_pressure_and_let_out_to_no_less_than_air_pressure() {
    let mut plant = plant(&["tank.lost_precharge=10"]);
    let before = plant.balance();
    plant.apply(Command::SetBreaker(false)).unwrap();
    plant.apply(Command::SetDrain(1.0)).unwrap();
    wait(&mut plant, 1_800.0);
    let kg = plant.tank_air_to_reach_kg(38.0 * PSI);
    assert!(kg > 0.0);
    plant.apply(Command::AddTankAir { kg }).unwrap();
    assert!((plant.tank_charge_pressure_pa() / PSI - 38.0).abs() < 1e-6);
    plant.apply(Command::AddTankAir { kg: -1.0 }).unwrap();
    assert!(plant.tank_charge_pressure_pa().abs() < 1.0);
    // Nor does a pump give more than 150 psi.
    let mut pumped = plant.clone();
    pumped.apply(Command::AddTankAir { kg: 10.0 }).unwrap();
    assert!((pumped.tank_charge_pressure_pa() / PSI - 150.0).abs() < 1e-6);
    wait(&mut plant, 60.0);
    assert_level(before, &plant);
    let error = plant.apply(Command::AddTankAir { kg: f64::NAN });
    assert!(error.is_err());
}

#[test]
fn a_pump_that_trapped_air_gives_no_water_until_it_is_vented() {
    let mut site = cottage();
    site.pump.vent_time = None;
    let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
    let before = plant.balance();
    plant.apply(Command::LowerPump { air_share: 1.0 }).unwrap();
    assert!((value(&plant, "bowl_air") - 1.0).abs() < 1e-9);
    open_hose(&mut plant, 1.0);
    wait(&mut plant, 300.0);
    assert!(plant.is_powered() && value(&plant, "pump_flow") < 1e-9);
    plant.apply(Command::SetBreaker(false)).unwrap();
    wait(&mut plant, 5.0);
    plant.apply(Command::Vent).unwrap();
    assert_level(before, &plant);
    plant.apply(Command::SetBreaker(true)).unwrap();
    wait(&mut plant, 30.0);
    assert!(value(&plant, "pump_flow") > 1e-4);
    assert_level(before, &plant);
}

#[test]
fn no_water_takes_the_place_of_air_in_a_pump_above_the_source() {
    let site = crate::site::parse(
        "garden-shed.ron",
        include_str!("../../../../scenarios/sites/garden-shed.ron"),
    )
    .unwrap();
    let mut plant = Plant::build(&site, &[], Start::Dry).unwrap();
    plant.apply(Command::Vent).unwrap();
    assert!((value(&plant, "bowl_air") - 1.0).abs() < 1e-9);
    plant.apply(Command::Prime).unwrap();
    assert!(value(&plant, "bowl_air") < 1e-9);
}

#[test]
fn the_valve_at_the_source_bars_the_check_valve_but_not_a_leak_of_the_run() {
    // The splitter of the trade: with the valve shut, a fall that goes on is in the pipe.
    let fall = |fault: &str, opening: f64| {
        let mut plant = plant(&[fault]);
        plant.apply(Command::SetBreaker(false)).unwrap();
        plant.apply(Command::SetSourceValve(opening)).unwrap();
        wait(&mut plant, 900.0);
        60.0 - value(&plant, "tee_pressure") / PSI
    };
    for fault in ["check_valve.weeping=0.3", "check_valve.stuck_open"] {
        assert!(fall(fault, 1.0) > 5.0, "{fault}");
        assert!(fall(fault, 0.0).abs() < 0.01, "{fault}");
    }
    let (open, shut) = (fall("run.leak=0.3", 1.0), fall("run.leak=0.3", 0.0));
    assert!(open > 5.0 && (open - shut).abs() < 0.01, "{open} {shut}");
}

#[test]
fn the_valve_at_the_source_throttles_by_its_opening_and_starves_the_house_when_shut() {
    let flow = |opening: f64| {
        let mut plant = plant(&[]);
        plant.apply(Command::SetSourceValve(opening)).unwrap();
        open_hose(&mut plant, 1.0);
        wait(&mut plant, 300.0);
        assert!(plant.is_powered());
        value(&plant, "pump_flow")
    };
    let flows = [0.0, 0.01, 0.05, 0.2, 1.0].map(flow);
    assert!(flows[0] == 0.0, "{flows:?}");
    assert!(flows.windows(2).all(|w| w[0] < w[1]), "{flows:?}");
    // And opening it again brings the water back.
    let mut plant = plant(&[]);
    open_hose(&mut plant, 1.0);
    wait(&mut plant, 60.0);
    plant.apply(Command::SetSourceValve(0.0)).unwrap();
    assert!(plant.check_closed());
    wait(&mut plant, 60.0);
    plant.apply(Command::SetSourceValve(1.0)).unwrap();
    wait(&mut plant, 20.0);
    assert!(value(&plant, "pump_flow") > flows[3]);
    let work = plant.work();
    assert!(work.accepted + work.rejected < 5_000, "{work:?}");
}

#[test]
fn what_is_renewed_is_as_new_and_nothing_else_is() {
    let mut plant = plant(&[]);
    plant.state.modes.damage = crate::plant::Damage {
        seal: true,
        winding: true,
        impellers: true,
    };
    plant.state.modes.circuit.protector = Device::Open;
    plant.state.modes.circuit.joint_level = 3;
    plant.state.modes.circuit.breaker = Device::Open;
    plant.apply(Command::Renew(Renewed::Pump)).unwrap();
    let damage = plant.modes().damage;
    assert!(!damage.seal && !damage.impellers && damage.winding);
    plant.apply(Command::Renew(Renewed::Motor)).unwrap();
    assert!(!plant.modes().damage.winding);
    assert_eq!(plant.modes().circuit.protector, Device::Closed);
    assert_eq!(plant.modes().circuit.joint_level, 3);
    // Without a bad joint in the splice box the contacts are the worst.
    plant.apply(Command::Renew(Renewed::Joints)).unwrap();
    assert_eq!(plant.modes().circuit.joint_level, 3);
    plant.apply(Command::Renew(Renewed::Contacts)).unwrap();
    assert_eq!(plant.modes().circuit.joint_level, 0);
    assert_eq!(plant.modes().circuit.breaker, Device::Open);
    plant.apply(Command::Renew(Renewed::Breaker)).unwrap();
    assert_eq!(plant.modes().circuit.breaker, Device::Closed);
}

#[test]
fn a_new_tank_comes_empty_and_charged() {
    let mut plant = plant(&["tank.lost_precharge=5"]);
    let before = plant.balance();
    // Isolated and drained first, as it would be.
    plant.apply(Command::SetBreaker(false)).unwrap();
    plant.apply(Command::SetTankValve(0.0)).unwrap();
    plant.refit(&cottage(), &[]).unwrap();
    plant.apply(Command::Renew(Renewed::Tank)).unwrap();
    assert!(value(&plant, "tank_water") == 0.0);
    assert!((plant.tank_charge_pressure_pa() / PSI - 38.0).abs() < 1e-6);
    plant.apply(Command::SetTankValve(1.0)).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    open_hose(&mut plant, 0.1);
    wait(&mut plant, 600.0);
    assert!(
        plant
            .events()
            .iter()
            .any(|e| e.kind == EventKind::BladderFilling)
    );
    assert_level(before, &plant);
}
