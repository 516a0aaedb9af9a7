//! Weights of hypotheses: Bayes' rule in logarithms, sums in the order of the list.

use crate::faults::FaultKind;
use crate::math;

/// Weights of a list of hypotheses, which belong to groups (part and mechanism, whatever
/// the severity).
///
/// ```
/// use sim_core::troubleshoot::Belief;
///
/// // Two hypotheses of one group and one of another, equally likely at first.
/// let mut belief = Belief::new(&[0.25, 0.25, 0.5], &[0, 0, 1]);
/// // Something is seen that is four times as likely on the last.
/// belief.update(&[(0.1_f64).ln(), (0.1_f64).ln(), (0.4_f64).ln()]);
/// assert!((belief.of_groups()[1] - 0.8).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    log_weights: Vec<f64>,
    groups: Vec<usize>,
    n_groups: usize,
}

/// A suspect: faults, whatever their severity, and how likely they are the ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect {
    /// What is wrong, in order; empty when nothing is.
    pub faults: Vec<FaultKind>,
    /// How likely [-].
    pub probability: f64,
}

impl Belief {
    /// A belief with these weights and the group of each, by number from 0.
    ///
    /// # Panics
    /// When the two lists differ in length or are empty.
    #[must_use]
    pub fn new(priors: &[f64], groups: &[usize]) -> Self {
        assert_eq!(priors.len(), groups.len());
        assert!(!priors.is_empty());
        let mut belief = Self {
            log_weights: priors.iter().map(|prior| math::ln(*prior)).collect(),
            groups: groups.to_vec(),
            n_groups: groups.iter().max().map_or(0, |most| most + 1),
        };
        belief.normalise();
        belief
    }

    /// Weighs anew by the logarithms of the likelihoods of something seen.
    ///
    /// # Panics
    /// When there is not one for each hypothesis.
    pub fn update(&mut self, log_likelihoods: &[f64]) {
        assert_eq!(log_likelihoods.len(), self.log_weights.len());
        for (weight, likelihood) in self.log_weights.iter_mut().zip(log_likelihoods) {
            *weight += likelihood;
        }
        self.normalise();
    }

    /// Makes the weights add up to 1.
    fn normalise(&mut self) {
        let best = self.best();
        let sum: f64 = self.log_weights.iter().map(|w| math::exp(w - best)).sum();
        let log_total = best + math::ln(sum);
        for weight in &mut self.log_weights {
            *weight -= log_total;
        }
    }

    fn best(&self) -> f64 {
        let largest = |a: f64, b: &f64| a.max(*b);
        self.log_weights.iter().fold(f64::NEG_INFINITY, largest)
    }

    /// Natural logarithm of each hypothesis's probability.
    #[must_use]
    pub fn log_weights(&self) -> &[f64] {
        &self.log_weights
    }

    /// How likely each hypothesis is.
    #[must_use]
    pub fn of_hypotheses(&self) -> Vec<f64> {
        self.log_weights.iter().map(|w| math::exp(*w)).collect()
    }

    /// How likely each group is.
    #[must_use]
    pub fn of_groups(&self) -> Vec<f64> {
        let mut sums = vec![0.0; self.n_groups];
        for (weight, group) in self.log_weights.iter().zip(&self.groups) {
            sums[*group] += math::exp(*weight);
        }
        sums
    }

    /// The group of each hypothesis.
    #[must_use]
    pub fn groups(&self) -> &[usize] {
        &self.groups
    }

    /// What is not known yet of the group [bits].
    #[must_use]
    pub fn entropy_bits(&self) -> f64 {
        entropy_bits(&self.of_groups())
    }

    /// The heaviest hypothesis.
    #[must_use]
    pub fn heaviest(&self) -> usize {
        let best = self.best();
        self.log_weights
            .iter()
            .position(|weight| *weight == best)
            .unwrap_or(0)
    }
}

/// Entropy of probabilities that add up to about 1 [bits].
pub(super) fn entropy_bits(probabilities: &[f64]) -> f64 {
    let nats: f64 = probabilities
        .iter()
        .filter(|p| **p > 0.0)
        .map(|p| -p * math::ln(*p))
        .sum();
    nats / std::f64::consts::LN_2
}
