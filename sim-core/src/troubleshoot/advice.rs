//! What is best done next: another reading, or to stop and call.

use super::information::Promise;
use super::prepare::Wanted;
use super::troubleshooter::Troubleshooter;
use crate::faults::FaultKind;
use crate::session::{Action, Cover};

/// Certainty at which the call is made without asking what more it would cost.
const SURE: f64 = 0.995;
/// Gain below which a reading tells nothing [bits] (training value).
const NOTHING_BITS: f64 = 0.015;
/// What a wrong call costs beside the wrong repair: coming back, and trust [min] (training
/// value).
const COMING_BACK_MIN: f64 = 120.0;

/// A reading that could be taken next.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// In a few words.
    pub title: String,
    /// What to do, walking, covers and lock included.
    pub commands: Vec<Action>,
    /// How much less would be unknown of part and mechanism, expected [bits].
    pub gain_bits: f64,
    /// Expected probability of the likeliest suspect afterwards.
    pub surest: f64,
    /// What it takes [min].
    pub minutes: f64,
    /// What it costs [USD].
    pub money: f64,
    /// Why.
    pub why: String,
}

/// What is best.
#[derive(Debug, Clone, PartialEq)]
pub enum Decision {
    /// Take this reading.
    Read(Advice),
    /// Call this: empty says that nothing is wrong.
    Call {
        /// What.
        faults: Vec<FaultKind>,
        /// How likely it is right.
        probability: f64,
    },
}

/// A view, what it promises and what it costs [USD].
struct Rated {
    view: usize,
    promise: Promise,
    cost: f64,
}

impl Troubleshooter {
    /// The best readings to take next, at most so many, the best first: by gain for time and
    /// money.
    pub fn next_best(&mut self, most: usize) -> Vec<Advice> {
        let rated = self.rated();
        let found = rated.into_iter().filter_map(|rated| self.advice(&rated));
        found.take(most).collect()
    }

    /// Views with promise and cost, the best first.
    fn rated(&mut self) -> Vec<Rated> {
        self.look_out();
        let mut all: Vec<Rated> = Vec::new();
        for (view, seen) in self.outlook.views.iter().enumerate() {
            if self.is_all_seen(&seen.candidate.wanted) {
                continue;
            }
            let promise = self.promise(seen);
            let (minutes, money) = self.price(seen);
            if promise.bits >= NOTHING_BITS {
                let cost = self.cost(minutes, money);
                all.push(Rated {
                    view,
                    promise,
                    cost,
                });
            }
        }
        let rate = |rated: &Rated| rated.promise.bits / rated.cost;
        all.sort_by(|a, b| rate(b).total_cmp(&rate(a)).then(a.view.cmp(&b.view)));
        all
    }

    /// Whether everything that a candidate looks at was looked at already.
    fn is_all_seen(&self, wanted: &Wanted) -> bool {
        let Some(at) = wanted.at else { return false };
        wanted.actions.iter().all(|action| match action {
            Action::OpenCover { cover } => self.has_open(*cover),
            Action::TakeLeadsApart => true,
            action => self.is_repeat(action, at),
        })
    }

    fn has_open(&self, cover: Cover) -> bool {
        let covers = self.twins[self.belief.heaviest()].visit.open_covers();
        covers.contains(&cover)
    }

    fn advice(&self, rated: &Rated) -> Option<Advice> {
        let view = &self.outlook.views[rated.view];
        let plan = self.steps(&view.candidate.wanted)?;
        Some(Advice {
            title: view.candidate.title.clone(),
            commands: plan.steps.into_iter().map(|step| step.0).collect(),
            gain_bits: rated.promise.bits,
            surest: rated.promise.surest,
            minutes: plan.seconds / 60.0,
            money: plan.money,
            why: self.why(view),
        })
    }

    /// Time and money as one [USD]; nothing is free.
    fn cost(&self, minutes: f64, money: f64) -> f64 {
        minutes.max(0.2) * self.book.usd_per_minute + money
    }

    /// Whether to go on reading or to call: the expected cost of a wrong call against what
    /// the best reading costs and how much surer it makes.
    pub fn stop_or_go(&mut self) -> Decision {
        let (group, probability) = self.likeliest();
        let faults = self.group_kinds[group].clone();
        if probability < SURE {
            let wrong = self.cost_of_wrong_call(&faults);
            let loss_now = (1.0 - probability) * wrong;
            let is_worth = |promise: &Promise, cost: f64| {
                let loss_then = (1.0 - promise.surest.max(probability)) * wrong;
                // A reading that parts the field pays later: its bits count as well.
                loss_now - loss_then > cost || (promise.bits > 0.1 && loss_now > cost)
            };
            for rated in self.rated() {
                if is_worth(&rated.promise, rated.cost)
                    && let Some(advice) = self.advice(&rated)
                {
                    return Decision::Read(advice);
                }
            }
        }
        Decision::Call {
            faults,
            probability,
        }
    }

    fn likeliest(&self) -> (usize, f64) {
        let of_groups = self.belief.of_groups();
        let mut best = (0, of_groups[0]);
        for (group, probability) in of_groups.iter().enumerate() {
            if *probability > best.1 {
                best = (group, *probability);
            }
        }
        best
    }

    /// The repair for nothing, and coming back [USD].
    fn cost_of_wrong_call(&self, faults: &[FaultKind]) -> f64 {
        let entries = faults
            .iter()
            .filter_map(|kind| self.books.catalog.entry(*kind));
        let repair: f64 = entries
            .map(|entry| entry.minutes * self.book.usd_per_minute + entry.cost)
            .sum();
        repair + COMING_BACK_MIN * self.book.usd_per_minute
    }
}
