//! The call: was everything that was wrong named, and nothing else?

use super::{Case, Judged};
use crate::faults::FaultKind;
use crate::marking::evidence::support;

/// Share of a fault's worth for the right part with a wrong mechanism.
const RIGHT_PART: f64 = 0.4;
/// What a fault called without any observation that bears on it is worth.
const UNSUPPORTED: f64 = 0.5;
/// Share of the whole part that each fault called in excess costs.
const EXCESS: f64 = 0.25;

/// Judges the call.
///
/// Every hidden fault, those that the time before the visit added included, is worth the
/// same share.  A kind of an accepted pair counts as the other.  What was called about a
/// part without any observation that bears on it is worth half.
#[must_use]
pub fn judge(case: &Case<'_>) -> Judged {
    let mut judged = Judged::default();
    let mut hidden: Vec<FaultKind> = case.condition.hidden.iter().map(|h| h.fault.kind).collect();
    hidden.sort_unstable();
    hidden.dedup();
    let Some((n, mut called)) = case.call() else {
        judged.remark(None, "Nothing was called.");
        return judged;
    };
    if hidden.is_empty() {
        if called.is_empty() {
            judged.note(1.0, Some(n), "A sound system was called sound.");
        } else {
            judged.remark(
                Some(n),
                format!("The system is sound; called was {}.", titles(case, &called)),
            );
        }
        return judged;
    }
    if called.is_empty() {
        judged.remark(
            Some(n),
            format!(
                "The system was called sound; wrong was {}.",
                titles(case, &hidden)
            ),
        );
        return judged;
    }
    let worth = 1.0 / hidden.len() as f64;
    let mut missed = Vec::new();
    // Exact names are matched first, so that a near miss takes nobody else's place.
    for fault in hidden {
        match called.iter().position(|kind| case.is_same(*kind, fault)) {
            Some(at) => credit(case, &mut judged, n, (called.remove(at), fault), worth),
            None => missed.push(fault),
        }
    }
    for fault in missed {
        let part = case.part(fault);
        match called.iter().position(|kind| case.part(*kind) == part) {
            Some(at) => credit(case, &mut judged, n, (called.remove(at), fault), worth),
            None => judged.remark(Some(n), format!("Not called: {}.", case.title(fault))),
        }
    }
    for kind in called {
        judged.note(
            -EXCESS,
            Some(n),
            format!("Called besides, and not so: {}.", case.title(kind)),
        );
    }
    judged.bounded()
}

fn credit(
    case: &Case<'_>,
    judged: &mut Judged,
    n: u64,
    (called, hidden): (FaultKind, FaultKind),
    worth: f64,
) {
    let is_right = case.is_same(called, hidden);
    let mut sentence = if called == hidden {
        format!("Rightly called: {}.", case.title(hidden))
    } else if is_right {
        format!(
            "Called was {}, which this kit cannot tell from {}: counted as right.",
            case.title(called),
            case.title(hidden)
        )
    } else {
        format!(
            "The right part, but not its fault: called was {}, it was {}.",
            case.title(called),
            case.title(hidden)
        )
    };
    let mut share = if is_right { worth } else { RIGHT_PART * worth };
    match support(case, case.part(called), n) {
        Some((seen, kind)) => {
            sentence += &format!(" Evidence from action {seen}: {}.", kind.label());
        }
        None => {
            share *= UNSUPPORTED;
            sentence += " Nothing that was observed before bears on it, so it counts half.";
        }
    }
    judged.note(share, Some(n), sentence);
}

fn titles(case: &Case<'_>, kinds: &[FaultKind]) -> String {
    let titles: Vec<&str> = kinds.iter().map(|kind| case.title(*kind)).collect();
    titles.join(", ")
}
