//! The sites that are thought of, one for each hypothesis.

use std::sync::Arc;

use super::shown::{Feature, shown};
use crate::faults::{Fault, FaultKind};
use crate::scenario::Scenario;
use crate::session::{Action, BeginError, Books, Outcome, Refusal, Visit};

/// Seed of the households that used the sites thought of: any will do, and it is nobody's.
const SEED: u64 = 0x7731_0f5a;

/// A site thought of.
#[derive(Debug, Clone)]
pub(super) struct Twin {
    pub(super) visit: Visit,
    /// How many of the actions done have been done on it: fewer while it is too unlikely to
    /// be worth it.
    pub(super) done: usize,
}

impl Twin {
    pub(super) fn arrive(
        scenario: &Arc<Scenario>,
        faults: &[Fault],
        books: &Books,
    ) -> Result<Self, BeginError> {
        let visit = Visit::imagine(scenario, faults.to_vec(), SEED, books)?;
        Ok(Self { visit, done: 0 })
    }

    /// Does an action here too, and says what it shows.  What cannot or must not be done
    /// here, though it was done at the real site, does not happen: as much time passes
    /// (`seconds`).
    pub(super) fn act(&mut self, number: usize, action: &Action, seconds: f64) -> Vec<Feature> {
        let (outcome, before) = try_action(&mut self.visit, action);
        if let Some(before) = before {
            self.visit = before;
            let wait = Action::Wait { seconds };
            // A wait is refused only where the plant cannot go on: then it stands.
            let _ = self.visit.perform(&wait);
        }
        shown(number, action, &outcome)
    }

    /// Everything that was wrong on arrival, what the time before has worn included.
    pub(super) fn all_wrong(&self) -> Vec<FaultKind> {
        let hidden = self.visit.condition().hidden;
        let mut kinds: Vec<FaultKind> = hidden.iter().map(|h| h.fault.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    }

    /// Faults that are still there.
    pub(super) fn still_wrong(&self) -> Vec<FaultKind> {
        let condition = self.visit.condition();
        let left = condition.hidden.iter().filter(|hidden| !hidden.is_cured);
        let mut kinds: Vec<FaultKind> = left.map(|hidden| hidden.fault.kind).collect();
        kinds.sort_unstable();
        kinds
    }
}

/// Does an action; where it is refused or dangerous, also gives the visit as it was before.
pub(super) fn try_action(
    visit: &mut Visit,
    action: &Action,
) -> (Result<Outcome, Refusal>, Option<Visit>) {
    let before = visit.clone();
    let outcome = visit.perform(action);
    let is_done = outcome
        .as_ref()
        .is_ok_and(|outcome| outcome.hazard.is_none());
    (outcome, (!is_done).then_some(before))
}
