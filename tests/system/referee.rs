//! An independent explicit integrator against the engine.
//!
//! The referee takes the plant's equations in the modes in force, integrates them with
//! Dormand and Prince's order 8 at 1e-10 (E. Hairer, S. P. Nørsett, G. Wanner, Solving
//! Ordinary Differential Equations I, in `ode_solvers`), finds events by halving intervals,
//! and leaves to the plant only the change of mode.

use ode_solvers::{Dop853, SVector, System};
use sim_core::plant::{Command, Equations, EventKind, Guard, Plant, STATE_LENGTH, Start, Tick};
use sim_core::units::{Pascals, Seconds};

use crate::support::sites;

type State = SVector<f64, STATE_LENGTH>;

/// The referee's tolerance, in units of what tolerance 1 allows in each component.
const REFEREE_TOLERANCE: f64 = 1e-10;
/// Longest stretch without a look at the guards [s].
const LOOK_S: f64 = 0.05;

/// The equations in scaled variables, so that one tolerance serves all.
struct Scaled<'a> {
    equations: &'a Equations,
    scales: [f64; STATE_LENGTH],
}

impl System<f64, State> for Scaled<'_> {
    fn system(&self, _: f64, z: &State, dz: &mut State) {
        let mut y = [0.0; STATE_LENGTH];
        for i in 0..STATE_LENGTH {
            y[i] = z[i] * self.scales[i];
        }
        let mut rates = [0.0; STATE_LENGTH];
        self.equations.rates(&y, &mut rates);
        for i in 0..STATE_LENGTH {
            dz[i] = rates[i] / self.scales[i];
        }
    }
}

fn integrate(equations: &Equations, y: &[f64; STATE_LENGTH], span_s: f64) -> [f64; STATE_LENGTH] {
    let scales = equations.error_scales(y);
    let start = State::from_fn(|i, _| y[i] / scales[i]);
    let system = Scaled { equations, scales };
    let mut solver = Dop853::from_param(
        system,
        0.0,
        span_s,
        span_s,
        start,
        REFEREE_TOLERANCE,
        REFEREE_TOLERANCE,
        0.9,
        0.0,
        0.333,
        6.0,
        span_s,
        0.0,
        1_000_000,
        u32::MAX,
        ode_solvers::dop_shared::OutputType::Sparse,
    );
    solver
        .integrate()
        .expect("the referee can follow the plant");
    let end = solver.y_out().last().expect("a last point");
    core::array::from_fn(|i| end[i] * scales[i])
}

/// Runs a plant by the referee to a time; returns the events it saw, by guard.
fn referee(plant: &mut Plant, until_s: f64) -> Vec<(f64, Guard)> {
    let mut events = Vec::new();
    let mut time_s = plant.now().seconds();
    let mut y = plant.state_vector();
    // Changes that are due at once.
    (time_s, y) = plant
        .resume_at(time_s, y, None)
        .expect("no endless switching");
    while time_s < until_s {
        let equations = plant.equations();
        let fired = |y: &[f64; STATE_LENGTH]| {
            equations
                .guards(y)
                .into_iter()
                .find(|(_, value)| *value > 0.0)
                .map(|(g, _)| g)
        };
        let timer = equations.next_timer();
        let timer_s = timer.map_or(f64::INFINITY, |(at, _)| at - time_s);
        let span_s = LOOK_S.min(until_s - time_s).min(timer_s);
        let end = integrate(&equations, &y, span_s);
        if let Some(mut guard) = fired(&end) {
            // Halve until a tenth of a microsecond is left.
            let (mut low, mut high) = (0.0, span_s);
            let mut at_high = end;
            while high - low > 1e-7 {
                let middle = 0.5 * (low + high);
                let state = integrate(&equations, &y, middle);
                match fired(&state) {
                    Some(g) => (high, at_high, guard) = (middle, state, g),
                    None => low = middle,
                }
            }
            time_s += high;
            events.push((time_s, guard));
            (time_s, y) = plant
                .resume_at(time_s, at_high, Some(guard))
                .expect("resumes");
        } else if let Some((_, due)) = timer.filter(|_| span_s == timer_s) {
            time_s += span_s;
            events.push((time_s, due));
            (time_s, y) = plant.resume_at(time_s, end, Some(due)).expect("resumes");
        } else {
            time_s += span_s;
            y = end;
            plant.resume_at(time_s, y, None).expect("resumes");
        }
    }
    events
}

/// A plant in service with the house shut off and the drain cock part open.
fn draining(name: &str) -> Plant {
    let mut plant = Plant::build(&sites::shipped(name), &[], Start::Charged).unwrap();
    plant.apply(Command::SetHouseValve(0.0)).unwrap();
    plant.apply(Command::SetDrain(0.6)).unwrap();
    plant
}

/// Largest difference of two states, in units of what tolerance 1 allows.
fn distance(equations: &Equations, a: &[f64; STATE_LENGTH], b: &[f64; STATE_LENGTH]) -> f64 {
    let scales = equations.error_scales(a);
    (0..STATE_LENGTH)
        .map(|i| ((a[i] - b[i]) / scales[i]).abs())
        .fold(0.0, f64::max)
}

#[test]
fn smooth_segments_agree_in_every_component() {
    // Drawing the tank down; cooling after a charge; filling with the pump at speed.
    for name in ["orchard-cottage", "hill-farm", "garden-shed"] {
        for (what, settle_s, span_s) in [("drawing", 2.0, 10.0), ("cooling", 0.0, 30.0)] {
            let mut engine = draining(name).with_tolerance(1e-8);
            if what == "cooling" {
                engine.apply(Command::SetDrain(0.0)).unwrap();
            }
            engine
                .advance_to(Tick::at_or_after(Seconds(settle_s)))
                .unwrap();
            let mut other = engine.clone();
            let end = Tick::at_or_after(Seconds(settle_s + span_s));
            engine.advance_to(end).unwrap();
            referee(&mut other, end.seconds());
            let apart = distance(
                &engine.equations(),
                &engine.state_vector(),
                &other.state_vector(),
            );
            assert!(apart < 1e-6, "{name}, {what}: {apart:e}");
        }
    }
}

#[test]
fn starting_filling_and_stopping_agree_in_time_and_in_total() {
    for name in ["orchard-cottage", "hill-farm", "garden-shed"] {
        let until_s = 260.0;
        let mut tight = draining(name).with_tolerance(1e-7);
        let mut usual = draining(name);
        let mut judge = draining(name);
        tight
            .advance_to(Tick::at_or_after(Seconds(until_s)))
            .unwrap();
        usual
            .advance_to(Tick::at_or_after(Seconds(until_s)))
            .unwrap();
        referee(&mut judge, until_s);

        let kinds =
            |plant: &Plant| -> Vec<EventKind> { plant.events().iter().map(|e| e.kind).collect() };
        assert_eq!(kinds(&tight), kinds(&judge), "{name}");
        assert_eq!(kinds(&usual), kinds(&judge), "{name}");
        assert!(
            kinds(&judge).contains(&EventKind::ContactsOpened),
            "{name} has a whole cycle"
        );
        for (ours, theirs) in tight.events().iter().zip(judge.events()) {
            let apart_s = (ours.time_s - theirs.time_s).abs();
            assert!(apart_s < 1e-3, "{name}: {:?} {apart_s} s apart", ours.kind);
        }

        // Totals at the default tolerance, up to the end of the last pump run.
        let run = |plant: &Plant| plant.totals().pump_run_s;
        let judge_totals = judge_totals(&judge, until_s);
        let relative = |ours: f64, theirs: f64| (ours / theirs - 1.0).abs();
        let off = relative(run(&usual), judge_totals.0);
        assert!(
            off < 1e-4,
            "{name} run seconds: {} {} {off:e}",
            run(&usual),
            judge_totals.0
        );
        let totals = usual.totals();
        assert!(
            relative(totals.drawn_m3, judge_totals.1) < 1e-4,
            "{name} drawn"
        );
        assert!(
            relative(totals.shaft_energy_j, judge_totals.2) < 1e-4,
            "{name} work"
        );
        assert!(
            relative(totals.supply_energy_j, judge_totals.3) < 1e-4,
            "{name} energy"
        );
    }
}

/// Run seconds, water drawn, work and energy of a plant that the referee has brought to a
/// time; its own clock stands still.
fn judge_totals(plant: &Plant, until_s: f64) -> (f64, f64, f64, f64) {
    let totals = plant.totals();
    let mut run_s = 0.0;
    let mut since = None;
    for event in plant.events() {
        match event.kind {
            EventKind::PumpStarted => since = Some(event.time_s),
            EventKind::PumpStopped => run_s += event.time_s - since.take().unwrap(),
            _ => {}
        }
    }
    run_s += since.map_or(0.0, |since| until_s - since);
    (
        run_s,
        totals.drawn_m3,
        totals.shaft_energy_j,
        totals.supply_energy_j,
    )
}

/// Runs engine and referee to a time and holds events to a millisecond.
fn events_agree(what: &str, plant: &Plant, until_s: f64) -> Plant {
    let mut tight = plant.clone().with_tolerance(1e-7);
    let mut judge = plant.clone();
    tight
        .advance_to(Tick::at_or_after(Seconds(until_s)))
        .unwrap();
    referee(&mut judge, until_s);
    let kinds =
        |plant: &Plant| -> Vec<EventKind> { plant.events().iter().map(|e| e.kind).collect() };
    assert_eq!(kinds(&tight), kinds(&judge), "{what}");
    for (ours, theirs) in tight.events().iter().zip(judge.events()) {
        let apart_s = (ours.time_s - theirs.time_s).abs();
        assert!(
            apart_s < 1e-3,
            "{what}: {:?} at {} s is {apart_s:e} s apart",
            ours.kind,
            ours.time_s
        );
    }
    let apart = distance(
        &tight.equations(),
        &tight.state_vector(),
        &judge.state_vector(),
    );
    assert!(apart < 1e-4, "{what} ends {apart:e} apart");
    tight
}

#[test]
fn a_first_fill_agrees_from_dry_pipes_to_solid_water() {
    for (name, until_s) in [("orchard-cottage", 120.0), ("garden-shed", 60.0)] {
        let mut plant = Plant::build(&sites::shipped(name), &[], Start::Dry).unwrap();
        for command in [
            Command::Prime,
            Command::SetDrain(1.0),
            Command::SetBreaker(true),
        ] {
            plant.apply(command).unwrap();
        }
        let filled = events_agree(name, &plant, until_s);
        let is_solid = filled
            .events()
            .iter()
            .any(|e| e.kind == EventKind::LineSolid);
        assert!(is_solid, "{name}: {:?}", filled.events());
    }
}

#[test]
fn a_cycle_drawn_by_the_house_agrees_on_softened_pipes() {
    // (The shed feeds its taps by forty metres of plastic, soft enough already.)
    for (name, until_s) in [("orchard-cottage", 80.0), ("hill-farm", 400.0)] {
        let site = sites::softened(sites::shipped(name));
        let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
        // Rubber holds much water: a narrow differential keeps cycles short.
        let cut_out = plant.controls().cut_out;
        let cut_in = Pascals(0.9 * cut_out.si());
        let (fixture, opening) = (0, 1.0);
        for command in [
            Command::AdjustSwitch { cut_in, cut_out },
            Command::SetFixture { fixture, opening },
        ] {
            plant.apply(command).unwrap();
        }
        let drawn = events_agree(name, &plant, until_s);
        let kinds: Vec<EventKind> = drawn.events().iter().map(|e| e.kind).collect();
        assert!(
            kinds.contains(&EventKind::PumpStopped),
            "{name} has a whole cycle: {kinds:?}"
        );
    }
}
