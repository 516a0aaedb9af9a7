//! From logbook to report.

use std::sync::Arc;

use super::case::{Case, is_repair, new_part};
use super::report::{
    Called, Counts, EndCondition, HiddenFault, PartMark, Report, Row, ScenarioFacts,
};
use super::rules::{RULES, economy};
use crate::catalog::Catalog;
use crate::scenario::{Rubric, Scenario};
use crate::session::{Action, Condition, Done, Logbook, ReplayError, Tool, Visit, replay};

/// How far below the pass mark a dangerous act holds a mark, at least.
const BELOW_PASS: f64 = 1.0;

/// Marks a logbook: lives it again on its scenario, then judges what came out.
///
/// # Errors
/// When it was recorded on another scenario or edition, or was edited.
pub fn mark(scenario: &Arc<Scenario>, logbook: &Logbook) -> Result<Report, ReplayError> {
    let (visit, done) = replay(logbook, scenario)?;
    let condition = visit.condition();
    let catalog = Catalog::shipped();
    let case = case_of(scenario, &visit, &done, &condition, &catalog);
    let judged = judge(&case, &scenario.rubric);
    let standing: Vec<u64> = case.standing().into_iter().map(|(n, _)| n).collect();
    let header = &logbook.header;
    Ok(Report {
        scenario: facts(scenario, header.seed),
        person: header.person.clone(),
        mode: header.mode,
        seed: header.seed,
        recorded_by: header.program.clone(),
        marked_by: env!("CARGO_PKG_VERSION").to_owned(),
        is_torn: logbook.is_torn,
        is_over: visit.is_over(),
        total: judged.total,
        pass_mark: scenario.rubric.pass,
        passes: judged.total >= scenario.rubric.pass,
        is_capped: judged.is_capped,
        parts: judged.parts,
        hidden: hidden(&case),
        called: called(&case),
        unneeded: economy::unneeded(&case),
        timeline: (1_u64..)
            .zip(&done)
            .map(|(n, done)| row(n, done, !standing.contains(&n)))
            .collect(),
        gauge: visit.gauge_trace(),
        minutes: visit.minutes(),
        money: visit.money(),
        counts: counts(&case),
        condition: EndCondition {
            spoilt: condition.spoilt.clone(),
            untidy: condition.untidy.clone(),
            owes_disinfection: condition.owes_disinfection,
        },
    })
}

/// The parts of a mark and their sum.
#[derive(Debug, Clone, PartialEq)]
pub struct Sum {
    /// Every part, in the order of [`RULES`].
    pub parts: Vec<PartMark>,
    /// The mark, of 100, to a tenth.
    pub total: f64,
    /// A dangerous act held it below the pass mark.
    pub is_capped: bool,
}

/// Judges a case by every rule.
///
/// A dangerous act, whatever it saved, holds the sum at least one point below the pass
/// mark: safety is a constraint, and no skill elsewhere buys it back.
#[must_use]
pub fn judge(case: &Case<'_>, rubric: &Rubric) -> Sum {
    let weights = &rubric.weights;
    let weights = [
        weights.call,
        weights.repair,
        weights.proof,
        weights.safety,
        weights.economy,
    ];
    let parts: Vec<PartMark> = RULES
        .iter()
        .zip(weights)
        .map(|(rule, weight)| {
            let judged = (rule.judge)(case);
            PartMark {
                name: rule.name,
                label: rule.label,
                weight,
                earned: to_a_tenth(weight * judged.share),
                findings: judged.findings,
            }
        })
        .collect();
    let sum = to_a_tenth(parts.iter().fold(0.0, |sum, part| sum + part.earned));
    let most = (rubric.pass - BELOW_PASS).max(0.0);
    let is_capped = case.hazardous().next().is_some() && sum > most;
    Sum {
        parts,
        total: if is_capped { most } else { sum },
        is_capped,
    }
}

fn to_a_tenth(points: f64) -> f64 {
    (points * 10.0).round() / 10.0
}

fn case_of<'a>(
    scenario: &'a Scenario,
    visit: &Visit,
    done: &'a [Done],
    condition: &'a Condition,
    catalog: &'a Catalog,
) -> Case<'a> {
    let has = |tool| scenario.kit.contains(&tool);
    Case {
        done,
        condition,
        catalog,
        accept: &scenario.accept,
        role: scenario.role,
        budget: scenario.budget,
        par: scenario.par_of(visit.seed()),
        minutes: visit.minutes(),
        money: visit.money(),
        can_check_earth: scenario.site.wiring.is_some()
            && has(Tool::Meter)
            && has(Tool::LockoutSet),
        is_closed: done.iter().any(|done| done.action == Action::CloseUp),
    }
}

fn facts(scenario: &Scenario, seed: u64) -> ScenarioFacts {
    let par = scenario.par_of(seed);
    let switch = &scenario.site.wall.pressure_switch;
    ScenarioFacts {
        name: scenario.name.clone(),
        title: scenario.title.clone(),
        level: scenario.level,
        site: scenario.site.title.clone(),
        complaint: scenario.complaint.clone(),
        cut_in_pa: switch.cut_in.si(),
        cut_out_pa: switch.cut_out.si(),
        par_minutes: par.minutes,
        par_money: par.money,
        budget_minutes: scenario.budget.minutes,
        budget_money: scenario.budget.money,
        teaching: scenario.teaching.clone(),
        references: scenario
            .references
            .iter()
            .map(ToString::to_string)
            .collect(),
    }
}

fn hidden(case: &Case<'_>) -> Vec<HiddenFault> {
    let remaining = case.condition.hidden.iter();
    remaining
        .filter_map(|remaining| {
            let entry = case.entry(remaining.fault.kind)?;
            let info = remaining.fault.info();
            Some(HiddenFault {
                name: info.name,
                title: entry.title.clone(),
                part: entry.part,
                mechanism: entry.mechanism.clone(),
                severity: remaining.fault.severity / info.si_per_unit,
                unit: info.unit,
                remedies: entry.remedies.iter().map(ToString::to_string).collect(),
                proof: entry.proof.clone(),
                signs: entry.signs.clone(),
                look_alikes: entry
                    .look_alikes
                    .iter()
                    .map(|other| (case.title(other.kind).to_owned(), other.splitter.clone()))
                    .collect(),
                is_cured: remaining.is_cured,
            })
        })
        .collect()
}

fn called(case: &Case<'_>) -> Option<Vec<Called>> {
    let (_, kinds) = case.call()?;
    let hidden = &case.condition.hidden;
    let called = kinds.into_iter().map(|kind| Called {
        name: kind.info().name,
        title: case.title(kind).to_owned(),
        is_right: hidden.iter().any(|h| case.is_same(kind, h.fault.kind)),
    });
    Some(called.collect())
}

fn row(n: u64, done: &Done, is_undone: bool) -> Row {
    let outcome = &done.outcome;
    Row {
        n,
        begun: done.begun,
        ended: done.ended,
        station: done.station,
        action: done.action.clone(),
        readings: outcome.readings.clone(),
        cues: outcome.cues.clone(),
        remarks: outcome.remarks.clone(),
        money: outcome.money,
        hazard: outcome.hazard.clone(),
        is_undone: is_undone && done.action != Action::Undo,
    }
}

fn counts(case: &Case<'_>) -> Counts {
    let standing = case.standing();
    let count = |is: &dyn Fn(&Done) -> bool| {
        let n = standing.iter().filter(|(_, done)| is(done)).count();
        n as u64
    };
    let sum = |of: &dyn Fn(&Done) -> usize| {
        let n: usize = standing.iter().map(|(_, done)| of(done)).sum();
        n as u64
    };
    Counts {
        actions: case.done.len() as u64,
        readings: sum(&|done| done.outcome.readings.len()),
        cues: sum(&|done| done.outcome.cues.len()),
        repairs: count(&|done| is_repair(&done.action)),
        parts: count(&|done| new_part(&done.action).is_some()),
        calls: count(&|done| matches!(done.action, Action::Call { .. })),
        hints: case
            .done
            .iter()
            .filter(|done| done.action == Action::Hint)
            .count() as u64,
        undone: case
            .done
            .iter()
            .filter(|done| done.action == Action::Undo)
            .count() as u64,
        hazards: case.hazardous().count() as u64,
    }
}
