//! One member of a scenario's pool, worked and looked at.

use std::sync::Arc;

use serde::Serialize;

use super::{alike, judge, signs, trial};
use crate::faults::FaultKind;
use crate::marking::Report;
use crate::scenario::Scenario;
use crate::session::{Action, BeginError, Mode, ReplayError, Visit};
use crate::troubleshoot::{CaseWork, TwinError, WorkEnd, work_case};

/// Probability below which a suspect that is left is not told of [-] (training value).
const LEFT_OVER: f64 = 0.05;
/// Most suspects that are told of.
const MOST_LEFT: usize = 4;

/// Why a scenario cannot be vetted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum VetError {
    /// The visit cannot be begun.
    #[error(transparent)]
    Begin(#[from] BeginError),
    /// No site can be thought of.
    #[error(transparent)]
    Twins(#[from] TwinError),
    /// The visit cannot be marked.
    #[error(transparent)]
    Mark(#[from] ReplayError),
}

/// How grave something is that was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// The scenario is not fair as it stands.
    Error,
    /// Something to think about.
    Remark,
}

/// Something that was found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// How grave.
    pub grade: Grade,
    /// A sentence or two.
    pub sentence: String,
}

/// The reading after which least was left unknown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Decisive {
    /// Number of the action, from 1.
    pub n: usize,
    /// What was done.
    pub action: Action,
    /// How much less was unknown of part and mechanism [bits].
    pub bits: f64,
}

/// A suspect that was left at the end beside what was called.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Left {
    /// Its faults; empty says that nothing is wrong.
    #[serde(serialize_with = "names")]
    pub faults: Vec<FaultKind>,
    /// For people.
    pub title: String,
    /// How likely [-].
    pub probability: f64,
    /// Calling it counts as right by the scenario.
    pub is_accepted: bool,
}

/// An instrument outside the kit that would part what was left.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Splitter {
    /// The tool, in words.
    pub tool: String,
    /// The reading.
    pub reading: String,
    /// Why, by the two suspects that it parts.
    pub why: String,
}

/// The same visit with something added, marked again.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trial {
    /// What was added, in words.
    pub added: &'static str,
    /// The mark then, of 100.
    pub mark: f64,
    /// Whether it passes.
    pub passes: bool,
}

/// One member of the pool, vetted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Vetted {
    /// Seed of the visit.
    pub seed: u64,
    /// What was hidden, what the time before added included.
    #[serde(serialize_with = "names")]
    pub hidden: Vec<FaultKind>,
    /// The same for people.
    pub hidden_title: String,
    /// What was called.
    #[serde(serialize_with = "names")]
    pub called: Vec<FaultKind>,
    /// The same for people.
    pub called_title: String,
    /// How sure the troubleshooter was when it called first [-].
    pub probability: f64,
    /// The call is right by the scenario.
    pub is_right: bool,
    /// What the mark says of the call where it did not earn all that it could.
    pub call_lost: Option<String>,
    /// Everything hidden was well at the end.
    pub is_cured: bool,
    /// The visit was closed up, nothing refused or stopped.
    pub is_closed: bool,
    /// The mark, of 100.
    pub mark: f64,
    /// The mark passes.
    pub passes: bool,
    /// What it took [min].
    pub minutes: f64,
    /// What it cost [USD].
    pub money: f64,
    /// Actions.
    pub commands: usize,
    /// Par as the scenario states it [min].
    pub par_minutes: f64,
    /// Par as the scenario states it [USD].
    pub par_money: f64,
    /// Budget [min].
    pub budget_minutes: f64,
    /// Budget [USD].
    pub budget_money: f64,
    /// What decided; none when nothing told anything.
    pub decisive: Option<Decisive>,
    /// Suspects left at the end beside what was called, the likeliest first.
    pub left: Vec<Left>,
    /// What would part them.
    pub splitter: Option<Splitter>,
    /// What an owner would notice beside a healthy site, one sentence each.
    pub signs: Vec<String>,
    /// The visit with a needless reading.
    pub needless: Option<Trial>,
    /// The visit with an unsafe act at its end.
    pub dangerous: Option<Trial>,
    /// What is amiss.
    pub findings: Vec<Finding>,
}

impl Vetted {
    /// Whether the scenario is not fair as it stands.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        let is_error = |finding: &Finding| finding.grade == Grade::Error;
        self.findings.iter().any(is_error)
    }
}

fn names<S: serde::Serializer>(kinds: &[FaultKind], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(kinds.iter().map(|kind| kind.info().name))
}

/// Works what a seed of a scenario hides, from complaint to close-up, and looks at it.
///
/// # Errors
/// When the visit cannot be begun, the site not be thought of, or the visit not be marked.
pub fn vet(scenario: &Arc<Scenario>, seed: u64) -> Result<Vetted, VetError> {
    let mut visit = Visit::begin(scenario, seed, Mode::Graded)?;
    let work = work_case(&mut visit)?;
    let actions: Vec<Action> = work.done.iter().map(|done| done.0.clone()).collect();
    let report = trial::marked(scenario, seed, &actions)?;
    let condition = visit.condition();
    let mut hidden: Vec<FaultKind> = condition.hidden.iter().map(|h| h.fault.kind).collect();
    hidden.sort_unstable();
    let par = scenario.par_of(seed);
    let mind = &work.troubleshooter;
    let left = left(scenario, &work, &hidden);
    let is_right = is_right(&report, &hidden);
    let is_open = !is_right || left.iter().any(|left| !left.is_accepted);
    let mut vetted = Vetted {
        seed,
        hidden_title: mind.title(&hidden),
        called_title: mind.title(&work.called),
        called: work.called.clone(),
        probability: work.probability,
        is_right,
        call_lost: call_lost(&report),
        is_cured: condition.hidden.iter().all(|hidden| hidden.is_cured),
        is_closed: work.end == WorkEnd::ClosedUp,
        mark: report.total,
        passes: report.passes,
        minutes: work.minutes,
        money: work.money,
        commands: actions.len(),
        par_minutes: par.minutes,
        par_money: par.money,
        budget_minutes: scenario.budget.minutes,
        budget_money: scenario.budget.money,
        decisive: decisive(&work),
        left,
        splitter: if is_open {
            alike::splitter(scenario, seed, &work)?
        } else {
            None
        },
        signs: signs::signs(scenario, seed)?,
        needless: trial::needless(scenario, seed, &actions)?,
        dangerous: trial::dangerous(scenario, seed, &actions)?,
        findings: Vec::new(),
        hidden,
    };
    vetted.findings = judge::findings(&vetted, scenario);
    Ok(vetted)
}

/// Whether all that was hidden was called, or what counts as the same, and nothing else.
pub(super) fn is_right(report: &Report, hidden: &[FaultKind]) -> bool {
    let mut kinds = hidden.to_vec();
    kinds.dedup();
    let called = report.called.as_ref();
    called.is_some_and(|called| {
        called.len() == kinds.len() && called.iter().all(|called| called.is_right)
    })
}

/// What the mark says of a call that did not earn all it could.
pub(super) fn call_lost(report: &Report) -> Option<String> {
    let call = report.parts.iter().find(|part| part.name == "call")?;
    let sentences = call
        .findings
        .iter()
        .map(|finding| finding.sentence.as_str());
    (call.earned < call.weight).then(|| sentences.collect::<Vec<_>>().join(" "))
}

/// What told most before the first call.
fn decisive(work: &CaseWork) -> Option<Decisive> {
    let is_call = |action: &Action| matches!(action, Action::Call { .. });
    let before = work.troubleshooter.worth().iter().enumerate();
    let mut best: Option<Decisive> = None;
    for (at, worth) in before.take_while(|(_, worth)| !is_call(&worth.action)) {
        let is_better = best.as_ref().is_none_or(|best| worth.bits > best.bits);
        if worth.bits > 0.0 && is_better {
            best = Some(Decisive {
                n: at + 1,
                action: worth.action.clone(),
                bits: worth.bits,
            });
        }
    }
    best
}

/// What is left beside the call and is not what was hidden.
fn left(scenario: &Scenario, work: &CaseWork, hidden: &[FaultKind]) -> Vec<Left> {
    let mind = &work.troubleshooter;
    let is_earth = |kind: &FaultKind| *kind == FaultKind::EarthOpen;
    let without_earth = |kinds: &[FaultKind]| {
        let own = kinds.iter().copied().filter(|kind| !is_earth(kind));
        own.collect::<Vec<_>>()
    };
    let (called, hidden) = (without_earth(&work.called), without_earth(hidden));
    let is_same = |a: FaultKind, b: FaultKind| {
        a == b || scenario.accept.contains(&(a, b)) || scenario.accept.contains(&(b, a))
    };
    let suspects = mind.suspects().into_iter();
    suspects
        .filter(|suspect| suspect.probability >= LEFT_OVER)
        .filter(|suspect| suspect.faults != called && suspect.faults != hidden)
        .take(MOST_LEFT)
        .map(|suspect| Left {
            title: mind.title(&suspect.faults),
            is_accepted: suspect.faults.len() == hidden.len()
                && suspect
                    .faults
                    .iter()
                    .all(|kind| hidden.iter().any(|other| is_same(*kind, *other))),
            probability: suspect.probability,
            faults: suspect.faults,
        })
        .collect()
}
