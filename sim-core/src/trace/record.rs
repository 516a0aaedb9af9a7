//! Runs a plant with a demand and writes down what happens.

use std::collections::BTreeMap;

use super::{Recording, Sample};
use crate::demand::DemandSchedule;
use crate::parts::PumpPlacement;
use crate::plant::{Command, CommandError, Event, EventKind, Plant, StepError, Tick};
use crate::units::Seconds;

/// How long the drain runs solid before it is shut on a first fill [s]
/// (common practice, no source).
const FLUSH_S: f64 = 20.0;

/// How long the gauge is watched at cut-out before the house valve is opened on a first
/// fill [s] (common practice, no source): air that cools in the tank takes about so long.
const WATCH_S: f64 = 60.0;

/// Why a run could not be recorded to its end.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RecordError {
    /// The plant could not be followed.
    #[error(transparent)]
    Step(#[from] StepError),
    /// A draw asks for what cannot be.
    #[error("draw at {time_s} s: {source}")]
    Draw {
        /// When [s].
        time_s: f64,
        /// What was wrong with it.
        source: CommandError,
    },
}

/// What is done to the plant at the start of a run, as a technician would.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Procedure {
    /// Nothing: the system is in service.
    InService,
    /// Power on, the low-pressure lever held until the pump has stopped at cut-out.
    PowerOn,
    /// First start: pump primed if it stands above the water, drain cock open, power on; once the drain has run solid for a while
    /// it is shut; once the pump has stopped at cut-out and the gauge has been watched for a
    /// while the house valve is opened.
    FirstStart,
}

/// What to record.
#[derive(Debug, Clone, Copy)]
pub struct RecordingPlan<'a> {
    /// What is drawn and when.
    pub demand: &'a DemandSchedule,
    /// What is done at the start.
    pub procedure: Procedure,
    /// Length of the run; rounded up to a tick.
    pub duration: Seconds,
    /// Time between samples; rounded up to a tick.
    pub interval: Seconds,
}

/// Runs the plant and records it; `progress` is told the share that is done.
///
/// # Errors
/// When the plant cannot be followed or a draw names an outlet that is not there.
pub fn record(
    mut plant: Plant,
    plan: &RecordingPlan<'_>,
    progress: impl FnMut(f64),
) -> Result<Recording, RecordError> {
    record_on(&mut plant, plan, progress)
}

/// As [`record`], and leaves the plant at the end of the run for whatever comes next.
///
/// # Errors
/// As [`record`].
pub fn record_on(
    plant: &mut Plant,
    plan: &RecordingPlan<'_>,
    mut progress: impl FnMut(f64),
) -> Result<Recording, RecordError> {
    let end = Tick::at_or_after(plan.duration);
    let interval_ticks = Tick::at_or_after(plan.interval).0.max(1);
    let mut todo = draws(plan.demand, end);
    let mut first_start = FirstStart::Done;
    match plan.procedure {
        Procedure::InService => {}
        Procedure::PowerOn => {
            insert(&mut todo, Tick(0), Command::HoldLever(true));
            insert(&mut todo, Tick(0), Command::SetBreaker(true));
            first_start = FirstStart::Charging;
        }
        Procedure::FirstStart => {
            if plant.site().pump.placement == PumpPlacement::SuctionLift {
                insert(&mut todo, Tick(0), Command::Prime);
            }
            insert(&mut todo, Tick(0), Command::HoldLever(true));
            insert(&mut todo, Tick(0), Command::SetDrain(1.0));
            insert(&mut todo, Tick(0), Command::SetBreaker(true));
            first_start = FirstStart::Filling;
        }
    }
    let mut samples: Vec<Sample> = Vec::new();
    let mut events: Vec<Event> = Vec::new();
    let mut next_sample = Tick(0);
    loop {
        while let Some(entry) = todo.first_entry()
            && *entry.key() <= plant.now()
        {
            for command in entry.remove() {
                plant.apply(command).map_err(|source| RecordError::Draw {
                    time_s: plant.now().seconds(),
                    source,
                })?;
            }
        }
        if plant.now() >= next_sample {
            samples.push(plant.sample());
            next_sample = Tick(plant.now().0 + interval_ticks).min(end);
            progress(plant.now().0 as f64 / end.0.max(1) as f64);
        }
        if plant.now() >= end {
            break;
        }
        let next_command = todo.keys().next().copied().unwrap_or(end);
        let target = next_sample.min(next_command).min(end);
        if first_start == FirstStart::Done {
            plant.advance_to(target)?;
        } else {
            let awaited = plant.advance_until(target, |e| first_start.awaits(e.kind))?;
            if awaited.is_some() {
                let commands;
                (commands, first_start) = first_start.next(plant.now());
                for (tick, command) in commands {
                    insert(&mut todo, tick, command);
                }
            }
        }
        events.append(&mut plant.take_events());
    }
    Ok(Recording {
        site: plant.site().name.clone(),
        title: plant.site().title.clone(),
        cut_in_pa: plant.controls().cut_in.si(),
        cut_out_pa: plant.controls().cut_out.si(),
        samples,
        events,
        totals: plant.totals(),
    })
}

/// How far a first start has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FirstStart {
    /// Waiting for solid water at the drain.
    Filling,
    /// Waiting for the pump to stop at cut-out, the house shut.
    Building,
    /// Waiting for the pump to stop at cut-out, the house open.
    Charging,
    Done,
}

impl FirstStart {
    fn awaits(self, kind: EventKind) -> bool {
        match self {
            Self::Filling => kind == EventKind::LineSolid,
            Self::Building | Self::Charging => kind == EventKind::PumpStopped,
            Self::Done => false,
        }
    }

    /// What to do, when, now that the awaited event has come, and what to wait for next.
    fn next(self, now: Tick) -> (Vec<(Tick, Command)>, Self) {
        let after = |wait_s: f64| Tick(now.0 + Tick::at_or_after(Seconds(wait_s)).0);
        let let_go = (now, Command::HoldLever(false));
        match self {
            Self::Filling => (
                vec![(after(FLUSH_S), Command::SetDrain(0.0))],
                Self::Building,
            ),
            Self::Building => (
                vec![let_go, (after(WATCH_S), Command::SetHouseValve(1.0))],
                Self::Done,
            ),
            Self::Charging | Self::Done => (vec![let_go], Self::Done),
        }
    }
}

fn draws(demand: &DemandSchedule, end: Tick) -> BTreeMap<Tick, Vec<Command>> {
    let mut todo = BTreeMap::new();
    for draw in demand.draws() {
        let start = Tick(draw.start_ticks);
        if start >= end {
            continue;
        }
        let fixture = draw.fixture;
        insert(
            &mut todo,
            start,
            Command::SetFixture {
                fixture,
                opening: draw.opening,
            },
        );
        let shut = Tick(start.0.saturating_add(draw.duration_ticks));
        insert(
            &mut todo,
            shut,
            Command::SetFixture {
                fixture,
                opening: 0.0,
            },
        );
    }
    todo
}

fn insert(todo: &mut BTreeMap<Tick, Vec<Command>>, tick: Tick, command: Command) {
    todo.entry(tick).or_default().push(command);
}
