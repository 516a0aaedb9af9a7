//! How fast the plant engine is beside a general-purpose integrator on the same equations.
//!
//! `cargo bench -p sim-core --bench plant` measures by criterion and prints one table of
//! ratios at the end.  Times are of this machine on this day; only the ratios mean
//! anything, and each is of the quickest samples of two benches in one process.
//!
//! The real site is stiff (house pipes answer in ten microseconds), which an explicit
//! method pays for at every step.  So it is also softened, walls of rubber, until its
//! fastest rate is some hundred a second, and both sides run a whole day of that.

#![allow(
    clippy::print_stdout,
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a benchmark reads a clock and prints"
)]

use std::time::{Duration, Instant};

#[path = "support/explicit.rs"]
mod explicit;

use criterion::{Criterion, SamplingMode};
use sim_core::demand::{DemandSchedule, Household, household};
use sim_core::plant::{Command, DEFAULT_TOLERANCE, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::units::CubicMetersPerSecond;
use sim_core::units::convert::US_GPM;

use explicit::{EXPLICIT_TOLERANCE, commands, run_by_explicit};

fn site() -> SiteSpec {
    let mut site = sim_core::site::parse(
        "orchard-cottage.ron",
        include_str!("../../scenarios/sites/orchard-cottage.ron"),
    )
    .expect("a shipped site");
    // Rain enough for a month of any household.
    if let sim_core::parts::SourceSpec::Cistern { refill, .. } = &mut site.source {
        *refill = CubicMetersPerSecond(8.0 * US_GPM);
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
    household(
        &Household {
            seed: 1,
            draws_per_day,
            days,
        },
        &site.house.fixtures,
    )
}

fn run_engine(site: &SiteSpec, commands: &[(Tick, Command)], end: Tick, tolerance: f64) -> Plant {
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

/// One criterion bench; returns the quickest sample's time for one run [s].
///
/// Criterion prints times but no ratios, so its samples are also looked at here.
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

/// A line of the table: the same seconds by both methods.
fn ratio(what: &str, engine_s: f64, explicit_s: f64) -> String {
    format!(
        "  {what:<36} {:8.3} ms  against {:10.1} ms   ratio {:.0}",
        engine_s * 1e3,
        explicit_s * 1e3,
        explicit_s / engine_s
    )
}

/// The real site: eighty seconds with a draw, a start, a fill and a stop.
fn real_site(criterion: &mut Criterion, site: &SiteSpec) -> Vec<String> {
    let hose = site
        .house
        .fixtures
        .iter()
        .position(|f| f.name == "hose-bib")
        .unwrap_or(0);
    let set = |opening| Command::SetFixture {
        fixture: hose,
        opening,
    };
    let draw = [(Tick(50), set(1.0)), (Tick(2_000), set(0.0))];
    let end = Tick(4_000);
    let group = "80 s of the real site";
    let engine_s = measure(criterion, group, "engine", || {
        drop(run_engine(site, &draw, end, DEFAULT_TOLERANCE));
    });
    let explicit_s = measure(criterion, group, "Dopri5", || {
        run_by_explicit(site, &draw, end);
    });
    vec![ratio(
        "real site, 80 s with one pump cycle:",
        engine_s,
        explicit_s,
    )]
}

/// The softened site: a day of draws.
fn softened_site(criterion: &mut Criterion, site: &SiteSpec) -> Vec<String> {
    let soft = softened(site.clone());
    let end = Tick(86_400 * Tick::PER_SECOND);
    let day = commands(&schedule(&soft, 60.0, 1.0), end);
    let tight = run_engine(&soft, &day, end, 1e-8).totals();
    let totals = run_engine(&soft, &day, end, DEFAULT_TOLERANCE).totals();
    let group = "a day of the softened site";
    let engine_s = measure(criterion, group, "engine", || {
        drop(run_engine(&soft, &day, end, DEFAULT_TOLERANCE));
    });
    let mut run_s = 0.0;
    let explicit_s = measure(criterion, group, "Dopri5", || {
        run_s = run_by_explicit(&soft, &day, end);
    });
    vec![
        ratio("softened, a day of 60 draws:", engine_s, explicit_s),
        format!(
            "  error in run time: engine {:.1e}, Dopri5 {:.1e} (starts {} and {})",
            totals.pump_run_s / tight.pump_run_s - 1.0,
            run_s / tight.pump_run_s - 1.0,
            totals.pump_starts,
            tight.pump_starts
        ),
    ]
}

/// Thirty days of the real site by the engine alone.
fn month(criterion: &mut Criterion, site: &SiteSpec, draws_per_day: f64) -> String {
    let end = Tick(30 * 86_400 * Tick::PER_SECOND);
    let month = commands(&schedule(site, draws_per_day, 30.0), end);
    let plant = run_engine(site, &month, end, DEFAULT_TOLERANCE);
    let tight = run_engine(site, &month, end, 1e-6).totals();
    let name = format!("{draws_per_day} draws a day");
    let seconds = measure(criterion, "30 days of the real site", &name, || {
        drop(run_engine(site, &month, end, DEFAULT_TOLERANCE));
    });
    let work = plant.work();
    let steps = (work.accepted + work.rejected) as f64;
    let draws = 0.5 * month.len() as f64;
    format!(
        "  {draws_per_day:9.0} {:7.1} {:9.1} {:12.1} {:9.0} {:8} {:16.1e}",
        seconds * 1e3,
        seconds * 1e6 / draws,
        steps / draws,
        seconds * 1e9 / steps,
        plant.totals().pump_starts,
        plant.totals().pump_run_s / tight.pump_run_s - 1.0
    )
}

fn main() {
    // Ten samples of one run each: the long runs take seconds.
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(100))
        .measurement_time(Duration::from_secs(1))
        .configure_from_args();
    let site = site();

    let mut table = vec![format!(
        "engine against Dopri5 {EXPLICIT_TOLERANCE:e} on the same equations"
    )];
    table.extend(real_site(&mut criterion, &site));
    table.extend(softened_site(&mut criterion, &site));
    table.push("engine alone, thirty days on the real site".to_owned());
    table.push(
        "  draws/day      ms   µs/draw   steps/draw   ns/step   starts   run-time error".to_owned(),
    );
    for draws_per_day in [15.0, 60.0, 240.0, 960.0] {
        table.push(month(&mut criterion, &site, draws_per_day));
    }
    criterion.final_summary();
    println!("{}", table.join("\n"));
}
