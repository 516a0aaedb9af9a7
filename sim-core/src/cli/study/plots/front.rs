//! What one gives up for the other: two results against one another, with the settings that
//! no other beats in both joined by a line (the Pareto front).

use anyhow::Result;

use super::Picture;
use super::field::{
    NOTE, edge, ground, legend, level_axis, marks, sheet, text, upright_axis, x_of, y_of,
};
use crate::cli::display::Units;
use crate::cli::faults::text::capital;
use crate::cli::palette::{ACCENT, INK};
use crate::cli::plot::Scale;
use crate::cli::plot::figure::{Anchor, Face};
use crate::cli::study::{Done, words};
use crate::study::{Measure, MeasureUnit, Standing, Target};

/// Numbers stand beside points only where there are no more than this.
const MOST_NUMBERS: usize = 16;

/// What stands upright in the picture.
enum Upright {
    /// A parameter that the study prefers little or much of.
    Parameter(usize),
    /// A result.
    Result(&'static Measure),
}

/// The picture: what is preferred of a parameter against starts where two or more vary,
/// else pressure against starts; none where nothing was drawn.
pub(super) fn picture(done: &Done<'_>, units: Units) -> Result<Option<Picture>> {
    let study = done.study;
    let along = words::measure("starts_per_day_mean");
    let n_varying = study.axes().iter().filter(|a| a.n_values() > 1).count();
    let preferred = study.prefer.iter().find_map(|preference| {
        let Target::Parameter(idx) = preference.target else {
            return None;
        };
        (n_varying > 1).then_some((Upright::Parameter(idx), preference.least))
    });
    let pressure = words::measure("median_pressure");
    let (up, less_is_better) =
        preferred.unwrap_or((Upright::Result(pressure), pressure.less_is_better));
    let mut points: Vec<(usize, f64, f64)> = Vec::new();
    for row in done.rows.iter() {
        let row = row?;
        let Some(figures) = row.figures() else {
            continue;
        };
        let value = match up {
            Upright::Result(measure) => measure.of(figures).map(|si| shown(measure, si, units)),
            Upright::Parameter(parameter) => {
                let value = study.values(row.setting).swap_remove(parameter);
                let number = value.text.split(' ').next().and_then(|n| n.parse().ok());
                value.si.and(number)
            }
        };
        if let (Some(value), Some(starts)) = (value, along.of(figures)) {
            points.push((row.setting, starts, value));
        }
    }
    if points.len() < 3 {
        return Ok(None);
    }
    let (label, unit) = match up {
        Upright::Result(measure) => (measure.label.to_owned(), words::unit(measure.unit, units)),
        Upright::Parameter(idx) => (
            words::short_names(study)[idx].clone(),
            study.parameters[idx].unit.as_str(),
        ),
    };
    let name = match unit {
        "" => label.clone(),
        unit => format!("{label} [{unit}]"),
    };
    // What misses a limit is no choice, unless everything does.
    let keeps = |row: usize| done.standings[row] == Standing::Keeps;
    let is_any_kept = points.iter().any(|point| keeps(point.0));
    let choices: Vec<_> = points
        .iter()
        .copied()
        .filter(|point| keeps(point.0) || !is_any_kept)
        .collect();
    let front = front(&choices, less_is_better);
    let mut figure = sheet(
        &format!("What fewer starts cost: {label}"),
        &done.study.title,
    )?;
    ground(&mut figure);
    let x_scale = Scale::holding(points.iter().map(|p| p.1), 8.0);
    let y_scale = Scale::holding(points.iter().map(|p| p.2), 6.0);
    upright_axis(&mut figure, &y_scale, &name);
    level_axis(&mut figure, &x_scale, "starts a day, mean");
    let place = |p: &(usize, f64, f64)| (x_of(&x_scale, p.1), y_of(&y_scale, p.2));
    figure.path(front.iter().map(place).collect(), 2.0, ACCENT, None);
    marks(&mut figure, done, points.iter().map(|p| (p.0, place(p))));
    let numbered = if points.len() <= MOST_NUMBERS {
        &points
    } else {
        &front
    };
    if numbered.len() <= MOST_NUMBERS {
        for point in numbered {
            let (x, y) = place(point);
            let number = point.0.to_string();
            let style = (NOTE, Face::Mono, Anchor::Start, INK);
            // On the side that the line does not take.
            let below = if less_is_better { -8.0 } else { 18.0 };
            text(&mut figure, (x + 10.0, y + below), &number, style);
        }
    }
    edge(&mut figure);
    legend(&mut figure);
    Ok(Some(Picture {
        name: "front",
        caption: format!(
            "{} against starts a day. The line joins the settings {}that no other beats in both; \
             numbers are those of the table.",
            capital(&name),
            if is_any_kept {
                "that keep every limit and "
            } else {
                ""
            },
        ),
        figure,
    }))
}

fn shown(measure: &Measure, si: f64, units: Units) -> f64 {
    match measure.unit {
        MeasureUnit::Count => si,
        unit => words::converted(unit, si, units),
    }
}

/// Points that no other beats in both, by rising starts.
fn front(points: &[(usize, f64, f64)], less_is_better: bool) -> Vec<(usize, f64, f64)> {
    let worth = |value: f64| if less_is_better { -value } else { value };
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| {
        a.1.total_cmp(&b.1)
            .then(worth(b.2).total_cmp(&worth(a.2)))
            .then(a.0.cmp(&b.0))
    });
    let mut best = f64::NEG_INFINITY;
    sorted.retain(|point| {
        let is_better = worth(point.2) > best;
        best = best.max(worth(point.2));
        is_better
    });
    sorted
}

#[cfg(test)]
mod tests {
    use super::front;

    #[test]
    fn the_front_is_what_nothing_beats_in_both() {
        let points = [(0, 1.0, 1.0), (1, 2.0, 3.0), (2, 3.0, 2.0), (3, 2.0, 2.0)];
        let places = |less| -> Vec<usize> { front(&points, less).iter().map(|p| p.0).collect() };
        assert_eq!(places(false), [0, 1]);
        assert_eq!(places(true), [0]);
    }
}
