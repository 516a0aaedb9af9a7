//! Lives through the days of one setting.
//!
//! [`simulate()`] is the one door between a study and the engine that does the work: the
//! cycle engine, which leaves to the plant what its assumptions do not cover and says how
//! often.  [`simulate_by_plant()`] is the plant alone: slow, and what the other is held to.
//!
//! Days are counted from the start of the run, hours as any sixty minutes that begin with
//! a start.  Pressure at an outlet is that before it, at its own height, looked at every
//! few seconds while it is open and just before it is shut.

use super::cycle::{self, CycleError, CycleTables};
use super::grid::Case;
use super::lengths::RunLengths;
use super::results::{Outcome, SettingRow, Summary};
use super::schedules::Schedules;
use super::spec::{Demand, Study};
use crate::demand::{AddOns, DemandSchedule, Draw, Household, TICKS_PER_SECOND, household_with};
use crate::faults::Fault;
use crate::parts::FixtureSpec;
use crate::plant::{BuildError, Command, CommandError, EventKind, Plant, Start, StepError, Tick};
use crate::site::SiteSpec;
use crate::units::Seconds;

/// People in the house that the generator's reference household stands for (the mean of the
/// households measured, from memory, to be checked against the report).
const REFERENCE_OCCUPANTS: f64 = 2.6;
/// Draws a day of that household.
const REFERENCE_DRAWS_PER_DAY: f64 = 60.0;
/// Time between looks at the pressure before an open outlet.
const LOOK_TICKS: u64 = 5 * TICKS_PER_SECOND;
/// Time after an outlet is opened until its pressure counts: the pipes settle.
const SETTLE_TICKS: u64 = TICKS_PER_SECOND;
const DAY_S: f64 = 86_400.0;
const HOUR_S: f64 = 3_600.0;

/// What the days of one setting came to, for one household.
#[derive(Debug, Clone, PartialEq)]
pub struct SettingResult {
    /// Days lived through.
    pub days: f64,
    /// Starts of the pump.
    pub starts: u64,
    /// Starts on each whole day.
    pub starts_per_day: Vec<f64>,
    /// Starts in the busiest hour.
    pub most_starts_in_an_hour: u64,
    /// Lengths of the runs that came to their end.
    pub run_lengths: RunLengths,
    /// Time with the motor powered [s].
    pub run_s: f64,
    /// Energy from the supply, or work at the shaft where the site has no wiring [J].
    pub energy_j: f64,
    /// Water taken from the source [m³].
    pub pumped_m3: f64,
    /// Water that left by the house's outlets [m³].
    pub used_m3: f64,
    /// Pressure at each outlet, in the site's order.
    pub fixtures: Vec<FixturePressure>,
    /// Times that a faster engine had to hand over to the plant.
    pub hand_overs: u64,
}

/// Pressure before one outlet while it was open.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FixturePressure {
    /// Lowest [Pa, gauge]; none when it was never open.
    pub lowest_pa: Option<f64>,
    /// Median over time [Pa, gauge].
    pub median_pa: Option<f64>,
}

/// Why a setting could not be lived through.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SimulateError {
    /// No plant can be built of it.
    #[error(transparent)]
    Build(#[from] BuildError),
    /// The plant could not be followed.
    #[error(transparent)]
    Step(#[from] StepError),
    /// A draw asks for what cannot be.
    #[error(transparent)]
    Draw(#[from] CommandError),
    /// The cycle engine could not go on.
    #[error(transparent)]
    Cycle(#[from] CycleError),
}

/// Lives through the days of one setting with what one household draws.
///
/// The line is charged and the tank at cut-out at the start.
///
/// # Errors
/// When the plant cannot be built or followed, or a draw names an outlet that is not there.
pub fn simulate(
    site: &SiteSpec,
    faults: &[Fault],
    demand: &DemandSchedule,
    days: f64,
) -> Result<SettingResult, SimulateError> {
    live_with(&CycleTables::build(site, faults)?, site, demand, days)
}

/// As [`simulate()`], with the tables of the setting at hand.
fn live_with(
    tables: &CycleTables,
    site: &SiteSpec,
    demand: &DemandSchedule,
    days: f64,
) -> Result<SettingResult, SimulateError> {
    let end = Tick::at_or_after(Seconds(days * DAY_S));
    let mut run_lengths = RunLengths::new();
    let run = cycle::run(tables, demand, end, |run| run_lengths.add(run.seconds))?;
    let n_days = (days.floor() as usize).max(1);
    Ok(SettingResult {
        days,
        starts: run.starts,
        starts_per_day: run
            .starts_per_day
            .iter()
            .take(n_days)
            .map(|starts| f64::from(*starts))
            .collect(),
        most_starts_in_an_hour: u64::from(run.most_starts_in_an_hour),
        run_lengths,
        run_s: run.run_s,
        energy_j: if site.wiring.is_some() {
            run.supply_energy_j
        } else {
            run.shaft_energy_j
        },
        pumped_m3: run.drawn_m3,
        used_m3: run.used_m3,
        fixtures: run
            .pressures
            .iter()
            .map(|pressure| FixturePressure {
                lowest_pa: pressure.lowest_pa(),
                median_pa: pressure.median_pa(),
            })
            .collect(),
        hand_overs: run.hand_overs,
    })
}

/// As [`simulate()`], by the plant from end to end.
///
/// # Errors
/// As [`simulate()`].
pub fn simulate_by_plant(
    site: &SiteSpec,
    faults: &[Fault],
    demand: &DemandSchedule,
    days: f64,
) -> Result<SettingResult, SimulateError> {
    let mut plant = Plant::build(site, faults, Start::Charged)?;
    let end = Tick::at_or_after(Seconds(days * DAY_S));
    let mut watch = Watch::new(site.house.fixtures.len());
    let mut runs = Runs::default();
    if plant.is_powered() {
        runs.since_s = Some(0.0);
    }
    for turn in turns(demand, end) {
        live_to(&mut plant, turn.at, &mut watch, &mut runs)?;
        watch.turned(turn.fixture, turn.opening, turn.at.0);
        plant.apply(Command::SetFixture {
            fixture: turn.fixture,
            opening: turn.opening,
        })?;
    }
    live_to(&mut plant, end, &mut watch, &mut runs)?;
    let totals = plant.totals();
    let wired = site.wiring.is_some();
    Ok(SettingResult {
        days,
        starts: totals.pump_starts,
        starts_per_day: by_day(&runs.starts_s, days),
        most_starts_in_an_hour: most_in(&runs.starts_s, HOUR_S),
        run_lengths: runs.lengths,
        run_s: totals.pump_run_s,
        energy_j: if wired {
            totals.supply_energy_j
        } else {
            totals.shaft_energy_j
        },
        pumped_m3: totals.drawn_m3,
        used_m3: totals.used_m3,
        fixtures: watch.seen.iter_mut().map(Seen::pressure).collect(),
        hand_overs: 0,
    })
}

/// An outlet opened, turned or shut.
struct Turn {
    at: Tick,
    fixture: usize,
    opening: f64,
}

/// What is turned before the end, in order; where one draw ends as the next begins, the
/// outlet is shut first.
fn turns(demand: &DemandSchedule, end: Tick) -> Vec<Turn> {
    let mut turns: Vec<Turn> = demand
        .draws()
        .iter()
        .flat_map(|draw| {
            let turn = |ticks, opening| Turn {
                at: Tick(ticks),
                fixture: draw.fixture,
                opening,
            };
            [
                turn(draw.start_ticks, draw.opening),
                turn(draw.end_ticks(), 0.0),
            ]
        })
        .filter(|turn| turn.at < end)
        .collect();
    turns.sort_by(|a, b| {
        (a.at, a.fixture)
            .cmp(&(b.at, b.fixture))
            .then(a.opening.total_cmp(&b.opening))
    });
    turns
}

/// Goes on to a tick, looking at open outlets on the way.
fn live_to(
    plant: &mut Plant,
    target: Tick,
    watch: &mut Watch,
    runs: &mut Runs,
) -> Result<(), StepError> {
    while plant.now() < target {
        let next = watch
            .next_look(plant.now().0, target.0)
            .map_or(target, Tick);
        plant.advance_to(next)?;
        watch.look(plant);
        for event in plant.take_events() {
            runs.note(event.kind, event.time_s);
        }
    }
    Ok(())
}

/// Starts and lengths of runs so far.
#[derive(Debug, Default)]
struct Runs {
    starts_s: Vec<f64>,
    lengths: RunLengths,
    since_s: Option<f64>,
}

impl Runs {
    fn note(&mut self, kind: EventKind, time_s: f64) {
        match kind {
            EventKind::PumpStarted => {
                self.starts_s.push(time_s);
                self.since_s = Some(time_s);
            }
            EventKind::PumpStopped => {
                if let Some(since_s) = self.since_s.take() {
                    self.lengths.add(time_s - since_s);
                }
            }
            _ => {}
        }
    }
}

/// Open outlets and the pressures seen before them.
struct Watch {
    seen: Vec<Seen>,
}

#[derive(Debug, Clone, Default)]
struct Seen {
    opened_at: Option<u64>,
    pressures_pa: Vec<f32>,
}

impl Watch {
    fn new(n_fixtures: usize) -> Self {
        Self {
            seen: vec![Seen::default(); n_fixtures],
        }
    }

    fn turned(&mut self, fixture: usize, opening: f64, now: u64) {
        if let Some(seen) = self.seen.get_mut(fixture) {
            seen.opened_at = (opening > 0.0).then_some(now);
        }
    }

    /// When to look next, before `target`.
    fn next_look(&self, now: u64, target: u64) -> Option<u64> {
        self.seen
            .iter()
            .filter_map(|seen| {
                let first = seen.opened_at? + SETTLE_TICKS;
                let next = if now < first {
                    first
                } else {
                    first + ((now - first) / LOOK_TICKS + 1) * LOOK_TICKS
                };
                Some(next)
            })
            .min()
            .filter(|next| *next < target)
    }

    fn look(&mut self, plant: &Plant) {
        let now = plant.now().0;
        for (fixture, seen) in self.seen.iter_mut().enumerate() {
            if seen.opened_at.is_some_and(|at| now >= at + SETTLE_TICKS)
                && let Some(pressure_pa) = plant.outlet_pressure_pa(fixture)
            {
                seen.pressures_pa.push(pressure_pa as f32);
            }
        }
    }
}

impl Seen {
    fn pressure(&mut self) -> FixturePressure {
        self.pressures_pa.sort_by(f32::total_cmp);
        let n_seen = self.pressures_pa.len();
        FixturePressure {
            lowest_pa: self.pressures_pa.first().map(|pa| f64::from(*pa)),
            median_pa: self.pressures_pa.get(n_seen / 2).map(|pa| f64::from(*pa)),
        }
    }
}

/// Starts on each whole day; a run shorter than a day counts as one.
fn by_day(starts_s: &[f64], days: f64) -> Vec<f64> {
    let n_days = (days.floor() as usize).max(1);
    let mut counts = vec![0.0; n_days];
    for start_s in starts_s {
        if let Some(count) = counts.get_mut((start_s / DAY_S) as usize) {
            *count += 1.0;
        }
    }
    counts
}

/// Most starts in any span of so many seconds.
fn most_in(starts_s: &[f64], span_s: f64) -> u64 {
    let mut first = 0;
    let mut most = 0;
    for (idx, start_s) in starts_s.iter().enumerate() {
        while start_s - starts_s[first] >= span_s {
            first += 1;
        }
        most = most.max((idx + 1 - first) as u64);
    }
    most
}

impl Demand {
    /// What is drawn on so many days by the household of a seed.
    #[must_use]
    pub fn schedule(&self, seed: u64, days: f64, fixtures: &[FixtureSpec]) -> DemandSchedule {
        match self {
            Self::Nothing => DemandSchedule::none(),
            Self::Household(home) => {
                let livestock: f64 = home
                    .livestock
                    .iter()
                    .map(|animals| animals.head * animals.each_m3_per_s)
                    .sum();
                let request = Household {
                    seed,
                    draws_per_day: REFERENCE_DRAWS_PER_DAY * home.occupants / REFERENCE_OCCUPANTS,
                    days,
                };
                let add_ons = AddOns {
                    garden_m3_per_day: home.garden_m3_per_s * DAY_S,
                    livestock_m3_per_day: livestock * DAY_S,
                };
                household_with(&request, &add_ons, fixtures)
            }
            Self::Measured {
                draws, length_s, ..
            } => repeated(draws, *length_s, days),
        }
    }

    /// Whether another seed draws otherwise.
    #[must_use]
    pub fn depends_on_seed(&self) -> bool {
        matches!(self, Self::Household(_))
    }
}

/// A record of draws, again and again until the days are over.
fn repeated(draws: &DemandSchedule, length_s: f64, days: f64) -> DemandSchedule {
    let length_ticks = ((length_s * TICKS_PER_SECOND as f64).ceil() as u64).max(1);
    let end_ticks = (days * DAY_S * TICKS_PER_SECOND as f64) as u64;
    let mut all = Vec::new();
    let mut from = 0;
    while from < end_ticks {
        all.extend(draws.draws().iter().map(|draw| Draw {
            start_ticks: from + draw.start_ticks,
            ..*draw
        }));
        from += length_ticks;
    }
    DemandSchedule::new(all).before(end_ticks)
}

/// Lives through one setting of a study with every household: the row of its number.
///
/// Runs of one household are put together with those before it and forgotten; memory does
/// not grow with the number of households.
#[must_use]
pub fn run_case(study: &Study, schedules: &Schedules, setting: usize) -> SettingRow {
    let outcome = match study.case(setting) {
        Ok(case) => live(study, schedules, &case)
            .unwrap_or_else(|error| Outcome::Refused(error.to_string())),
        Err(why) => Outcome::Refused(why),
    };
    SettingRow { setting, outcome }
}

fn live(study: &Study, schedules: &Schedules, case: &Case) -> Result<Outcome, SimulateError> {
    let tables = CycleTables::build(&case.site, &case.faults)?;
    let mut summary = Summary::default();
    for &seed in &study.seeds {
        let fixtures = &case.site.house.fixtures;
        let demand = schedules.get(&case.demand, seed, study.days, fixtures);
        summary.add(&live_with(&tables, &case.site, &demand, study.days)?);
    }
    Ok(Outcome::Figures(summary.figures(study, &case.site)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_busiest_hour_may_begin_at_any_start() {
        assert_eq!(most_in(&[0.0, 3_000.0, 3_599.0, 3_600.0], HOUR_S), 3);
        assert_eq!(most_in(&[], HOUR_S), 0);
    }

    #[test]
    fn starts_are_counted_on_whole_days() {
        assert_eq!(
            by_day(&[1.0, 86_399.0, 86_400.0, 180_000.0], 2.0),
            [2.0, 1.0]
        );
        assert_eq!(by_day(&[1.0, 2.0], 0.5), [2.0]);
    }

    #[test]
    fn a_record_is_repeated_until_the_days_are_over() {
        let draw = Draw {
            start_ticks: 50,
            duration_ticks: 100,
            fixture: 0,
            opening: 1.0,
        };
        let week = repeated(&DemandSchedule::new(vec![draw]), DAY_S, 7.0);
        assert_eq!(week.draws().len(), 7);
        let day_ticks = 86_400 * TICKS_PER_SECOND;
        assert_eq!(week.draws()[6].start_ticks, 6 * day_ticks + 50);
    }
}
