//! From event to event: draws that open and shut, cut-in, cut-out, the tank empty.

use std::collections::BTreeMap;

use super::book::Book;
use super::calibrate::felt;
use super::checks;
use super::config::Config;
use super::demand::{Change, Changes, Position};
use super::error::CycleError;
use super::gas::{Pose, Rates, SourceNow, Sums};
use super::result::{CycleRun, PumpRun, Reason};
use super::sheet::{HOUSE, N, TEE};
use super::stretch::{self, Stretch};
use super::tables::{CycleTables, Cycles, Way};
use super::track::{Ended, Track};
use crate::demand::DemandSchedule;
use crate::plant::model::Model;
use crate::plant::state::{SOURCE_WATER, TANK_TEMPERATURE, TANK_WATER};
use crate::plant::{Plant, Tick};

/// Shortest run that the settled course is trusted with [s].
const SHORTEST_RUN_S: f64 = 6.0;
/// Shortest rest between a stop and a start [s].
const SHORTEST_REST_S: f64 = 4.0;
/// Longest stretch with an empty tank that is taken in one go [s].
const EMPTY_STEP_S: f64 = 30.0;
/// Longest steps with the pump on and off [s].
const LONGEST_ON_S: f64 = 15.0;
const LONGEST_OFF_S: f64 = 60.0;
/// Longest time between two looks at the source while the pump runs [s].
const SOURCE_STEP_S: f64 = 40.0;
/// How far the tank's pressure may lie below the sheets [Pa].
const SHEET_MARGIN_PA: f64 = 1_000.0;
/// Most states of the outlets that are kept.
const MOST_CONFIGS: usize = 512;

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
struct Mark {
    now_s: f64,
    pose: Pose,
    sums: Sums,
    config: usize,
    pump: Pump,
}

struct Engine<'a, F> {
    plant: &'a Plant,
    model: &'a Model,
    cycles: &'a Cycles,
    changes: Changes<'a>,
    book: &'a mut Book<F>,
    end: Tick,
    configs: Vec<Config>,
    by_openings: BTreeMap<Vec<u64>, Option<usize>>,
    known: BTreeMap<(usize, u32, bool), Option<usize>>,
    config: usize,
    now_s: f64,
    pose: Pose,
    sums: Sums,
    pump: Pump,
    /// What the switch felt when the demand last changed [Pa, gauge].
    felt_pa: Option<f64>,
    mark: Mark,
    mark_position: Position,
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
            changes,
            book,
            end,
            configs: Vec::with_capacity(64),
            by_openings: BTreeMap::new(),
            known: BTreeMap::new(),
            config: 0,
            now_s: 0.0,
            pose,
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
                self.hand_over(Reason::SourceLow, None)?;
                continue;
            }
            if self.cycles.gas.pressure(&self.pose) < self.cycles.low_pa - SHEET_MARGIN_PA {
                self.hand_over(Reason::LowPressure, None)?;
                continue;
            }
            let next_tick = self.changes.next_tick().min(self.end.0);
            let until_s = Tick(next_tick).seconds();
            let ended = match self.pump {
                Pump::Off(_) => Some(self.along_off(until_s)),
                Pump::On(_) => self.along_on(until_s),
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

    /// The settled course with the pump off.
    fn along_off(&mut self, until_s: f64) -> Ended {
        let cycles = self.cycles;
        let at = self.config;
        if self.configs[at].is_idle {
            return self.rest(until_s);
        }
        let config = &self.configs[at];
        let lanes = |pa: f64, _: f64| config.off.at(config.off.place(pa));
        // The source does its own while nothing is pumped.
        let still = SourceNow {
            at: self.pose.source,
            surface: 0.0,
            per_volume: 0.0,
            inflow: 0.0,
            inflow_slope: 0.0,
        };
        let begun_s = self.now_s;
        let track = Track {
            gas: &cycles.gas,
            cut: cycles.cut_in,
            sign: -1.0,
            port_s: cycles.port_s,
            longest_s: LONGEST_OFF_S,
        };
        let ended = track.follow(
            &mut self.now_s,
            until_s,
            &mut self.pose,
            &mut self.sums,
            self.felt_pa.take(),
            &still,
            &lanes,
            self.book,
            &config.open,
        );
        self.refill(self.now_s - begun_s);
        ended
    }

    /// The settled course with the pump on; none while its time is not up.
    fn along_on(&mut self, until_s: f64) -> Option<Ended> {
        let cycles = self.cycles;
        let source = checks::source_now(self.model, self.pose.source);
        let config = &mut self.configs[self.config];
        config.on.freshen(source.surface, cycles.surfaces_m[1]);
        let config = &*config;
        let track = Track {
            gas: &cycles.gas,
            cut: cycles.cut_out,
            sign: 1.0,
            port_s: cycles.port_s,
            longest_s: LONGEST_ON_S,
        };
        // The source is straightened anew every so often.
        let stretch_s = until_s.min(self.now_s + SOURCE_STEP_S);
        let ended = track.follow(
            &mut self.now_s,
            stretch_s,
            &mut self.pose,
            &mut self.sums,
            self.felt_pa.take(),
            &source,
            &|pa, surface| config.on.at(pa, surface),
            self.book,
            &config.open,
        );
        self.pose.source = self.pose.source.min(cycles.full_source);
        let is_over = !matches!(ended, Ended::InTime) || self.now_s >= until_s;
        is_over.then_some(ended)
    }

    /// Nothing drawn, nothing pumped: the air in the tank takes the temperature around it.
    fn rest(&mut self, until_s: f64) -> Ended {
        let gas = &self.cycles.gas;
        self.felt_pa = None;
        let seconds = until_s - self.now_s;
        if seconds <= 0.0 {
            return Ended::InTime;
        }
        if !gas.is_quick {
            let before = gas.pressure(&self.pose);
            let share = crate::math::exp(-seconds / gas.time_s);
            let config = &self.configs[self.config];
            let settled = Pose {
                gas_k: gas.ambient_k + (self.pose.gas_k - gas.ambient_k) * share,
                ..self.pose
            };
            let after = gas.pressure(&settled);
            let values = config.off.at(config.off.place(after));
            if values[TEE] <= self.cycles.cut_in {
                return self.cool_to_cut_in(until_s);
            }
            self.pose = settled;
            self.pose.water -= values[super::sheet::B] * (after - before);
        }
        self.refill(seconds);
        self.now_s = until_s;
        Ended::InTime
    }

    /// The air cools until the switch trips.
    fn cool_to_cut_in(&mut self, until_s: f64) -> Ended {
        let gas = &self.cycles.gas;
        let config = &self.configs[self.config];
        let still = SourceNow {
            at: self.pose.source,
            surface: 0.0,
            per_volume: 0.0,
            inflow: 0.0,
            inflow_slope: 0.0,
        };
        let lanes = |pa: f64, _: f64| config.off.at(config.off.place(pa));
        let track = Track {
            gas,
            cut: self.cycles.cut_in,
            sign: -1.0,
            port_s: self.cycles.port_s,
            longest_s: LONGEST_OFF_S,
        };
        let begun_s = self.now_s;
        let ended = track.follow(
            &mut self.now_s,
            until_s,
            &mut self.pose,
            &mut self.sums,
            None,
            &still,
            &lanes,
            self.book,
            &config.open,
        );
        self.refill(self.now_s - begun_s);
        ended
    }

    /// What comes into the source while nothing is pumped.
    fn refill(&mut self, seconds: f64) {
        let now = checks::source_now(self.model, self.pose.source);
        if now.inflow_slope == 0.0 {
            self.pose.source += now.inflow * seconds;
        } else {
            // An exponential towards where nothing comes in any more.
            let share = crate::math::exp(now.inflow_slope * seconds);
            let rest = self.pose.source - now.inflow / now.inflow_slope;
            self.pose.source = rest + (self.pose.source - rest) * share;
        }
        self.pose.source = self.pose.source.min(self.cycles.full_source);
    }

    /// The tank empty, the pump feeds the house alone.
    fn along_empty(&mut self, until_s: f64) -> Result<Option<Ended>, CycleError> {
        let seconds = (until_s - self.now_s).clamp(0.0, EMPTY_STEP_S);
        let config = &self.configs[self.config];
        // Does the pump win against what is drawn?
        let gas = &self.cycles.gas;
        let source = checks::source_now(self.model, self.pose.source);
        let free = config.on.at(gas.pressure(&self.pose), source.surface);
        let Pump::Empty(since) = self.pump else {
            return Ok(Some(Ended::InTime));
        };
        if free[N] > 1e-7 {
            self.pump = Pump::On(since);
            return Ok(None);
        }
        let flat = stretch::flat(self.cycles, self.model, config, &self.pose);
        let Some((_, point)) = flat else {
            self.hand_over(Reason::NotSteady, None)?;
            return Ok(None);
        };
        if !stretch::is_flat_sound(self.cycles, self.model, config, &point.lanes) {
            self.hand_over(Reason::LowPressure, None)?;
            return Ok(None);
        }
        let lanes = point.lanes;
        self.sums.supply_j += lanes[super::sheet::SUPPLY] * seconds;
        self.sums.shaft_j += lanes[super::sheet::SHAFT] * seconds;
        self.sums.pumped += lanes[super::sheet::PUMPED] * seconds;
        self.sums.used += lanes[super::sheet::USED] * seconds;
        self.pose.source -= lanes[super::sheet::PUMPED] * seconds;
        let share = crate::math::exp(-seconds / gas.time_s);
        self.pose.gas_k = gas.ambient_k + (self.pose.gas_k - gas.ambient_k) * share;
        self.book
            .pressure(&config.open, lanes[HOUSE], seconds, self.now_s);
        self.book.lowest(&config.open, lanes[HOUSE]);
        self.refill(seconds);
        self.now_s += seconds;
        if self.now_s >= until_s {
            return Ok(Some(Ended::InTime));
        }
        Ok(None)
    }

    /// The switch has tripped: its contacts follow after their delay.
    fn trip(&mut self, rates: &Rates) -> Result<(), CycleError> {
        let delay_s = self.cycles.delay_s;
        match self.pump {
            Pump::Off(since) => {
                if self.now_s - since < SHORTEST_REST_S {
                    return self.hand_over(Reason::ShortRest, None);
                }
                self.mark = Mark {
                    now_s: self.now_s,
                    pose: self.pose,
                    sums: self.sums,
                    config: self.config,
                    pump: self.pump,
                };
                self.changes.keep(&mut self.mark_position);
                self.book.mark(self.now_s + SHORTEST_RUN_S + 1.0);
                self.wait(rates, delay_s);
                let surface = checks::source_now(self.model, self.pose.source).surface;
                let offset = self.cycles.start.at(-rates.lanes[N], surface);
                offset.apply(&mut self.pose, &mut self.sums);
                self.pump = Pump::On(self.now_s);
                self.book.run_lowest_pa = f64::INFINITY;
                let open = &self.configs[self.config].open;
                self.book.lowest(open, rates.lanes[HOUSE] + offset.dip_pa);
            }
            Pump::On(since) => {
                self.wait(rates, delay_s);
                if self.now_s - since < SHORTEST_RUN_S {
                    self.go_back();
                    return self.hand_over(Reason::ShortRun, None);
                }
                let config = &self.configs[self.config];
                let off = config.off.at(config.off.place(rates.pressure_pa));
                let surface = checks::source_now(self.model, self.pose.source).surface;
                let offset = self.cycles.stop.at(-off[N], surface);
                offset.apply(&mut self.pose, &mut self.sums);
                self.pump = Pump::Off(self.now_s);
                self.book.start(since);
                self.book.stop(since, self.now_s, false);
            }
            Pump::Empty(_) => {}
        }
        Ok(())
    }

    fn wait(&mut self, rates: &Rates, seconds: f64) {
        self.pose.water += rates.water * seconds;
        self.pose.gas_k += rates.gas * seconds;
        self.pose.source += rates.source * seconds;
        self.sums.supply_j += rates.lanes[super::sheet::SUPPLY] * seconds;
        self.sums.shaft_j += rates.lanes[super::sheet::SHAFT] * seconds;
        self.sums.pumped += rates.lanes[super::sheet::PUMPED] * seconds;
        self.sums.used += rates.lanes[super::sheet::USED] * seconds;
        let open = &self.configs[self.config].open;
        self.book
            .pressure(open, rates.lanes[HOUSE], seconds, self.now_s);
        self.now_s += seconds;
    }

    fn go_back(&mut self) {
        let mark = self.mark;
        self.now_s = mark.now_s;
        self.pose = mark.pose;
        self.sums = mark.sums;
        self.config = mark.config;
        self.pump = mark.pump;
        self.felt_pa = None;
        self.changes.go_back(&self.mark_position);
        self.book.strike_out();
    }

    /// Opens and shuts what is due at a tick.
    fn change_demand(&mut self, tick: u64) -> Result<(), CycleError> {
        let before = self.config;
        let mut openings: Option<Vec<f64>> = None;
        let mut after = Some(before);
        while let Some(change) = self.changes.due(tick) {
            let known = after;
            after = known.and_then(|config| self.changed(config, &change));
            if after.is_none() {
                let last = known.unwrap_or(before);
                let now = openings.get_or_insert_with(|| self.configs[last].openings.clone());
                now[change.fixture] = change.opening;
            }
        }
        let Some(after) = after else {
            return self.hand_over(Reason::NotSteady, openings.as_deref());
        };
        if after == before {
            return Ok(());
        }
        let is_on = !matches!(self.pump, Pump::Off(_));
        let gas = &self.cycles.gas;
        let pressure_pa = gas.pressure(&self.pose);
        if !matches!(self.pump, Pump::Empty(_)) {
            let old = &self.configs[before];
            let source = checks::source_now(self.model, self.pose.source);
            let rates = if is_on {
                gas.rates(&self.pose, &source, &|pa, surface| old.on.at(pa, surface))
            } else {
                gas.rates(&self.pose, &source, &|pa, _| old.off.at(old.off.place(pa)))
            };
            self.felt_pa = Some(felt(&rates));
            let more = self.configs[after].change_from(old, pressure_pa, is_on);
            gas.take(&mut self.pose, more);
        }
        self.config = after;
        Ok(())
    }

    /// The configuration after a change; none where it does not settle.
    fn changed(&mut self, config: usize, change: &Change) -> Option<usize> {
        let key = (config, change.level, change.opening > 0.0);
        if let Some(&known) = self.known.get(&key) {
            return known;
        }
        let mut openings = self.configs[config].openings.clone();
        openings[change.fixture] = change.opening;
        let found = self.config_of(openings);
        self.known.insert(key, found);
        found
    }

    fn config_of(&mut self, openings: Vec<f64>) -> Option<usize> {
        let bits: Vec<u64> = openings.iter().map(|o| o.to_bits()).collect();
        if let Some(&known) = self.by_openings.get(&bits) {
            return known;
        }
        let built = Config::build(&self.cycles.grounds(self.model), openings);
        let found = built.map(|config| {
            self.configs.push(config);
            self.configs.len() - 1
        });
        self.by_openings.insert(bits, found);
        found
    }

    /// Leaves a stretch of time to the plant engine, the outlets as `openings` say where
    /// they have just been changed.
    fn hand_over(&mut self, reason: Reason, openings: Option<&[f64]>) -> Result<(), CycleError> {
        let begun_s = self.now_s;
        if let Pump::On(since) | Pump::Empty(since) = self.pump {
            self.book.start(since);
        }
        let config = &self.configs[self.config];
        let mut stretch = stretch::begin(
            self.cycles,
            self.plant,
            config,
            &self.pose,
            self.pump,
            self.now_s,
        )?;
        if let Some(openings) = openings {
            stretch.set(openings)?;
        }
        loop {
            let safe_source = self.cycles.safe_source;
            stretch.until_quiet(&mut self.changes, self.book, self.end, safe_source)?;
            if stretch.plant.now() >= self.end {
                break;
            }
            let openings = stretch.plant.controls().fixture_openings.clone();
            if let Some(config) = self.config_of(openings) {
                self.config = config;
                break;
            }
        }
        self.now_s = stretch.plant.now().seconds().max(begun_s);
        let y = stretch.plant.state_now();
        self.pose = Pose {
            water: y[TANK_WATER],
            gas_k: y[TANK_TEMPERATURE],
            source: y[SOURCE_WATER],
        };
        self.pump = Pump::Off(stretch.stopped_s);
        self.felt_pa = None;
        self.book
            .result
            .count_hand_over(reason, self.now_s - begun_s);
        if self.configs.len() > MOST_CONFIGS {
            self.forget();
        }
        Ok(())
    }

    /// Drops all states of the outlets but the present one.
    fn forget(&mut self) {
        let present = self.configs.swap_remove(self.config);
        self.configs.clear();
        self.by_openings.clear();
        self.known.clear();
        let bits = present.openings.iter().map(|o| o.to_bits()).collect();
        self.by_openings.insert(bits, Some(0));
        self.configs.push(present);
        self.config = 0;
        self.mark.config = 0;
    }
}
