//! Two parameters against one another, starts a day as shade and as a figure in each cell.

use anyhow::Result;

use super::Picture;
use super::field::{BODY, FOOT, LEFT, Mark, NOTE, RIGHT, TOP, edge, ground, legend, sheet, text};
use crate::cli::display::fixed;
use crate::cli::palette::{ACCENT, FACE, INK, INK2, RAISED, Rgb, WATER_INK};
use crate::cli::plot::figure::{Anchor, Face, Figure};
use crate::cli::study::{Done, words};
use crate::study::Axis;

/// Shades from few starts to many.
const SHADES: usize = 6;
/// More cells than this across or down would be too small for their figures.
const MOST_CELLS: usize = 14;

/// The picture, where exactly two parameters of the grid vary and nothing is sampled.
pub(super) fn picture(done: &Done<'_>) -> Result<Option<Picture>> {
    let study = done.study;
    let varying: Vec<(usize, &Axis)> = study
        .axes()
        .iter()
        .enumerate()
        .filter(|(_, axis)| axis.n_values() > 1)
        .collect();
    let &[(_, down), (_, across)] = varying.as_slice() else {
        return Ok(None);
    };
    if study.sampling.is_some() || down.n_values().max(across.n_values()) > MOST_CELLS {
        return Ok(None);
    }
    let measure = words::measure("starts_per_day_mean");
    let names = words::short_names(study);
    let (down_name, across_name) = (&names[down.parameter], &names[across.parameter]);
    let title = "Starts a day, mean";
    let below = format!("{}: {down_name} against {across_name}", study.title);
    let mut figure = sheet(title, &below)?;
    ground(&mut figure);
    let values: Vec<Option<f64>> = done
        .rows
        .iter()
        .map(|row| Ok(row?.figures().and_then(|figures| measure.of(figures))))
        .collect::<Result<_>>()?;
    let most = values.iter().flatten().copied().fold(0.0, f64::max);
    let (n_down, n_across) = (down.n_values(), across.n_values());
    let size = (
        (RIGHT - LEFT) / n_across as f64,
        (FOOT - TOP) / n_down as f64,
    );
    let best = done.recommendation.first();
    for (idx, value) in values.iter().enumerate() {
        let (i_down, i_across) = (idx / n_across, idx % n_across);
        let from = (
            LEFT + size.0 * i_across as f64,
            // The first value stands at the foot, as on an axis.
            FOOT - size.1 * (i_down + 1) as f64,
        );
        let kind = super::spread::mark_of(done, idx);
        cell(&mut figure, from, size, *value, most, kind);
    }
    if let Some(best) = best {
        let (i_down, i_across) = (best / n_across, best % n_across);
        let (x, y) = (
            LEFT + size.0 * i_across as f64,
            FOOT - size.1 * (i_down + 1) as f64,
        );
        let (x2, y2) = (x + size.0, y + size.1);
        let ring = vec![(x, y), (x2, y), (x2, y2), (x, y2), (x, y)];
        figure.path(ring, 4.0, ACCENT, None);
    }
    edge(&mut figure);
    for i in 0..n_down {
        let y = FOOT - size.1 * (i as f64 + 0.5) + 5.0;
        let style = (BODY, Face::Mono, Anchor::End, INK2);
        text(&mut figure, (LEFT - 8.0, y), &shown(down, i), style);
    }
    for i in 0..n_across {
        let x = LEFT + size.0 * (i as f64 + 0.5);
        let style = (BODY, Face::Mono, Anchor::Middle, INK2);
        text(&mut figure, (x, FOOT + 20.0), &shown(across, i), style);
    }
    let style = (BODY, Face::Regular, Anchor::Start, INK2);
    text(&mut figure, (20.0, TOP - 14.0), down_name, style);
    super::field::level_name(&mut figure, across_name);
    legend(&mut figure);
    Ok(Some(Picture {
        name: "heat-map",
        caption: format!(
            "{title}, for each {down_name} (up) and {across_name} (across). Darker is more; a \
             cross marks a setting that misses a limit, the ring the recommended one."
        ),
        figure,
    }))
}

fn shown(axis: &Axis, idx: usize) -> String {
    axis.value(idx)
        .map_or_else(String::new, |(text, si)| words::value(text, si))
}

/// One cell: its shade, its figure, and a mark where a limit is missed.
fn cell(
    figure: &mut Figure,
    from: (f64, f64),
    size: (f64, f64),
    value: Option<f64>,
    most: f64,
    kind: Mark,
) {
    let gap = 1.0;
    let (x, y) = from;
    let corner = (x + gap, y + gap);
    let opposite = (x + size.0 - gap, y + size.1 - gap);
    let middle = (x + size.0 / 2.0, y + size.1 / 2.0);
    let Some(value) = value else {
        let style = (NOTE, Face::Regular, Anchor::Middle, INK2);
        text(figure, (middle.0, middle.1 + 5.0), "not possible", style);
        return;
    };
    let level = if most > 0.0 {
        ((value / most * SHADES as f64).ceil() as usize).clamp(1, SHADES) - 1
    } else {
        0
    };
    let share = level as f64 / (SHADES - 1) as f64;
    figure.rect(
        corner,
        opposite,
        mixed(RAISED, WATER_INK, 0.06 + 0.9 * share),
    );
    // The darker ink down to the shade where the two read equally well.
    let ink = if share > 0.7 { FACE } else { INK };
    let words = fixed(value, if value < 99.95 { 1 } else { 0 });
    let style = (16.0, Face::Mono, Anchor::Middle, ink);
    text(figure, (middle.0, middle.1 + 5.0), &words, style);
    if kind == Mark::Missed {
        let (cx, cy, d) = (x + size.0 - 14.0, y + 14.0, 5.0);
        figure.line((cx - d, cy - d), (cx + d, cy + d), 2.0, ink);
        figure.line((cx - d, cy + d), (cx + d, cy - d), 2.0, ink);
    }
}

/// A color between two.
fn mixed(from: Rgb, to: Rgb, share: f64) -> Rgb {
    let mix = |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * share).round() as u8;
    (mix(from.0, to.0), mix(from.1, to.1), mix(from.2, to.2))
}
