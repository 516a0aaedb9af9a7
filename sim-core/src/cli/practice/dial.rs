//! A dial gauge drawn in characters, with the number in words beside it elsewhere.

use std::f64::consts::PI;

use crate::math;

/// Rows of the half circle.
const ROWS: usize = 8;
/// Columns on either side of the needle's pin.
const HALF: usize = 18;
/// Characters are about twice as high as wide.
const ASPECT: f64 = 2.0;

/// A half-circle dial from zero to full scale, both in the unit shown; it needs 45 columns.
pub(super) fn draw(value: f64, full_scale: f64, unit: &str) -> Vec<String> {
    let mut rows = vec![vec![' '; 2 * HALF + 9]; ROWS + 1];
    let center = HALF + 4;
    let mut put = |share: f64, radius: f64, text: &str| {
        let angle = PI * (1.0 - share);
        let x = center as f64 + ASPECT * radius * math::cos(angle);
        let y = ROWS as f64 - radius * math::sin(angle);
        let row = y.round() as usize;
        let width = text.chars().count();
        // Left of the pin a label ends at its tick, right of it it begins there.
        let start = x.round() as usize - ((1.0 - share) * (width - 1) as f64).round() as usize;
        for (offset, letter) in text.chars().enumerate() {
            if let Some(cell) = rows
                .get_mut(row)
                .and_then(|row| row.get_mut(start + offset))
            {
                *cell = letter;
            }
        }
    };
    let step = label_step(full_scale);
    let radius = ROWS as f64 - 0.6;
    for tick in 0..=40 {
        put(f64::from(tick) / 40.0, radius, ".");
    }
    let labels = (full_scale / step).floor() as usize;
    for label in 0..=labels {
        let at = label as f64 * step;
        put(at / full_scale, radius, &format!("{at:.0}"));
    }
    let share = (value / full_scale).clamp(0.0, 1.0);
    let hand = match (share * 8.0).round() as usize {
        0 | 8 => "-",
        1 | 2 => "\\",
        3..=5 => "|",
        _ => "/",
    };
    put(0.5, 0.0, "o");
    for step in 1..=10 {
        put(share, 0.55 * f64::from(step), hand);
    }
    // The unit stands beside the pin, where no needle goes.
    let pin = &mut rows[ROWS];
    for (offset, letter) in unit.chars().enumerate() {
        pin[center + 2 + offset] = letter;
    }
    rows.into_iter()
        .map(|row| row.into_iter().collect::<String>().trim_end().to_owned())
        .filter(|row| !row.is_empty())
        .collect()
}

/// Distance of the numbers on a scale: 1, 2 or 5 times a power of ten, at most six steps.
fn label_step(full_scale: f64) -> f64 {
    let mut decade = 1.0;
    loop {
        for step in [1.0, 2.0, 5.0] {
            let step = step * decade;
            if full_scale / step <= 6.0 || !full_scale.is_finite() {
                return step;
            }
        }
        decade *= 10.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_needle_goes_round_the_dial() {
        let mut shown = String::new();
        for (value, full, unit) in [
            (0.0, 100.0, "psi"),
            (42.0, 100.0, "psi"),
            (60.0, 100.0, "psi"),
            (690.0, 700.0, "kPa"),
        ] {
            shown.push_str(&draw(value, full, unit).join("\n"));
            shown.push_str("\n\n");
        }
        insta::assert_snapshot!(shown);
    }
}
