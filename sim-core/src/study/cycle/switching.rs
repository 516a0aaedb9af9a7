//! The switch trips: a start or a stop beside the settled course.

use super::checks;
use super::engine::{Engine, Mark, Pump};
use super::error::CycleError;
use super::gas::Rates;
use super::result::{PumpRun, Reason};
use super::sheet::{HOUSE, N, PUMPED, SHAFT, SUPPLY, USED};

/// Shortest run that the settled course is trusted with [s].
const SHORTEST_RUN_S: f64 = 6.0;
/// Shortest rest between a stop and a start [s].
const SHORTEST_REST_S: f64 = 4.0;

impl<F: FnMut(&PumpRun)> Engine<'_, F> {
    /// The switch has tripped: its contacts follow after their delay.
    pub(super) fn trip(&mut self, rates: &Rates) -> Result<(), CycleError> {
        let delay_s = self.cycles.delay_s;
        match self.pump {
            Pump::Off(since) => {
                if self.now_s - since < SHORTEST_REST_S {
                    return self.hand_over(Reason::ShortRest, None);
                }
                self.refill();
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
                self.felt_pa = None;
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
                let place = config.off.place(rates.speeds.pressure_pa);
                let demand = -config.off.first::<1>(place)[N];
                let surface = checks::source_now(self.model, self.pose.source).surface;
                let offset = self.cycles.stop.at(demand, surface);
                offset.apply(&mut self.pose, &mut self.sums);
                self.pump = Pump::Off(self.now_s);
                self.source_s = self.now_s;
                self.book.start(since);
                self.book.stop(since, self.now_s, false);
            }
            Pump::Empty(_) => {}
        }
        Ok(())
    }

    fn wait(&mut self, rates: &Rates, seconds: f64) {
        self.pose = self.pose.ahead(&rates.speeds, seconds);
        self.sums.supply_j += rates.lanes[SUPPLY] * seconds;
        self.sums.shaft_j += rates.lanes[SHAFT] * seconds;
        self.sums.pumped += rates.lanes[PUMPED] * seconds;
        self.sums.used += rates.lanes[USED] * seconds;
        let open = &self.configs[self.config].open;
        self.book
            .pressure(open, rates.lanes[HOUSE], seconds, self.now_s);
        self.now_s += seconds;
    }

    fn go_back(&mut self) {
        let mark = self.mark;
        self.now_s = mark.now_s;
        self.source_s = mark.now_s;
        self.pose = mark.pose;
        self.sums = mark.sums;
        self.config = mark.config;
        self.pump = mark.pump;
        self.felt_pa = None;
        self.changes.go_back(&self.mark_position);
        self.book.strike_out();
    }
}
