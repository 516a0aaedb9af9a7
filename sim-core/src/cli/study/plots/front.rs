//! What one gives up for the other: two results against one another, with the settings that
//! no other beats in both joined by a line (the Pareto front).

use anyhow::Result;

use super::Picture;
use super::field::{
    Mark, NOTE, edge, ground, legend, level_axis, mark, sheet, text, upright_axis, x_of, y_of,
};
use crate::cli::display::Units;
use crate::cli::palette::{ACCENT, INK};
use crate::cli::plot::Scale;
use crate::cli::plot::figure::{Anchor, Face};
use crate::cli::study::{Done, words};
use crate::study::{Measure, MeasureUnit};

/// Numbers stand beside points only where there are no more than this.
const MOST_NUMBERS: usize = 16;

/// The picture: pressure against starts where anything was drawn, else drawdown.
pub(super) fn picture(done: &Done<'_>, units: Units) -> Result<Option<Picture>> {
    let along = words::measure("starts_per_day_mean");
    let pressure = words::measure("median_pressure");
    let has_pressure = done
        .rows
        .iter()
        .filter_map(|row| row.figures())
        .any(|figures| pressure.of(figures).is_some());
    let up = if has_pressure {
        pressure
    } else {
        words::measure("energy")
    };
    let points: Vec<(usize, f64, f64)> = done
        .rows
        .iter()
        .enumerate()
        .filter_map(|(idx, row)| {
            let figures = row.figures()?;
            Some((idx, along.of(figures)?, shown(up, up.of(figures)?, units)))
        })
        .collect();
    if points.len() < 3 {
        return Ok(None);
    }
    let front = front(&points, up.less_is_better);
    let name = match words::unit(up.unit, units) {
        "" => up.label.to_owned(),
        unit => format!("{} [{unit}]", up.label),
    };
    let mut figure = sheet(
        &format!("What fewer starts cost: {}", up.label),
        &done.study.title,
    )?;
    ground(&mut figure);
    let x_scale = Scale::holding(points.iter().map(|p| p.1), 8.0);
    let y_scale = Scale::holding(points.iter().map(|p| p.2), 6.0);
    upright_axis(&mut figure, &y_scale, &name);
    level_axis(&mut figure, &x_scale, "starts a day, mean");
    let place = |p: &(usize, f64, f64)| (x_of(&x_scale, p.1), y_of(&y_scale, p.2));
    figure.path(front.iter().map(place).collect(), 2.0, ACCENT, None);
    for point in &points {
        let kind = super::spread::mark_of(done, point.0);
        mark(&mut figure, place(point), kind);
    }
    // Drawn last, so that no other mark lies on it.
    for point in &points {
        if super::spread::mark_of(done, point.0) == Mark::Best {
            mark(&mut figure, place(point), Mark::Best);
        }
    }
    if front.len() <= MOST_NUMBERS {
        for point in &front {
            let (x, y) = place(point);
            let number = done.rows[point.0].setting.to_string();
            let style = (NOTE, Face::Mono, Anchor::Start, INK);
            text(&mut figure, (x + 10.0, y - 8.0), &number, style);
        }
    }
    edge(&mut figure);
    legend(&mut figure);
    Ok(Some(Picture {
        name: "front",
        caption: format!(
            "{name} against starts a day. The line joins the settings that no other beats in \
             both; numbers are those of the table."
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
