//! What a run writes down as it goes.

use std::collections::VecDeque;

use super::result::{CycleRun, PumpRun};
use crate::plant::Tick;
use crate::plant::model::{Model, OutletClass};

/// Change of pressure over a step that is written down as one [Pa]: two classes.
const SPREAD_PA: f64 = 4_000.0;
/// Most parts that the time of a step is written down in.
const MOST_PARTS: f64 = 12.0;

/// What is written down.
pub(super) struct Book<F> {
    pub(super) result: CycleRun,
    each_run: F,
    /// Starts of the last sixty minutes [s].
    last_starts: VecDeque<f64>,
    /// Height of each outlet above the tee, as pressure [Pa].
    lifts_pa: Vec<f64>,
    /// Lowest pressure in the house since the present run began [Pa, gauge].
    pub(super) run_lowest_pa: f64,
    /// What was added to the pressures since the last mark: outlet, bin, time.
    undo: Vec<(usize, usize, f64)>,
    undo_until_s: f64,
    lowest_at_mark: Vec<Option<f64>>,
}

impl<F: FnMut(&PumpRun)> Book<F> {
    pub(super) fn new(model: &Model, end: Tick, each_run: F) -> Self {
        let n = model.site.house.fixtures.len();
        let mut lifts_pa = vec![0.0; n];
        for outlet in &model.outlets {
            if let OutletClass::Fixture(i) = outlet.class {
                lifts_pa[i] = outlet.lift_pa;
            }
        }
        Self {
            result: CycleRun::new(end.seconds(), n),
            each_run,
            last_starts: VecDeque::with_capacity(256),
            lifts_pa,
            run_lowest_pa: f64::INFINITY,
            undo: Vec::with_capacity(64),
            undo_until_s: f64::NEG_INFINITY,
            lowest_at_mark: vec![None; n],
        }
    }

    /// Writes down a pressure in the house over a time at which these outlets were open.
    #[inline]
    pub(super) fn pressure(&mut self, open: &[usize], house_pa: f64, seconds: f64, now_s: f64) {
        for &i in open {
            let bin = self.result.pressures[i].add(house_pa - self.lifts_pa[i], seconds);
            if now_s < self.undo_until_s {
                self.undo.push((i, bin, seconds));
            }
        }
    }

    /// Writes down the pressures of a step, given at its beginning, half way and at its end.
    #[inline]
    pub(super) fn pressures(
        &mut self,
        open: &[usize],
        house_pa: [f64; 3],
        seconds: f64,
        now_s: f64,
    ) {
        let [first, middle, last] = house_pa;
        if !open.is_empty() {
            // Time is spread over what a long step passes through, along the parabola through
            // the three, so that a median does not stick to where steps happen to halve.
            let parts = (1.0 + (last - first).abs() * (1.0 / SPREAD_PA)).min(MOST_PARTS) as u32;
            let bend = 2.0 * (first + last - 2.0 * middle);
            let per_part = 1.0 / f64::from(parts);
            for part in 0..parts {
                let share = (f64::from(part) + 0.5) * per_part;
                let pa = first + share * (last - first + (share - 1.0) * bend);
                self.pressure(open, pa, seconds * per_part, now_s);
            }
        }
        self.lowest(open, first.min(last));
    }

    #[inline]
    pub(super) fn lowest(&mut self, open: &[usize], house_pa: f64) {
        self.run_lowest_pa = self.run_lowest_pa.min(house_pa);
        for &i in open {
            self.result.pressures[i].lower_to(house_pa - self.lifts_pa[i]);
        }
    }

    /// From here on what is written down about pressures can be struck out again.
    pub(super) fn mark(&mut self, until_s: f64) {
        self.undo.clear();
        self.undo_until_s = until_s;
        for (kept, pressures) in self.lowest_at_mark.iter_mut().zip(&self.result.pressures) {
            *kept = pressures.lowest_pa();
        }
    }

    pub(super) fn strike_out(&mut self) {
        for &(i, bin, seconds) in &self.undo {
            self.result.pressures[i].take(bin, seconds);
        }
        self.undo.clear();
        self.undo_until_s = f64::NEG_INFINITY;
        for (kept, pressures) in self.lowest_at_mark.iter().zip(&mut self.result.pressures) {
            pressures.set_lowest(*kept);
        }
    }

    /// Counts a start; starts come in order of time.
    pub(super) fn start(&mut self, at_s: f64) {
        self.result.starts += 1;
        let day = (at_s / 86_400.0) as usize;
        if let Some(count) = self.result.starts_per_day.get_mut(day) {
            *count += 1;
        }
        while self
            .last_starts
            .front()
            .is_some_and(|&first| first <= at_s - 3_600.0)
        {
            self.last_starts.pop_front();
        }
        self.last_starts.push_back(at_s);
        let count = self.last_starts.len() as u32;
        self.result.most_starts_in_an_hour = self.result.most_starts_in_an_hour.max(count);
    }

    /// A run of the pump is over.
    pub(super) fn stop(&mut self, started_s: f64, stopped_s: f64, by_plant: bool) {
        let seconds = stopped_s - started_s;
        self.result.run_s += seconds;
        self.result.count_length(seconds);
        (self.each_run)(&PumpRun {
            start_s: started_s,
            seconds,
            lowest_pa: self.run_lowest_pa,
            by_plant,
        });
    }
}
