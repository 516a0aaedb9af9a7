//! From event to event: draws that open and shut, cut-in, cut-out, the tank empty.
//!
//! What happens between two events is in `courses`, what the switch does in `switching`,
//! what the outlets do, and what is left to the plant, in `outlets`.

use std::collections::BTreeMap;

use super::book::Book;
use super::config::Config;
use super::demand::{Changes, Position};
use super::error::CycleError;
use super::gas::{Pose, Sums};
use super::outlets::Known;
use super::result::{CycleRun, PumpRun, Reason};
use super::stretch::{self, Stretch};
use super::tables::{CycleTables, Cycles, Way};
use super::track::Ended;
use crate::demand::DemandSchedule;
use crate::plant::model::Model;
use crate::plant::state::{SOURCE_WATER, TANK_TEMPERATURE, TANK_WATER};
use crate::plant::{Plant, Tick};

/// How far the tank's pressure may lie below the sheets [Pa].
const SHEET_MARGIN_PA: f64 = 1_000.0;

/// Runs a household's draws to a tick.
///
/// The system stands at the start as after a stop of the pump, the air in the tank at the
/// temperature around it ([`crate::plant::Start::Charged`]).  `each_run` is called for each
/// run of the pump once it is over, in order of time.
///
/// # Errors
/// When a draw asks for an outlet that the site does not have, or the plant engine cannot
/// follow a stretch that was left to it.
pub fn run(
    tables: &CycleTables,
    demand: &DemandSchedule,
    end: Tick,
    each_run: impl FnMut(&PumpRun),
) -> Result<CycleRun, CycleError> {
    let model = tables.plant.model.as_ref();
    let n_fixtures = tables.plant.controls().fixture_openings.len();
    let changes = Changes::new(demand, n_fixtures)?;
    let mut book = Book::new(model, end, each_run);
    match &tables.way {
        Way::Plant(reason) => {
            let stretch = Stretch::new(tables.plant.clone());
            stretch::to_end(stretch, changes, &mut book, end)?;
            book.result.count_hand_over(*reason, end.seconds());
        }
        Way::Cycles(cycles) => Engine::new(tables, cycles, changes, &mut book, end).go()?,
    }
    Ok(book.result)
}

/// Where the pump stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Pump {
    /// Off, since then [s].
    Off(f64),
    /// On since then [s].
    On(f64),
    /// On since then [s], the tank empty.
    Empty(f64),
}

/// A place to come back to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark {
    pub(super) now_s: f64,
    pub(super) pose: Pose,
    pub(super) sums: Sums,
    pub(super) config: usize,
    pub(super) pump: Pump,
}

pub(super) struct Engine<'a, F> {
    pub(super) plant: &'a Plant,
    pub(super) model: &'a Model,
    pub(super) cycles: &'a Cycles,
    pub(super) changes: Changes<'a>,
    pub(super) book: &'a mut Book<F>,
    pub(super) end: Tick,
    pub(super) configs: Vec<Config>,
    pub(super) by_openings: BTreeMap<Vec<u64>, Option<usize>>,
    pub(super) known: Known,
    pub(super) config: usize,
    pub(super) now_s: f64,
    pub(super) pose: Pose,
    /// Time at which the source had the pose's content; behind while the pump is off [s].
    pub(super) source_s: f64,
    pub(super) sums: Sums,
    pub(super) pump: Pump,
    /// What the switch felt at the end of the last stretch [Pa, gauge].
    pub(super) felt_pa: Option<f64>,
    pub(super) mark: Mark,
    pub(super) mark_position: Position,
}

impl<'a, F: FnMut(&PumpRun)> Engine<'a, F> {
    fn new(
        tables: &'a CycleTables,
        cycles: &'a Cycles,
        changes: Changes<'a>,
        book: &'a mut Book<F>,
        end: Tick,
    ) -> Self {
        let y = tables.plant.state_now();
        let pose = Pose {
            water: y[TANK_WATER],
            gas_k: y[TANK_TEMPERATURE],
            source: y[SOURCE_WATER],
        };
        let pump = Pump::Off(f64::NEG_INFINITY);
        let mark_position = changes.position();
        Self {
            plant: &tables.plant,
            model: tables.plant.model.as_ref(),
            cycles,
            known: Known::new(changes.n_levels()),
            changes,
            book,
            end,
            configs: Vec::with_capacity(64),
            by_openings: BTreeMap::new(),
            config: 0,
            now_s: 0.0,
            pose,
            source_s: 0.0,
            sums: Sums::default(),
            pump,
            felt_pa: None,
            mark: Mark {
                now_s: 0.0,
                pose,
                sums: Sums::default(),
                config: 0,
                pump,
            },
            mark_position,
        }
    }

    fn go(mut self) -> Result<(), CycleError> {
        let n = self.plant.controls().fixture_openings.len();
        if self.config_of(vec![0.0; n]).is_none() {
            // Found while the tables were built: cannot be.
            return self.hand_over(Reason::NotSteady, None);
        }
        let end_s = self.end.seconds();
        while self.now_s < end_s {
            if self.pose.source < self.cycles.safe_source {
                if matches!(self.pump, Pump::Off(_)) {
                    self.refill();
                }
                if self.pose.source < self.cycles.safe_source {
                    self.hand_over(Reason::SourceLow, None)?;
                    continue;
                }
            }
            if self.cycles.gas.pressure(&self.pose) < self.cycles.low_pa - SHEET_MARGIN_PA {
                self.hand_over(Reason::LowPressure, None)?;
                continue;
            }
            let next_tick = self.changes.next_tick().min(self.end.0);
            let until_s = Tick(next_tick).seconds();
            let ended = match self.pump {
                Pump::Off(_) => Some(self.along_off(until_s)),
                Pump::On(_) => self.along_on(until_s)?,
                Pump::Empty(_) => self.along_empty(until_s)?,
            };
            let Some(ended) = ended else { continue };
            match ended {
                Ended::InTime if next_tick < self.end.0 => self.change_demand(next_tick)?,
                Ended::InTime => {}
                Ended::Tripped(rates) => self.trip(&rates)?,
                Ended::Empty => match self.pump {
                    Pump::On(since) => {
                        self.pose.water = 0.0;
                        self.pump = Pump::Empty(since);
                    }
                    Pump::Off(_) | Pump::Empty(_) => self.hand_over(Reason::Emptied, None)?,
                },
            }
        }
        if let Pump::On(since) | Pump::Empty(since) = self.pump {
            self.book.start(since);
            self.book.result.run_s += self.now_s - since;
        }
        self.sum_up();
        Ok(())
    }

    fn sum_up(&mut self) {
        let result = &mut self.book.result;
        result.supply_energy_j += self.sums.supply_j;
        result.shaft_energy_j += self.sums.shaft_j;
        result.used_m3 += self.sums.used;
        result.drawn_m3 += self.sums.pumped;
    }
}
