//! What the rules look at: plain data of a visit that is over.

use crate::catalog::{Catalog, Entry, PartId, Remedy};
use crate::faults::FaultKind;
use crate::scenario::{Budget, Par, Role};
use crate::session::{Action, Condition, Done, Observation, Proof, Repair};

/// A visit as the rules see it.
#[derive(Debug, Clone)]
pub struct Case<'a> {
    /// Every action in order; the first has number 1.
    pub done: &'a [Done],
    /// How the site stands at the end.
    pub condition: &'a Condition,
    /// What people need to know about each fault.
    pub catalog: &'a Catalog,
    /// Pairs of kinds that count as one another.
    pub accept: &'a [(FaultKind, FaultKind)],
    /// What the technician may do.
    pub role: Role,
    /// What the visit may take.
    pub budget: Budget,
    /// What a practised technician takes.
    pub par: Par,
    /// Time that it took [min].
    pub minutes: f64,
    /// Money that it cost [USD].
    pub money: f64,
    /// The kit and the site let a person check the earth conductor.
    pub can_check_earth: bool,
    /// The person closed up.
    pub is_closed: bool,
}

/// An action that was not undone, with its number from 1.
pub(super) type Numbered<'a> = (u64, &'a Done);

impl<'a> Case<'a> {
    /// Actions that stand: what was undone, and undoing itself, left out.
    pub(super) fn standing(&self) -> Vec<Numbered<'a>> {
        let mut standing = Vec::new();
        for (n, done) in (1_u64..).zip(self.done) {
            // An undo takes back the last action that stands.
            if done.action == Action::Undo {
                standing.pop();
            } else {
                standing.push((n, done));
            }
        }
        standing
    }

    /// Actions that were done or undone with a hazard.
    pub(super) fn hazardous(&self) -> impl Iterator<Item = Numbered<'a>> {
        (1_u64..)
            .zip(self.done)
            .filter(|(_, done)| done.outcome.hazard.is_some())
    }

    /// The last call: its number and what was called.
    pub(super) fn call(&self) -> Option<(u64, Vec<FaultKind>)> {
        self.standing()
            .into_iter()
            .rev()
            .find_map(|(n, done)| match &done.action {
                Action::Call { faults } => {
                    let mut kinds: Vec<FaultKind> = faults.iter().map(|name| name.0).collect();
                    kinds.sort_unstable();
                    kinds.dedup();
                    Some((n, kinds))
                }
                _ => None,
            })
    }

    /// The last proof: its number and what it showed.
    pub(super) fn proof(&self) -> Option<(u64, &'a Proof)> {
        self.standing().into_iter().rev().find_map(|(n, done)| {
            let shown = done.outcome.readings.iter().rev();
            let proof = shown
                .filter_map(|entry| match &entry.observation {
                    Observation::Proof(proof) => Some(proof),
                    _ => None,
                })
                .next();
            proof.map(|proof| (n, proof))
        })
    }

    /// The part that a kind of fault sits in.
    pub(super) fn part(&self, kind: FaultKind) -> PartId {
        self.entry(kind).map_or(PartId::None, |entry| entry.part)
    }

    /// A few words for a kind of fault.
    pub(super) fn title(&self, kind: FaultKind) -> &'a str {
        self.entry(kind)
            .map_or(kind.info().name, |entry| entry.title.as_str())
    }

    pub(super) fn entry(&self, kind: FaultKind) -> Option<&'a Entry> {
        self.catalog.entry(kind)
    }

    /// Whether a kind called is right for a kind hidden.
    pub(super) fn is_same(&self, called: FaultKind, hidden: FaultKind) -> bool {
        called == hidden
            || self
                .accept
                .iter()
                .any(|&pair| pair == (called, hidden) || pair == (hidden, called))
    }

    /// The last action that can have repaired a kind of fault.
    pub(super) fn repair_of(&self, kind: FaultKind) -> Option<u64> {
        let entry = self.entry(kind)?;
        self.standing()
            .into_iter()
            .rev()
            .find(|(_, done)| repairs(&done.action, kind, entry))
            .map(|(n, _)| n)
    }

    /// The last action that repaired or set anything.
    pub(super) fn last_repair(&self) -> Option<u64> {
        self.standing()
            .into_iter()
            .rev()
            .find(|(_, done)| is_repair(&done.action))
            .map(|(n, _)| n)
    }
}

/// Whether an action changes how the system is: after it, an earlier proof proves nothing.
pub(super) const fn is_repair(action: &Action) -> bool {
    matches!(
        action,
        Action::Repair { .. }
            | Action::Replace { .. }
            | Action::SetAir { .. }
            | Action::AdjustSwitch { .. }
            | Action::LowerPump { .. }
            | Action::JoinLeads
            | Action::Vent
            | Action::Prime
    )
}

/// The part that an action puts in new.
pub(super) const fn new_part(action: &Action) -> Option<PartId> {
    match action {
        Action::Replace { part }
        | Action::Repair {
            part,
            how: Repair::Fit,
        } => Some(*part),
        _ => None,
    }
}

/// Whether an action can have been the repair of a fault.
fn repairs(action: &Action, kind: FaultKind, entry: &Entry) -> bool {
    let touches = |part: PartId| {
        entry.part == part
            || entry
                .remedies
                .iter()
                .any(|remedy| remedy.part() == Some(part))
    };
    match action {
        Action::Replace { part } | Action::Repair { part, .. } => touches(*part),
        Action::SetAir { .. } => entry.remedies.contains(&Remedy::SetPrecharge),
        Action::AdjustSwitch { .. } => entry.remedies.contains(&Remedy::AdjustSwitch),
        Action::Vent | Action::Prime | Action::LowerPump { .. } => {
            entry.remedies.contains(&Remedy::Prime)
        }
        Action::Explain { about } => {
            entry.remedies.contains(&Remedy::Explain) && about.is_some_and(|about| about.0 == kind)
        }
        Action::SetBreaker { on: true } => touches(PartId::Breaker),
        Action::HoldLever { held: true } => kind == FaultKind::CutOffTripped,
        Action::SetHouseValve { .. } => touches(PartId::HouseValve),
        Action::SetTankValve { .. } => touches(PartId::TankValve),
        Action::SetSourceValve { .. } => touches(PartId::SourceValve),
        _ => false,
    }
}
