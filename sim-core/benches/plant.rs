//! How fast the plant engine is beside a general-purpose integrator on the same equations.
//!
//! `cargo bench -p sim-core --bench plant` prints one table of ratios.  Times are of this
//! machine on this day; only the ratios mean anything, and each is of two runs in one
//! process, the faster repeated.
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

use std::time::Instant;

use ode_solvers::{Dopri5, SVector, System};
use sim_core::demand::{DemandSchedule, Household, household};
use sim_core::plant::{Command, Equations, Guard, Plant, STATE_LENGTH, Start, Tick};
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
        let timer_s = equations
            .contacts_arrive_s()
            .map_or(f64::INFINITY, |at| at - time_s);
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
            guard = Some(Guard::ContactsArrive);
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

/// Best of several times [s].
fn best_of(n: u32, mut run: impl FnMut()) -> f64 {
    (0..n)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn main() {
    let default = sim_core::plant::DEFAULT_TOLERANCE;
    let site = site();

    println!("engine against Dopri5 {EXPLICIT_TOLERANCE:e} on the same equations");
    // The real site: fifty seconds with a draw, a start, a fill and a stop.
    let hose = site
        .house
        .fixtures
        .iter()
        .position(|f| f.name == "hose-bib")
        .unwrap_or(0);
    let real = [
        (
            Tick(50),
            Command::SetFixture {
                fixture: hose,
                opening: 1.0,
            },
        ),
        (
            Tick(2_000),
            Command::SetFixture {
                fixture: hose,
                opening: 0.0,
            },
        ),
    ];
    let end = Tick(4_000);
    let engine = best_of(5, || drop(run_engine(&site, &real, end, default)));
    let explicit_s = best_of(1, || {
        run_by_explicit(&site, &real, end);
    });
    println!(
        "  real site, 80 s with one pump cycle: {:8.3} ms  against {:10.1} ms   ratio {:.0}",
        engine * 1e3,
        explicit_s * 1e3,
        explicit_s / engine
    );

    let soft = softened(site.clone());
    let end = Tick(86_400 * Tick::PER_SECOND);
    let day = commands(&schedule(&soft, 60.0, 1.0), end);
    let tight = run_engine(&soft, &day, end, 1e-8).totals();
    let mut run_s = 0.0;
    let explicit_s = best_of(1, || run_s = run_by_explicit(&soft, &day, end));
    let engine = best_of(5, || drop(run_engine(&soft, &day, end, default)));
    let totals = run_engine(&soft, &day, end, default).totals();
    println!(
        "  softened, a day of 60 draws:         {:8.3} ms  against {:10.1} ms   ratio {:.0}",
        engine * 1e3,
        explicit_s * 1e3,
        explicit_s / engine
    );
    println!(
        "  error in run time: engine {:.1e}, Dopri5 {:.1e} (starts {} and {})",
        totals.pump_run_s / tight.pump_run_s - 1.0,
        run_s / tight.pump_run_s - 1.0,
        totals.pump_starts,
        tight.pump_starts
    );

    println!("engine alone, thirty days on the real site");
    println!("  draws/day      ms   µs/draw   steps/draw   ns/step   starts   run-time error");
    for draws_per_day in [15.0, 60.0, 240.0, 960.0] {
        let end = Tick(30 * 86_400 * Tick::PER_SECOND);
        let month = commands(&schedule(&site, draws_per_day, 30.0), end);
        let seconds = best_of(2, || drop(run_engine(&site, &month, end, default)));
        let plant = run_engine(&site, &month, end, default);
        let tight = run_engine(&site, &month, end, 1e-6).totals();
        let work = plant.work();
        let steps = (work.accepted + work.rejected) as f64;
        let draws = 0.5 * month.len() as f64;
        println!(
            "  {:9.0} {:7.1} {:9.1} {:12.1} {:9.0} {:8} {:16.1e}",
            draws_per_day,
            seconds * 1e3,
            seconds * 1e6 / draws,
            steps / draws,
            seconds * 1e9 / steps,
            plant.totals().pump_starts,
            plant.totals().pump_run_s / tight.pump_run_s - 1.0
        );
    }
}
