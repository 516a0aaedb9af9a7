//! Economy: time and money against par, and parts that were not needed.

use super::{Case, Judged, call, repair};
use crate::catalog::{PartId, Remedy};
use crate::marking::case::new_part;
use crate::marking::evidence::support;
use crate::marking::report::{Unneeded, WhyUnneeded};

/// Share for time; money has the other.
const TIME: f64 = 0.5;
/// Share that each part costs that was sound or that nothing pointed at.
const UNNEEDED_PART: f64 = 0.25;

/// Judges economy.
///
/// Time and money give their share in full up to par, and less in proportion from there to
/// nothing at the budget.  What is left undone saves nothing: the share is taken of what
/// was put right, and on a healthy system of what the call earned.
#[must_use]
pub fn judge(case: &Case<'_>) -> Judged {
    let mut judged = Judged::default();
    let time = against_par(case.minutes, case.par.minutes, case.budget.minutes);
    judged.note(
        TIME * time,
        None,
        format!(
            "{:.0} min; par {:.0}, budget {:.0}.",
            case.minutes, case.par.minutes, case.budget.minutes
        ),
    );
    let money = against_par(case.money, case.par.money, case.budget.money);
    judged.note(
        (1.0 - TIME) * money,
        None,
        format!(
            "{:.0} USD; par {:.0}, budget {:.0}.",
            case.money, case.par.money, case.budget.money
        ),
    );
    for part in unneeded(case) {
        let why = match part.why {
            WhyUnneeded::Sound => "the old one was sound",
            WhyUnneeded::NoEvidence => "nothing that was observed before pointed at it",
        };
        judged.note(
            -UNNEEDED_PART,
            Some(part.action),
            match part.part {
                PartId::Fixtures => format!("New taps and heads, though {why}."),
                part => format!("A new {}, though {why}.", part.label()),
            },
        );
    }
    let mut judged = judged.bounded();
    let put_right = if case.condition.hidden.is_empty() {
        call::judge(case).share
    } else {
        repair::judge(case).share
    };
    if put_right < 1.0 {
        let lost = judged.share * (1.0 - put_right);
        let sentence = if case.condition.hidden.is_empty() {
            "A saving counts as far as the call was right."
        } else {
            "A saving counts as far as the system was put right."
        };
        judged.note(-lost, None, sentence);
    }
    judged.bounded()
}

/// 1 up to par, falling evenly to 0 at the budget.
fn against_par(spent: f64, par: f64, budget: f64) -> f64 {
    if spent <= par {
        1.0
    } else if budget > par {
        ((budget - spent) / (budget - par)).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// New parts that were not needed, or put in before anything pointed at them.
#[must_use]
pub fn unneeded(case: &Case<'_>) -> Vec<Unneeded> {
    case.standing()
        .into_iter()
        .filter_map(|(n, done)| {
            let part = new_part(&done.action)?;
            let why = if !was_faulty(case, part) {
                WhyUnneeded::Sound
            } else if support(case, part, n).is_none() {
                WhyUnneeded::NoEvidence
            } else {
                return None;
            };
            Some(Unneeded {
                part,
                action: n,
                why,
                money: done.outcome.money,
            })
        })
        .collect()
}

/// Whether something hidden sits in a part or is remedied by a new one.
fn was_faulty(case: &Case<'_>, part: PartId) -> bool {
    case.condition.hidden.iter().any(|remaining| {
        case.entry(remaining.fault.kind).is_some_and(|entry| {
            entry.part == part
                || entry.remedies.contains(&Remedy::Replace(part))
                || entry.remedies.contains(&Remedy::Fit(part))
        })
    })
}
