//! The cycle engine against the plant engine, its judge.

use sim_core::demand::{DemandSchedule, Draw, Household, household};
use sim_core::faults::{Fault, kinds};
use sim_core::parts::SourceSpec;
use sim_core::plant::{Command, EventKind, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::study::cycle::{self, CycleError, CycleRun, CycleTables, PumpRun, Reason};
use sim_core::trace::Totals;
use sim_core::units::{CubicMetersPerSecond, Seconds};

use crate::support::sites;

const DAY_TICKS: u64 = 86_400 * Tick::PER_SECOND;

/// A shipped site whose source lasts.
fn site(name: &str) -> SiteSpec {
    let shipped = sim_core::site::shipped().iter().find(|s| s.name == name);
    let mut site = sites::site_of(name, shipped.unwrap().text);
    if let SourceSpec::Cistern { refill, .. } = &mut site.source {
        *refill = CubicMetersPerSecond(5e-4);
    }
    site
}

fn draws(site: &SiteSpec, per_day: f64, days: u64, seed: u64) -> DemandSchedule {
    household(
        &Household {
            seed,
            draws_per_day: per_day,
            days: days as f64,
        },
        &site.house.fixtures,
    )
}

/// The same draws by the plant engine: totals, and each run's start and length.
fn by_plant(
    site: &SiteSpec,
    faults: &[Fault],
    demand: &DemandSchedule,
    end: Tick,
) -> (Totals, Vec<(f64, f64)>) {
    let mut commands: Vec<(Tick, Command)> = Vec::new();
    for draw in demand.draws() {
        let fixture = draw.fixture;
        let opening = draw.opening;
        commands.push((
            Tick(draw.start_ticks),
            Command::SetFixture { fixture, opening },
        ));
        let shut = Command::SetFixture {
            fixture,
            opening: 0.0,
        };
        commands.push((Tick(draw.end_ticks()), shut));
    }
    commands.retain(|(tick, _)| *tick < end);
    commands.sort_by_key(|(tick, _)| *tick);
    let mut plant = Plant::build(site, faults, Start::Charged)
        .unwrap()
        .with_tolerance(2e-6);
    let mut runs = Vec::new();
    let mut started_s = None;
    let mut look = |plant: &mut Plant| {
        for event in plant.take_events() {
            match event.kind {
                EventKind::PumpStarted => started_s = Some(event.time_s),
                EventKind::PumpStopped => {
                    let start_s: f64 = started_s.take().unwrap();
                    runs.push((start_s, event.time_s - start_s));
                }
                _ => {}
            }
        }
    };
    for (tick, command) in commands {
        plant.advance_to(tick).unwrap();
        plant.apply(command).unwrap();
        look(&mut plant);
    }
    plant.advance_to(end).unwrap();
    look(&mut plant);
    (plant.totals(), runs)
}

fn by_cycles(
    site: &SiteSpec,
    faults: &[Fault],
    demand: &DemandSchedule,
    end: Tick,
) -> (CycleRun, Vec<PumpRun>) {
    let tables = CycleTables::build(site, faults).unwrap();
    let mut runs = Vec::new();
    let run = cycle::run(&tables, demand, end, |run| runs.push(*run)).unwrap();
    (run, runs)
}

/// Both ways over some days: equal starts, and totals within one part in a thousand.
fn judge(
    site: &SiteSpec,
    faults: &[Fault],
    demand: &DemandSchedule,
    end: Tick,
    about: &str,
) -> CycleRun {
    let (totals, runs) = by_plant(site, faults, demand, end);
    let (run, own) = by_cycles(site, faults, demand, end);
    // Relative, but no finer than the last number: a second, a watt-hour, ten litres.
    let close = |got: f64, wanted: f64, least: f64, what: &str| {
        assert!(
            (got - wanted).abs() <= 1e-3 * wanted.abs().max(least),
            "{about}: {what} {got} beside the plant's {wanted}"
        );
    };
    assert_eq!(
        run.starts, totals.pump_starts,
        "{about}: starts, its own first; {:?}",
        run.reasons
    );
    close(run.run_s, totals.pump_run_s, 1.0, "seconds of run");
    close(
        run.supply_energy_j,
        totals.supply_energy_j,
        3_600.0,
        "energy",
    );
    close(
        run.shaft_energy_j,
        totals.shaft_energy_j,
        3_600.0,
        "shaft work",
    );
    close(run.used_m3, totals.used_m3, 0.01, "water used");
    for own in &own {
        assert!(own.by_plant || own.seconds >= 6.0, "{about}: {own:?}");
    }
    for (day, &count) in run.starts_per_day.iter().enumerate() {
        let from_s = day as f64 * 86_400.0;
        let plants = runs
            .iter()
            .filter(|(start_s, _)| (from_s..from_s + 86_400.0).contains(start_s))
            .count();
        assert!(
            (plants as i64 - i64::from(count)).abs() <= 1,
            "{about}: day {day}"
        );
    }
    run
}

fn with_gas(mut site: SiteSpec, seconds: f64) -> SiteSpec {
    site.tank.gas_time_constant = Seconds(seconds);
    site
}

/// Thirty days at every rate of draws, with air that cools after a while and at once.
fn judge_months(name: &str) {
    for (gas, seconds) in [("cooling", 60.0), ("isothermal", 0.05)] {
        let site = with_gas(site(name), seconds);
        for per_day in [15.0, 60.0, 240.0, 960.0] {
            let demand = draws(&site, per_day, 30, 1);
            let about = format!("{name}, {gas}, {per_day} draws a day");
            let run = judge(&site, &[], &demand, Tick(30 * DAY_TICKS), &about);
            assert_eq!(run.hand_overs, 0, "{about}: {:?}", run.reasons);
            assert_eq!(run.starts_per_day.len(), 30);
            let sum: u64 = run.starts_per_day.iter().map(|&n| u64::from(n)).sum();
            assert_eq!(sum, run.starts);
        }
    }
}

#[test]
fn months_on_a_cistern_agree_with_the_plant_engine() {
    judge_months("orchard-cottage");
}

#[test]
fn months_on_a_well_agree_with_the_plant_engine() {
    judge_months("hill-farm");
}

#[test]
fn months_with_a_jet_pump_agree_with_the_plant_engine() {
    judge_months("garden-shed");
}

#[test]
fn months_with_a_check_at_the_wall_agree_with_the_plant_engine() {
    judge_months("boatyard-washdown");
}

#[test]
fn pressures_at_the_outlets_are_those_of_the_plant() {
    let site = site("orchard-cottage");
    let demand = draws(&site, 60.0, 3, 5);
    let end = Tick(3 * DAY_TICKS);
    let (totals, _) = by_plant(&site, &[], &demand, end);
    let (run, _) = by_cycles(&site, &[], &demand, end);
    // The plant gives the lowest in the house pipes, the cycle engine at each outlet.
    let wall = site.wall.elevation.si();
    let lowest = run
        .pressures
        .iter()
        .zip(&site.house.fixtures)
        .filter_map(|(p, fixture)| Some(p.lowest_pa()? + 9_800.0 * (fixture.elevation.si() - wall)))
        .fold(f64::INFINITY, f64::min);
    let plants = totals.lowest_house_pressure_pa.unwrap();
    assert!((lowest - plants).abs() < 3_000.0, "{lowest} and {plants}");
    for pressures in run.pressures.iter().filter(|p| p.seconds() > 0.0) {
        let (low, median) = (
            pressures.lowest_pa().unwrap(),
            pressures.median_pa().unwrap(),
        );
        assert!(low <= median + 2_000.0 && median < 450_000.0);
    }
}

#[test]
fn runs_too_short_are_left_to_the_plant_and_said() {
    let mut site = site("orchard-cottage");
    site.tank.shell_volume.0 *= 0.22;
    site.tank.acceptance_volume.0 *= 0.22;
    let demand = draws(&site, 60.0, 1, 1);
    let run = judge(&site, &[], &demand, Tick(DAY_TICKS), "a small tank");
    assert!(
        run.reasons
            .iter()
            .any(|h| h.reason == Reason::ShortRun && h.count > 10),
        "{:?}",
        run.reasons
    );
    assert!(run.hand_over_s > 0.0 && run.runs_by_length[0] > 0);
}

#[test]
fn pipes_that_store_like_a_tank_are_left_to_the_plant() {
    let mut site = site("orchard-cottage");
    site.house.pipe.wall_modulus.0 /= 3e5;
    let demand = draws(&site, 60.0, 1, 1);
    let end = Tick(DAY_TICKS / 2);
    let run = judge(&site, &[], &demand, end, "soft pipes");
    assert!(run.reasons.iter().all(|h| h.reason == Reason::SoftPipes));
    assert_eq!(run.hand_over_s, end.seconds());
}

#[test]
fn more_drawn_than_the_pump_gives_empties_the_tank() {
    let site = site("orchard-cottage");
    let draw = |start_s: u64, seconds: u64, fixture: usize| Draw {
        start_ticks: start_s * Tick::PER_SECOND,
        duration_ticks: seconds * Tick::PER_SECOND,
        fixture,
        opening: 1.0,
    };
    let n = site.house.fixtures.len();
    let mut all: Vec<Draw> = (0..n).map(|i| draw(100, 600 + 7 * i as u64, i)).collect();
    all.extend((0..n).map(|i| draw(4_000, 300, i)));
    let demand = DemandSchedule::new(all);
    judge(&site, &[], &demand, Tick(DAY_TICKS / 12), "everything open");
}

#[test]
fn a_source_that_runs_low_is_left_to_the_plant() {
    let site = sites::shipped("orchard-cottage");
    let demand = draws(&site, 240.0, 20, 1);
    let run = judge(&site, &[], &demand, Tick(20 * DAY_TICKS), "no rain");
    assert!(
        run.reasons.iter().any(|h| h.reason == Reason::SourceLow),
        "{:?}",
        run.reasons
    );
}

#[test]
fn every_fault_agrees_or_is_left_to_the_plant() {
    let site = site("orchard-cottage");
    let demand = draws(&site, 60.0, 1, 4);
    let end = Tick(DAY_TICKS / 3);
    let mut own = 0;
    for kind in kinds() {
        let fault = Fault::usual(kind.kind);
        let Ok(tables) = CycleTables::build(&site, &[fault]) else {
            continue;
        };
        own += u32::from(tables.left_to_plant().is_none());
        judge(&site, &[fault], &demand, end, kind.name);
    }
    // Faults of the gauge at least change nothing that matters here.
    assert!(own > 5, "only {own} faults are run by the cycle engine");
}

#[test]
fn a_run_is_the_same_every_time() {
    let site = site("hill-farm");
    let demand = draws(&site, 60.0, 10, 9);
    let end = Tick(10 * DAY_TICKS);
    let (first, runs) = by_cycles(&site, &[], &demand, end);
    let (second, again) = by_cycles(&site, &[], &demand, end);
    assert_eq!((first, runs), (second, again));
}

#[test]
fn a_draw_at_no_outlet_is_refused() {
    let site = site("garden-shed");
    let tables = CycleTables::build(&site, &[]).unwrap();
    let draw = Draw {
        start_ticks: 0,
        duration_ticks: 50,
        fixture: 99,
        opening: 1.0,
    };
    let demand = DemandSchedule::new(vec![draw]);
    let error = cycle::run(&tables, &demand, Tick(100), |_| {}).unwrap_err();
    assert!(matches!(error, CycleError::Draw(_)), "{error}");
}
