//! The repair: is the plant well at the end?

use super::{Case, Judged};
use crate::catalog::{PartGroup, PartId, Remedy};
use crate::faults::FaultKind;
use crate::scenario::Role;
use crate::session::Action;

/// Share of the whole part that each thing spoilt during the visit costs.
const SPOILT: f64 = 0.5;

/// Judges the repair by the plant's parameters, not by what was done.
///
/// A fault that was called rightly and left to a qualified person counts in full where its
/// remedy is to call one, or where the technician is not qualified for the wiring that it
/// sits in.
#[must_use]
pub fn judge(case: &Case<'_>) -> Judged {
    let mut judged = Judged::default();
    let hidden = &case.condition.hidden;
    if hidden.is_empty() {
        judged.note(
            1.0,
            None,
            "Nothing was wrong, so nothing had to be repaired.",
        );
    }
    for remaining in hidden {
        let kind = remaining.fault.kind;
        let worth = 1.0 / hidden.len() as f64;
        let title = case.title(kind);
        if remaining.is_cured {
            let action = case.repair_of(kind);
            judged.note(worth, action, format!("Well at the end: {title}."));
        } else if let Some(n) = handed_over(case, kind) {
            judged.note(
                worth,
                Some(n),
                format!(
                    "Called rightly and left to a qualified person, which counts in full: {title}."
                ),
            );
        } else {
            judged.remark(None, format!("Still there at the end: {title}."));
        }
    }
    for spoilt in &case.condition.spoilt {
        judged.note(-SPOILT, None, spoilt.clone());
    }
    judged.bounded()
}

/// The action that called a qualified person for a fault that was called rightly.
fn handed_over(case: &Case<'_>, kind: FaultKind) -> Option<u64> {
    let (_, called) = case.call()?;
    if !called.iter().any(|called| case.is_same(*called, kind)) {
        return None;
    }
    let entry = case.entry(kind)?;
    let is_for_others = entry.remedies.contains(&Remedy::CallQualified)
        || (case.role == Role::Apprentice && carries_mains(entry.part));
    if !is_for_others {
        return None;
    }
    case.standing()
        .into_iter()
        .find(|(_, done)| done.action == Action::CallQualified)
        .map(|(n, _)| n)
}

/// Whether work on a part is work on wiring.
fn carries_mains(part: PartId) -> bool {
    part.group() == PartGroup::Wiring
        || matches!(
            part,
            PartId::PressureSwitch | PartId::FloatSwitch | PartId::Motor | PartId::Capacitor
        )
}
