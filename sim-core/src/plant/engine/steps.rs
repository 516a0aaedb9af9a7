//! Ending one step and choosing the next: integrated, cut at a guard, or repeated.

use super::super::circuit::winding_wear_per_s;
use super::super::modes::Guard;
use super::super::rosenbrock::{
    Follower, Linearization, Step, System, Work, next_length, try_step,
};
use super::super::state::{N_STATES, PUMP_WATER_TEMPERATURE, STATE_NAMES, WINDING_TEMPERATURE};
use super::super::system::PlantSystem;
use super::{FIRST_STEP, LONGEST_STEP, Plant, SHORTEST_STEP, StepError};

impl Plant {
    /// Adds the wear of the winding from the start of the step to `until_s` (Simpson's
    /// rule: wear hangs on a follower, so it cannot be one).
    pub(super) fn wear_winding(&mut self, until_s: f64) {
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
    pub(super) fn end_step(&mut self) -> Result<(), StepError> {
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

    /// Chooses the next step and cuts it at the first guard inside it.
    pub(super) fn begin_step(&mut self) -> Result<(), StepError> {
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
