//! Stretches that are left to the plant engine, and the way there and back.

use super::book::Book;
use super::checks;
use super::config::Config;
use super::demand::Changes;
use super::engine::Pump;
use super::error::CycleError;
use super::gas::Pose;
use super::manifold::{Branch, Point};
use super::result::PumpRun;
use super::sheet::{HOUSE, LANES, TEE};
use super::tables::Cycles;
use crate::plant::model::{Model, OutletClass};
use crate::plant::state::{
    DRAWN, N_STATES, NEEDLE_PRESSURE, SENSED_PRESSURE, SHAFT_WORK, SOURCE_WATER, SUPPLY_WORK,
    TANK_TEMPERATURE, TANK_WATER, USED,
};
use crate::plant::{Bladder, Command, Contacts, EventKind, Plant, Tick};

/// Longest time between two looks at the plant [ticks].
const LOOK_TICKS: u64 = 25;
/// How long the pump must have rested before the cycle engine takes over again [s].
const REST_S: f64 = 4.0;
/// Pressure that must be left at open outlets [Pa].
const LEAST_OUTLET_PA: f64 = 1_000.0;

/// A stretch of the plant engine.
pub(super) struct Stretch {
    pub(super) plant: Plant,
    /// When the pump last stopped [s].
    pub(super) stopped_s: f64,
    started_s: Option<f64>,
    runs: u64,
    open: Vec<usize>,
}

impl Stretch {
    pub(super) fn new(plant: Plant) -> Self {
        let openings = &plant.controls().fixture_openings;
        let open = (0..openings.len()).filter(|&i| openings[i] > 0.0).collect();
        Self {
            started_s: plant.is_powered().then(|| plant.now().seconds()),
            plant,
            stopped_s: f64::NEG_INFINITY,
            runs: 0,
            open,
        }
    }

    /// Goes on to a tick and writes down what happened.
    fn to<F: FnMut(&PumpRun)>(&mut self, tick: Tick, book: &mut Book<F>) -> Result<(), CycleError> {
        let before_s = self.plant.now().seconds();
        self.plant.advance_to(tick)?;
        for event in self.plant.take_events() {
            match event.kind {
                EventKind::PumpStarted => {
                    self.started_s = Some(event.time_s);
                    book.start(event.time_s);
                    book.run_lowest_pa = f64::INFINITY;
                }
                EventKind::PumpStopped => {
                    self.stopped_s = event.time_s;
                    if let Some(started_s) = self.started_s.take() {
                        self.runs += 1;
                        book.stop(started_s, event.time_s, true);
                    }
                }
                _ => {}
            }
        }
        if !self.open.is_empty() || self.started_s.is_some() {
            let y = self.plant.state_now();
            let house = self.plant.flows_at(&y).house.pressure - self.plant.model.atmosphere_pa;
            let seconds = self.plant.now().seconds() - before_s;
            book.pressure(&self.open, house, seconds, before_s);
            book.lowest(&self.open, house);
        }
        Ok(())
    }

    fn change(&mut self, changes: &mut Changes<'_>) -> Result<(), CycleError> {
        while let Some(change) = changes.due(self.plant.now().0) {
            self.plant.apply(Command::SetFixture {
                fixture: change.fixture,
                opening: change.opening,
            })?;
            self.open.retain(|&i| i != change.fixture);
            if change.opening > 0.0 {
                self.open.push(change.fixture);
            }
        }
        Ok(())
    }

    /// Opens and shuts outlets at the present tick.
    pub(super) fn set(&mut self, openings: &[f64]) -> Result<(), CycleError> {
        for (fixture, &opening) in openings.iter().enumerate() {
            if self.plant.controls().fixture_openings[fixture] != opening {
                self.plant.apply(Command::SetFixture { fixture, opening })?;
            }
        }
        self.open = (0..openings.len()).filter(|&i| openings[i] > 0.0).collect();
        Ok(())
    }

    /// Runs until the pump has come to rest in a system in good order, or to the end.
    pub(super) fn until_quiet<F: FnMut(&PumpRun)>(
        &mut self,
        changes: &mut Changes<'_>,
        book: &mut Book<F>,
        end: Tick,
        safe_source: f64,
    ) -> Result<(), CycleError> {
        let first = Sum::of(&self.plant);
        self.runs = 0;
        loop {
            self.change(changes)?;
            let now = self.plant.now();
            let y = self.plant.state_now();
            let is_back = self.started_s.is_none()
                && self.runs > 0
                && now.seconds() - self.stopped_s >= REST_S
                && checks::is_quiet(self.plant.modes())
                && y[SOURCE_WATER] >= safe_source;
            if is_back || now >= end {
                break;
            }
            let look = if self.open.is_empty() && self.started_s.is_none() {
                50 * LOOK_TICKS
            } else {
                LOOK_TICKS
            };
            let next = changes.next_tick().min(now.0 + look).min(end.0);
            self.to(Tick(next.max(now.0 + 1)), book)?;
        }
        self.add_up(&first, book);
        Ok(())
    }

    fn add_up<F: FnMut(&PumpRun)>(&self, first: &Sum, book: &mut Book<F>) {
        let last = Sum::of(&self.plant);
        let result = &mut book.result;
        result.supply_energy_j += last.supply - first.supply;
        result.shaft_energy_j += last.shaft - first.shaft;
        result.used_m3 += last.used - first.used;
        result.drawn_m3 += last.drawn - first.drawn;
        if let Some(started_s) = self.started_s {
            result.run_s += self.plant.now().seconds() - started_s;
        }
    }
}

/// Runs a whole schedule by the plant engine.
pub(super) fn to_end<F: FnMut(&PumpRun)>(
    mut stretch: Stretch,
    mut changes: Changes<'_>,
    book: &mut Book<F>,
    end: Tick,
) -> Result<(), CycleError> {
    let first = Sum::of(&stretch.plant);
    if let Some(started_s) = stretch.started_s {
        book.start(started_s);
    }
    while stretch.plant.now() < end {
        stretch.change(&mut changes)?;
        let now = stretch.plant.now().0;
        let look = if stretch.open.is_empty() {
            u64::MAX
        } else {
            now + 2 * LOOK_TICKS
        };
        let next = changes.next_tick().min(look).min(end.0);
        stretch.to(Tick(next.max(now + 1)), book)?;
    }
    stretch.add_up(&first, book);
    Ok(())
}

#[derive(Debug, Clone, Copy)]
struct Sum {
    supply: f64,
    shaft: f64,
    used: f64,
    drawn: f64,
}

impl Sum {
    fn of(plant: &Plant) -> Self {
        let y = plant.state_now();
        Self {
            supply: y[SUPPLY_WORK],
            shaft: y[SHAFT_WORK],
            used: y[USED],
            drawn: y[DRAWN],
        }
    }
}

/// A plant that stands where the cycle engine does.
pub(super) fn begin(
    cycles: &Cycles,
    plant: &Plant,
    config: &Config,
    pose: &Pose,
    pump: Pump,
    now_s: f64,
) -> Result<Stretch, CycleError> {
    let model = plant.model.as_ref();
    let mut controls = cycles.controls.clone();
    controls.fixture_openings.clone_from(&config.openings);
    let (mut modes, mut y, since) = match pump {
        Pump::Off(_) => (cycles.off_modes, cycles.off_state, None),
        Pump::On(since) | Pump::Empty(since) => (cycles.on_modes, cycles.on_state, Some(since)),
    };
    if matches!(pump, Pump::Empty(_)) {
        modes.bladder = Bladder::Flat;
    }
    y[SOURCE_WATER] = pose.source;
    y[TANK_TEMPERATURE] = pose.gas_k;
    y[TANK_WATER] = pose.water.max(0.0);
    let tee = Branch::new(model, modes, &controls)
        .and_then(|branch| branch.settle(&mut y))
        .map_or(cycles.cut_in, |point| point.lanes[TEE]);
    if since.is_some() {
        modes.contacts = Contacts::Closed;
    }
    y[SENSED_PRESSURE] = model.atmosphere_pa + tee;
    y[NEEDLE_PRESSURE] = model.atmosphere_pa + tee;
    let mut plant = plant.clone();
    let mut state = plant.snapshot();
    state.now = Tick((now_s * Tick::PER_SECOND as f64) as u64);
    state.controls = controls;
    state.modes = modes;
    state.powered_since_s = since;
    plant.restore(state);
    plant.settle_at(now_s, y, None)?;
    let mut stretch = Stretch::new(plant);
    if let Some(since) = since {
        stretch.started_s = Some(since);
    }
    Ok(stretch)
}

/// The settled state with the tank empty and the pump on.
pub(super) fn flat(
    cycles: &Cycles,
    model: &Model,
    config: &Config,
    pose: &Pose,
) -> Option<([f64; N_STATES], Point)> {
    let mut controls = cycles.controls.clone();
    controls.fixture_openings.clone_from(&config.openings);
    let mut modes = cycles.on_modes;
    modes.bladder = Bladder::Flat;
    let mut y = cycles.on_state;
    y[SOURCE_WATER] = pose.source;
    y[TANK_TEMPERATURE] = pose.gas_k;
    y[TANK_WATER] = 0.0;
    let branch = Branch::new(model, modes, &controls)?;
    let point = branch.settle(&mut y)?;
    Some((y, point))
}

/// Whether an empty tank's system goes on without drawing air or tripping its cut-off.
pub(super) fn is_flat_sound(
    cycles: &Cycles,
    model: &Model,
    config: &Config,
    lanes: &[f64; LANES],
) -> bool {
    let lowest = model
        .outlets
        .iter()
        .filter(|outlet| match outlet.class {
            OutletClass::Fixture(i) => config.openings[i] > 0.0,
            OutletClass::Drain | OutletClass::SmallDraw => false,
            OutletClass::Leak | OutletClass::Draw => true,
        })
        .fold(f64::INFINITY, |least, outlet| {
            least.min(lanes[HOUSE] - outlet.lift_pa)
        });
    let cut_off = model
        .circuit
        .as_ref()
        .and_then(|circuit| circuit.low_pressure_pa)
        .unwrap_or(f64::NEG_INFINITY);
    lowest > LEAST_OUTLET_PA
        && lanes[TEE] > cut_off + LEAST_OUTLET_PA
        && lanes[TEE] < cycles.cut_out
}
