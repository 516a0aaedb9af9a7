//! Picks a setting: of those that keep every limit the one that the study prefers; where
//! none does, the nearest ones with what they miss.

use std::cmp::Ordering;

use super::limits::{Kept, judge};
use super::results::{Figures, SettingRow};
use super::spec::{Preference, Study, Target};

/// Most settings that are offered where none keeps every limit.
const MAX_NEAREST: usize = 3;

/// What a study comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum Recommendation {
    /// These keep every limit, best first.
    Meets {
        /// Places in the list of rows.
        rows: Vec<usize>,
    },
    /// None does; these are nearest, nearest first.
    Nearest {
        /// Places in the list of rows.
        rows: Vec<usize>,
    },
    /// Nothing could be lived through.
    Nothing,
}

impl Recommendation {
    /// The row that stands first, if there is one.
    #[must_use]
    pub fn first(&self) -> Option<usize> {
        match self {
            Self::Meets { rows } | Self::Nearest { rows } => rows.first().copied(),
            Self::Nothing => None,
        }
    }
}

/// Picks from the rows of a study.
#[must_use]
pub fn recommend(study: &Study, rows: &[SettingRow]) -> Recommendation {
    let lived: Vec<(usize, &Figures, f64)> = rows
        .iter()
        .enumerate()
        .filter_map(|(idx, row)| {
            let figures = row.figures()?;
            Some((idx, figures, missed(study, figures)))
        })
        .collect();
    if lived.is_empty() {
        return Recommendation::Nothing;
    }
    let by_preference = |a: &(usize, &Figures, f64), b: &(usize, &Figures, f64)| {
        study
            .prefer
            .iter()
            .map(|preference| {
                compare(
                    preference,
                    value(study, &preference.target, &rows[a.0], a.1),
                    value(study, &preference.target, &rows[b.0], b.1),
                )
            })
            .find(|order| *order != Ordering::Equal)
            .unwrap_or_else(|| a.0.cmp(&b.0))
    };
    let mut meeting: Vec<_> = lived.iter().filter(|l| l.2 <= 0.0).copied().collect();
    if meeting.is_empty() {
        let mut nearest = lived;
        nearest.sort_by(|a, b| a.2.total_cmp(&b.2).then_with(|| by_preference(a, b)));
        nearest.truncate(MAX_NEAREST);
        return Recommendation::Nearest {
            rows: nearest.iter().map(|l| l.0).collect(),
        };
    }
    meeting.sort_by(by_preference);
    Recommendation::Meets {
        rows: meeting.iter().map(|l| l.0).collect(),
    }
}

/// By how much limits are missed, each as a share of itself, added up.
fn missed(study: &Study, figures: &Figures) -> f64 {
    judge(&study.limits, figures)
        .into_iter()
        .flatten()
        .filter(|kept: &Kept| !kept.is_kept())
        .map(|kept| kept.beyond)
        .sum()
}

fn value(study: &Study, target: &Target, row: &SettingRow, figures: &Figures) -> Option<f64> {
    match target {
        Target::Measure(measure) => measure.of(figures),
        Target::Parameter(idx) => study.values(row.setting).get(*idx)?.si,
    }
}

/// What has no value comes last.
fn compare(preference: &Preference, a: Option<f64>, b: Option<f64>) -> Ordering {
    match (a, b) {
        (Some(a), Some(b)) if preference.least => a.total_cmp(&b),
        (Some(a), Some(b)) => b.total_cmp(&a),
        (Some(_), None) => Ordering::Less,
        (None, Some(_)) => Ordering::Greater,
        (None, None) => Ordering::Equal,
    }
}
