//! Safe work: a constraint, not points to trade.

use super::{Case, Judged};
use crate::session::{Action, Observation, Probe};

/// Share that each thing left as it should not be costs.
const UNTIDY: f64 = 0.2;
/// Share that a danger to life costs that was left switched on, found or not.
const LEFT_LIVE: f64 = 0.4;
/// Share that a source opened and not disinfected costs.
const NOT_DISINFECTED: f64 = 0.4;
/// Share that an earth conductor not checked costs: a lost earth has no symptom, so it is
/// always looked for.
const EARTH_NOT_CHECKED: f64 = 0.3;
/// Share that a visit without a close-up costs.
const NOT_CLOSED: f64 = 0.2;

/// Judges safety.
///
/// A dangerous act, undone or not, leaves nothing of this part, and `mark` then holds the
/// whole mark below the pass mark.  Asking a qualified person or a second one never costs
/// anything here.
#[must_use]
pub fn judge(case: &Case<'_>) -> Judged {
    let mut judged = Judged {
        share: 1.0,
        ..Judged::default()
    };
    let mut is_hazardous = false;
    for (n, done) in case.hazardous() {
        let Some(hazard) = &done.outcome.hazard else {
            continue;
        };
        let share = if is_hazardous { 0.0 } else { -1.0 };
        is_hazardous = true;
        judged.note(
            share,
            Some(n),
            format!("{} Instead: {}", hazard.consequence, hazard.instead),
        );
    }
    for untidy in &case.condition.untidy {
        judged.note(-UNTIDY, None, untidy.clone());
    }
    if !case.condition.left_live.is_empty() {
        let titles: Vec<&str> = case
            .condition
            .left_live
            .iter()
            .map(|kind| case.title(*kind))
            .collect();
        judged.note(
            -LEFT_LIVE,
            None,
            format!(
                "Left switched on with a danger to life ({}): it stays locked off until it is repaired, and the owner is told why.",
                titles.join(", ")
            ),
        );
    }
    if case.condition.owes_disinfection {
        judged.note(
            -NOT_DISINFECTED,
            None,
            "The source was opened; it was not disinfected, nor was a sample arranged.",
        );
    }
    if case.can_check_earth {
        match earth_check(case) {
            Some(n) => judged.remark(Some(n), "The earth conductor was checked."),
            None => judged.note(
                -EARTH_NOT_CHECKED,
                None,
                "The earth conductor was not checked: when it is lost nothing shows until somebody is shocked.",
            ),
        }
    }
    if !case.is_closed && !is_hazardous {
        judged.note(-NOT_CLOSED, None, "The visit was not closed up.");
    }
    if judged.share == 1.0 {
        judged.remark(None, "No dangerous act; the site was left as it should be.");
    }
    judged.bounded()
}

/// The action that measured the earth conductor, end to end.
fn earth_check(case: &Case<'_>) -> Option<u64> {
    let is_earth = |point: &str| point.ends_with(".earth") || point.ends_with(".frame");
    case.standing().into_iter().find_map(|(n, done)| {
        let is_measured = match &done.action {
            Action::Measure {
                meter: Probe::Ohms,
                from,
                to: Some(to),
                ..
            } => {
                from != to
                    && is_earth(from)
                    && is_earth(to)
                    && !done.outcome.readings.is_empty()
            }
            Action::Prove => done.outcome.readings.iter().any(|entry| {
                matches!(&entry.observation, Observation::Proof(proof) if proof.earth_ohm.is_some())
            }),
            _ => false,
        };
        is_measured.then_some(n)
    })
}
