//! The sheet that study plots share: title, a field with axes, marks.

use std::collections::BTreeSet;

use anyhow::Result;

use super::spread::mark_of;
use crate::cli::palette::{ACCENT, HAIR, INK, INK2, PAPER, RAISED, RULE, Rgb, WATER_INK};
use crate::cli::plot::Scale;
use crate::cli::plot::figure::{Anchor, Face, Figure, Point, Text};
use crate::cli::plot::fitted;
use crate::cli::study::Done;

/// Size of a sheet [px].
pub(super) const WIDTH: f64 = 960.0;
pub(super) const HEIGHT: f64 = 560.0;
/// The field in it [px].
pub(super) const LEFT: f64 = 96.0;
pub(super) const RIGHT: f64 = WIDTH - 40.0;
pub(super) const TOP: f64 = 108.0;
pub(super) const FOOT: f64 = HEIGHT - 72.0;
/// Type sizes [px].
pub(super) const TITLE: f64 = 24.0;
pub(super) const BODY: f64 = 14.0;
pub(super) const NOTE: f64 = 13.0;

/// How a setting is marked: by shape first, by color as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// The recommended one.
    Best,
    /// Keeps every limit.
    Kept,
    /// Misses one.
    Missed,
}

/// A text of one line.
pub(super) fn text(
    figure: &mut Figure,
    at: Point,
    words: &str,
    (size, face, anchor, color): (f64, Face, Anchor, Rgb),
) {
    figure.text(Text {
        at,
        words: words.to_owned(),
        size,
        face,
        anchor,
        color,
        tail: None,
    });
}

/// A sheet with its title, the study's name under it.
pub(super) fn sheet(title: &str, below: &str) -> Result<Figure> {
    let mut figure = Figure {
        width: WIDTH as u32,
        height: HEIGHT as u32,
        description: format!("{title}: {below}"),
        shapes: Vec::new(),
    };
    figure.rect((0.0, 0.0), (WIDTH, HEIGHT), PAPER);
    let room = WIDTH - 40.0;
    let title = fitted(title, Face::Bold, TITLE, room)?;
    let bold = (TITLE, Face::Bold, Anchor::Start, INK);
    text(&mut figure, (20.0, 40.0), &title, bold);
    let below = fitted(below, Face::Regular, BODY, room)?;
    let quiet = (BODY, Face::Regular, Anchor::Start, INK2);
    text(&mut figure, (20.0, 64.0), &below, quiet);
    Ok(figure)
}

/// Ground of the field.
pub(super) fn ground(figure: &mut Figure) {
    figure.rect((LEFT, TOP), (RIGHT, FOOT), RAISED);
}

/// Edge of the field.
pub(super) fn edge(figure: &mut Figure) {
    figure.path(
        vec![
            (LEFT, TOP),
            (RIGHT, TOP),
            (RIGHT, FOOT),
            (LEFT, FOOT),
            (LEFT, TOP),
        ],
        1.25,
        RULE,
        None,
    );
}

/// Height of a value [px].
pub(super) fn y_of(scale: &Scale, value: f64) -> f64 {
    FOOT - (FOOT - TOP) * (value - scale.low) / (scale.high - scale.low)
}

/// Place of a value along the field [px].
pub(super) fn x_of(scale: &Scale, value: f64) -> f64 {
    LEFT + (RIGHT - LEFT) * (value - scale.low) / (scale.high - scale.low)
}

/// Figures and name of the upright axis; the name stands above the field.
pub(super) fn upright_axis(figure: &mut Figure, scale: &Scale, name: &str) {
    for (value, words) in scale.figures() {
        let y = y_of(scale, value);
        figure.line((LEFT, y), (RIGHT, y), 1.0, HAIR);
        let style = (BODY, Face::Mono, Anchor::End, INK2);
        text(figure, (LEFT - 8.0, y + 5.0), &words, style);
    }
    let style = (BODY, Face::Regular, Anchor::Start, INK2);
    text(figure, (20.0, TOP - 14.0), name, style);
}

/// Figures and name of the level axis.
pub(super) fn level_axis(figure: &mut Figure, scale: &Scale, name: &str) {
    for (value, words) in scale.figures() {
        let x = x_of(scale, value);
        figure.line((x, TOP), (x, FOOT), 1.0, HAIR);
        let style = (BODY, Face::Mono, Anchor::Middle, INK2);
        text(figure, (x, FOOT + 20.0), &words, style);
    }
    level_name(figure, name);
}

/// Name of the level axis.
pub(super) fn level_name(figure: &mut Figure, name: &str) {
    let style = (BODY, Face::Regular, Anchor::Middle, INK2);
    text(figure, ((LEFT + RIGHT) / 2.0, FOOT + 44.0), name, style);
}

/// A setting's mark: a filled diamond in a ring for the best, a filled square where limits
/// are kept, a cross where one is missed.
pub(super) fn mark(figure: &mut Figure, (x, y): Point, mark: Mark) {
    match mark {
        Mark::Best => {
            let d = 9.0;
            figure.area(vec![(x - d, y), (x, y - d), (x + d, y), (x, y + d)], ACCENT);
        }
        Mark::Kept => figure.rect((x - 4.5, y - 4.5), (x + 4.5, y + 4.5), WATER_INK),
        Mark::Missed => {
            let d = 4.5;
            figure.line((x - d, y - d), (x + d, y + d), 2.0, INK2);
            figure.line((x - d, y + d), (x + d, y - d), 2.0, INK2);
        }
    }
}

/// Side of a square of the field that gets one mark of a kind where there are many [px].
const SQUARE: f64 = 8.0;
/// More settings than this are thinned.
const MANY: usize = 400;

/// Marks of many settings, so that their number on the sheet is bounded: a square of the
/// field gets the first of a kind that lies in it.  The best is drawn last, on top.
pub(super) fn marks(
    figure: &mut Figure,
    done: &Done<'_>,
    places: impl ExactSizeIterator<Item = (usize, Point)>,
) {
    let is_thinned = places.len() > MANY;
    let mut taken = BTreeSet::new();
    let mut best = None;
    for (row, at) in places {
        let kind = mark_of(done, row);
        let square = ((at.0 / SQUARE) as i32, (at.1 / SQUARE) as i32);
        if kind == Mark::Best {
            best = Some(at);
        } else if !is_thinned || taken.insert((kind == Mark::Kept, square)) {
            mark(figure, at, kind);
        }
    }
    if let Some(at) = best {
        mark(figure, at, Mark::Best);
    }
}

/// What the marks mean, at the foot of the sheet.
pub(super) fn legend(figure: &mut Figure) {
    let y = HEIGHT - 10.0;
    let mut x = LEFT;
    for (kind, words) in [
        (Mark::Best, "recommended, or nearest"),
        (Mark::Kept, "keeps every limit"),
        (Mark::Missed, "misses a limit"),
    ] {
        mark(figure, (x, y - 5.0), kind);
        let style = (NOTE, Face::Regular, Anchor::Start, INK2);
        text(figure, (x + 16.0, y), words, style);
        x += 200.0;
    }
}
