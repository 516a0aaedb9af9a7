//! What a script of actions would tell: it is done on the likely twins, and each twin in
//! turn is taken for the real site.  What would be believed then, and how often, gives the
//! expected gain.
//!
//! All that a script shows is compared together, so that readings that hang on each other
//! count once.  What the twins show changes only when somebody changes the site: readings
//! between change the weights alone, and the sums over a table are quick.

use super::belief::entropy_bits;
use super::candidates::{Candidate, candidates};
use super::likelihood::{log_likelihood, widen};
use super::prepare::{Plan, Wanted, plan};
use super::shown::{Feature, shown};
use super::troubleshooter::{Troubleshooter, mark, state_of};
use super::twins::try_action;
use crate::math;
use crate::session::{Action, Hazard, HazardKind, Outcome, Refusal, Station, Visit};

/// Share of the belief whose twins are asked.
const SHARE: f64 = 0.995;
/// Share of what they had of the belief at first that the twins asked must still have.
const STILL_COVERED: f64 = 0.9;
/// Most twins that are asked.
const MOST_TWINS: usize = 96;
/// Twins less likely than this need not be safe to try it on.
const SAFE_FROM: f64 = 1e-3;

/// What the candidates would show, as long as nobody changes the site.
#[derive(Debug, Clone, Default)]
pub(super) struct Outlook {
    /// For which state of the site this holds; none before it was worked out.
    state: Option<(u64, u64)>,
    /// Share of the belief that the twins asked had then.
    covered: f64,
    /// Twins asked, by number.
    pub(super) twins: Vec<usize>,
    pub(super) views: Vec<View>,
    /// What was not looked at yet, the dearest first: with what it costs [USD].
    waiting: Vec<(f64, Candidate, Plan)>,
    /// For each twin asked, sites as they stand after what comes before several candidates.
    memory: Vec<Vec<(Vec<Action>, Visit)>>,
}

/// What one candidate would show.
#[derive(Debug, Clone)]
pub(super) struct View {
    pub(super) candidate: Candidate,
    /// What each of the twins asked shows, in their order.
    pub(super) shown: Vec<Vec<Feature>>,
    /// Likelihood of what one shows on another: row by row.
    kernel: Vec<f64>,
    /// Where one stood when it was priced, and where it begins.
    from: Station,
    first: Station,
    /// What it looks at, by action and state of the site.
    pub(super) marks: Vec<u64>,
    seconds: f64,
    money: f64,
}

impl View {
    /// How likely what one of the twins asked shows is on another, up to a factor.
    pub(super) fn likelihood(&self, seen: usize, on: usize) -> f64 {
        self.kernel[seen * self.shown.len() + on]
    }
}

/// What a candidate promises.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Promise {
    /// Expected gain [bits].
    pub(super) bits: f64,
    /// Expected probability of the likeliest suspect afterwards.
    pub(super) surest: f64,
}

impl Troubleshooter {
    /// Brings the outlook up to date.
    pub(super) fn look_out(&mut self) {
        let weights = self.belief.of_hypotheses();
        let covered: f64 = self.outlook.twins.iter().map(|at| weights[*at]).sum();
        let state = (self.mended, state_of(self.heaviest_visit()));
        if self.outlook.state == Some(state) && covered >= STILL_COVERED * self.outlook.covered {
            return;
        }
        let mut order: Vec<usize> = (0..weights.len()).collect();
        order.sort_by(|a, b| weights[*b].total_cmp(&weights[*a]));
        let mut asked = Vec::new();
        let mut sum = 0.0;
        for at in order {
            if sum >= SHARE || asked.len() >= MOST_TWINS {
                break;
            }
            sum += weights[at];
            asked.push(at);
        }
        asked.sort_unstable();
        let heaviest = &self.twins[self.belief.heaviest()].visit;
        let mut waiting: Vec<(f64, Candidate, Plan)> = candidates(&self.case.site)
            .into_iter()
            .filter_map(|candidate| {
                let (script, _) = plan(heaviest, &candidate.wanted)?;
                let cost = self.cost(script.seconds / 60.0, script.money);
                Some((cost, candidate, script))
            })
            .collect();
        waiting.sort_by(|a, b| b.0.total_cmp(&a.0));
        self.outlook = Outlook {
            state: Some(state),
            covered: sum,
            memory: vec![Vec::new(); asked.len()],
            twins: asked,
            views: Vec::new(),
            waiting,
        };
    }

    /// Looks at the next candidates, the cheapest first, up to a cost [USD] that grows as
    /// `bound` says.  Nothing tells more than all that is not known, so that what costs too
    /// much for that needs no look.
    pub(super) fn look_further(&mut self, limit: f64) -> bool {
        let Some((cost, candidate, script)) = self.outlook.waiting.pop() else {
            return false;
        };
        if cost > limit {
            self.outlook.waiting.push((cost, candidate, script));
            return false;
        }
        let weights = self.belief.of_hypotheses();
        let asked = self.outlook.twins.clone();
        let mut memory = std::mem::take(&mut self.outlook.memory);
        let view = self.view(candidate, &script, &asked, &weights, &mut memory);
        self.outlook.memory = memory;
        self.outlook.views.extend(view);
        true
    }

    /// Does a candidate on the twins asked; none where it cannot be done, or not safely.
    fn view(
        &self,
        candidate: Candidate,
        script: &Plan,
        asked: &[usize],
        weights: &[f64],
        memory: &mut [Vec<(Vec<Action>, Visit)>],
    ) -> Option<View> {
        let heaviest = self.belief.heaviest();
        let is_wanted = |step: &(Action, Option<usize>)| step.1 == Some(0);
        let first = script.steps.iter().position(is_wanted).unwrap_or(0);
        let before: Vec<Action> = script.steps[..first].iter().map(|s| s.0.clone()).collect();
        let mut marks = Vec::new();
        let mut of_heaviest = self.twins[heaviest].visit.clone();
        for (action, wanted) in &script.steps {
            if wanted.is_some() && looks(action) {
                marks.push(mark(&of_heaviest, action));
            }
            let _ = do_if_allowed(&mut of_heaviest, action);
        }
        let is_new: Vec<bool> = marks.iter().map(|mark| !self.is_known(*mark)).collect();
        if !is_new.contains(&true) {
            return None;
        }
        let mut all = Vec::with_capacity(asked.len());
        for (place, at) in asked.iter().enumerate() {
            let known = memory[place].iter().find(|(actions, _)| *actions == before);
            let mut visit = match known {
                Some((_, visit)) => visit.clone(),
                None => {
                    let mut visit = self.twins[*at].visit.clone();
                    for action in &before {
                        let is_safe = do_if_allowed(&mut visit, action).1;
                        if !is_safe && weights[*at] >= SAFE_FROM {
                            return None;
                        }
                    }
                    memory[place].push((before.clone(), visit.clone()));
                    visit
                }
            };
            let mut features = Vec::new();
            let mut looked = 0;
            for (action, wanted) in &script.steps[first..] {
                let (outcome, is_safe) = do_if_allowed(&mut visit, action);
                if !is_safe && weights[*at] >= SAFE_FROM {
                    return None;
                }
                let is_look = wanted.is_some() && looks(action);
                looked += usize::from(is_look);
                if let (Some(wanted), false) = (wanted, is_look && !is_new[looked - 1]) {
                    features.extend(shown(*wanted, action, &outcome));
                }
            }
            features.sort_by_key(|feature| feature.key);
            all.push(features);
        }
        if all.iter().all(Vec::is_empty) {
            return None;
        }
        let trust = self.trust(script.seconds);
        let wide: Vec<Vec<Feature>> = asked
            .iter()
            .zip(&all)
            .map(|(at, own)| {
                let around: Vec<&[Feature]> = self.hypotheses[*at]
                    .neighbours
                    .iter()
                    .filter_map(|other| asked.iter().position(|a| a == other))
                    .map(|place| all[place].as_slice())
                    .collect();
                widen(own, &around, trust)
            })
            .collect();
        let mut kernel = Vec::with_capacity(all.len() * all.len());
        for seen in &all {
            let logs: Vec<f64> = wide
                .iter()
                .map(|expected| log_likelihood(seen, expected, trust))
                .collect();
            let best = logs.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b));
            kernel.extend(logs.iter().map(|log| math::exp(log - best)));
        }
        Some(View {
            first: match script.steps.first() {
                Some((Action::Go { to }, _)) => *to,
                _ => self.twins[heaviest].visit.station(),
            },
            from: self.twins[heaviest].visit.station(),
            seconds: script.seconds,
            money: script.money,
            candidate,
            marks: marks
                .into_iter()
                .zip(is_new)
                .filter(|(_, is_new)| *is_new)
                .map(|(mark, _)| mark)
                .collect(),
            shown: all,
            kernel,
        })
    }

    /// What a view promises at the present weights.
    pub(super) fn promise(&self, view: &View) -> Promise {
        let weights = self.belief.of_hypotheses();
        let groups = self.belief.groups();
        let asked = &self.outlook.twins;
        let own: Vec<f64> = asked.iter().map(|at| weights[*at]).collect();
        let total: f64 = own.iter().sum();
        let n_groups = self.group_kinds.len();
        let mut now = vec![0.0; n_groups];
        for (at, weight) in asked.iter().zip(&own) {
            now[groups[*at]] += weight / total;
        }
        let before = entropy_bits(&now);
        let (mut after, mut surest) = (0.0, 0.0);
        let mut then = vec![0.0; n_groups];
        for (row, weight) in own.iter().enumerate() {
            if *weight < 1e-5 * total {
                continue;
            }
            then.fill(0.0);
            let line = &view.kernel[row * own.len()..(row + 1) * own.len()];
            let mut sum = 0.0;
            for ((likelihood, prior), at) in line.iter().zip(&own).zip(asked) {
                then[groups[*at]] += likelihood * prior;
                sum += likelihood * prior;
            }
            if sum <= 0.0 {
                continue;
            }
            then.iter_mut().for_each(|p| *p /= sum);
            after += weight / total * entropy_bits(&then);
            surest += weight / total * then.iter().fold(0.0_f64, |a, b| a.max(*b));
        }
        Promise {
            bits: (before - after).max(0.0),
            surest,
        }
    }

    /// What a view takes now [min] and costs [USD]: as when it was worked out, but for the
    /// way to where it begins.
    pub(super) fn price(&self, view: &View) -> (f64, f64) {
        let visit = &self.twins[self.belief.heaviest()].visit;
        let walk = |from| visit.walking_s(from, view.first);
        let seconds = view.seconds - walk(view.from) + walk(visit.station());
        (seconds / 60.0, view.money)
    }

    /// Whether actions are safe on every twin that is at all likely, and would not ruin its
    /// pump if they were done once more.
    pub(super) fn is_safe(&self, actions: &[Action]) -> bool {
        let weights = self.belief.of_hypotheses();
        let likely = self.twins.iter().zip(&weights);
        likely
            .filter(|(_, weight)| **weight >= SAFE_FROM)
            .all(|(twin, _)| {
                let mut visit = twin.visit.clone();
                let is_safe = actions
                    .iter()
                    .all(|action| do_if_allowed(&mut visit, action).1);
                is_safe
                    && actions.iter().all(|action| {
                        let (outcome, _) = do_if_allowed(&mut visit, action);
                        !outcome.is_ok_and(|outcome| {
                            let ruined = |hazard: &Hazard| hazard.kind == HazardKind::PumpRuined;
                            outcome.hazard.as_ref().is_some_and(ruined)
                        })
                    })
            })
    }

    /// The steps of a candidate as things stand.
    pub(super) fn steps(&self, wanted: &Wanted) -> Option<Plan> {
        plan(&self.twins[self.belief.heaviest()].visit, wanted).map(|found| found.0)
    }
}

/// Does an action where it can and may be done.  Says whether it was safe.
fn do_if_allowed(visit: &mut Visit, action: &Action) -> (Result<Outcome, Refusal>, bool) {
    let (outcome, before) = try_action(visit, action);
    let is_safe = !outcome.as_ref().is_ok_and(|o| o.hazard.is_some());
    if let Some(before) = before {
        *visit = before;
    }
    (outcome, is_safe)
}

/// Whether something is looked at, heard or measured by an action.
const fn looks(action: &Action) -> bool {
    !matches!(
        action,
        Action::Go { .. }
            | Action::SetDrain { .. }
            | Action::SetHouseValve { .. }
            | Action::SetSourceValve { .. }
            | Action::SetOutlet { .. }
            | Action::SetBreaker { .. }
            | Action::HoldLever { .. }
            | Action::OpenCover { .. }
            | Action::TakeLeadsApart
            | Action::FitGauge { .. }
            | Action::RemoveLock
            | Action::Wait { .. }
    )
}
