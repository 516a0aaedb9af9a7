//! What is best done next: another reading, or to stop and call.

use super::policy::{Choice, Field, FieldReading, STEPS};
use super::troubleshooter::Troubleshooter;
use crate::faults::FaultKind;
use crate::session::Action;

/// Certainty at which the call is made without asking what more it would cost.
const SURE: f64 = 0.995;
/// Gain below which a reading tells nothing [bits] (training value).
const NOTHING_BITS: f64 = 0.015;
/// What a wrong call costs beside the wrong repair: coming back, and trust [min] (training
/// value).
const COMING_BACK_MIN: f64 = 120.0;

/// Readings of which two steps are looked ahead, twins that they are looked at with, and
/// share of the belief that these must hold.
const MOST_LOOKED_AHEAD: usize = 8;
const MOST_HELD: usize = 24;
const ENOUGH_HELD: f64 = 0.9;

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

/// A view, with what it promises and costs.
struct Rated {
    view: usize,
    choice: Choice,
}

impl Troubleshooter {
    /// The best readings to take next, at most so many, the best first: by gain for time and
    /// money.
    pub fn next_best(&mut self, most: usize) -> Vec<Advice> {
        let rated = self.rated(most.max(1), f64::INFINITY);
        let found = rated.into_iter().filter_map(|rated| self.advice(&rated));
        found.take(most).collect()
    }

    /// Views with promise and cost, the best first; at least the best `most` of those that
    /// cost no more than `dearest` [USD].
    fn rated(&mut self, most: usize, dearest: f64) -> Vec<Rated> {
        self.look_out();
        let unknown = self.belief.entropy_bits();
        let mut all: Vec<Rated> = Vec::new();
        let mut done = 0;
        loop {
            for (view, seen) in self.outlook.views.iter().enumerate().skip(done) {
                if seen.marks.iter().all(|mark| self.is_known(*mark)) {
                    continue;
                }
                let promise = self.promise(seen);
                let (minutes, money) = self.price(seen);
                if promise.bits >= NOTHING_BITS {
                    let cost = self.cost(minutes, money);
                    all.push(Rated {
                        view,
                        choice: Choice {
                            bits: promise.bits,
                            surest: promise.surest,
                            cost,
                        },
                    });
                }
            }
            done = self.outlook.views.len();
            let rate = |rated: &Rated| rated.choice.rate();
            all.sort_by(|a, b| rate(b).total_cmp(&rate(a)).then(a.view.cmp(&b.view)));
            // Nothing tells more than all that is unknown: what is dearer than that pays for
            // cannot be better.
            let least = all.get(most - 1).map_or(0.0, rate);
            let limit = if least > 0.0 {
                unknown / least
            } else {
                f64::INFINITY
            };
            if !self.look_further(limit.min(dearest)) {
                return all;
            }
        }
    }

    fn advice(&self, rated: &Rated) -> Option<Advice> {
        let view = &self.outlook.views[rated.view];
        let plan = self.steps(&view.candidate.wanted)?;
        let commands: Vec<Action> = plan.steps.into_iter().map(|step| step.0).collect();
        if !self.is_safe(&commands) {
            return None;
        }
        Some(Advice {
            title: view.candidate.title.clone(),
            commands,
            gain_bits: rated.choice.bits,
            surest: rated.choice.surest,
            minutes: plan.seconds / 60.0,
            money: plan.money,
            why: self.why(view),
        })
    }

    /// Time and money as one [USD]; nothing is free.
    pub(super) fn cost(&self, minutes: f64, money: f64) -> f64 {
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
            // Most often the first is worth it; only when it is not, the rest is looked at.
            for most in [MOST_LOOKED_AHEAD, usize::MAX] {
                let rated = self.rated(most, loss_now);
                let first = match self.look_ahead(&rated, wrong) {
                    Some(choice) => choice,
                    None => rated
                        .iter()
                        .position(|rated| rated.choice.is_worth(probability, wrong)),
                };
                let Some(first) = first else { continue };
                // The next ones where the best is not safe any more.
                let then = rated
                    .iter()
                    .filter(|rated| rated.choice.is_worth(probability, wrong));
                let best = std::iter::once(&rated[first]).chain(then);
                if let Some(advice) = best.take(MOST_LOOKED_AHEAD).find_map(|r| self.advice(r)) {
                    return Decision::Read(advice);
                }
            }
        }
        Decision::Call {
            faults,
            probability,
        }
    }

    /// The best of the first few readings by two steps, where a few twins hold most of the
    /// belief: its place, or that to call is best.  None while the field is too wide.
    fn look_ahead(&self, rated: &[Rated], wrong: f64) -> Option<Option<usize>> {
        let weights = self.belief.of_hypotheses();
        let asked = &self.outlook.twins;
        let mut order: Vec<usize> = (0..asked.len()).collect();
        order.sort_by(|a, b| weights[asked[*b]].total_cmp(&weights[asked[*a]]));
        order.truncate(MOST_HELD);
        let held: f64 = order.iter().map(|place| weights[asked[*place]]).sum();
        if held < ENOUGH_HELD {
            return None;
        }
        let readings = rated
            .iter()
            .take(MOST_LOOKED_AHEAD)
            .map(|rated| FieldReading {
                cost: rated.choice.cost,
                outcomes: order
                    .iter()
                    .enumerate()
                    .map(|(at, row)| {
                        let view = &self.outlook.views[rated.view];
                        let likely = order.iter().map(|column| view.likelihood(*row, *column));
                        (at, 1.0, likely.collect())
                    })
                    .collect(),
            })
            .collect::<Vec<_>>();
        let field = Field {
            groups: order
                .iter()
                .map(|place| self.belief.groups()[asked[*place]])
                .collect(),
            n_groups: self.group_kinds.len(),
            readings,
            wrong,
        };
        let belief: Vec<f64> = order
            .iter()
            .map(|place| weights[asked[*place]] / held)
            .collect();
        let left: Vec<usize> = (0..field.readings.len()).collect();
        Some(field.best(&belief, &left, STEPS).1)
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
