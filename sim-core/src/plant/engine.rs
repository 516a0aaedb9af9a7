//! The plant in time: steps, events, commands.
//!
//! The integrator runs ahead of the clock in steps of its own choosing; what is seen
//! at a tick is read off the step that covers it.  So the trajectory depends on the
//! commands and their ticks alone, never on how the calls were chunked.  A command cuts
//! the step at its tick and integration starts afresh from there.
//!
//! `advance_to`, in order: end the step that is due (event: change modes until none is
//! due) → choose the next step → locate the first guard inside it → cut it there.

use serde::{Deserialize, Serialize};

use super::circuit::{is_open_at_start, winding_wear_per_s};
use super::controls::{Command, CommandError, Controls};
use super::event::{Event, EventKind};
use super::flows::{Flows, N_CORE};
use super::model::{Model, TRACE_AIR_KG};
use super::modes::{Air, Bladder, Contacts, Device, Front, Guard, Modes, Shaft, SmallDraw, Trunk};
use super::repeats::Repeats;
use super::rosenbrock::{
    Follower, Linearization, Step, Structure, System, Work, next_length, try_step,
};
use super::state::{
    LINE_AIR, N_STATES, NEEDLE_PRESSURE, PUMP_WATER_TEMPERATURE, SHAFT_SPEED, STATE_NAMES,
    TANK_AIR, TANK_WATER, TEE_AIR, TEE_WATER, TRUNK_FLOW, WINDING_TEMPERATURE,
};
use super::system::{PlantSystem, structure};
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

    /// Adds the wear of the winding from the start of the step to `until_s` (Simpson's
    /// rule: wear hangs on a follower, so it cannot be one).
    fn wear_winding(&mut self, until_s: f64) {
        let (step, start_s) = (&self.state.step, self.state.step_start_s);
        if self.model.circuit.is_none() || step.h == 0.0 {
            return;
        }
        let share = ((until_s - start_s) / step.h).clamp(0.0, 1.0);
        let rate =
            |theta: f64| winding_wear_per_s(step.component_at(WINDING_TEMPERATURE, theta * share));
        let mean = (rate(0.0) + 4.0 * rate(0.5) + rate(1.0)) / 6.0;
        self.state.winding_wear += mean * step.h * share;
    }

    /// Brings the finished step to its end: changes modes until none is due.
    fn end_step(&mut self) -> Result<(), StepError> {
        let time_s = self.state.step_start_s + self.state.step.h;
        self.wear_winding(time_s);
        let mut y = self.state.step.end;
        let mut changes = Vec::new();
        if self.state.winding_wear >= 1.0 && !self.state.modes.damage.winding {
            changes.push(Guard::WindingFails);
            self.change_mode(Guard::WindingFails, time_s, &mut y);
        }
        if let Some(guard) = self.state.ending.take() {
            self.count_change(guard, time_s)?;
            changes.push(guard);
            self.change_mode(guard, time_s, &mut y);
        }
        let is_clear = std::mem::take(&mut self.seen_clear) && changes.is_empty();
        if !is_clear {
            self.change_what_is_due(time_s, &mut y, &mut changes)?;
        }
        self.watch_repeats(&changes, time_s, &y);
        if self
            .model
            .is_anything_drawn(&self.state.modes, &self.state.controls)
        {
            let house = self.flows_at(&y).house.pressure - self.model.atmosphere_pa;
            let lowest = self.state.lowest_house_pa.map_or(house, |l| l.min(house));
            self.state.lowest_house_pa = Some(lowest);
        }
        self.state.step = Step::resting(y);
        self.state.step_start_s = time_s;
        Ok(())
    }

    /// Makes the changes that the first one, or a command, made due at the same instant.
    fn change_what_is_due(
        &mut self,
        time_s: f64,
        y: &mut [f64; N_STATES],
        changes: &mut Vec<Guard>,
    ) -> Result<(), StepError> {
        loop {
            let guards = self
                .model
                .guards(y, &self.state.modes, &self.state.controls);
            let due = guards.as_slice().iter().find(|(_, value)| *value > 0.0);
            let Some(&(guard, _)) = due else { break };
            self.count_change(guard, time_s)?;
            changes.push(guard);
            self.change_mode(guard, time_s, y);
        }
        Ok(())
    }

    /// Tells the record of a fast cycle how a step has ended.
    fn watch_repeats(&mut self, changes: &[Guard], time_s: f64, y: &[f64; N_STATES]) {
        if self.state.repeats.watches() {
            self.state.repeats.ended(changes);
        }
        let circuit = self.model.circuit.as_ref();
        // A chafed cable decides by the count of starts: no cycle tells of the next.
        let is_fickle = circuit.is_some_and(|circuit| circuit.chafed_open_share.is_some());
        if !self.may_repeat || is_fickle || !changes.contains(&Guard::CutIn) {
            return;
        }
        let system = PlantSystem::new(
            &self.model,
            self.state.modes,
            &self.state.controls,
            &self.structure,
        );
        let mut scales = [1.0; N_STATES];
        system.error_scales(y, &mut scales);
        self.state
            .repeats
            .called(time_s, y, &scales, &self.structure, self.tolerance);
    }

    /// Repeats the step that a fast cycle has on record for here; false when there is none
    /// or it does not fit any more.
    fn repeat_step(&mut self, timer: f64, due: Option<Guard>) -> bool {
        let Some(recorded) = self.state.repeats.due() else {
            return false;
        };
        let ending = recorded.ending;
        let recorded_is_plain = recorded.changes.is_empty();
        let lags = self.structure.followers.iter().copied();
        let warmth = Follower::lag(PUMP_WATER_TEMPERATURE, recorded.pump_water_decay);
        let step = recorded
            .step
            .moved_to(&self.state.step.end, lags.chain([warmth]));
        let is_on_time = if ending.is_some() && ending == due {
            (step.h - timer).abs() < SHORTEST_STEP
        } else {
            step.h < timer
        };
        let fits = is_on_time
            && self
                .model
                .guards(&step.end, &self.state.modes, &self.state.controls)
                .as_slice()
                .iter()
                .all(|&(guard, value)| value <= 0.0 || recorded.changes.contains(&guard));
        if !fits {
            self.state.repeats.leave();
            return false;
        }
        self.work.repeated += 1;
        self.seen_clear = recorded_is_plain;
        self.state.step = step;
        self.state.ending = ending;
        self.state.next_length_s = FIRST_STEP;
        true
    }

    /// Puts the plant at a time and state and makes the changes due there.
    pub(crate) fn settle_at(
        &mut self,
        time_s: f64,
        y: [f64; N_STATES],
        fired: Option<Guard>,
    ) -> Result<(), StepError> {
        self.state.step = Step::resting(y);
        self.state.step_start_s = time_s;
        self.state.ending = fired;
        self.seen_clear = false;
        self.end_step()
    }

    /// Where the needle stands once the movement has come to `y`: stiction lets it hang
    /// back until the movement is ahead by more than it can hold.
    pub(crate) fn needle_after(&self, needle_pa: f64, y: &[f64; N_STATES]) -> f64 {
        let stiction = self.model.site.wall.gauge.stiction.si();
        let moved = y[NEEDLE_PRESSURE] - self.model.atmosphere_pa;
        needle_pa.clamp(moved - stiction, moved + stiction)
    }

    /// Chooses the next step and cuts it at the first guard inside it.
    fn begin_step(&mut self) -> Result<(), StepError> {
        let y = self.state.step.end;
        let start_s = self.state.step_start_s;
        let next_timer = self.state.modes.next_timer();
        let timer = next_timer.map_or(f64::INFINITY, |(at, _)| at - start_s);
        let due = next_timer.map(|(_, guard)| guard);
        if timer <= 0.0 {
            self.state.ending = due;
            self.state.repeats.leave();
            return Ok(());
        }
        if self.repeat_step(timer, due) {
            return Ok(());
        }
        let system = PlantSystem::new(
            &self.model,
            self.state.modes,
            &self.state.controls,
            &self.structure,
        );
        let linear = Linearization::new(&system, &y);
        let mut h = self.state.next_length_s.min(LONGEST_STEP);
        let mut ending = None;
        if h >= timer {
            h = timer;
            ending = due;
        }
        let (step, guard) = loop {
            let (step, error) = try_step(&system, &y, &linear, h, self.tolerance, &mut self.work);
            let is_shortest = h <= SHORTEST_STEP;
            // `<=` and not `!(>)`: a NaN must be thrown away.  At the shortest step any
            // finite error will do: a kink that no step is short enough to see as smooth,
            // and over a hundredth of a microsecond what is missed does not matter.
            if error <= 1.0 || (is_shortest && error.is_finite()) {
                self.state.next_length_s = next_length(h, error.min(1.0));
                let (cut, guard) = self.locate(&system, &linear, &y, step);
                let is_lost =
                    guard.is_none() && self.model.overruns_bladder(&y, &cut.end, &self.state.modes);
                if !(is_lost && h > FIRST_STEP) {
                    break (cut, guard);
                }
                h *= 0.3;
            } else if is_shortest {
                let quantity = STATE_NAMES[linear.fastest(&self.structure)];
                return Err(StepError::CannotFollow {
                    quantity,
                    time_s: start_s,
                });
            } else {
                h = next_length(h, error).max(SHORTEST_STEP);
            }
            ending = None;
        };
        if guard.is_some() {
            ending = guard;
        }
        if ending.is_some() {
            self.state.next_length_s = FIRST_STEP;
        }
        self.seen_clear = ending.is_none();
        let decay = linear.decay_of(PUMP_WATER_TEMPERATURE, &self.structure);
        self.state.repeats.record(&step, ending, decay);
        self.state.step = step;
        self.state.ending = ending;
        Ok(())
    }

    /// Finds the first guard that turns positive inside a step and cuts the step there.
    fn locate(
        &self,
        system: &PlantSystem<'_>,
        linear: &Linearization<N_STATES>,
        y: &[f64; N_STATES],
        step: Step<N_STATES>,
    ) -> (Step<N_STATES>, Option<Guard>) {
        let guards_at = |state: &[f64; N_STATES]| {
            self.model
                .guards(state, &self.state.modes, &self.state.controls)
        };
        let mut first: Option<(f64, Guard)> = None;
        for theta in [0.5, 1.0] {
            let state = if theta < 1.0 {
                step.at(theta)
            } else {
                step.end
            };
            for &(guard, value) in guards_at(&state).as_slice() {
                if value > 0.0 {
                    let at = root(|t| guards_at(&step.at(t)).value_of(guard), theta);
                    if first.is_none_or(|(best, _)| at < best) {
                        first = Some((at, guard));
                    }
                }
            }
            if first.is_some() {
                break;
            }
        }
        let Some((theta, guard)) = first else {
            return (step, None);
        };
        // The interpolant says where; a step of just that length says what is there.
        let mut h = (theta * step.h).max(SHORTEST_STEP);
        let mut cut = step.clone();
        for _ in 0..3 {
            let mut scratch = Work::default();
            let (shorter, error) = try_step(system, y, linear, h, f64::INFINITY, &mut scratch);
            if !error.is_finite() {
                break;
            }
            cut = shorter;
            // One secant correction with the interpolant's slope.
            let value = guards_at(&cut.end).value_of(guard);
            let before = guards_at(&cut.at(0.98)).value_of(guard);
            let slope = (value - before) / (0.02 * h);
            let correction = value / slope;
            if !(correction.is_finite() && correction.abs() > 1e-7) {
                break;
            }
            h = (h - correction).clamp(0.5 * h, step.h.min(2.0 * h));
        }
        (cut, Some(guard))
    }

    fn count_change(&mut self, guard: Guard, time_s: f64) -> Result<(), StepError> {
        let (window_start_s, count) = self.state.changes;
        if time_s - window_start_s > 1.0 {
            self.state.changes = (time_s, 1);
        } else {
            self.state.changes = (window_start_s, count + 1);
            if count + 1 > MOST_CHANGES {
                return Err(StepError::EndlessSwitching {
                    part: guard.part(),
                    time_s,
                });
            }
        }
        Ok(())
    }

    fn change_mode(&mut self, guard: Guard, time_s: f64, y: &mut [f64; N_STATES]) {
        let was_powered = self.is_powered();
        let was_fed = self.is_fed();
        let delay = self.model.contact_delay;
        // A gap that held next to no air was a void: the columns meet with a bang.
        let is_void = guard == Guard::AirGone
            && self.model.line.is_some()
            && y[LINE_AIR] < 100.0 * TRACE_AIR_KG;
        let kind = if is_void {
            Some(EventKind::VoidClosed)
        } else {
            guard.event()
        };
        let told = kind.map(|kind| self.event(kind, time_s, y));
        let modes = &mut self.state.modes;
        match guard {
            Guard::CutOut => modes.contacts = Contacts::Opening(time_s + delay),
            Guard::CutIn => modes.contacts = Contacts::Closing(time_s + delay),
            Guard::ContactsArrive => {
                let (contacts, kind) = match modes.contacts {
                    Contacts::Opening(_) | Contacts::Open => {
                        (Contacts::Open, EventKind::ContactsOpened)
                    }
                    Contacts::Closing(_) | Contacts::Closed => {
                        (Contacts::Closed, EventKind::ContactsClosed)
                    }
                };
                modes.contacts = contacts;
                let event = self.event(kind, time_s, y);
                self.events.push(event);
            }
            Guard::CheckShuts => {
                modes.trunk = Trunk::Shut;
                y[TRUNK_FLOW] = 0.0;
            }
            Guard::CheckOpens => {
                modes.trunk = Trunk::Open;
                y[TRUNK_FLOW] = 0.0;
            }
            Guard::BladderFlat => {
                modes.bladder = Bladder::Flat;
                // What the event's place leaves over, either way, goes back to the tee.
                y[TEE_WATER] += y[TANK_WATER];
                y[TEE_AIR] += y[TANK_AIR];
                y[TANK_WATER] = 0.0;
                y[TANK_AIR] = 0.0;
            }
            Guard::BladderFull => modes.bladder = Bladder::Full,
            Guard::BladderFilling | Guard::BladderGiving => {
                modes.bladder = Bladder::Free;
                modes.bladder_released = true;
            }
            Guard::ShaftStops => {
                modes.shaft = Shaft::Resting;
                y[SHAFT_SPEED] = 0.0;
            }
            Guard::AirEnters | Guard::ColumnParts => modes.air = Air::Moving,
            Guard::AirGone => modes.air = Air::Settled,
            Guard::WaterArrives => modes.front = Front::Spitting,
            Guard::LineSolid => modes.front = Front::Solid,
            Guard::WaterRecedes => modes.front = Front::Coming,
            Guard::BreakerTrips => modes.circuit.breaker = Device::Open,
            Guard::GroundFaultTrips => modes.circuit.ground_fault = Device::Open,
            Guard::ProtectorTrips => modes.circuit.protector = Device::Open,
            Guard::ProtectorResets => modes.circuit.protector = Device::Closed,
            Guard::FloatOpens => modes.circuit.float = Device::Open,
            Guard::FloatCloses => modes.circuit.float = Device::Closed,
            Guard::LowPressureTrips => modes.circuit.low_pressure = Device::Open,
            Guard::StartSwitchOpens => modes.circuit.start_switch = Device::Open,
            Guard::StartSwitchCloses => modes.circuit.start_switch = Device::Closed,
            Guard::JointBurns => modes.circuit.joint_level += 1,
            Guard::SealFails => modes.damage.seal = true,
            Guard::WindingFails => modes.damage.winding = true,
            Guard::ImpellersWarp => modes.damage.impellers = true,
            Guard::SmallDrawTurns => {
                // From time to time as set, not from when it was found: so it never drifts.
                if let Some(draws) = &self.model.defects.small_draws {
                    modes.small_draw = match modes.small_draw {
                        SmallDraw::Shut(until) => SmallDraw::Open(until + draws.open_s),
                        SmallDraw::Open(until) => {
                            SmallDraw::Shut(until + draws.every_s - draws.open_s)
                        }
                        SmallDraw::Never => SmallDraw::Never,
                    };
                }
            }
        }
        self.drop_cable_may_move(was_fed);
        self.events.extend(told);
        self.state.step = Step::resting(*y);
        self.state.step_start_s = time_s;
        self.power_may_have_changed(was_powered, time_s);
        self.structure = structure(&self.model, &self.state.modes, &self.state.controls);
        self.state.next_length_s = FIRST_STEP;
    }

    fn is_fed(&self) -> bool {
        self.model.is_fed(&self.state.modes, &self.state.controls)
    }

    /// A chafed drop cable comes to lie anew each time the cables are given power.
    fn drop_cable_may_move(&mut self, was_fed: bool) {
        if was_fed || !self.is_fed() {
            return;
        }
        self.state.feeds += 1;
        let circuit = self.model.circuit.as_ref();
        if let Some(share) = circuit.and_then(|circuit| circuit.chafed_open_share) {
            self.state.modes.circuit.drop_cable = if is_open_at_start(share, self.state.feeds) {
                Device::Open
            } else {
                Device::Closed
            };
        }
    }

    fn power_may_have_changed(&mut self, was_powered: bool, time_s: f64) {
        let is_powered = self.is_powered();
        if is_powered == was_powered {
            return;
        }
        let kind = if is_powered {
            self.state.powered_since_s = Some(time_s);
            self.state.starts += 1;
            self.state.modes.shaft = Shaft::Turning;
            EventKind::PumpStarted
        } else {
            let since = self.state.powered_since_s.take().unwrap_or(time_s);
            self.state.run_s += time_s - since;
            EventKind::PumpStopped
        };
        let event = self.event(kind, time_s, &self.state.step.end.clone());
        self.events.push(event);
    }

    fn event(&self, kind: EventKind, time_s: f64, y: &[f64; N_STATES]) -> Event {
        let f = self.flows_at(y);
        Event {
            time_s,
            kind,
            tee_pressure_pa: f.tee.pressure - self.model.atmosphere_pa,
            pump_flow_m3_per_s: f.trunk_water + f.returned,
        }
    }
}

/// Share of a step at which `value` turns positive, between 0 and `high` (where it is).
fn root(value: impl Fn(f64) -> f64, high: f64) -> f64 {
    let (mut low, mut high) = (0.0, high);
    let (mut at_low, mut at_high) = (value(low), value(high));
    if at_low > 0.0 {
        return low;
    }
    // Regula falsi, Illinois variant; the bracket only shrinks.
    let mut side = 0;
    for _ in 0..80 {
        let mut middle = (low * at_high - high * at_low) / (at_high - at_low);
        if !(middle > low && middle < high) {
            middle = 0.5 * (low + high);
        }
        let at_middle = value(middle);
        if at_middle > 0.0 {
            (high, at_high) = (middle, at_middle);
            if side == 1 {
                at_low *= 0.5;
            }
            side = 1;
        } else {
            (low, at_low) = (middle, at_middle);
            if side == -1 {
                at_high *= 0.5;
            }
            side = -1;
        }
        if high - low < 1e-10 || at_middle == 0.0 {
            break;
        }
    }
    high
}
