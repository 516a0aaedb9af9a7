//! The cheaper path for fast limit cycles: a pump that chatters repeats itself.
//!
//! A waterlogged tank, or a valve shut before the tank, lets a pump start several times a
//! second for as long as nobody touches anything, and each cycle is the one before it but
//! for what creeps: heat, totals, the level of the source.  So one cycle in many is
//! integrated, and the steps between are repeats of its steps: the same lengths and the
//! same changes of state, added to where the plant stands.  Everything else goes as it
//! always does: contacts take their time, events are told, guards are watched at the end
//! of each step, damage adds up.  As soon as anything differs from the cycle on record
//! (another guard turns positive, another mode, a clock that falls due) the record is
//! dropped and the step is integrated.
//!
//! How many cycles may be repeated follows from how much a cycle changes from one to the
//! next: its second difference, summed over the repeats, must stay within the tolerance
//! of a single step (a multi-revolution method of first order).  Water and air balance to
//! rounding, because each repeated change balances.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::engine::{DEFAULT_TOLERANCE, SavedStep};
use super::modes::Guard;
use super::rosenbrock::Structure;
use super::state::{
    HOUSE_WATER, LINE_WATER, N_STATES, SENSED_PRESSURE, SHAFT_SPEED, TANK_WATER, TEE_WATER,
    TRUNK_FLOW,
};

/// Longest cycle that counts as a fast one [s].
const LONGEST_PERIOD_S: f64 = 12.0;
/// Most steps of a cycle on record.
const MOST_STEPS: usize = 200;
/// Most cycles repeated before one is integrated again.
const MOST_REPEATS: u32 = 32;
/// Error of an event's time over all repeats, at the default tolerance [s].
const TIME_ERROR_S: f64 = 1e-4;
/// Error of the repeats as a share of what the steps that they stand for may err by.
const SHARE_OF_STEPS: f64 = 0.1;
/// Drift of a quick component over all repeats, in units of a step's tolerance: the shape
/// of the cycle hangs on these, so they must all but come back.
const QUICK_DRIFT: f64 = 4.0;

/// Components that a cycle carries up and down, and that must come back.
const QUICK: [usize; 7] = [
    TEE_WATER,
    HOUSE_WATER,
    LINE_WATER,
    TRUNK_FLOW,
    SHAFT_SPEED,
    TANK_WATER,
    SENSED_PRESSURE,
];

/// One step of a cycle on record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Recorded {
    pub(crate) step: SavedStep,
    /// The guard that cut it short.
    pub(crate) ending: Option<Guard>,
    /// All changes of mode at its end, in order.
    pub(crate) changes: Vec<Guard>,
    /// How fast the water in a turning pump nears the temperature that it is driven to
    /// [1/s].  Nothing hangs on that temperature but what it spoils, so what it is off by
    /// may die away as a lag's does.
    pub(crate) pump_water_decay: f64,
}

/// Where the plant stood when the pressure switch last called for the pump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Call {
    time_s: f64,
    y: Vec<f64>,
}

/// What one cycle changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Drift {
    period_s: f64,
    y: Vec<f64>,
    /// Cycles between the middle of that one and the one that comes now.
    age: u32,
}

/// A cycle being repeated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Repeating {
    #[serde(with = "shared")]
    cycle: Arc<Vec<Recorded>>,
    next: usize,
    cycles_left: u32,
    cycles_done: u32,
}

/// What is known of the cycle that the plant is in.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub(crate) struct Repeats {
    call: Option<Call>,
    drift: Option<Drift>,
    recording: Option<Vec<Recorded>>,
    repeating: Option<Repeating>,
    /// The cycle that goes on is the first after repeats.
    settles: bool,
}

/// A record as serde sees it.
mod shared {
    use super::{Arc, Recorded};
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(super) fn serialize<S: Serializer>(
        record: &Arc<Vec<Recorded>>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        record.as_slice().serialize(serializer)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Arc<Vec<Recorded>>, D::Error> {
        Vec::deserialize(deserializer).map(Arc::new)
    }
}

impl Repeats {
    /// The step to repeat now, if a cycle is being repeated.
    pub(crate) fn due(&self) -> Option<&Recorded> {
        let repeating = self.repeating.as_ref()?;
        repeating.cycle.get(repeating.next)
    }

    /// Keeps a step that was integrated.
    pub(crate) fn record(
        &mut self,
        step: &SavedStep,
        ending: Option<Guard>,
        pump_water_decay: f64,
    ) {
        if let Some(recording) = &mut self.recording {
            if recording.len() == MOST_STEPS {
                self.recording = None;
                return;
            }
            recording.push(Recorded {
                step: step.clone(),
                ending,
                changes: Vec::new(),
                pump_water_decay,
            });
        }
    }

    /// Forgets what is being repeated: the plant has left the cycle.
    pub(crate) fn leave(&mut self) {
        *self = Self::default();
    }

    /// Whether a finished step's changes of mode are to be told to [`Repeats::ended`].
    pub(crate) fn watches(&self) -> bool {
        self.recording.is_some() || self.repeating.is_some()
    }

    /// A step has ended with these changes of mode.
    pub(crate) fn ended(&mut self, changes: &[Guard]) {
        if let Some(last) = self.recording.as_mut().and_then(|steps| steps.last_mut()) {
            last.changes.extend_from_slice(changes);
        }
        if let Some(repeating) = &mut self.repeating {
            if repeating.cycle[repeating.next].changes == changes {
                repeating.next += 1;
            } else {
                self.leave();
            }
        }
    }

    /// The pressure switch has called for the pump, at a time and state.
    pub(crate) fn called(
        &mut self,
        time_s: f64,
        y: &[f64; N_STATES],
        scales: &[f64; N_STATES],
        structure: &Structure<N_STATES>,
        tolerance: f64,
    ) {
        if let Some(repeating) = &mut self.repeating {
            if repeating.next != repeating.cycle.len() {
                self.leave();
                return;
            }
            repeating.cycles_done += 1;
            repeating.cycles_left -= 1;
            repeating.next = 0;
            if repeating.cycles_left > 0 {
                return;
            }
            // Two cycles in earnest: in the first, what the repeats were off by dies away;
            // the second tells where things creep to.
            if let Some(drift) = &mut self.drift {
                drift.age = repeating.cycles_done + 2;
            }
            self.repeating = None;
            self.settles = true;
            self.call = Some(Call {
                time_s,
                y: y.to_vec(),
            });
            return;
        }
        let recorded = self.recording.take();
        let before = self.call.replace(Call {
            time_s,
            y: y.to_vec(),
        });
        let Some(before) = before else { return };
        if std::mem::take(&mut self.settles) {
            self.recording = Some(Vec::new());
            return;
        }
        let period_s = time_s - before.time_s;
        if period_s > LONGEST_PERIOD_S {
            self.drift = None;
            return;
        }
        let drift = Drift {
            period_s,
            y: y.iter()
                .zip(&before.y)
                .map(|(now, then)| now - then)
                .collect(),
            age: 1,
        };
        let last = self.drift.replace(drift);
        let (Some(last), Some(now)) = (last, &self.drift) else {
            self.recording = Some(Vec::new());
            return;
        };
        let steps = recorded.as_ref().map_or(0, Vec::len);
        let repeats = may_repeat(&last, now, steps, scales, structure, tolerance);
        match recorded {
            Some(cycle) if repeats > 0 && !cycle.is_empty() => {
                self.repeating = Some(Repeating {
                    cycle: Arc::new(cycle),
                    next: 0,
                    cycles_left: repeats,
                    cycles_done: 0,
                });
            }
            _ => self.recording = Some(Vec::new()),
        }
    }
}

/// How many cycles may be repeated after two that changed the plant as told.
fn may_repeat(
    last: &Drift,
    now: &Drift,
    steps: usize,
    scales: &[f64; N_STATES],
    structure: &Structure<N_STATES>,
    tolerance: f64,
) -> u32 {
    let time_error_s = TIME_ERROR_S * (tolerance / DEFAULT_TOLERANCE).min(1.0);
    let age = f64::from(now.age.max(last.age));
    // Both grow with the triangular number of the repeats.
    let late = (now.period_s - last.period_s).abs() / (age * time_error_s);
    let mut worst: f64 = 0.0;
    // Lags are left out: a repeated step lets what they were off by die away as it does.
    let is_lag = |i| {
        let mut followers = structure.followers.iter();
        followers.any(|f| f.index == i && f.decay > 0.0)
    };
    for i in (0..N_STATES).filter(|&i| !is_lag(i)) {
        let second = (now.y[i] - last.y[i]).abs() / age;
        worst = worst.max(second / (tolerance * scales[i]));
    }
    // And with the repeats themselves where a quick component does not quite come back.
    let mut straight: f64 = 0.0;
    for i in QUICK {
        straight = straight.max(now.y[i].abs() / (QUICK_DRIFT * tolerance * scales[i]));
    }
    let mut repeats = 0;
    while repeats < MOST_REPEATS {
        let next = f64::from(repeats + 1);
        let triangle = 0.5 * next * (next + 1.0);
        let allowed = next * SHARE_OF_STEPS * steps as f64;
        if !(triangle * worst <= allowed && triangle * late <= 1.0 && next * straight <= 1.0) {
            break;
        }
        repeats += 1;
    }
    repeats
}
