//! Draws that open and shut, and stretches that are left to the plant.

use super::checks;
use super::config::Config;
use super::demand::Change;
use super::engine::{Engine, Pump};
use super::error::CycleError;
use super::gas::Pose;
use super::result::{PumpRun, Reason};
use super::stretch;
use super::surfaces::knot_of;
use crate::plant::state::{SOURCE_WATER, TANK_TEMPERATURE, TANK_WATER};

/// Most states of the outlets that are kept.
const MOST_CONFIGS: usize = 512;

/// What a change leads to from each state of the outlets.
#[derive(Debug)]
pub(super) struct Known {
    /// For each state, each level shut and open: the state after it.
    after: Vec<After>,
    per_config: usize,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum After {
    Unknown,
    NotSteady,
    Config(u32),
}

impl Known {
    pub(super) fn new(n_levels: usize) -> Self {
        Self {
            after: Vec::new(),
            per_config: 2 * n_levels,
        }
    }

    #[inline]
    fn place(&self, config: usize, change: &Change) -> usize {
        let is_open = usize::from(change.opening > 0.0);
        config * self.per_config + 2 * change.level as usize + is_open
    }
}

impl<F: FnMut(&PumpRun)> Engine<'_, F> {
    /// Opens and shuts what is due at a tick.
    pub(super) fn change_demand(&mut self, tick: u64) -> Result<(), CycleError> {
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
        let gas = &self.cycles.gas;
        let knot = match self.pump {
            Pump::Off(_) => None,
            Pump::On(_) | Pump::Empty(_) => {
                let source = checks::source_now(self.model, self.pose.source);
                let knot = knot_of(&self.cycles.knots, source.surface);
                let grounds = self.cycles.grounds(self.model);
                // Where it does not settle, its course is left to the plant.
                self.configs[before].switch_on(&grounds, knot);
                self.configs[after].switch_on(&grounds, knot);
                Some(knot)
            }
        };
        if !matches!(self.pump, Pump::Empty(_)) {
            let pressure_pa = gas.pressure(&self.pose);
            let more = self.configs[after].change_from(&self.configs[before], pressure_pa, knot);
            gas.take(&mut self.pose, more);
        }
        self.config = after;
        Ok(())
    }

    /// The configuration after a change; none where it does not settle.
    fn changed(&mut self, config: usize, change: &Change) -> Option<usize> {
        let place = self.known.place(config, change);
        match self.known.after.get(place) {
            Some(After::Config(known)) => return Some(*known as usize),
            Some(After::NotSteady) => return None,
            Some(After::Unknown) | None => {}
        }
        let mut openings = self.configs[config].openings.clone();
        openings[change.fixture] = change.opening;
        let found = self.config_of(openings);
        if self.known.after.len() <= place {
            let rows = place / self.known.per_config + 1;
            let len = rows * self.known.per_config;
            self.known.after.resize(len, After::Unknown);
        }
        self.known.after[place] = found.map_or(After::NotSteady, |c| After::Config(c as u32));
        found
    }

    pub(super) fn config_of(&mut self, openings: Vec<f64>) -> Option<usize> {
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
    pub(super) fn hand_over(
        &mut self,
        reason: Reason,
        openings: Option<&[f64]>,
    ) -> Result<(), CycleError> {
        if matches!(self.pump, Pump::Off(_)) {
            self.refill();
        }
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
        self.source_s = self.now_s;
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
        self.known.after.clear();
        let bits = present.openings.iter().map(|o| o.to_bits()).collect();
        self.by_openings.insert(bits, Some(0));
        self.configs.push(present);
        self.config = 0;
        self.mark.config = 0;
    }
}
