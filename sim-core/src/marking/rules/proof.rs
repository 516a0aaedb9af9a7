//! The proof: a run after the last repair that reached cut-out, held and gave its water.

use super::{Case, Judged};
use crate::units::convert::PSI;

/// Share for a run that came to its cut-out.
const BUILT: f64 = 0.4;
/// Share for a pressure that held.
const HELD: f64 = 0.3;
/// Share for a drawdown as expected.
const DREW: f64 = 0.3;
/// Most that the gauge may fall in a hold of a quarter of an hour, once the tank's air has
/// cooled [Pa]: 1 psi (common practice, no source).
pub const MOST_FALL_PA: f64 = PSI;
/// How far a drawdown may lie from what the law of the tank's air gives: a tenth (common
/// practice, no source).
pub const DRAWDOWN_TOLERANCE: f64 = 0.1;

/// Judges the proof.  On a healthy system it is the proof that shows it.
#[must_use]
pub fn judge(case: &Case<'_>) -> Judged {
    let mut judged = Judged::default();
    let Some((n, proof)) = case.proof() else {
        judged.remark(None, "No proof was run.");
        return judged;
    };
    if let Some(repair) = case.last_repair().filter(|repair| *repair > n) {
        judged.remark(
            Some(n),
            format!(
                "The proof was run before action {repair} changed the system again; it proves nothing of it."
            ),
        );
        return judged;
    }
    match proof.cut_out {
        Some(_) => judged.note(
            BUILT,
            Some(n),
            "The pump built to cut-out and stopped itself.",
        ),
        None => judged.remark(Some(n), "The pump did not come to its cut-out."),
    }
    match proof.hold {
        Some((begun, ended)) => {
            let fall = begun - ended;
            let words = format!(
                "{:.1} psi ({:.0} kPa) lost while holding; up to {:.0} psi is taken for tight (common practice, no source)",
                (fall / PSI).max(0.0),
                (fall / 1_000.0).max(0.0),
                MOST_FALL_PA / PSI
            );
            if fall <= MOST_FALL_PA {
                judged.note(HELD, Some(n), format!("The pressure held: {words}."));
            } else {
                judged.remark(Some(n), format!("The pressure did not hold: {words}."));
            }
        }
        None => judged.remark(Some(n), "The pressure was not held."),
    }
    match proof.drawdown {
        Some(drawdown) if proof.drawdown_expected > 0.0 => {
            let ratio = drawdown / proof.drawdown_expected;
            let words = format!(
                "{:.0} % of what the tank should give; {:.0} % more or less is taken for right (common practice, no source)",
                100.0 * ratio,
                100.0 * DRAWDOWN_TOLERANCE
            );
            if (ratio - 1.0).abs() <= DRAWDOWN_TOLERANCE {
                judged.note(
                    DREW,
                    Some(n),
                    format!("The drawdown was as expected: {words}."),
                );
            } else {
                judged.remark(Some(n), format!("The drawdown was off: {words}."));
            }
        }
        Some(_) => judged.remark(Some(n), "A drawdown was not to be expected."),
        None => judged.remark(Some(n), "No drawdown from cut-out to cut-in was measured."),
    }
    judged.bounded()
}
