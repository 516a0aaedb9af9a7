//! Time during a visit: work takes it, waiting lets it pass, the household goes on in it.

use super::outcome::Outcome;
use super::perform::Stop;
use super::visit::Visit;
use crate::plant::{Command, Event, Tick};
use crate::units::Seconds;

/// Longest single wait [s].
pub(super) const LONGEST_WAIT_S: f64 = 24.0 * 3_600.0;

impl Visit {
    /// Goes on by a time, the household with it.
    pub(super) fn pass(&mut self, seconds: f64) -> Result<(), Stop> {
        let target = Tick(self.plant.now().0 + Tick::at_or_after(Seconds(seconds)).0);
        self.pass_until(target, |_| false).map(|_| ())
    }

    /// Goes on to a plant tick or to the first event that `stop` accepts.
    pub(super) fn pass_until(
        &mut self,
        target: Tick,
        mut stop: impl FnMut(&Event) -> bool,
    ) -> Result<Option<Event>, Stop> {
        loop {
            for command in self.household.take_due(self.plant.now()) {
                self.apply(command)?;
            }
            self.look_at_needle();
            if self.plant.now() >= target {
                return Ok(None);
            }
            let next = self.household.next_change().unwrap_or(target).min(target);
            let next = next.min(self.next_look());
            let found = self.plant.advance_until(next, &mut stop)?;
            if self.plant.is_powered() {
                self.hands.is_discharged = false;
            }
            if found.is_some() {
                return Ok(found);
            }
        }
    }

    /// Does a piece of work that takes minutes and money of the price list.
    pub(super) fn work(&mut self, work: &str, out: &mut Outcome) -> Result<(), Stop> {
        let money = self.fixed.costs.money(work);
        self.money += money;
        out.money += money;
        self.pass(60.0 * self.fixed.costs.minutes(work))
    }

    /// Does one of `shares` equal shares of such a piece of work.
    pub(super) fn work_share(
        &mut self,
        work: &str,
        shares: u32,
        out: &mut Outcome,
    ) -> Result<(), Stop> {
        let money = self.fixed.costs.money(work) / f64::from(shares);
        self.money += money;
        out.money += money;
        self.pass(60.0 * self.fixed.costs.minutes(work) / f64::from(shares))
    }

    /// Turns something at the plant.
    pub(super) fn apply(&mut self, command: Command) -> Result<(), Stop> {
        self.plant.apply(command)?;
        if self.plant.is_powered() {
            self.hands.is_discharged = false;
        }
        Ok(())
    }
}
