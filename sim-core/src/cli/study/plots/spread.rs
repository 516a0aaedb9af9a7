//! How starts a day spread over the days: median, 95 % of days, worst day, for each setting.

use anyhow::Result;

use super::Picture;
use super::field::{
    BODY, FOOT, LEFT, Mark, NOTE, RIGHT, TOP, edge, ground, legend, level_name, mark, sheet, text,
    upright_axis, y_of,
};
use crate::cli::palette::{INK2, WATER_INK, WATER1};
use crate::cli::plot::Scale;
use crate::cli::plot::figure::{Anchor, Face};
use crate::cli::study::{Done, table};
use crate::study::{Recommendation, Standing};

/// More bars than this stand too close.
const MOST_BARS: usize = 30;
/// Width of a digit [px].
const DIGIT: f64 = 8.0;

/// How a row is marked.
pub(super) fn mark_of(done: &Done<'_>, row: usize) -> Mark {
    if done.recommendation.first() == Some(row) {
        return Mark::Best;
    }
    match done.standings[row] {
        Standing::Keeps => Mark::Kept,
        Standing::Misses(_) | Standing::Refused => Mark::Missed,
    }
}

/// The picture.
pub(super) fn picture(done: &Done<'_>) -> Result<Picture> {
    let mut bars: Vec<(usize, f64, f64, f64)> = Vec::new();
    // Numbers of settings stand side by side.
    let n_digits = done.rows.len().max(10).to_string().len() as f64;
    let room = ((RIGHT - LEFT) / (DIGIT * (n_digits + 1.0))) as usize;
    for row in table::order(done).into_iter().take(room.min(MOST_BARS)) {
        if let Some(figures) = done.rows.get(row)?.figures() {
            bars.push((
                row,
                figures.starts_per_day_median,
                figures.starts_per_day_95,
                figures.starts_per_day_most,
            ));
        }
    }
    let mut figure = sheet(
        "Starts a day: from an ordinary day to the worst",
        &done.study.title,
    )?;
    ground(&mut figure);
    let up = Scale::holding(bars.iter().map(|bar| bar.3), 6.0);
    upright_axis(&mut figure, &up, "starts a day");
    let step = (RIGHT - LEFT) / bars.len().max(1) as f64;
    let half = (step * 0.3).min(18.0);
    for (i, (row, median, busy, worst)) in bars.iter().enumerate() {
        let x = LEFT + step * (i as f64 + 0.5);
        let (y_median, y_busy, y_worst) = (y_of(&up, *median), y_of(&up, *busy), y_of(&up, *worst));
        figure.line((x, y_worst), (x, y_busy), 1.5, WATER_INK);
        figure.line(
            (x - half * 0.6, y_worst),
            (x + half * 0.6, y_worst),
            1.5,
            WATER_INK,
        );
        figure.rect(
            (x - half, y_busy),
            (x + half, y_median.max(y_busy + 2.0)),
            WATER1,
        );
        figure.line((x - half, y_busy), (x + half, y_busy), 1.5, WATER_INK);
        mark(&mut figure, (x, y_median), mark_of(done, *row));
        let style = (NOTE, Face::Mono, Anchor::Middle, INK2);
        let number = row.to_string();
        text(&mut figure, (x, FOOT + 20.0), &number, style);
    }
    edge(&mut figure);
    level_name(&mut figure, "number of the setting, best first");
    let style = (BODY, Face::Regular, Anchor::End, INK2);
    let key = "mark: median day; bar: up to 95 % of days; line: up to the worst day";
    text(&mut figure, (RIGHT, TOP - 14.0), key, style);
    legend(&mut figure);
    let about = match &done.recommendation {
        Recommendation::Meets { .. } => "recommended",
        Recommendation::Nearest { .. } | Recommendation::Nothing => "nearest",
    };
    Ok(Picture {
        name: "spread",
        caption: format!(
            "Starts a day of each setting, the {about} one first: the median day, up to 95 % of \
             days, up to the worst day. Numbers are those of the table."
        ),
        figure,
    })
}
