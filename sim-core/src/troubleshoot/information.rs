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
use super::troubleshooter::Troubleshooter;
use super::twins::try_action;
use crate::math;
use crate::session::{Action, Outcome, Refusal, Station, Visit};

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
    epoch: Option<u64>,
    /// Share of the belief that the twins asked had then.
    covered: f64,
    /// Twins asked, by number.
    pub(super) twins: Vec<usize>,
    pub(super) views: Vec<View>,
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
    seconds: f64,
    money: f64,
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
        if self.outlook.epoch == Some(self.epoch) && covered >= STILL_COVERED * self.outlook.covered
        {
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
        let mut memory: Vec<Vec<(Vec<Action>, Visit)>> = vec![Vec::new(); asked.len()];
        let views = candidates(&self.case.site)
            .into_iter()
            .filter_map(|candidate| self.view(candidate, &asked, &weights, &mut memory))
            .collect();
        self.outlook = Outlook {
            epoch: Some(self.epoch),
            covered: sum,
            twins: asked,
            views,
        };
    }

    /// Does a candidate on the twins asked; none where it cannot be done, or not safely.
    fn view(
        &self,
        candidate: Candidate,
        asked: &[usize],
        weights: &[f64],
        memory: &mut [Vec<(Vec<Action>, Visit)>],
    ) -> Option<View> {
        let heaviest = self.belief.heaviest();
        let (script, _) = plan(&self.twins[heaviest].visit, &candidate.wanted)?;
        let is_wanted = |step: &(Action, Option<usize>)| step.1 == Some(0);
        let first = script.steps.iter().position(is_wanted).unwrap_or(0);
        let before: Vec<Action> = script.steps[..first].iter().map(|s| s.0.clone()).collect();
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
            for (action, wanted) in &script.steps[first..] {
                let (outcome, is_safe) = do_if_allowed(&mut visit, action);
                if !is_safe && weights[*at] >= SAFE_FROM {
                    return None;
                }
                if let Some(wanted) = wanted {
                    features.extend(shown(*wanted, action, &outcome));
                }
            }
            features.sort_by_key(|feature| feature.key);
            all.push(features);
        }
        if all.iter().all(Vec::is_empty) {
            return None;
        }
        let trust = self.trust();
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
