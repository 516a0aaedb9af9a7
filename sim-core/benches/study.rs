//! How fast the cycle engine is: years of a household beside the plant engine and beside a
//! general-purpose integrator on the same equations.
//!
//! `cargo bench -p sim-core --bench study` measures by criterion and prints one table at
//! the end, in some minutes.  Times are of this machine on this day; the ratios are of the
//! quickest samples in one process.
//!
//! The explicit method gets the site without what is stiff in it, or stiffness would flatter
//! the ratio without end: the walls of the run are 100 times softer than the site's, those
//! of the house's pipe [`HOUSE_SOFTER`] times, and with that still quick beside the tank, as
//! the cycle engine takes them to be.  It is also given a site softer than that
//! ([`HOUSE_SOFTEST`]), where nothing in the house is stiff any more but where the house
//! stores as much water as the tank.  The hours compared are busy ones: at rest the explicit
//! method goes on in small steps, and that would flatter the ratio too.

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
use sim_core::units::CubicMetersPerSecond;

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
/// Busy hours that are compared with the explicit method, and their draws a day.
const BUSY_HOURS: f64 = 1.0;
const BUSY_PER_DAY: f64 = 960.0;
/// How much softer the walls of the house's pipe are there.
const HOUSE_SOFTER: f64 = 3e3;
const HOUSE_SOFTEST: f64 = 3e5;
/// Days of each rate of draws: enough to be measured, the fewest draws the most days.
const RATES: [(f64, f64); 4] = [(15.0, 400.0), (60.0, 100.0), (240.0, 25.0), (960.0, 8.0)];

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

fn softened(mut site: SiteSpec, house: f64) -> SiteSpec {
    for pipe in &mut site.run {
        pipe.wall_modulus.0 /= 100.0;
    }
    site.house.pipe.wall_modulus.0 /= house;
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

/// The quickest of some tries [s].
fn quickest_of(tries: usize, mut run: impl FnMut()) -> f64 {
    let once = |_| {
        let begun = Instant::now();
        run();
        begun.elapsed().as_secs_f64()
    };
    (0..tries).map(once).fold(f64::INFINITY, f64::min)
}

/// Busy hours on the softened site by all three ways.
fn beside_explicit() -> Vec<String> {
    let soft = softened(site("orchard-cottage"), HOUSE_SOFTER);
    let softest = softened(site("orchard-cottage"), HOUSE_SOFTEST);
    let end = Tick((BUSY_HOURS * 3_600.0) as u64 * Tick::PER_SECOND);
    // Hours of the day that are busy: a household's schedule, pressed together.
    let pressed = |hours: f64| schedule(&soft, BUSY_PER_DAY, hours / 24.0);
    let demand = pressed(BUSY_HOURS);
    let list = commands(&demand, end);
    let tables = CycleTables::build(&soft, &[]).expect("builds");
    let many_hours = 240.0;
    let many = pressed(many_hours);
    let many_end = Tick((many_hours * 3_600.0) as u64 * Tick::PER_SECOND);
    let many_s = quickest_of(9, || {
        run_cycles(&tables, &many, many_end);
    });
    let per_draw = |seconds: f64| seconds / demand.draws().len() as f64;
    let cycles_s = many_s / many.draws().len() as f64;
    let plant_s = per_draw(quickest_of(3, || {
        drop(run_plant(&soft, &list, end, DEFAULT_TOLERANCE));
    }));
    let mut explicit_run_s = 0.0;
    let explicit_s = per_draw(quickest_of(2, || {
        explicit_run_s = run_by_explicit(&soft, &list, end);
    }));
    let softest_s = per_draw(quickest_of(2, || {
        run_by_explicit(&softest, &list, end);
    }));
    let run = run_cycles(&tables, &demand, end);
    let tight = run_plant(&soft, &list, end, 1e-7).totals();
    let left = tables.left_to_plant();
    vec![
        format!(
            "orchard-cottage with softer pipes, {BUSY_HOURS} h at {BUSY_PER_DAY} draws a day, against Dopri5 {EXPLICIT_TOLERANCE:e}; times are for a draw"
        ),
        format!(
            "  cycle engine {:.2} µs (left to the plant: {left:?})   plant {:.0} µs   Dopri5 {:.0} µs, with the softest pipes {:.0} µs",
            cycles_s * 1e6,
            plant_s * 1e6,
            explicit_s * 1e6,
            softest_s * 1e6
        ),
        format!(
            "  Dopri5/cycle {:.0}, with the softest pipes {:.0} (limit {LEAST_RATIO}) {}   plant/cycle {:.0}",
            explicit_s / cycles_s,
            softest_s / cycles_s,
            kept(explicit_s.min(softest_s) / cycles_s >= LEAST_RATIO),
            plant_s / cycles_s
        ),
        format!(
            "  run time against the plant at 1e-7: cycle {:+.1e}, Dopri5 {:+.1e}; starts {} {} {}",
            run.run_s / tight.pump_run_s - 1.0,
            explicit_run_s / tight.pump_run_s - 1.0,
            run.starts,
            tight.pump_starts,
            kept(run.starts == tight.pump_starts)
        ),
    ]
}

/// What a draw costs at every rate of draws, and the engine's word on two days beside the
/// plant engine; months beside it are in the tests.
fn rates(name: &str) -> Vec<String> {
    let site = site(name);
    let tables = CycleTables::build(&site, &[]).expect("builds");
    let mut costs_s = Vec::new();
    for (per_day, days) in RATES {
        let demand = schedule(&site, per_day, days);
        let end = Tick(days as u64 * DAY);
        let seconds = quickest_of(15, || {
            run_cycles(&tables, &demand, end);
        });
        costs_s.push(seconds / demand.draws().len() as f64);
    }
    let micros: Vec<String> = costs_s.iter().map(|s| format!("{:.2}", s * 1e6)).collect();
    let most = costs_s.iter().fold(0.0_f64, |most, &s| most.max(s));
    let end = Tick(2 * DAY);
    let demand = schedule(&site, 240.0, 2.0);
    let tight = run_plant(&site, &commands(&demand, end), end, 2e-6).totals();
    let run = run_cycles(&tables, &demand, end);
    vec![format!(
        "  {name:18} {} µs; 960 over 60: {:.2}, dearest over 60: {:.2}   two days of 240 beside the plant: starts {} {} {}, run time {:+.1e}",
        micros.join(" "),
        costs_s[3] / costs_s[1],
        most / costs_s[1],
        run.starts,
        tight.pump_starts,
        kept(run.starts == tight.pump_starts),
        run.run_s / tight.pump_run_s - 1.0
    )]
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

/// Two settings side by side, each with tables of its own, by one thread and by two; the
/// best of tries by turns, since others use the machine too.
fn threads() -> String {
    let settings = [Year::of("orchard-cottage"), Year::of("orchard-cottage")];
    let work = |year: &Year| {
        for _ in 0..4 {
            year.run();
        }
    };
    let one = || {
        let begun = Instant::now();
        settings.iter().for_each(work);
        begun.elapsed().as_secs_f64()
    };
    let two = || {
        let begun = Instant::now();
        std::thread::scope(|scope| {
            for year in &settings {
                scope.spawn(move || work(year));
            }
        });
        begun.elapsed().as_secs_f64()
    };
    let (mut one_s, mut two_s) = (f64::INFINITY, f64::INFINITY);
    for _ in 0..20 {
        one_s = one_s.min(one());
        two_s = two_s.min(two());
    }
    format!(
        "two settings, four years each: one thread {:.0} ms, two {:.0} ms, {:.2} times as fast (limit 1.8) {}",
        one_s * 1e3,
        two_s * 1e3,
        one_s / two_s,
        kept(one_s / two_s >= 1.8)
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
    let mut table = beside_explicit();
    years(&mut criterion, &mut table);
    table.push(threads());
    table.push("what a draw costs at 15, 60, 240 and 960 a day".to_owned());
    for name in SITES {
        table.extend(rates(name));
    }
    criterion.final_summary();
    println!("{}", table.join("\n"));
}
