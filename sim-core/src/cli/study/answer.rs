//! What a study answers in sentences: the recommended setting's reason, and what the one
//! varied parameter does.

use super::{Done, words};
use crate::cli::display::{Units, fixed};
use crate::cli::faults::text::capital;
use crate::study::{Edge, Measure, Point, Recommendation, Trend};

/// Results whose way from first to last is told.
const TOLD: [&str; 5] = [
    "starts_per_day_mean",
    "run_median",
    "drawdown",
    "energy",
    "lowest_pressure",
];
/// A change of less is told as none [-].
const SAME: f64 = 0.005;

/// Why the recommended setting is recommended.
pub(super) fn reason(done: &Done<'_>) -> Option<String> {
    match &done.recommendation {
        Recommendation::Meets { rows } if done.study.limits.is_empty() => Some(format!(
            "Of {} settings it has the {}.",
            rows.len(),
            words::preferences(done.study)
        )),
        Recommendation::Meets { rows } => Some(format!(
            "{} of {} settings {} every limit; of these it has the {}.",
            rows.len(),
            done.rows.len(),
            if rows.len() == 1 { "keeps" } else { "keep" },
            words::preferences(done.study)
        )),
        Recommendation::Nearest { .. } | Recommendation::Nothing => None,
    }
}

/// Sentences about the one varied parameter; none where several vary.
pub(super) fn sentences(done: &Done<'_>, units: Units) -> Vec<String> {
    let Some(trend) = &done.trend else {
        return Vec::new();
    };
    let mut all = Vec::new();
    all.push(match &trend.edge {
        Some(edge) => limit(done, trend, edge),
        None if done.study.limits.is_empty() => String::new(),
        None => {
            let verdict = match done.recommendation {
                Recommendation::Meets { .. } => "Every limit is kept",
                Recommendation::Nearest { .. } | Recommendation::Nothing => "A limit is missed",
            };
            format!("{verdict} all the way.")
        }
    });
    all.push(way(done, trend, units));
    all.extend(peak(done, trend));
    all.retain(|sentence| !sentence.is_empty());
    all
}

/// The parameter's value in a setting.
fn value(done: &Done<'_>, trend: &Trend, point: &Point) -> String {
    let values = done.study.values(point.setting);
    values
        .get(trend.parameter)
        .map_or_else(String::new, |value| {
            words::value_in_both(&value.text, value.si)
        })
}

fn name(done: &Done<'_>, trend: &Trend) -> String {
    words::short_names(done.study).swap_remove(trend.parameter)
}

/// Where a limit ceases to be kept.
fn limit(done: &Done<'_>, trend: &Trend, edge: &Edge) -> String {
    let limit = &done.study.limits[edge.limit];
    let (found, _) = words::kept(limit, Some(edge.found));
    let (upto, from) = if edge.kept.setting < edge.missed.setting {
        ("up to", "at")
    } else {
        ("from", "at")
    };
    let mut told = format!(
        "Every limit is kept {upto} {} {}; {from} {} it is not ({}; it has {found}).",
        name(done, trend),
        value(done, trend, &edge.kept),
        value(done, trend, &edge.missed),
        words::limit(limit, Some(&edge.missed.figures)),
    );
    if let Some(si) = edge.meets_si
        && is_between(done, trend, edge, si)
        && let Some(between) = done.study.amount_text(trend.parameter, si)
    {
        told += &format!(
            " On a straight line between the two the limit is met at {}.",
            words::value_in_both(&between, Some(si))
        );
    }
    told
}

/// Whether a value lies clearly between the two settings of an edge.
fn is_between(done: &Done<'_>, trend: &Trend, edge: &Edge, si: f64) -> bool {
    let of = |point: &Point| done.study.values(point.setting).get(trend.parameter)?.si;
    let (Some(kept), Some(missed)) = (of(&edge.kept), of(&edge.missed)) else {
        return false;
    };
    ((si - kept) / (missed - kept)).clamp(0.0, 1.0) > 0.02
}

/// How results go from the first value to the last.
fn way(done: &Done<'_>, trend: &Trend, units: Units) -> String {
    let (first, last) = (&trend.first, &trend.last);
    let changes: Vec<String> = TOLD
        .iter()
        .filter_map(|name| change(words::measure(name), first, last, units))
        .collect();
    if changes.is_empty() {
        return String::new();
    }
    format!(
        "From {} {} to {}: {}.",
        name(done, trend),
        value(done, trend, first),
        value(done, trend, last),
        changes.join("; ")
    )
}

fn change(measure: &Measure, first: &Point, last: &Point, units: Units) -> Option<String> {
    let (from, to) = (measure.of(&first.figures)?, measure.of(&last.figures)?);
    let shown = |si: f64| {
        let own = words::measured(measure.unit, Some(si), units);
        let other = words::measured(measure.unit, Some(si), units.other());
        if own == other {
            own
        } else {
            format!("{own} ({other})")
        }
    };
    let share = (to - from) / from.abs().max(1e-12);
    if share.abs() < SAME {
        return Some(format!("{} stays {}", measure.label, shown(to)));
    }
    let sign = if share < 0.0 { "\u{2212}" } else { "+" };
    let by = if share > 4.0 {
        format!(
            "{} times",
            words::four_digits((to / from * 10.0).round() / 10.0)
        )
    } else {
        format!("{sign}{} %", fixed(100.0 * share.abs(), 0))
    };
    Some(format!(
        "{} goes from {} to {}, {by}",
        measure.label,
        shown(from),
        shown(to)
    ))
}

/// Where starts are most, when that is between the ends.
fn peak(done: &Done<'_>, trend: &Trend) -> Option<String> {
    let most = &trend.most_starts;
    if most.setting == trend.first.setting || most.setting == trend.last.setting {
        return None;
    }
    let figures = &most.figures;
    Some(format!(
        "{} are most at {} {}: {} a day, up to {} in an hour; the pump then runs {} % of the time.",
        capital("starts"),
        name(done, trend),
        value(done, trend, most),
        fixed(figures.starts_per_day_mean, 0),
        fixed(figures.starts_per_hour_most, 0),
        fixed(100.0 * figures.running_share, 0),
    ))
}
