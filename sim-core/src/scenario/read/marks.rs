//! Budget, par and rubric.

use crate::file::fields::Fields;
use crate::file::problem::Problems;
use crate::file::range::Range;
use crate::scenario::spec::{Rubric, Weights};

pub(super) const BUDGET_FIELDS: &[&str] = &["minutes", "money"];
pub(super) const RUBRIC_FIELDS: &[&str] = &["call", "repair", "proof", "safety", "economy", "pass"];

/// Minutes of a visit; a training value.
const MINUTES: Range = Range::new(1.0, 2_880.0);
/// Money of a visit [USD]; a training value.
const MONEY: Range = Range::new(0.0, 100_000.0);
/// Weight of a part, and the pass mark.
const WEIGHT: Range = Range::new(0.0, 100.0);
/// Weight of safe work: never so little that it could be traded for the rest.
const SAFETY_WEIGHT: Range = Range::new(10.0, 100.0);

/// Weights and pass mark of a scenario that gives no rubric; training values, the pass mark
/// as public pump installers' examinations have it (70 %).
const USUAL: Rubric = Rubric {
    weights: Weights {
        call: 30.0,
        repair: 20.0,
        proof: 15.0,
        safety: 25.0,
        economy: 10.0,
    },
    pass: 70.0,
};

/// Minutes and money.
pub(super) fn read_budget(fields: &Fields<'_>, name: &str) -> Option<(f64, f64)> {
    let budget = fields.section(name, BUDGET_FIELDS);
    let minutes = budget.number("minutes", MINUTES);
    let money = budget.number("money", MONEY);
    Some((minutes?.value, money?.value))
}

/// The rubric, or the usual one when the file gives none.
pub(super) fn read_rubric(fields: &Fields<'_>, problems: &Problems) -> Option<Rubric> {
    let Some(group) = fields.optional_section("rubric", RUBRIC_FIELDS) else {
        return Some(USUAL);
    };
    let [call, repair, proof, economy] =
        ["call", "repair", "proof", "economy"].map(|name| group.number(name, WEIGHT));
    let safety = group.number("safety", SAFETY_WEIGHT);
    let pass = group.number_or("pass", WEIGHT, USUAL.pass);
    let weights = Weights {
        call: call?.value,
        repair: repair?.value,
        proof: proof?.value,
        safety: safety?.value,
        economy: economy?.value,
    };
    let sum = weights.call + weights.repair + weights.proof + weights.safety + weights.economy;
    if (sum - 100.0).abs() > 1e-9 {
        problems.report_spot(
            &group.spot(),
            format!("the weights add up to {sum}"),
            "weights of call, repair, proof, safety and economy that add up to 100",
        );
        return None;
    }
    Some(Rubric {
        weights,
        pass: pass?.value,
    })
}
