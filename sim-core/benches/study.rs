//! How fast the cycle engine is: years of a household beside the plant engine and beside a
//! general-purpose integrator on the same equations.
//!
//! `cargo bench -p sim-core --bench study` measures by criterion and prints one table at
//! the end, in some minutes: most of that is the plant engine's months.  Times are of this machine on this day; the ratios are of the quickest samples
//! in one process.  The explicit method is given the softened site of `plant.rs`: the real
//! one's stiffness would flatter the ratio without end.

#![allow(
    clippy::print_stdout,
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a benchmark reads a clock and prints"
)]

#[path = "support/explicit.rs"]
mod explicit;

use std::time::{Duration, Instant};

use criterion::{Criterion, SamplingMode};
use sim_core::demand::{DemandSchedule, Household, household};
use sim_core::plant::{Command, DEFAULT_TOLERANCE, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::study::cycle::{self, CycleRun, CycleTables};
use sim_core::units::{CubicMetersPerSecond, Seconds};

use explicit::{EXPLICIT_TOLERANCE, commands, run_by_explicit};

const SITES: [&str; 4] = [
    "orchard-cottage",
    "hill-farm",
    "garden-shed",
    "boatyard-washdown",
];
/// What is wanted of one core, quiet [ms], and beside the general-purpose integrator.
const BUILD_MS: f64 = 5.0;
const YEAR_MS: f64 = 15.0;
const LEAST_RATIO: f64 = 80.0;

const DAY: u64 = 86_400 * Tick::PER_SECOND;

fn site(name: &str) -> SiteSpec {
    let shipped = sim_core::site::shipped().iter().find(|s| s.name == name);
    let shipped = shipped.expect("a shipped site");
    let mut site = sim_core::site::parse(name, shipped.text).expect("a sound site");
    // Rain enough for a year of any household.
    if let sim_core::parts::SourceSpec::Cistern { refill, .. } = &mut site.source {
        *refill = CubicMetersPerSecond(5e-4);
    }
    site
}

fn softened(mut site: SiteSpec) -> SiteSpec {
    for pipe in &mut site.run {
        pipe.wall_modulus.0 /= 100.0;
    }
    site.house.pipe.wall_modulus.0 /= 3e5;
    site
}

fn schedule(site: &SiteSpec, draws_per_day: f64, days: f64) -> DemandSchedule {
    let request = Household {
        seed: 1,
        draws_per_day,
        days,
    };
    household(&request, &site.house.fixtures)
}

fn run_plant(site: &SiteSpec, commands: &[(Tick, Command)], end: Tick, tolerance: f64) -> Plant {
    let mut plant = Plant::build(site, &[], Start::Charged)
        .expect("builds")
        .with_tolerance(tolerance);
    for (tick, command) in commands {
        plant.advance_to(*tick).expect("follows");
        plant.apply(*command).expect("a draw");
    }
    plant.advance_to(end).expect("follows");
    plant
}

fn run_cycles(tables: &CycleTables, demand: &DemandSchedule, end: Tick) -> CycleRun {
    cycle::run(tables, demand, end, |_| {}).expect("runs")
}

/// One criterion bench; returns the quickest sample's time for one run [s].
fn measure(criterion: &mut Criterion, group: &str, name: &str, mut run: impl FnMut()) -> f64 {
    let mut quickest_s = f64::INFINITY;
    let mut group = criterion.benchmark_group(group);
    group.sampling_mode(SamplingMode::Flat);
    group.bench_function(name, |bencher| {
        bencher.iter_custom(|n| {
            let start = Instant::now();
            for _ in 0..n {
                run();
            }
            let elapsed = start.elapsed();
            quickest_s = quickest_s.min(elapsed.as_secs_f64() / n as f64);
            elapsed
        });
    });
    group.finish();
    quickest_s
}

/// A day of draws on the softened site by all three ways.
fn beside_explicit(criterion: &mut Criterion) -> Vec<String> {
    let soft = softened(site("orchard-cottage"));
    let end = Tick(DAY);
    let demand = schedule(&soft, 60.0, 1.0);
    let list = commands(&demand, end);
    let tight = run_plant(&soft, &list, end, 1e-7).totals();
    let tables = CycleTables::build(&soft, &[]).expect("builds");
    let group = "a day of the softened site";
    // A day alone would be all tables: the engine goes on for a hundred days.
    let many = schedule(&soft, 60.0, 100.0);
    let cycles_s = measure(criterion, group, "cycle engine, of 100 days", || {
        run_cycles(&tables, &many, Tick(100 * DAY));
    }) / 100.0;
    let plant_s = measure(criterion, group, "plant engine", || {
        drop(run_plant(&soft, &list, end, DEFAULT_TOLERANCE));
    });
    let mut run_s = 0.0;
    let explicit_s = measure(criterion, group, "Dopri5", || {
        run_s = run_by_explicit(&soft, &list, end);
    });
    let run = run_cycles(&tables, &demand, end);
    vec![
        format!(
            "softened orchard-cottage, a day of 60 draws, against Dopri5 {EXPLICIT_TOLERANCE:e}"
        ),
        format!(
            "  cycle engine {:9.4} ms   plant {:8.3} ms   Dopri5 {:9.1} ms   Dopri5/cycle {:.0} (limit {LEAST_RATIO}) {}   plant/cycle {:.0}",
            cycles_s * 1e3,
            plant_s * 1e3,
            explicit_s * 1e3,
            explicit_s / cycles_s,
            kept(explicit_s / cycles_s >= LEAST_RATIO),
            plant_s / cycles_s
        ),
        format!(
            "  run time against the plant at 1e-7: cycle {:+.1e}, Dopri5 {:+.1e}; starts {} {}",
            run.run_s / tight.pump_run_s - 1.0,
            run_s / tight.pump_run_s - 1.0,
            run.starts,
            tight.pump_starts
        ),
    ]
}

/// Thirty days on the real site beside the plant engine: a line, and what a draw costs [s].
fn month(
    criterion: &mut Criterion,
    site: &SiteSpec,
    tables: &CycleTables,
    per_day: f64,
    gas: &str,
) -> (String, f64) {
    let end = Tick(30 * DAY);
    let demand = schedule(site, per_day, 30.0);
    let list = commands(&demand, end);
    let plant = Instant::now();
    let tight = run_plant(site, &list, end, 2e-6).totals();
    let plant_s = plant.elapsed().as_secs_f64();
    let group = format!("30 days, {}, {gas}", site.name);
    let seconds = measure(criterion, &group, &format!("{per_day} draws a day"), || {
        run_cycles(tables, &demand, end);
    });
    let run = run_cycles(tables, &demand, end);
    let cost_s = seconds / demand.draws().len() as f64;
    let line = format!(
        "  {:18} {gas:10} {per_day:5.0} {:8.2} {:8.0} {:7.3} {:6} {:6} {:+9.1e} {:+9.1e} {:5} {:6.0} {}",
        site.name,
        seconds * 1e3,
        plant_s / seconds,
        cost_s * 1e6,
        run.starts,
        tight.pump_starts,
        run.run_s / tight.pump_run_s - 1.0,
        run.supply_energy_j / tight.supply_energy_j - 1.0,
        run.hand_overs,
        run.hand_over_s,
        kept(run.starts == tight.pump_starts)
    );
    (line, cost_s)
}

/// A year of 60 draws a day on one site.
struct Year {
    tables: CycleTables,
    demand: DemandSchedule,
}

impl Year {
    fn of(name: &str) -> Self {
        let site = site(name);
        Self {
            tables: CycleTables::build(&site, &[]).expect("builds"),
            demand: schedule(&site, 60.0, 365.0),
        }
    }

    fn run(&self) -> CycleRun {
        run_cycles(&self.tables, &self.demand, Tick(365 * DAY))
    }
}

/// Building tables and a year of every site, against what is wanted of them.
fn years(criterion: &mut Criterion, table: &mut Vec<String>) {
    table.push(format!(
        "tables (limit {BUILD_MS} ms), and years at 60 draws a day (limit {YEAR_MS} ms)"
    ));
    for name in SITES {
        let site = site(name);
        let plant_s = measure(criterion, "the plant alone", name, || {
            drop(Plant::build(&site, &[], Start::Charged));
        });
        let build_s = measure(criterion, "build", name, || {
            drop(CycleTables::build(&site, &[]));
        });
        let year = Year::of(name);
        let year_s = measure(criterion, "a year of 60 draws a day", name, || {
            year.run();
        });
        let run = year.run();
        table.push(format!(
            "  {name:18} tables {:6.2} ms {:5} (plant {:5.2})   year {:7.2} ms {:5}   draws {}   starts {}   left {:?}",
            build_s * 1e3,
            kept(build_s * 1e3 <= BUILD_MS),
            plant_s * 1e3,
            year_s * 1e3,
            kept(year_s * 1e3 <= YEAR_MS),
            year.demand.draws().len(),
            run.starts,
            run.reasons
        ));
    }
}

/// The same years by one thread and by two.
fn threads() -> String {
    let year = Year::of("orchard-cottage");
    let batch = |n: usize| {
        let begun = Instant::now();
        std::thread::scope(|scope| {
            for _ in 0..n {
                scope.spawn(|| {
                    for _ in 0..24 / n {
                        year.run();
                    }
                });
            }
        });
        begun.elapsed().as_secs_f64()
    };
    let quickest = |n: usize| (0..5).map(|_| batch(n)).fold(f64::INFINITY, f64::min);
    let (one, two) = (quickest(1), quickest(2));
    format!(
        "24 years of orchard-cottage: one thread {:.0} ms, two {:.0} ms, {:.2} times as fast (limit 1.8) {}",
        one * 1e3,
        two * 1e3,
        one / two,
        kept(one / two >= 1.8)
    )
}

fn kept(is_kept: bool) -> &'static str {
    if is_kept { "ok" } else { "MISSED" }
}

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(100))
        .measurement_time(Duration::from_millis(500))
        .configure_from_args();
    let mut table = beside_explicit(&mut criterion);
    years(&mut criterion, &mut table);
    table.push(threads());

    table.push("thirty days beside the plant engine at 2e-6".to_owned());
    table.push(
        "  site               gas        /day       ms  plant/x µs/draw starts  plant   run time    energy hand-overs".to_owned(),
    );
    for name in SITES {
        for (gas, seconds) in [("cooling", 60.0), ("isothermal", 0.05)] {
            let mut site = site(name);
            site.tank.gas_time_constant = Seconds(seconds);
            let tables = CycleTables::build(&site, &[]).expect("builds");
            let mut costs = Vec::new();
            for per_day in [15.0, 60.0, 240.0, 960.0] {
                let (line, cost_s) = month(&mut criterion, &site, &tables, per_day, gas);
                table.push(line);
                costs.push(cost_s);
            }
            table.push(format!(
                "    a draw costs at 960 a day {:.2} times what it costs at 60",
                costs[3] / costs[1]
            ));
        }
    }
    criterion.final_summary();
    println!("{}", table.join("\n"));
}
