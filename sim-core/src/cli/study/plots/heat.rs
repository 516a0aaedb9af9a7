//! Two parameters against one another, starts a day as shade and as a figure in each cell.

use anyhow::Result;

use super::Picture;
use super::field::{BODY, FOOT, LEFT, Mark, NOTE, RIGHT, TOP, edge, ground, legend, sheet, text};
use super::spread::mark_of;
use crate::cli::display::fixed;
use crate::cli::palette::{ACCENT, FACE, INK, INK2, RAISED, Rgb, WATER_INK};
use crate::cli::plot::figure::{Anchor, Face, Figure, Point};
use crate::cli::study::{Done, words};
use crate::study::{Axis, Standing};

/// Shades from few starts to many.
const SHADES: usize = 6;
/// More cells than this across or down are too small for figures and crosses of their own.
const MOST_FIGURES: usize = 14;
/// More cells than this across or down are too small to be seen.
const MOST_CELLS: usize = 200;
/// Values named along an axis, about, where not all are.
const NAMED: usize = 7;
/// How far a shade reaches under the next row, so that no seam shows [px].
const OVERLAP: f64 = 0.6;

/// Share of the dark color in a shade [-].
fn darkness(level: usize) -> f64 {
    0.06 + 0.9 * level as f64 / (SHADES - 1) as f64
}

/// Shares of the water's ink in the shades on a dark page [%]: with a step where the letters
/// change from light to dark, so that both can be read.
const BY_LAMP: [u8; SHADES] = [5, 14, 23, 32, 60, 80];

/// The shades with the share of the water's ink that each has on a dark page [%].
pub(in crate::cli::study) fn shades() -> impl Iterator<Item = (Rgb, u8)> {
    (0..SHADES).map(|level| (mixed(RAISED, WATER_INK, darkness(level)), BY_LAMP[level]))
}

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
    // The first value stands at the foot, as on an axis.
    let corner = |i_down: usize, i_across: usize| {
        (
            LEFT + size.0 * i_across as f64,
            FOOT - size.1 * (i_down + 1) as f64,
        )
    };
    let is_told = n_down.max(n_across) <= MOST_FIGURES;
    if is_told {
        for (idx, value) in values.iter().enumerate() {
            let from = corner(idx / n_across, idx % n_across);
            cell(&mut figure, from, size, *value, most, mark_of(done, idx));
        }
    } else {
        let field = Field {
            values: &values,
            most,
            n_across,
            size,
        };
        field.shade(&mut figure, &corner);
        field.part(&mut figure, done, &corner);
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
    let stride = |n: usize| if is_told { 1 } else { n.div_ceil(NAMED) };
    for i in (0..n_down).step_by(stride(n_down)) {
        let y = FOOT - size.1 * (i as f64 + 0.5) + 5.0;
        let style = (BODY, Face::Mono, Anchor::End, INK2);
        text(&mut figure, (LEFT - 8.0, y), &shown(down, i), style);
    }
    for i in (0..n_across).step_by(stride(n_across)) {
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
            "{title}, for each {down_name} (up) and {across_name} (across). The stronger the shade, the more; {}, the \
             ring the recommended one.",
            if is_told {
                "a cross marks a setting that misses a limit"
            } else {
                "lines part settings that keep every limit from those that miss one, crosses lie \
                 among these"
            }
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
    let level = level_of(value, most);
    let share = level as f64 / (SHADES - 1) as f64;
    figure.rect(corner, opposite, mixed(RAISED, WATER_INK, darkness(level)));
    // The darker ink down to the shade where the two read equally well.
    let ink = if share > 0.7 { FACE } else { INK };
    let words = fixed(value, if value < 99.95 { 1 } else { 0 });
    let style = (16.0, Face::Mono, Anchor::Middle, ink);
    text(figure, (middle.0, middle.1 + 5.0), &words, style);
    if kind == Mark::Missed {
        cross(figure, (x + size.0 - 14.0, y + 14.0), ink);
    }
}

/// The shade of a value.
fn level_of(value: f64, most: f64) -> usize {
    if most > 0.0 {
        ((value / most * SHADES as f64).ceil() as usize).clamp(1, SHADES) - 1
    } else {
        0
    }
}

/// Cells too small for figures of their own.
struct Field<'a> {
    values: &'a [Option<f64>],
    most: f64,
    n_across: usize,
    size: (f64, f64),
}

impl Field<'_> {
    /// Shades, neighbors of one shade in one piece.
    fn shade(&self, figure: &mut Figure, corner: &impl Fn(usize, usize) -> Point) {
        let level = |idx: usize| self.values[idx].map(|value| level_of(value, self.most));
        for (i_down, row) in self.values.chunks(self.n_across).enumerate() {
            let first = i_down * self.n_across;
            let mut begin = 0;
            for end in 1..=row.len() {
                if end < row.len() && level(first + end) == level(first + begin) {
                    continue;
                }
                if let Some(level) = level(first + begin) {
                    let (x, y) = corner(i_down, begin);
                    let (to, _) = corner(i_down, end);
                    let shade = mixed(RAISED, WATER_INK, darkness(level));
                    let foot = (y + self.size.1 + OVERLAP).min(FOOT);
                    figure.rect((x, y), (to, foot), shade);
                }
                begin = end;
            }
        }
    }

    /// Lines between settings that keep every limit and those that miss one, and a cross
    /// here and there among these.
    fn part(&self, figure: &mut Figure, done: &Done<'_>, corner: &impl Fn(usize, usize) -> Point) {
        let keeps = |idx: usize| done.standings[idx] == Standing::Keeps;
        let n_down = self.values.len() / self.n_across;
        let (across, down) = (self.n_across.div_ceil(NAMED), n_down.div_ceil(NAMED));
        for idx in 0..self.values.len() {
            let (i_down, i_across) = (idx / self.n_across, idx % self.n_across);
            let (x, y) = corner(i_down, i_across);
            let (x2, y2) = (x + self.size.0, y + self.size.1);
            if i_across + 1 < self.n_across && keeps(idx) != keeps(idx + 1) {
                figure.line((x2, y), (x2, y2), 2.0, ACCENT);
            }
            if i_down + 1 < n_down && keeps(idx) != keeps(idx + self.n_across) {
                figure.line((x, y), (x2, y), 2.0, ACCENT);
            }
            if !keeps(idx) && i_across % across == across / 2 && i_down % down == down / 2 {
                let value = self.values[idx].unwrap_or(0.0);
                let is_dark = level_of(value, self.most) * 10 > 7 * (SHADES - 1);
                cross(
                    figure,
                    (0.5 * (x + x2), 0.5 * (y + y2)),
                    if is_dark { FACE } else { INK },
                );
            }
        }
    }
}

fn cross(figure: &mut Figure, (x, y): Point, ink: Rgb) {
    let d = 5.0;
    figure.line((x - d, y - d), (x + d, y + d), 2.0, ink);
    figure.line((x - d, y + d), (x + d, y - d), 2.0, ink);
}

/// A color between two.
fn mixed(from: Rgb, to: Rgb, share: f64) -> Rgb {
    let mix = |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * share).round() as u8;
    (mix(from.0, to.0), mix(from.1, to.1), mix(from.2, to.2))
}
