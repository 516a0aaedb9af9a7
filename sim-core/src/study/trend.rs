//! What a parameter does where it alone varies: how results go from its first value to its
//! last, where starts are most, and between which values a limit ceases to be kept.

use super::limits::{Kept, judge};
use super::results::{Figures, SettingRow};
use super::spec::Study;

/// A setting with what it came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Number of the setting.
    pub setting: usize,
    /// What it came to.
    pub figures: Figures,
}

/// Two neighboring settings, of which one keeps every limit and the other does not.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// The one that keeps every limit.
    pub kept: Point,
    /// The other.
    pub missed: Point,
    /// Place of the first limit that it misses among the study's.
    pub limit: usize,
    /// What it has there.
    pub found: Kept,
    /// Value of the parameter [SI] at which a straight line between the two meets the limit;
    /// none where the parameter is no number.
    pub meets_si: Option<f64>,
}

/// What the one varied parameter does.
#[derive(Debug, Clone, PartialEq)]
pub struct Trend {
    /// Its place among the study's.
    pub parameter: usize,
    /// First setting that could be lived through.
    pub first: Point,
    /// Last one.
    pub last: Point,
    /// The one with most starts a day.
    pub most_starts: Point,
    /// Where a limit ceases to be kept, or begins to be: the first such place.
    pub edge: Option<Edge>,
}

/// Finds it as the rows come, in their order.
#[derive(Debug)]
pub struct TrendFinder<'a> {
    study: &'a Study,
    parameter: Option<usize>,
    first: Option<Point>,
    last: Option<Point>,
    most_starts: Option<Point>,
    edge: Option<Edge>,
}

impl<'a> TrendFinder<'a> {
    /// No rows yet.
    #[must_use]
    pub fn new(study: &'a Study) -> Self {
        let mut varying = study.axes().iter().filter(|axis| axis.n_values() > 1);
        let parameter = match (varying.next(), varying.next(), study.sampling) {
            (Some(only), None, None) => Some(only.parameter),
            _ => None,
        };
        Self {
            study,
            parameter,
            first: None,
            last: None,
            most_starts: None,
            edge: None,
        }
    }

    /// Adds the next row.
    pub fn add(&mut self, row: &SettingRow) {
        let (Some(parameter), Some(figures)) = (self.parameter, row.figures()) else {
            return;
        };
        let point = Point {
            setting: row.setting,
            figures: figures.clone(),
        };
        if self.edge.is_none()
            && let Some(last) = &self.last
        {
            self.edge = edge(self.study, parameter, last, &point);
        }
        if self
            .most_starts
            .as_ref()
            .is_none_or(|most| figures.starts_per_day_mean > most.figures.starts_per_day_mean)
        {
            self.most_starts = Some(point.clone());
        }
        self.first.get_or_insert_with(|| point.clone());
        self.last = Some(point);
    }

    /// What there is to say; nothing where more than one parameter varies, or none.
    #[must_use]
    pub fn finish(self) -> Option<Trend> {
        let (first, last) = (self.first?, self.last?);
        (first.setting != last.setting).then_some(Trend {
            parameter: self.parameter?,
            first,
            last,
            most_starts: self.most_starts?,
            edge: self.edge,
        })
    }
}

/// The edge between two neighbors, if it lies there.
fn edge(study: &Study, parameter: usize, a: &Point, b: &Point) -> Option<Edge> {
    let judged = |point: &Point| judge(&study.limits, &point.figures);
    let first_missed = |kept: &[Option<Kept>]| {
        let mut kept = kept.iter().enumerate();
        kept.find_map(|(idx, kept)| kept.filter(|kept| !kept.is_kept()).map(|kept| (idx, kept)))
    };
    let (of_a, of_b) = (judged(a), judged(b));
    let (kept, missed, of_kept, (limit, found)) = match (first_missed(&of_a), first_missed(&of_b)) {
        (None, Some(missed)) => (a, b, &of_a, missed),
        (Some(missed), None) => (b, a, &of_b, missed),
        _ => return None,
    };
    let si = |point: &Point| study.values(point.setting).get(parameter)?.si;
    let meets_si = si(kept).zip(si(missed)).and_then(|(from, to)| {
        let (below, above) = (of_kept[limit]?.beyond, found.beyond);
        Some(from + (to - from) * below / (below - above))
    });
    Some(Edge {
        kept: kept.clone(),
        missed: missed.clone(),
        limit,
        found,
        meets_si,
    })
}
