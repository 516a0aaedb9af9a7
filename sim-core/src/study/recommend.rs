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

/// Puts the rows of a study in order of worth, one after another: of each it keeps a few
/// numbers.
#[derive(Debug)]
pub struct Ranking<'a> {
    study: &'a Study,
    standings: Vec<Standing>,
    /// For each row by how much it misses, then what is preferred of it.
    numbers: Vec<Option<f64>>,
}

/// How a setting stands to the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It keeps every one.
    Keeps,
    /// It misses so many.
    Misses(u8),
    /// It cannot be built or followed.
    Refused,
}

impl<'a> Ranking<'a> {
    /// No rows yet.
    #[must_use]
    pub fn new(study: &'a Study) -> Self {
        Self {
            study,
            standings: Vec::new(),
            numbers: Vec::new(),
        }
    }

    /// Adds the next row.
    pub fn add(&mut self, row: &SettingRow) {
        let study = self.study;
        let figures = row.figures();
        self.standings.push(figures.map_or(Standing::Refused, |f| {
            let kept = judge(&study.limits, f);
            match kept.into_iter().flatten().filter(|k| !k.is_kept()).count() {
                0 => Standing::Keeps,
                n => Standing::Misses(u8::try_from(n).unwrap_or(u8::MAX)),
            }
        }));
        self.numbers.push(figures.map(|f| missed(study, f)));
        self.numbers.extend(study.prefer.iter().map(|preference| {
            figures.and_then(|figures| value(study, &preference.target, row, figures))
        }));
    }

    fn numbers(&self, row: usize) -> &[Option<f64>] {
        let width = 1 + self.study.prefer.len();
        &self.numbers[row * width..(row + 1) * width]
    }

    fn by_preference(&self, a: usize, b: usize) -> Ordering {
        let (of_a, of_b) = (&self.numbers(a)[1..], &self.numbers(b)[1..]);
        self.study
            .prefer
            .iter()
            .zip(of_a.iter().zip(of_b))
            .map(|(preference, (a, b))| compare(preference, *a, *b))
            .find(|order| *order != Ordering::Equal)
            .unwrap_or_else(|| a.cmp(&b))
    }

    /// What the rows come to, and how each stands to the limits.
    #[must_use]
    pub fn finish(self) -> (Recommendation, Vec<Standing>) {
        let of = |standing: fn(Standing) -> bool| -> Vec<usize> {
            let rows = 0..self.standings.len();
            rows.filter(|row| standing(self.standings[*row])).collect()
        };
        let mut meeting = of(|standing| standing == Standing::Keeps);
        if !meeting.is_empty() {
            meeting.sort_by(|a, b| self.by_preference(*a, *b));
            return (Recommendation::Meets { rows: meeting }, self.standings);
        }
        let mut nearest = of(|standing| standing != Standing::Refused);
        if nearest.is_empty() {
            return (Recommendation::Nothing, self.standings);
        }
        nearest.sort_by(|a, b| {
            let miss = |row: usize| self.numbers(row)[0].unwrap_or(f64::INFINITY);
            let by_miss = miss(*a).total_cmp(&miss(*b));
            by_miss.then_with(|| self.by_preference(*a, *b))
        });
        nearest.truncate(MAX_NEAREST);
        (Recommendation::Nearest { rows: nearest }, self.standings)
    }
}

/// Picks from the rows of a study.
#[must_use]
pub fn recommend(study: &Study, rows: &[SettingRow]) -> Recommendation {
    let mut ranking = Ranking::new(study);
    for row in rows {
        ranking.add(row);
    }
    ranking.finish().0
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
