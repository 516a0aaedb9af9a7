//! Repairs on shipped sites: nothing is lost, nothing jumps, and what was wrong is right.

use super::*;
use crate::faults::FaultKind;
use crate::parts::{CheckValveSpec, FlowRating};
use crate::plant::tests::{cottage, hose_bib, seconds, value};
use crate::plant::{Command, Start, Tick, Trunk};
use crate::units::convert::PSI;
use crate::units::{CubicMetersPerSecond, Pascals};

fn faults(names: &[&str]) -> Vec<Fault> {
    names.iter().map(|f| Fault::parse(f).unwrap()).collect()
}

fn wait(plant: &mut Plant, time_s: f64) {
    let until = Tick(plant.now().0 + seconds(time_s).0);
    plant.advance_to(until).unwrap();
}

/// A cottage in the middle of a draw.
fn drawing(names: &[&str]) -> Plant {
    let mut plant = Plant::build(&cottage(), &faults(names), Start::Charged).unwrap();
    let fixture = hose_bib(&plant);
    plant
        .apply(Command::SetFixture {
            fixture,
            opening: 0.6,
        })
        .unwrap();
    wait(&mut plant, 40.0);
    plant
}

#[track_caller]
fn assert_level(before: Balance, plant: &Plant) {
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
fn a_refit_without_change_is_a_command_without_effect() {
    let mut plant = drawing(&["check_valve.weeping"]);
    let mut twin = plant.clone();
    plant
        .refit(&cottage(), &faults(&["check_valve.weeping"]))
        .unwrap();
    // A breaker that is on already stays on: cuts the step as a refit does.
    twin.apply(Command::SetBreaker(true)).unwrap();
    for p in [&mut plant, &mut twin] {
        wait(p, 100.0);
    }
    assert_eq!(plant.digest(), twin.digest());
}

#[test]
fn a_repaired_check_valve_holds_and_a_broken_one_lets_go() {
    let mut plant = Plant::build(&cottage(), &[], Start::Charged).unwrap();
    let before = plant.balance();
    plant.apply(Command::SetBreaker(false)).unwrap();
    wait(&mut plant, 100.0);
    plant
        .refit(&cottage(), &faults(&["check_valve.stuck_open"]))
        .unwrap();
    assert_eq!(plant.modes().trunk, Trunk::Open);
    wait(&mut plant, 20.0);
    let fallen = value(&plant, "tee_pressure");
    assert!(fallen < 55.0 * PSI, "{}", fallen / PSI);
    plant.refit(&cottage(), &[]).unwrap();
    wait(&mut plant, 1.0);
    assert_eq!(plant.modes().trunk, Trunk::Shut);
    let held = value(&plant, "tank_water");
    wait(&mut plant, 3_600.0);
    assert!((value(&plant, "tank_water") - held).abs() < 1e-5);
    assert_level(before, &plant);
}

#[test]
fn every_fault_can_come_and_go_in_the_middle_of_a_draw() {
    for info in crate::faults::kinds() {
        let fault = Fault::usual(info.kind);
        let mut plant = drawing(&[]);
        let before = plant.balance();
        let pressure = value(&plant, "tee_pressure");
        if plant.refit(&cottage(), &[fault]).is_err() {
            continue;
        }
        let jump = (value(&plant, "tee_pressure") - pressure).abs();
        assert!(jump < 1.0, "{}: {jump} Pa", info.name);
        wait(&mut plant, 60.0);
        plant.refit(&cottage(), &[]).unwrap();
        wait(&mut plant, 60.0);
        assert_level(before, &plant);
    }
}

#[test]
fn a_float_that_is_freed_takes_the_position_that_the_water_says() {
    let site = cottage();
    let stuck = faults(&["float_switch.stuck_open"]);
    let mut plant = Plant::build(&site, &stuck, Start::Charged).unwrap();
    assert_eq!(plant.modes().circuit.float, Device::Open);
    plant.refit(&site, &[]).unwrap();
    assert_eq!(plant.modes().circuit.float, Device::Closed);
    let low = faults(&["source.low=0.2", "float_switch.stuck_closed"]);
    let mut plant = Plant::build(&site, &low, Start::Charged).unwrap();
    assert_eq!(plant.modes().circuit.float, Device::Closed);
    plant.refit(&site, &[]).unwrap();
    assert_eq!(plant.modes().circuit.float, Device::Open);
}

#[test]
fn longer_pipes_and_a_bigger_tank_keep_their_pressure() {
    let mut plant = drawing(&[]);
    let before = plant.balance();
    let names = ["tee_pressure", "house_pressure", "tank_pressure"];
    let was = names.map(|n| value(&plant, n));
    let mut site = cottage();
    site.run[1].length.0 *= 3.0;
    site.house.pipe.length.0 *= 2.0;
    site.house.pipe.inside_diameter.0 *= 1.5;
    site.tank.shell_volume.0 *= 4.0;
    site.tank.acceptance_volume.0 *= 4.0;
    plant.refit(&site, &[]).unwrap();
    for (name, was) in names.iter().zip(was) {
        let is = value(&plant, name);
        assert!((is - was).abs() < 10.0, "{name}: {was} {is}");
    }
    assert_level(before, &plant);
    wait(&mut plant, 600.0);
    assert_level(before, &plant);
}

#[test]
fn a_check_valve_at_the_wall_can_come_and_go() {
    for start in [Start::Charged, Start::Dry] {
        let plain = cottage();
        let mut site = plain.clone();
        site.wall.check = Some(CheckValveSpec {
            cracking_pressure: Pascals(2_000.0),
            forward: FlowRating {
                flow: CubicMetersPerSecond(8e-4),
                drop: Pascals(4_000.0),
            },
        });
        let mut plant = Plant::build(&plain, &[], start).unwrap();
        let before = plant.balance();
        for site in [&site, &plain, &site] {
            let was = value(&plant, "tee_pressure");
            let air = value(&plant, "line_air");
            plant.refit(site, &[]).unwrap();
            // What the valve held apart, no more than its cracking pressure, flows together.
            let jump = value(&plant, "tee_pressure") - was;
            assert!(jump.abs() < 2_000.0, "{start:?} {jump}");
            let jump = value(&plant, "line_air") - air;
            assert!(jump.abs() < 1e-6, "{start:?} {jump}");
            assert_level(before, &plant);
            wait(&mut plant, 30.0);
            assert_level(before, &plant);
        }
    }
}

#[test]
fn a_part_that_is_missing_refuses_a_refit_and_nothing_changes() {
    let mut site = cottage();
    site.pump_check = None;
    let mut plant = drawing(&[]);
    let before = plant.digest();
    let fault = Fault::usual(FaultKind::CheckValveWeeping);
    assert!(plant.refit(&site, &[fault]).is_err());
    assert_eq!(plant.digest(), before);
}
