//! The plant in time: steps, events, commands.
//!
//! The integrator runs ahead of the clock in steps of its own choosing; what is seen
//! at a tick is read off the step that covers it.  So the trajectory depends on the
//! commands and their ticks alone, never on how the calls were chunked.  A command cuts
//! the step at its tick and integration starts afresh from there.
//!
//! `steps` chooses and ends steps, `changes` says what a met guard does.
//!
//! `advance_to`, in order: end the step that is due (event: change modes until none is
//! due) → choose the next step → locate the first guard inside it → cut it there.

use serde::{Deserialize, Serialize};

use super::controls::{Command, CommandError, Controls};
use super::event::Event;
use super::flows::{Flows, N_CORE};
use super::model::Model;
use super::modes::{Device, Guard, Modes};
use super::repeats::Repeats;
use super::rosenbrock::{Step, Structure, Work};
use super::state::{N_STATES, NEEDLE_PRESSURE};
use super::system::structure;
use crate::units::Seconds;

/// Number of a tick; the plant starts at tick 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Tick(pub u64);

impl Tick {
    /// Ticks in a second.
    pub const PER_SECOND: u64 = 50;

    /// When the tick is, from the plant's start [s].
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as f64 / Self::PER_SECOND as f64
    }

    /// The tick at or just after a time.
    #[must_use]
    pub fn at_or_after(time: Seconds) -> Self {
        Self((time.si() * Self::PER_SECOND as f64).ceil().max(0.0) as u64)
    }

    /// The first tick that does not lie before a time to its last bit [s].  The product in
    /// [`Tick::at_or_after`] may be rounded down to a whole tick that lies just before, as
    /// is best for times that people add up.
    pub(crate) fn reaching(time_s: f64) -> Self {
        let tick = Self::at_or_after(Seconds(time_s));
        if tick.seconds() < time_s {
            Self(tick.0 + 1)
        } else {
            tick
        }
    }
}

/// Error tolerance of the engine when none is asked for: keeps totals of whole cycles
/// within 1e-4 of an integration at 1e-10.
pub const DEFAULT_TOLERANCE: f64 = 5e-5;

/// First step after an event [s].
const FIRST_STEP: f64 = 1e-3;
/// Longest step [s].
const LONGEST_STEP: f64 = 1e5;
/// Shortest step [s].
const SHORTEST_STEP: f64 = 1e-8;
/// Mode changes in one second of plant time that are taken for endless switching.
const MOST_CHANGES: u32 = 2_000;

/// Why the plant could not go on.  Fatal: the plant stays where it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum StepError {
    /// A part changes its mode without end at one instant.
    #[error("the {part} switches without end at {time_s} s")]
    EndlessSwitching {
        /// The part.
        part: &'static str,
        /// When [s].
        time_s: f64,
    },
    /// No step short enough keeps the error in bounds, or a number is not finite.
    #[error("the {quantity} cannot be followed at {time_s} s")]
    CannotFollow {
        /// What changes too fast or is not a number.
        quantity: &'static str,
        /// When [s].
        time_s: f64,
    },
}

/// What changes in a plant: enough, with the same site and faults, to go on from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlantState {
    pub(crate) now: Tick,
    pub(crate) step_start_s: f64,
    pub(crate) step: SavedStep,
    pub(crate) ending: Option<Guard>,
    pub(crate) next_length_s: f64,
    pub(crate) modes: Modes,
    pub(crate) controls: Controls,
    pub(crate) powered_since_s: Option<f64>,
    pub(crate) starts: u64,
    /// How often the pump's cables have been given power.
    pub(crate) feeds: u64,
    pub(crate) run_s: f64,
    pub(crate) lowest_house_pa: Option<f64>,
    /// Where stiction has left the gauge's needle [Pa, gauge].
    pub(crate) needle_pa: f64,
    /// Share of the winding insulation's life used up by heat.
    pub(crate) winding_wear: f64,
    pub(crate) changes: (f64, u32),
    /// The cycle that a chattering pump repeats.
    pub(crate) repeats: Repeats,
}

/// A step as it is saved.
pub(crate) type SavedStep = Step<N_STATES>;

/// A plant: what it is, and where it stands.
#[derive(Debug, Clone)]
pub struct Plant {
    pub(crate) model: std::sync::Arc<Model>,
    pub(crate) state: PlantState,
    structure: Structure<N_STATES>,
    events: Vec<Event>,
    tolerance: f64,
    work: Work,
    /// The guards at the end of the present step have been seen and none is met, so the
    /// end of the step need not look again.
    seen_clear: bool,
    /// Fast cycles may be repeated rather than integrated.
    may_repeat: bool,
}

impl Plant {
    pub(crate) fn assemble(model: Model, state: PlantState) -> Self {
        let structure = structure(&model, &state.modes, &state.controls);
        Self {
            model: std::sync::Arc::new(model),
            state,
            structure,
            events: Vec::new(),
            tolerance: DEFAULT_TOLERANCE,
            work: Work::default(),
            seen_clear: false,
            may_repeat: true,
        }
    }

    /// The same plant with another error tolerance ([`DEFAULT_TOLERANCE`] unless set).
    #[must_use]
    pub fn with_tolerance(mut self, tolerance: f64) -> Self {
        self.tolerance = tolerance;
        self
    }

    /// The same plant with every cycle integrated, also those of a pump that chatters: what
    /// the cheaper path is held against.
    #[must_use]
    pub fn without_repeats(mut self) -> Self {
        self.may_repeat = false;
        self.state.repeats.leave();
        self
    }

    /// The site as the faults have changed its numbers.
    #[must_use]
    pub fn site(&self) -> &crate::site::SiteSpec {
        &self.model.site
    }

    /// The present tick.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.state.now
    }

    /// What a person can set, as it is set.
    #[must_use]
    pub fn controls(&self) -> &Controls {
        &self.state.controls
    }

    /// Modes in force at the present tick.
    #[must_use]
    pub fn modes(&self) -> &Modes {
        &self.state.modes
    }

    /// Events so far that have not been taken, in order of time.
    #[must_use]
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// Takes the events so far out of the plant.
    pub fn take_events(&mut self) -> Vec<Event> {
        std::mem::take(&mut self.events)
    }

    /// Work done so far.
    #[must_use]
    pub fn work(&self) -> Work {
        self.work
    }

    /// What changes, to keep and go on from later.
    #[must_use]
    pub fn snapshot(&self) -> PlantState {
        self.state.clone()
    }

    /// Puts the plant where a snapshot of the same plant was; events are forgotten.
    pub fn restore(&mut self, state: PlantState) {
        self.state = state;
        self.events.clear();
        self.seen_clear = false;
        self.structure = structure(&self.model, &self.state.modes, &self.state.controls);
    }

    /// Whether the motor has power now.
    #[must_use]
    pub fn is_powered(&self) -> bool {
        self.model
            .is_powered(&self.state.modes, &self.state.controls)
    }

    /// State vector at the present tick.
    pub(crate) fn state_now(&self) -> [f64; N_STATES] {
        let s = &self.state;
        if s.step.h == 0.0 {
            return s.step.end;
        }
        let theta = ((s.now.seconds() - s.step_start_s) / s.step.h).clamp(0.0, 1.0);
        s.step.at(theta)
    }

    pub(crate) fn flows_at(&self, y: &[f64; N_STATES]) -> Flows<f64> {
        let mut core = [0.0; N_CORE];
        core.copy_from_slice(&y[..N_CORE]);
        self.model
            .flows(&core, &self.state.modes, &self.state.controls)
    }

    /// Goes on to a tick; does nothing when the tick is past or present: what commands
    /// have made due waits until time goes on, so that a call that goes nowhere cannot
    /// come between two commands of one tick.
    ///
    /// # Errors
    /// When the plant cannot be followed; it then stands at the last good instant.
    pub fn advance_to(&mut self, tick: Tick) -> Result<(), StepError> {
        if tick <= self.state.now {
            return Ok(());
        }
        self.run_to(tick)
    }

    fn run_to(&mut self, tick: Tick) -> Result<(), StepError> {
        let target = tick.seconds();
        while self.state.step_start_s + self.state.step.h <= target {
            self.end_step()?;
            self.begin_step()?;
        }
        self.state.now = self.state.now.max(tick);
        Ok(())
    }

    /// Goes on to the next event that `stop` accepts, or to `limit`; returns the event.
    /// The plant then stands at the first tick at or after it.
    ///
    /// # Errors
    /// As [`Plant::advance_to`].
    pub fn advance_until(
        &mut self,
        limit: Tick,
        mut stop: impl FnMut(&Event) -> bool,
    ) -> Result<Option<Event>, StepError> {
        if limit <= self.state.now {
            return Ok(None);
        }
        let mut seen = self.events.len();
        loop {
            let end = self.state.step_start_s + self.state.step.h;
            if end > limit.seconds() {
                self.advance_to(limit)?;
                return Ok(None);
            }
            self.run_to(Tick::reaching(end).min(limit))?;
            while seen < self.events.len() {
                let event = self.events[seen];
                seen += 1;
                if stop(&event) {
                    return Ok(Some(event));
                }
            }
            if self.state.now >= limit {
                return Ok(None);
            }
        }
    }

    /// Does something to the plant at the present tick.
    ///
    /// # Errors
    /// When the command asks for what cannot be; nothing is changed then.
    pub fn apply(&mut self, command: Command) -> Result<(), CommandError> {
        let (now_s, y) = (self.state.now.seconds(), self.state_now());
        self.apply_at_time(command, now_s, y)
    }

    pub(crate) fn apply_at_time(
        &mut self,
        command: Command,
        now_s: f64,
        mut y: [f64; N_STATES],
    ) -> Result<(), CommandError> {
        let mut controls = self.state.controls.clone();
        controls.apply(command)?;
        let was_powered = self.is_powered();
        let was_fed = self.is_fed();
        self.wear_winding(now_s);
        self.act(command, &controls, &mut y);
        self.start_afresh(now_s, y);
        self.state.controls = controls;
        let circuit = &mut self.state.modes.circuit;
        if command == Command::SetBreaker(false) {
            // A tripped breaker is reset by switching it off, then on.
            circuit.breaker = Device::Closed;
            circuit.ground_fault = Device::Closed;
        }
        if command == Command::HoldLever(true) {
            circuit.low_pressure = Device::Closed;
        }
        self.drop_cable_may_move(was_fed);
        self.power_may_have_changed(was_powered, now_s);
        self.structure = structure(&self.model, &self.state.modes, &self.state.controls);
        Ok(())
    }

    /// Puts another model in the place of the present one at the present tick, with the
    /// state that `carry` makes of the present one; integration starts afresh.
    pub(crate) fn exchange_model(
        &mut self,
        model: Model,
        carry: impl FnOnce(&Model, &Model, &mut PlantState, &mut [f64; N_STATES]),
    ) {
        let (now_s, mut y) = (self.state.now.seconds(), self.state_now());
        let was_powered = self.is_powered();
        self.wear_winding(now_s);
        self.state.needle_pa = self.needle_after(self.state.needle_pa, &y);
        carry(&self.model, &model, &mut self.state, &mut y);
        self.model = std::sync::Arc::new(model);
        self.start_afresh(now_s, y);
        self.power_may_have_changed(was_powered, now_s);
        self.structure = structure(&self.model, &self.state.modes, &self.state.controls);
    }

    /// Integration starts afresh from a time and state.
    pub(super) fn start_afresh(&mut self, now_s: f64, y: [f64; N_STATES]) {
        self.state.step = Step::resting(y);
        self.state.step_start_s = now_s;
        self.state.ending = None;
        self.state.next_length_s = FIRST_STEP;
        self.state.repeats.leave();
        self.seen_clear = false;
    }

    /// Where the needle stands once the movement has come to `y`: stiction lets it hang
    /// back until the movement is ahead by more than it can hold.
    pub(crate) fn needle_after(&self, needle_pa: f64, y: &[f64; N_STATES]) -> f64 {
        let stiction = self.model.site.wall.gauge.stiction.si();
        let moved = y[NEEDLE_PRESSURE] - self.model.atmosphere_pa;
        needle_pa.clamp(moved - stiction, moved + stiction)
    }
}

mod changes;
mod steps;
