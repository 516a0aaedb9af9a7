//! How likely an outcome is on a twin.
//!
//! A number is normal about what the twin shows, with the instrument's own error, what is
//! not known of the twin's state, and half the way to the twins of the next severities,
//! since a severity stands for the stretch up to them.  A share [`FLOOR`] of everything is
//! left to what nobody expects, evenly over the span of the number.

use super::shown::{Feature, Shown, Sort};
use crate::math;
use crate::units::convert::PSI;

/// Share left to the unexpected (training value).
const FLOOR: f64 = 0.01;
/// The same for what comes and goes with the pump: moments later it may be otherwise
/// (training value).
const PASSING_FLOOR: f64 = 0.04;
/// The same where the household draws meanwhile (training value).
const RESTLESS_FLOOR: f64 = 0.2;
/// The same for how a handle stands, or what a plate says (training value).
const HARD_FLOOR: f64 = 1e-4;
/// Least that one action's cues together may come to: they hang on each other (training
/// value).
const LEAST_OF_CUES: f64 = 1e-5;
/// One standard deviation of the tank's pressure in a twin that agreed with the gauge
/// [Pa], and the same where the household draws (training values).
const STATE_PA: f64 = 1.2 * PSI;
const RESTLESS_STATE_PA: f64 = 5.0 * PSI;
/// Standard deviation of a cue's level between twins (training value).
const LEVEL: f64 = 0.25;
/// Least that a level can make of a cue's likelihood, and what other words make of it
/// (training values).
const LEAST_OF_LEVEL: f64 = 0.05;
const OTHER_WORDS: f64 = 0.2;
/// Share of the width of its stretch that is one standard deviation of a severity: that of
/// an even spread is 1/√12; a little more for curves.
const STRETCH: f64 = 0.35;

/// How things stand that decides how far a twin can be trusted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Trust {
    /// The household draws while one works, and can.
    pub(super) is_restless: bool,
    /// The pressures between which the tank stands at rest [Pa], as long as the gauge has
    /// not been read: how full it is hangs on the household.
    pub(super) unread: Option<(f64, f64)>,
}

/// What a twin shows, with all that is not known of it in the numbers' errors.
pub(super) fn widen(own: &[Feature], neighbours: &[&[Feature]], trust: Trust) -> Vec<Feature> {
    own.iter()
        .map(|feature| {
            let mut feature = feature.clone();
            if let Shown::Number { value, error, .. } = &mut feature.shown {
                let (mut ways, mut count) = (0.0, 0.0);
                for other in neighbours {
                    if let Some(Shown::Number { value: there, .. }) =
                        find(other, feature.key).map(|found| found.shown)
                    {
                        ways += (there - *value).abs();
                        count += 1.0;
                    }
                }
                let width = if count > 0.0 { ways / count } else { 0.0 };
                let state = match (feature.sort, trust.is_restless) {
                    (Sort::Needle, false) => STATE_PA,
                    (Sort::Needle, true) => RESTLESS_STATE_PA,
                    (Sort::NeedleChange, true) => STATE_PA,
                    _ => 0.0,
                };
                let stretch = STRETCH * width;
                *error = (*error * *error + stretch * stretch + state * state).sqrt();
            }
            feature
        })
        .collect()
}

fn find(list: &[Feature], key: u64) -> Option<&Feature> {
    list.binary_search_by_key(&key, |feature| feature.key)
        .ok()
        .map(|at| &list[at])
}

/// Natural logarithm of the likelihood of what was seen where `expected` is what a twin
/// shows; both sorted by key.
pub(super) fn log_likelihood(seen: &[Feature], expected: &[Feature], trust: Trust) -> f64 {
    let (mut sum, mut cues) = (0.0, 0.0);
    let (mut i, mut j) = (0, 0);
    while i < seen.len() || j < expected.len() {
        let order = match (seen.get(i), expected.get(j)) {
            (Some(a), Some(b)) => a.key.cmp(&b.key),
            (Some(_), None) => std::cmp::Ordering::Less,
            _ => std::cmp::Ordering::Greater,
        };
        let (feature, term) = match order {
            std::cmp::Ordering::Equal => {
                let pair = (&seen[i], &expected[j]);
                (i, j) = (i + 1, j + 1);
                (pair.0, both(pair.0, pair.1, trust))
            }
            std::cmp::Ordering::Less => {
                i += 1;
                let alone = &seen[i - 1];
                (alone, unexpected(alone, trust))
            }
            std::cmp::Ordering::Greater => {
                j += 1;
                let alone = &expected[j - 1];
                (alone, missing(alone, trust))
            }
        };
        match feature.sort {
            Sort::PassingCue | Sort::LastingCue => cues += term,
            _ => sum += term,
        }
    }
    sum + cues.max(math::ln(LEAST_OF_CUES))
}

fn floor(sort: Sort, trust: Trust) -> f64 {
    match (sort, trust.is_restless) {
        (Sort::PassingCue | Sort::Needle | Sort::NeedleChange | Sort::Time, true) => RESTLESS_FLOOR,
        (Sort::PassingCue | Sort::Needle | Sort::Time | Sort::SoftWord, _) => PASSING_FLOOR,
        _ => FLOOR,
    }
}

fn both(seen: &Feature, expected: &Feature, trust: Trust) -> f64 {
    let floor = floor(seen.sort, trust);
    match (seen.shown, expected.shown) {
        (
            Shown::Number { value, span, .. },
            Shown::Number {
                value: mean, error, ..
            },
        ) => {
            if let (Sort::Needle, Some((low, high))) = (seen.sort, trust.unread) {
                let is_in = |pa: f64| pa >= low && pa <= high;
                if is_in(mean) {
                    let even = if is_in(value) {
                        (1.0 - floor) / (high - low)
                    } else {
                        0.0
                    };
                    return math::ln(even + floor / span);
                }
            }
            let z = (value - mean) / error;
            let density = math::exp(-0.5 * z * z) / (error * ROOT_TWO_PI);
            math::ln((1.0 - floor) * density + floor / span)
        }
        (Shown::Word(a), Shown::Word(b)) => math::ln(if a == b { 1.0 - floor } else { floor }),
        (
            Shown::Cue { level, words },
            Shown::Cue {
                level: there,
                words: said,
            },
        ) => {
            let z = (level - there) / LEVEL;
            let by_level = math::exp(-0.5 * z * z).max(LEAST_OF_LEVEL);
            let by_words = match (words == said, is_hard(&seen.label)) {
                (true, _) => 1.0,
                (false, true) => 0.0,
                (false, false) => OTHER_WORDS,
            };
            let least = if is_hard(&seen.label) {
                HARD_FLOOR
            } else {
                floor
            };
            math::ln(((1.0 - floor) * by_level * by_words).max(least))
        }
        _ => unexpected(seen, trust),
    }
}

/// Whether other words of a cue are another state of a thing, not another degree.
fn is_hard(label: &str) -> bool {
    label.ends_with("_handle") || label.ends_with("nameplate")
}

fn unexpected(seen: &Feature, trust: Trust) -> f64 {
    let floor = floor(seen.sort, trust);
    math::ln(match seen.shown {
        Shown::Number { span, .. } => floor / span,
        Shown::Word(_) | Shown::Cue { .. } => floor,
    })
}

fn missing(expected: &Feature, trust: Trust) -> f64 {
    match expected.shown {
        // A number in whose place stands a word, or nothing: counted with the word.
        Shown::Number { .. } | Shown::Word(_) => 0.0,
        // What is faint is missed more easily.
        Shown::Cue { level, .. } => {
            let floor = floor(expected.sort, trust);
            math::ln(floor + (1.0 - floor) * 0.5 * (1.0 - level / 0.2).max(0.0))
        }
    }
}

/// √(2π).
const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_5;
