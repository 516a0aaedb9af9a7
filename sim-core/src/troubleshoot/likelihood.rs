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
/// How much narrower than its span a number lies that a draw of the household has
/// disturbed (training value).
const DRAWN_OVER: f64 = 3.0;
/// The same for how a handle stands, or what a plate says (training value).
const HARD_FLOOR: f64 = 1e-4;
/// As how many independent points the points of one log count (training value).
const WORTH_OF_A_LOG: f64 = 2.0;
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
    /// How likely the household disturbs what is done, by drawing meanwhile; nought where
    /// it keeps still or cannot.
    pub(super) disturbed: f64,
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
                let state = match (feature.sort, trust.disturbed > 0.0) {
                    (Sort::Needle, false) => STATE_PA,
                    (Sort::Needle, true) => RESTLESS_STATE_PA,
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
    // What a draw of the household could have made of what comes and goes: as the twin has
    // it, and as anything.
    let (mut passing, mut passing_cues, mut anyhow) = (0.0, 0.0, 0.0);
    let (mut changes, mut points) = (0.0, 0.0);
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
                (alone, unexpected(alone))
            }
            std::cmp::Ordering::Greater => {
                j += 1;
                let alone = &expected[j - 1];
                (alone, missing(alone))
            }
        };
        match feature.sort {
            Sort::LastingCue => cues += term,
            Sort::PassingCue => passing_cues += term,
            Sort::NeedleChange => {
                changes += term;
                points += 1.0;
            }
            Sort::Needle | Sort::Time | Sort::Said => passing += term,
            Sort::Meter | Sort::Word | Sort::SoftWord => sum += term,
        }
        if is_passing(feature.sort) {
            anyhow += match feature.shown {
                Shown::Number { .. } if order == std::cmp::Ordering::Greater => 0.0,
                Shown::Number { span, .. } => math::ln(DRAWN_OVER / span),
                Shown::Word(_) | Shown::Cue { .. } => math::ln(0.5),
            };
        }
    }
    let least = math::ln(LEAST_OF_CUES);
    // The points of one log hang on each other: together they count as a few.
    let share = if points > WORTH_OF_A_LOG {
        WORTH_OF_A_LOG / points
    } else {
        1.0
    };
    let passing = passing + share * changes + passing_cues.max(least);
    sum + cues.max(least) + either(passing, anyhow, trust.disturbed)
}

const fn is_passing(sort: Sort) -> bool {
    matches!(
        sort,
        Sort::Needle | Sort::NeedleChange | Sort::Time | Sort::Said | Sort::PassingCue
    )
}

/// The logarithm of a mixture: the first, or with a probability the second.
fn either(first: f64, second: f64, probability: f64) -> f64 {
    if probability <= 0.0 {
        return first;
    }
    let best = first.max(second);
    let sum =
        (1.0 - probability) * math::exp(first - best) + probability * math::exp(second - best);
    best + math::ln(sum)
}

const fn floor(sort: Sort) -> f64 {
    match sort {
        Sort::PassingCue | Sort::Needle | Sort::Time | Sort::SoftWord | Sort::Said => PASSING_FLOOR,
        Sort::NeedleChange | Sort::Meter | Sort::Word | Sort::LastingCue => FLOOR,
    }
}

fn both(seen: &Feature, expected: &Feature, trust: Trust) -> f64 {
    let floor = floor(seen.sort);
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
        _ => unexpected(seen),
    }
}

/// Whether other words of a cue are another state of a thing, not another degree.
fn is_hard(label: &str) -> bool {
    label.ends_with("_handle") || label.ends_with("nameplate")
}

fn unexpected(seen: &Feature) -> f64 {
    let floor = floor(seen.sort);
    math::ln(match seen.shown {
        Shown::Number { span, .. } => floor / span,
        Shown::Word(_) | Shown::Cue { .. } => floor,
    })
}

fn missing(expected: &Feature) -> f64 {
    match expected.shown {
        // A number in whose place stands a word, or nothing: counted with the word.
        Shown::Number { .. } | Shown::Word(_) => 0.0,
        // What is faint is missed more easily.
        Shown::Cue { level, .. } => {
            let floor = floor(expected.sort);
            math::ln(floor + (1.0 - floor) * 0.5 * (1.0 - level / 0.2).max(0.0))
        }
    }
}

/// √(2π).
const ROOT_TWO_PI: f64 = 2.506_628_274_631_000_5;
