//! A trace drawn in characters, and the same in words.

/// Rows of a trace.
const ROWS: usize = 9;

/// A trace of points (time [s], value in the unit shown), at most so many columns wide.
pub(super) fn draw(points: &[(f64, f64)], unit: &str, columns: usize) -> Vec<String> {
    let (Some(&(begin, _)), Some(&(end, _))) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let (low, high) = bounds(points);
    // A flat trace gets a scale of its own, or noise would fill the page.
    let span = (high - low).max(4.0);
    let middle = 0.5 * (low + high);
    let (bottom, top) = (middle - 0.5 * span, middle + 0.5 * span);
    let label = |value: f64| format!("{value:6.1}");
    let width = columns.saturating_sub(label(0.0).len() + 3).clamp(10, 72);
    let mut rows = vec![vec![' '; width]; ROWS];
    for &(time, value) in points {
        let across = if end > begin {
            (time - begin) / (end - begin)
        } else {
            0.0
        };
        let column = (across * (width - 1) as f64).round() as usize;
        let up = (value - bottom) / (top - bottom);
        let row = ((1.0 - up).clamp(0.0, 1.0) * (ROWS - 1) as f64).round() as usize;
        rows[row][column] = '*';
    }
    let mut lines: Vec<String> = rows
        .into_iter()
        .enumerate()
        .map(|(row, cells)| {
            let value = top - (top - bottom) * row as f64 / (ROWS - 1) as f64;
            let head = if row % 4 == 0 {
                label(value)
            } else {
                " ".repeat(6)
            };
            format!("{head} |{}", cells.into_iter().collect::<String>())
                .trim_end()
                .to_owned()
        })
        .collect();
    lines.push(format!("{:>6} +{}", unit, "-".repeat(width)));
    let (from, to) = (clock(0.0), clock(end - begin));
    let gap = width.saturating_sub(from.len() + to.len());
    lines.push(format!("        {from}{}{to}", " ".repeat(gap)));
    lines
}

/// The same for those who do not see it.
pub(super) fn words(points: &[(f64, f64)], unit: &str) -> String {
    let (Some(&first), Some(&last)) = (points.first(), points.last()) else {
        return "Nothing was written down.".to_owned();
    };
    let by = |better: fn(f64, f64) -> bool| {
        points
            .iter()
            .copied()
            .reduce(|best, point| if better(point.1, best.1) { point } else { best })
            .unwrap_or(first)
    };
    let (least, most) = (by(|a, b| a < b), by(|a, b| a > b));
    format!(
        "{} readings in {}: first {:.1}, last {:.1}, lowest {:.1} at {}, highest {:.1} at {} {unit}.",
        points.len(),
        crate::cli::display::span(last.0 - first.0),
        first.1,
        last.1,
        least.1,
        clock(least.0 - first.0),
        most.1,
        clock(most.0 - first.0),
    )
}

fn bounds(points: &[(f64, f64)]) -> (f64, f64) {
    points.iter().fold(
        (f64::INFINITY, f64::NEG_INFINITY),
        |(low, high), &(_, value)| (low.min(value), high.max(value)),
    )
}

/// Minutes and seconds.
fn clock(seconds: f64) -> String {
    let whole = seconds.max(0.0).round() as u64;
    format!("{}:{:02}", whole / 60, whole % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fill_and_a_hold_are_drawn_and_told() {
        let points: Vec<(f64, f64)> = (0..=30)
            .map(|n| (f64::from(n) * 30.0, (20.0 + 2.0 * f64::from(n)).min(60.0)))
            .collect();
        insta::assert_snapshot!(format!(
            "{}\n{}",
            draw(&points, "psi", 60).join("\n"),
            words(&points, "psi")
        ));
        assert!(draw(&[], "psi", 60).is_empty());
        assert!(!draw(&[(0.0, 40.0)], "psi", 10).is_empty());
    }
}
