//! Which of several readings to take, or none: from numbers alone.
//!
//! Where a few hypotheses hold most of the belief, two steps are looked ahead: what the best
//! reading after each costs, and what a wrong call costs after both.  While the field is
//! wide, one step is: a reading is taken when what it saves of the expected cost of a wrong
//! call is more than it costs, or when it tells a good deal and the call is worth more than
//! it; among those the one with the most bits for its cost.

/// Gain from which a reading counts for what comes after it [bits] (training value).
const A_GOOD_DEAL_BITS: f64 = 0.1;

/// A reading as the choice sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Choice {
    /// Expected gain [bits].
    pub(super) bits: f64,
    /// Expected probability of the likeliest suspect afterwards.
    pub(super) surest: f64,
    /// What it takes and costs [USD].
    pub(super) cost: f64,
}

impl Choice {
    /// Bits for the dollar.
    pub(super) fn rate(&self) -> f64 {
        self.bits / self.cost
    }

    /// Whether it is worth taking where the likeliest suspect has a probability and a wrong
    /// call costs so much [USD].
    pub(super) fn is_worth(&self, probability: f64, wrong: f64) -> bool {
        let loss_now = (1.0 - probability) * wrong;
        let loss_then = (1.0 - self.surest.max(probability)) * wrong;
        loss_now - loss_then > self.cost || (self.bits > A_GOOD_DEAL_BITS && loss_now > self.cost)
    }
}

/// A belief over a few hypotheses, and readings that could part them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    /// Group of each hypothesis.
    pub(super) groups: Vec<usize>,
    pub(super) n_groups: usize,
    pub(super) readings: Vec<FieldReading>,
    /// What a wrong call costs [USD].
    pub(super) wrong: f64,
}

/// A reading of a field.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FieldReading {
    /// What it takes and costs [USD].
    pub(super) cost: f64,
    /// What may come: with which hypothesis, how often with it, and how likely that is with
    /// each (up to a factor).
    pub(super) outcomes: Vec<(usize, f64, Vec<f64>)>,
}

impl Field {
    /// Expected cost of calling at once [USD].
    fn call(&self, belief: &[f64]) -> f64 {
        let mut of_groups = vec![0.0; self.n_groups];
        for (share, group) in belief.iter().zip(&self.groups) {
            of_groups[*group] += share;
        }
        let surest = of_groups.iter().fold(0.0_f64, |a, b| a.max(*b));
        (1.0 - surest).max(0.0) * self.wrong
    }

    /// Least expected cost from here with so many readings yet [USD], and the first of them;
    /// none where to call is best.
    pub(super) fn best(
        &self,
        belief: &[f64],
        left: &[usize],
        depth: usize,
    ) -> (f64, Option<usize>) {
        let mut best = (self.call(belief), None);
        if depth == 0 {
            return best;
        }
        for reading in left {
            let FieldReading { cost, outcomes } = &self.readings[*reading];
            if *cost >= best.0 {
                continue;
            }
            let rest: Vec<usize> = left.iter().copied().filter(|r| r != reading).collect();
            let mut sum = *cost;
            for (owner, often, likely) in outcomes {
                let share = belief[*owner] * often;
                if share <= 0.0 || sum >= best.0 {
                    continue;
                }
                let joint: Vec<f64> = belief.iter().zip(likely).map(|(p, l)| p * l).collect();
                let total: f64 = joint.iter().sum();
                if total > 0.0 {
                    let then: Vec<f64> = joint.iter().map(|p| p / total).collect();
                    sum += share * self.best(&then, &rest, depth - 1).0;
                }
            }
            if sum < best.0 {
                best = (sum, Some(*reading));
            }
        }
        best
    }
}

/// Steps that are looked ahead.
pub(super) const STEPS: usize = 2;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math;
    use crate::rng::{stream, uniform};

    /// A small case with everything discrete: priors of faults, for each reading its cost
    /// and how likely each outcome is with each fault; what a wrong call costs.
    struct Case {
        priors: Vec<f64>,
        readings: Vec<(f64, Vec<Vec<f64>>)>,
        wrong: f64,
    }

    impl Case {
        fn drawn(seed: u64) -> Self {
            let mut rng = stream(seed, "troubleshoot/policy");
            let n_faults = 3 + (10.0 * uniform(&mut rng)) as usize;
            let n_readings = 3 + (6.0 * uniform(&mut rng)) as usize;
            let mut priors: Vec<f64> = (0..n_faults)
                .map(|_| 1.0 + 9.0 * uniform(&mut rng))
                .collect();
            let sum: f64 = priors.iter().sum();
            priors.iter_mut().for_each(|p| *p /= sum);
            let readings = (0..n_readings)
                .map(|_| {
                    let cost = 1.0 * math::pow(60.0, uniform(&mut rng));
                    let outcomes = 2 + (2.0 * uniform(&mut rng)) as usize;
                    let table = (0..n_faults)
                        .map(|_| {
                            let shows = (outcomes as f64 * uniform(&mut rng)) as usize;
                            let surprise = 0.02 / (outcomes - 1) as f64;
                            let share = |o| if o == shows { 0.98 } else { surprise };
                            (0..outcomes).map(share).collect()
                        })
                        .collect();
                    (cost, table)
                })
                .collect();
            Self {
                priors,
                readings,
                wrong: 200.0 + 800.0 * uniform(&mut rng),
            }
        }

        /// Belief after each outcome of a reading, with how likely it is.
        fn outcomes(&self, belief: &[f64], reading: usize) -> Vec<(f64, Vec<f64>)> {
            let table = &self.readings[reading].1;
            (0..table[0].len())
                .filter_map(|outcome| {
                    let joint: Vec<f64> = belief
                        .iter()
                        .zip(table)
                        .map(|(p, shares)| p * shares[outcome])
                        .collect();
                    let sum: f64 = joint.iter().sum();
                    (sum > 0.0).then(|| (sum, joint.iter().map(|p| p / sum).collect()))
                })
                .collect()
        }

        fn surest(belief: &[f64]) -> f64 {
            belief.iter().fold(0.0_f64, |a, b| a.max(*b))
        }

        /// Least expected cost of any way to read and call, by trying them all.
        fn optimum(&self, belief: &[f64], left: &[usize]) -> f64 {
            let mut best = (1.0 - Self::surest(belief)) * self.wrong;
            for (at, reading) in left.iter().enumerate() {
                let cost = self.readings[*reading].0;
                if cost >= best {
                    continue;
                }
                let mut rest = left.to_vec();
                rest.remove(at);
                let mut sum = cost;
                for (share, then) in self.outcomes(belief, *reading) {
                    sum += share * self.optimum(&then, &rest);
                    if sum >= best {
                        break;
                    }
                }
                best = best.min(sum);
            }
            best
        }

        fn field(&self) -> Field {
            let readings = self.readings.iter().map(|(cost, table)| FieldReading {
                cost: *cost,
                outcomes: (0..table.len())
                    .flat_map(|owner| (0..table[0].len()).map(move |outcome| (owner, outcome)))
                    .map(|(owner, outcome)| {
                        let likely = table.iter().map(|shares| shares[outcome]).collect();
                        (owner, table[owner][outcome], likely)
                    })
                    .collect(),
            });
            Field {
                groups: (0..self.priors.len()).collect(),
                n_groups: self.priors.len(),
                readings: readings.collect(),
                wrong: self.wrong,
            }
        }

        /// Expected cost of the choice of this module.
        fn ours(&self, field: &Field, belief: &[f64], left: &[usize]) -> f64 {
            let Some(reading) = field.best(belief, left, STEPS).1 else {
                return field.call(belief);
            };
            let rest: Vec<usize> = left.iter().copied().filter(|r| *r != reading).collect();
            let then = self.outcomes(belief, reading);
            let after: f64 = then
                .iter()
                .map(|(s, b)| s * self.ours(field, b, &rest))
                .sum();
            self.readings[reading].0 + after
        }
    }

    #[test]
    fn what_is_chosen_costs_little_more_than_the_best_of_all_ways() {
        let (mut sum, mut worst, count) = (0.0, 0.0_f64, 24);
        for seed in 0..count {
            let case = Case::drawn(seed);
            let all: Vec<usize> = (0..case.readings.len()).collect();
            let best = case.optimum(&case.priors, &all);
            let ours = case.ours(&case.field(), &case.priors, &all);
            assert!(ours >= best - 1e-9);
            let regret = ours / best;
            sum += regret;
            worst = worst.max(regret);
        }
        let mean = sum / f64::from(count as u32);
        assert!(
            mean <= 1.05 && worst <= 1.25,
            "mean {mean:.3}, worst {worst:.3}"
        );
    }
}
