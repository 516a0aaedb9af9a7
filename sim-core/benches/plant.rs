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

use criterion::{Criterion, SamplingMode};
use ode_solvers::{Dopri5, SVector, System};
use sim_core::demand::{DemandSchedule, Household, household};
use sim_core::plant::{
    Command, DEFAULT_TOLERANCE, Equations, Guard, Plant, STATE_LENGTH, Start, Tick,
};
use sim_core::site::SiteSpec;
use sim_core::units::CubicMetersPerSecond;
use sim_core::units::convert::US_GPM;

type State = SVector<f64, STATE_LENGTH>;

const EXPLICIT_TOLERANCE: f64 = 1e-6;

/// The equations in scaled variables; stops when a guard fires.
struct Explicit<'a> {
    equations: &'a Equations,
    scales: [f64; STATE_LENGTH],
}

impl Explicit<'_> {
    fn plain(&self, z: &State) -> [f64; STATE_LENGTH] {
        core::array::from_fn(|i| z[i] * self.scales[i])
    }
}

impl System<f64, State> for Explicit<'_> {
    fn system(&self, _: f64, z: &State, dz: &mut State) {
        let mut rates = [0.0; STATE_LENGTH];
        self.equations.rates(&self.plain(z), &mut rates);
        for i in 0..STATE_LENGTH {
            dz[i] = rates[i] / self.scales[i];
        }
    }

    fn solout(&mut self, _: f64, z: &State, _: &State) -> bool {
        fired(self.equations, &self.plain(z)).is_some()
    }
}

fn fired(equations: &Equations, y: &[f64; STATE_LENGTH]) -> Option<Guard> {
    let guards = equations.guards(y);
    guards
        .into_iter()
        .find(|(_, value)| *value > 0.0)
        .map(|(guard, _)| guard)
}

/// Integrates up to `span_s` or to the step in which a guard fires; returns the last two
/// points.
fn explicit(
    equations: &Equations,
    y: &[f64; STATE_LENGTH],
    span_s: f64,
) -> [(f64, [f64; STATE_LENGTH]); 2] {
    let scales = equations.error_scales(y);
    let start = State::from_fn(|i, _| y[i] / scales[i]);
    let system = Explicit { equations, scales };
    let mut solver = Dopri5::from_param(
        system,
        0.0,
        span_s,
        span_s,
        start,
        EXPLICIT_TOLERANCE,
        EXPLICIT_TOLERANCE,
        0.9,
        0.04,
        0.2,
        10.0,
        span_s,
        0.0,
        u32::MAX,
        u32::MAX,
        ode_solvers::dop_shared::OutputType::Sparse,
    );
    solver.integrate().expect("the explicit method follows");
    let (x, z) = (solver.x_out(), solver.y_out());
    let point = |k: usize| (x[k], core::array::from_fn(|i| z[k][i] * scales[i]));
    let last = x.len() - 1;
    [
        if last > 0 { point(last - 1) } else { (0.0, *y) },
        point(last),
    ]
}

/// Runs a plant by the explicit method to a time.
fn run_explicit(plant: &mut Plant, from_s: f64, until_s: f64) -> f64 {
    let mut y = plant.state_vector();
    let mut time_s = from_s;
    (time_s, y) = plant.resume_at(time_s, y, None).expect("resumes");
    while time_s < until_s {
        let equations = plant.equations();
        let timer = equations.next_timer();
        let timer_s = timer.map_or(f64::INFINITY, |(at, _)| at - time_s);
        // Points pile up in memory: an hour at a time is enough.
        let span_s = (until_s - time_s).min(timer_s).min(600.0);
        let [(before_s, before), (after_s, after)] = explicit(&equations, &y, span_s);
        let mut guard = fired(&equations, &after);
        let mut end = (after_s, after);
        if guard.is_some() {
            // Halve the step in which it fired.
            let (mut low, mut high) = (0.0, after_s - before_s);
            while high - low > 1e-5 {
                let middle = 0.5 * (low + high);
                let [_, (_, state)] = explicit(&equations, &before, middle);
                match fired(&equations, &state) {
                    Some(g) => {
                        high = middle;
                        end = (before_s + middle, state);
                        guard = Some(g);
                    }
                    None => low = middle,
                }
            }
        } else if span_s == timer_s {
            guard = timer.map(|(_, due)| due);
        }
        time_s += end.0;
        (time_s, y) = plant.resume_at(time_s, end.1, guard).expect("resumes");
    }
    time_s
}

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

/// Commands of a schedule, in order of tick.
fn commands(demand: &DemandSchedule, end: Tick) -> Vec<(Tick, Command)> {
    let mut list: Vec<(Tick, Command)> = Vec::new();
    for draw in demand.draws() {
        let fixture = draw.fixture;
        let opening = draw.opening;
        list.push((
            Tick(draw.start_ticks),
            Command::SetFixture { fixture, opening },
        ));
        let shut = Tick(draw.start_ticks + draw.duration_ticks);
        list.push((
            shut,
            Command::SetFixture {
                fixture,
                opening: 0.0,
            },
        ));
    }
    list.retain(|(tick, _)| *tick < end);
    list.sort_by_key(|(tick, _)| *tick);
    list
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

/// Run seconds of the same commands by the explicit method.
fn run_by_explicit(site: &SiteSpec, commands: &[(Tick, Command)], end: Tick) -> f64 {
    let mut plant = Plant::build(site, &[], Start::Charged).expect("builds");
    let mut time_s = 0.0;
    for (tick, command) in commands {
        if tick.seconds() > time_s {
            time_s = run_explicit(&mut plant, time_s, tick.seconds());
        }
        plant.apply_at(time_s, *command).expect("a draw");
    }
    run_explicit(&mut plant, time_s, end.seconds());
    plant.pump_run_to(end.seconds())
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
