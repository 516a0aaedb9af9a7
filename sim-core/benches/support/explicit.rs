//! A general-purpose explicit integrator on the plant's own equations.

use ode_solvers::{Dopri5, SVector, System};
use sim_core::demand::DemandSchedule;
use sim_core::plant::{Command, Equations, Guard, Plant, STATE_LENGTH, Start, Tick};
use sim_core::site::SiteSpec;

type State = SVector<f64, STATE_LENGTH>;

pub(crate) const EXPLICIT_TOLERANCE: f64 = 1e-6;

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

/// Commands of a schedule, in order of tick.
pub(crate) fn commands(demand: &DemandSchedule, end: Tick) -> Vec<(Tick, Command)> {
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

/// Run seconds of the same commands by the explicit method.
pub(crate) fn run_by_explicit(site: &SiteSpec, commands: &[(Tick, Command)], end: Tick) -> f64 {
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
