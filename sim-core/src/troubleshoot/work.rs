//! A whole case worked by the troubleshooter, through a real visit: par for marks.

use super::advice::Decision;
use super::candidates::{earth_test, first_round};
use super::case::PublicCase;
use super::prepare::{Wanted, plan, tidy};
use super::troubleshooter::{Troubleshooter, TwinError};
use crate::catalog::PartId;
use crate::faults::FaultKind;
use crate::session::{Action, FaultName, Outcome, Repair, Station, Visit};

/// Most readings of one case.
const MOST_READINGS: usize = 40;
/// Most calls of one case: the first, and those after a proof that was none.
const MOST_ROUNDS: usize = 3;

/// How a case ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkEnd {
    /// Closed up.
    ClosedUp,
    /// The session stopped a dangerous act: never, or the rules have a hole.
    Stopped,
    /// An action was refused that ought to have been possible.
    Refused,
}

/// A case as the troubleshooter worked it.
#[derive(Debug, Clone)]
pub struct CaseWork {
    /// What it did, in order, with what came back.
    pub done: Vec<(Action, Outcome)>,
    /// What it called, the open earth included.
    pub called: Vec<FaultKind>,
    /// How sure it was of what it called first, the earth left out.
    pub probability: f64,
    /// What it took [min].
    pub minutes: f64,
    /// What it cost [USD].
    pub money: f64,
    /// How it ended.
    pub end: WorkEnd,
    /// What was refused, with why: nothing, or a twin knew the site badly.
    pub refused: Vec<(Action, String)>,
    /// What it believed at the end.
    pub troubleshooter: Troubleshooter,
}

struct Worker<'a> {
    visit: &'a mut Visit,
    mind: Troubleshooter,
    done: Vec<(Action, Outcome)>,
    refused: Vec<(Action, String)>,
    end: WorkEnd,
}

/// Works a case from where the visit stands to the close-up.  It reads outcomes only, and
/// of the visit what anybody knows who is there: place, covers, lock, kit.
///
/// # Errors
/// When the case has no twins.
pub fn work_case(visit: &mut Visit) -> Result<CaseWork, TwinError> {
    let mind = Troubleshooter::new(&PublicCase::of(visit.scenario()))?;
    Ok(work_with(visit, mind))
}

/// The same with a troubleshooter that knows the site already.
pub(super) fn work_with(visit: &mut Visit, mind: Troubleshooter) -> CaseWork {
    let mut worker = Worker {
        visit,
        mind,
        done: Vec::new(),
        refused: Vec::new(),
        end: WorkEnd::ClosedUp,
    };
    let (called, probability) = worker.work();
    CaseWork {
        called,
        probability,
        minutes: worker.visit.minutes(),
        money: worker.visit.money(),
        end: worker.end,
        done: worker.done,
        refused: worker.refused,
        troubleshooter: worker.mind,
    }
}

impl Worker<'_> {
    fn work(&mut self) -> (Vec<FaultKind>, f64) {
        for action in first_round() {
            self.act(&action);
        }
        let mut called: Vec<FaultKind> = Vec::new();
        let mut sure = 0.0;
        for round in 0..MOST_ROUNDS {
            let Some((faults, probability)) = self.read() else {
                return (called, sure);
            };
            if round == 0 {
                sure = probability;
                self.test_earth();
                if self.mind.open_earth() > 0.5 {
                    called.push(FaultKind::EarthOpen);
                }
            }
            // What the repair and the proof have told counts for the call as well.
            called.retain(|kind| *kind == FaultKind::EarthOpen);
            called.extend(faults.iter().copied());
            called.sort_unstable();
            let names = called.iter().map(|kind| FaultName(*kind)).collect();
            self.act(&Action::Call { faults: names });
            if round == 0 && called.contains(&FaultKind::EarthOpen) {
                self.want(&Wanted {
                    at: None,
                    is_locked: true,
                    is_powered: false,
                    actions: vec![Action::Repair {
                        part: PartId::Earth,
                        how: Repair::Rewire,
                    }],
                });
            }
            for kind in &faults {
                self.cure(*kind, &faults);
            }
            self.tidy_up();
            self.want(&Wanted {
                at: Some(Station::Wall),
                is_locked: false,
                is_powered: true,
                actions: vec![Action::Prove],
            });
            if self.end != WorkEnd::ClosedUp || self.is_well() {
                break;
            }
        }
        self.tidy_up();
        self.act(&Action::CloseUp);
        (called, sure)
    }

    /// Reads until it pays to call.
    fn read(&mut self) -> Option<(Vec<FaultKind>, f64)> {
        for _ in 0..MOST_READINGS {
            match self.mind.stop_or_go() {
                Decision::Call {
                    faults,
                    probability,
                } => return Some((faults, probability)),
                Decision::Read(advice) => {
                    for action in &advice.commands {
                        if !self.act(action) {
                            break;
                        }
                    }
                    if self.end == WorkEnd::Stopped {
                        return None;
                    }
                }
            }
        }
        let best = self.mind.suspects().into_iter().next()?;
        Some((best.faults, best.probability))
    }

    /// Whether, after the proof, everything is likely cured.
    fn is_well(&self) -> bool {
        let weights = self.mind.belief().of_hypotheses();
        let well: f64 = weights
            .iter()
            .zip(&self.mind.twins)
            .filter(|(weight, twin)| **weight > 1e-6 && twin.still_wrong().is_empty())
            .map(|(weight, _)| weight)
            .sum();
        well > 0.5
    }

    /// Does something; false when it was refused or dangerous.
    fn act(&mut self, action: &Action) -> bool {
        match self.visit.perform(action) {
            Ok(outcome) => {
                self.mind.observe(action, &outcome);
                let is_safe = outcome.hazard.is_none();
                self.done.push((action.clone(), outcome));
                if !is_safe {
                    self.end = WorkEnd::Stopped;
                }
                is_safe
            }
            Err(refusal) => {
                self.refused.push((action.clone(), refusal.to_string()));
                if self.end == WorkEnd::ClosedUp && !self.visit.is_over() {
                    self.end = WorkEnd::Refused;
                }
                false
            }
        }
    }

    /// Does what is wanted, with all that must come before it.
    fn want(&mut self, wanted: &Wanted) -> bool {
        let heaviest = self.mind.belief().heaviest();
        let Some((script, _)) = plan(&self.mind.twins[heaviest].visit, wanted) else {
            return false;
        };
        // A proof runs the pump for minutes: not where that could ruin it.
        let steps: Vec<Action> = script.steps.iter().map(|step| step.0.clone()).collect();
        if wanted.actions.contains(&Action::Prove) && !self.mind.is_safe(&steps) {
            return false;
        }
        script.steps.iter().all(|(action, _)| self.act(action))
    }

    fn cure(&mut self, kind: FaultKind, among: &[FaultKind]) {
        // The likeliest twin that has what was called.
        let weights = self.mind.belief().of_hypotheses();
        let groups = self.mind.belief().groups();
        let has = |at: usize| self.mind.group_kinds[groups[at]] == among;
        let found = (0..weights.len())
            .filter(|at| has(*at))
            .max_by(|a, b| weights[*a].total_cmp(&weights[*b]));
        let Some(at) = found else { return };
        let Some((script, _)) = self.mind.remedy(&self.mind.twins[at].visit, kind) else {
            return;
        };
        for (action, _) in &script.steps {
            if !self.act(action) {
                return;
            }
        }
    }

    fn test_earth(&mut self) {
        if self.mind.has_tested_earth {
            return;
        }
        for wanted in earth_test() {
            if self.want(&wanted) {
                return;
            }
        }
    }

    fn tidy_up(&mut self) {
        // By the likeliest twin: the real handles are known only where they were looked at.
        for action in tidy(self.mind.heaviest_visit(), false) {
            self.want(&Wanted {
                at: None,
                is_locked: false,
                is_powered: false,
                actions: vec![action],
            });
        }
    }
}
