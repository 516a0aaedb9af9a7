//! What a system went through before the technician came: how often its pump started, and
//! what that left on the contacts of its pressure switch.
//!
//! One day is lived on the plant, with its faults and a household, and counted for the whole
//! time.  Left out: that the fault grew, that the worn contacts wear faster, and every other
//! part that starts wear (capacitor, start switch, coupling).

use super::spec::{History, Scenario};
use crate::demand::{DemandSchedule, Household, household, nominal_flow_m3_per_s};
use crate::digest::Fnv1a;
use crate::faults::{Fault, FaultKind, Need};
use crate::plant::{BuildError, Command, Plant, Start, StepError, Tick};
use crate::site::SiteSpec;
use crate::units::Seconds;

/// Starts after which a pole of the switch has [`WORN_OHM`] of resistance: contacts of such
/// switches are rated for about so many operations (common practice, no source).
const WORN_STARTS: f64 = 100_000.0;
/// Resistance of a pole after [`WORN_STARTS`] [ohm]; training value.
const WORN_OHM: f64 = 2.0;
/// Least resistance that is worth a fault [ohm]; training value.
const LEAST_OHM: f64 = 0.1;

/// Longest time that is lived through on the plant [s].
const SAMPLE_S: f64 = 86_400.0;
/// Starts after which a sample is long enough, which bounds the work on a pump that cycles
/// every second.
const MOST_STARTS: u64 = 400;
/// Steps of the integrator after which a sample is long enough; a healthy day takes some
/// ten thousand.
const MOST_STEPS: u64 = 250_000;
/// How often a sample is asked whether it is long enough [s].
const LOOK_EVERY_S: f64 = 60.0;

/// What a time before the visit came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Lived {
    /// Faults that it left behind.
    pub wear: Vec<Fault>,
    /// Times that the pump started.
    pub starts: f64,
}

/// Why a time before the visit could not be followed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LifeError {
    /// A fault does not fit the site.
    #[error(transparent)]
    Build(#[from] BuildError),
    /// The plant cannot be followed.
    #[error(transparent)]
    Step(#[from] StepError),
}

/// What so many starts of the pump leave on the contacts of its pressure switch: a pole's
/// resistance grows with the square of their number; none while it is too small to matter.
///
/// ```
/// use sim_core::scenario::wear_from;
///
/// assert!(wear_from(10_000.0).is_none());
/// assert_eq!(wear_from(100_000.0).map(|fault| fault.severity), Some(2.0));
/// ```
#[must_use]
pub fn wear_from(starts: f64) -> Option<Fault> {
    let share = starts / WORN_STARTS;
    let ohm = WORN_OHM * share * share;
    let info = FaultKind::ContactsBurnt.info();
    (ohm > LEAST_OHM).then(|| Fault {
        kind: FaultKind::ContactsBurnt,
        severity: ohm.min(info.range.1 * info.si_per_unit),
    })
}

impl Scenario {
    /// Lives through what was before the visit, with these faults: what it left behind, or
    /// nothing where the scenario has no history.
    ///
    /// `seed` makes up the household.  Contacts that are faulty already are left as they are.
    ///
    /// # Errors
    /// When a fault does not fit the site or the plant cannot be followed.
    pub fn live_through(&self, faults: &[Fault], seed: u64) -> Result<Option<Lived>, LifeError> {
        let Some(history) = &self.history else {
            return Ok(None);
        };
        let starts = starts_in(&self.site, faults, history, seed)?;
        let is_worn_anew = Need::Wiring.is_met_by(&self.site)
            && !faults.iter().any(|fault| {
                matches!(
                    fault.kind,
                    FaultKind::ContactsBurnt | FaultKind::ContactsWelded
                )
            });
        let wear = wear_from(starts).filter(|_| is_worn_anew);
        Ok(Some(Lived {
            wear: wear.into_iter().collect(),
            starts,
        }))
    }
}

/// Starts of the pump in the whole time.
fn starts_in(
    site: &SiteSpec,
    faults: &[Fault],
    history: &History,
    seed: u64,
) -> Result<f64, LifeError> {
    let sample_s = history.time_s.min(SAMPLE_S);
    let demand = household(
        &Household {
            // Another household than the one that is at home during the visit.
            seed: seed ^ Fnv1a::of(b"scenario/history"),
            draws_per_day: history.draws_per_day,
            days: sample_s / 86_400.0,
        },
        &site.house.fixtures,
    );
    let mut plant = Plant::build(site, faults, Start::Charged)?;
    let end = Tick::at_or_after(Seconds(sample_s));
    let look_every = Tick::at_or_after(Seconds(LOOK_EVERY_S)).0;
    let commands = commands(&demand);
    let mut next = 0;
    while plant.now() < end {
        while let Some((tick, command)) = commands.get(next)
            && *tick <= plant.now()
        {
            // Outlets come from the site's own list, so that no command is refused.
            let applied = plant.apply(*command);
            debug_assert!(applied.is_ok(), "{applied:?}");
            next += 1;
        }
        let due = commands.get(next).map_or(end, |(tick, _)| *tick);
        plant.advance_to(due.min(Tick(plant.now().0 + look_every)).min(end))?;
        plant.take_events();
        if plant.totals().pump_starts >= MOST_STARTS || plant.work().accepted >= MOST_STEPS {
            break;
        }
    }
    let share = share_lived(site, &demand, plant.now(), end);
    Ok(plant.totals().pump_starts as f64 / share * (history.time_s / sample_s))
}

/// How much of a sample a shorter one stands for: the greater of its share of the time and
/// of the water asked for, since a household asks for most of it in a few hours.
fn share_lived(site: &SiteSpec, demand: &DemandSchedule, now: Tick, end: Tick) -> f64 {
    let share_of_time = now.0 as f64 / end.0 as f64;
    let (mut asked_by_now, mut asked) = (0.0, 0.0);
    for draw in demand.draws() {
        let flow = draw.opening * nominal_flow_m3_per_s(&site.house.fixtures[draw.fixture]);
        let until_now = draw.end_ticks().min(now.0).saturating_sub(draw.start_ticks);
        asked_by_now += flow * until_now as f64;
        asked += flow * draw.duration_ticks as f64;
    }
    if asked > 0.0 {
        share_of_time.max(asked_by_now / asked)
    } else {
        share_of_time
    }
}

/// Every outlet opened and shut, in order of tick; at one tick shut before opened.
fn commands(demand: &DemandSchedule) -> Vec<(Tick, Command)> {
    let set = |fixture, opening| Command::SetFixture { fixture, opening };
    let mut commands: Vec<(Tick, Command)> = Vec::with_capacity(2 * demand.draws().len());
    for draw in demand.draws() {
        commands.push((Tick(draw.end_ticks()), set(draw.fixture, 0.0)));
    }
    for draw in demand.draws() {
        commands.push((Tick(draw.start_ticks), set(draw.fixture, draw.opening)));
    }
    commands.sort_by_key(|(tick, _)| *tick);
    commands
}
