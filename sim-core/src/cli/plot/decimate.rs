//! Thins a long series out so that its picture stays the same.

use super::figure::Point;

/// Keeps, of the points of each pixel column, the first, the lowest, the highest and the
/// last, in order: a spike of one sample still shows at full height.
pub(super) fn by_column(points: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    let mut rest = points.as_slice();
    while let Some(first) = rest.first() {
        let column = first.0.floor();
        let n = rest
            .iter()
            .take_while(|point| point.0.floor() == column)
            .count()
            .max(1);
        let (bin, after) = rest.split_at(n);
        rest = after;
        let extreme = |better: fn(f64, f64) -> bool| {
            (1..n).fold(0, |best, i| {
                if better(bin[i].1, bin[best].1) {
                    i
                } else {
                    best
                }
            })
        };
        let mut picks = [0, extreme(|a, b| a < b), extreme(|a, b| a > b), n - 1];
        picks.sort_unstable();
        let mut last = None;
        for pick in picks {
            if last != Some(pick) {
                kept.push(bin[pick]);
            }
            last = Some(pick);
        }
    }
    kept
}

/// The upper and the lower edge of what a line covers, in windows of a few pixels (upper
/// edge first: least y).
pub(super) fn ranges(points: &[Point]) -> (Vec<Point>, Vec<Point>) {
    const WINDOW_PX: f64 = 3.0;
    let (mut upper, mut lower) = (Vec::new(), Vec::new());
    let mut rest = points;
    while let Some(first) = rest.first() {
        // What is too short for a window of its own goes to the last one.
        let end = points[points.len() - 1].0;
        let window_px = if end - first.0 < 2.0 * WINDOW_PX {
            f64::INFINITY
        } else {
            WINDOW_PX
        };
        let n = rest
            .iter()
            .take_while(|point| point.0 < first.0 + window_px)
            .count()
            .max(1);
        let (window, after) = rest.split_at(n);
        let ys = || window.iter().map(|point| point.1);
        let right = after.first().map_or(window[n - 1].0, |next| next.0);
        let (top, foot) = (
            ys().fold(f64::INFINITY, f64::min),
            ys().fold(f64::NEG_INFINITY, f64::max),
        );
        upper.extend([(first.0, top), (right, top)]);
        lower.extend([(first.0, foot), (right, foot)]);
        rest = after;
    }
    (upper, lower)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spike_of_one_sample_survives() {
        let points: Vec<Point> = (0..100_000)
            .map(|i| (f64::from(i) / 1_000.0, if i == 54_321 { 9.0 } else { 1.0 }))
            .collect();
        let kept = by_column(points);
        assert!(kept.len() <= 400);
        assert!(kept.contains(&(54.321, 9.0)));
        assert!(kept.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    }

    #[test]
    fn a_short_series_is_kept_whole() {
        let points = vec![(0.0, 1.0), (1.5, 2.0), (3.0, 1.0)];
        assert_eq!(by_column(points.clone()), points);
        assert!(by_column(Vec::new()).is_empty());
    }

    #[test]
    fn a_range_spans_the_lowest_and_the_highest_of_its_window() {
        let points = [(0.0, 5.0), (1.0, 9.0), (2.0, 1.0), (3.0, 4.0), (7.0, 2.0)];
        let (upper, lower) = ranges(&points);
        assert_eq!(upper, [(0.0, 1.0), (3.0, 1.0), (3.0, 2.0), (7.0, 2.0)]);
        assert_eq!(lower, [(0.0, 9.0), (3.0, 9.0), (3.0, 4.0), (7.0, 4.0)]);
    }
}
