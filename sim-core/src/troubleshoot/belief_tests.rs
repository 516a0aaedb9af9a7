//! The belief against Bayes' rule written out: straight products over every reading.

use proptest::prelude::*;

use super::belief::Belief;
use super::likelihood::{Trust, log_likelihood};
use super::shown::{Feature, Shown, Sort};
use crate::math;

const QUIET: Trust = Trust {
    disturbed: 0.0,
    unread: None,
};

fn number(key: u64, value: f64, error: f64) -> Feature {
    Feature {
        key,
        sort: Sort::Meter,
        shown: Shown::Number {
            value,
            error,
            span: 100.0,
        },
        label: "volts".to_owned(),
        text: String::new(),
    }
}

fn word(key: u64, word: bool) -> Feature {
    Feature {
        key,
        sort: Sort::Word,
        shown: Shown::Word(u64::from(word)),
        label: "shown".to_owned(),
        text: String::new(),
    }
}

/// What a case is made of: for each hypothesis a weight, and for each reading the number
/// and the word it shows; what was read.
type Small = (Vec<(f64, Vec<(f64, bool)>)>, Vec<(f64, bool)>, usize);

fn small() -> impl Strategy<Value = Small> {
    (2_usize..12, 1_usize..8).prop_flat_map(|(hypotheses, readings)| {
        let shows = proptest::collection::vec((0.0..20.0, any::<bool>()), readings);
        let each = (0.1..10.0, shows.clone());
        (
            proptest::collection::vec(each, hypotheses),
            shows,
            1_usize..4,
        )
    })
}

proptest! {
    #[test]
    fn the_belief_is_that_of_straight_products((hypotheses, read, n_groups) in small()) {
        let groups: Vec<usize> = (0..hypotheses.len()).map(|at| at % n_groups).collect();
        let priors: Vec<f64> = hypotheses.iter().map(|h| h.0).collect();
        let mut belief = Belief::new(&priors, &groups);
        for (at, seen) in read.iter().enumerate() {
            let seen = [number(1, seen.0, 1.0), word(2, seen.1)];
            let logs: Vec<f64> = hypotheses
                .iter()
                .map(|h| {
                    let expected = [number(1, h.1[at].0, 1.5), word(2, h.1[at].1)];
                    log_likelihood(&seen, &expected, QUIET)
                })
                .collect();
            belief.update(&logs);
        }
        // One in a hundred is left to what nobody expects, evenly over the span.
        let joint: Vec<f64> = hypotheses
            .iter()
            .map(|(prior, shows)| {
                let mut product = *prior;
                for ((value, says), (mean, expected)) in read.iter().zip(shows) {
                    let z = (value - mean) / 1.5;
                    let normal = math::exp(-z * z / 2.0)
                        / (1.5 * (2.0 * std::f64::consts::PI).sqrt());
                    product *= 0.99 * normal + 0.01 / 100.0;
                    product *= if says == expected { 0.99 } else { 0.01 };
                }
                product
            })
            .collect();
        let total: f64 = joint.iter().sum();
        for (ours, product) in belief.of_hypotheses().iter().zip(&joint) {
            prop_assert!((ours - product / total).abs() < 1e-9);
        }
        let of_groups = belief.of_groups();
        for (group, ours) in of_groups.iter().enumerate() {
            let sum: f64 = (0..joint.len())
                .filter(|at| groups[*at] == group)
                .map(|at| joint[at] / total)
                .sum();
            prop_assert!((ours - sum).abs() < 1e-9);
        }
    }
}
