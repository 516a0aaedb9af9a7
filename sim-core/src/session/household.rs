//! Who else turns taps: the household during the visit, beside the technician's own hand.

use crate::demand;
use crate::plant::{Command, Plant, Tick};
use crate::scenario::Scenario;

/// Days for which draws are worked out; a visit is over long before.
const DAYS: f64 = 3.0;

/// Outlets as the technician and the household have them, and what comes next.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Household {
    /// What is turned when, in order: plant tick, outlet, opening.
    changes: Vec<(Tick, usize, f64)>,
    next: usize,
    by_household: Vec<f64>,
    by_technician: Vec<f64>,
}

impl Household {
    /// The household of a scenario from the plant's present tick.
    pub(super) fn new(scenario: &Scenario, seed: u64, plant: &Plant) -> Self {
        let fixtures = &plant.site().house.fixtures;
        let mut changes = Vec::new();
        if let Some(in_use) = &scenario.use_during {
            let schedule = demand::household(
                &demand::Household {
                    seed,
                    draws_per_day: in_use.draws_per_day,
                    days: DAYS,
                },
                fixtures,
            );
            let from = plant.now().0;
            for draw in schedule.draws() {
                changes.push((Tick(from + draw.start_ticks), draw.fixture, draw.opening));
                changes.push((Tick(from + draw.end_ticks()), draw.fixture, 0.0));
            }
            // A draw that ends as the next begins at one outlet: first shut, then open.
            changes.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2)));
        }
        Self {
            changes,
            next: 0,
            by_household: vec![0.0; fixtures.len()],
            by_technician: vec![0.0; fixtures.len()],
        }
    }

    /// When the household turns something next.
    pub(super) fn next_change(&self) -> Option<Tick> {
        self.changes.get(self.next).map(|change| change.0)
    }

    /// What is due at a tick, as commands for the plant.
    pub(super) fn take_due(&mut self, now: Tick) -> Vec<Command> {
        let mut commands = Vec::new();
        while let Some(&(tick, fixture, opening)) = self.changes.get(self.next) {
            if tick > now {
                break;
            }
            self.next += 1;
            self.by_household[fixture] = opening;
            commands.push(self.command(fixture));
        }
        commands
    }

    /// The technician turns an outlet.
    pub(super) fn turn(&mut self, fixture: usize, opening: f64) -> Command {
        self.by_technician[fixture] = opening;
        self.command(fixture)
    }

    /// Outlets that the technician has left open.
    pub(super) fn left_open(&self) -> impl Iterator<Item = usize> {
        self.by_technician
            .iter()
            .enumerate()
            .filter(|(_, opening)| **opening > 0.0)
            .map(|(fixture, _)| fixture)
    }

    fn command(&self, fixture: usize) -> Command {
        Command::SetFixture {
            fixture,
            opening: self.by_household[fixture].max(self.by_technician[fixture]),
        }
    }
}
