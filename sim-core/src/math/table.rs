//! Monotone cubic table: published points in, a smooth curve without overshoot out.
//!
//! Piecewise cubic Hermite with slopes limited as in F. N. Fritsch and R. E. Carlson,
//! "Monotone Piecewise Cubic Interpolation", SIAM J. Numer. Anal. 17 (1980) 238–246
//! (three-point slopes, weighted harmonic mean as in Fritsch and Butland 1984): where
//! the points rise the curve rises, where they fall it falls.  Beyond either end the
//! curve goes on straight with the end slope.

use serde::{Deserialize, Serialize};

use super::Scalar;

/// A smooth curve through points, monotone wherever the points are.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MonotoneTable {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
    /// Cells per unit of x when the grid is even: look-up without a search.
    even: Option<f64>,
}

impl MonotoneTable {
    /// Lays the curve through the points.
    ///
    /// # Panics
    /// With fewer than two points, or when x does not rise from point to point.
    #[must_use]
    pub fn through(x: Vec<f64>, y: Vec<f64>) -> Self {
        let slope = limited_slopes(&x, &y);
        Self::with_slopes(x, y, slope)
    }

    /// Lays the curve through points with known slopes (exact derivatives).
    ///
    /// # Panics
    /// With fewer than two points, or when x does not rise from point to point.
    #[must_use]
    pub fn with_slopes(x: Vec<f64>, y: Vec<f64>, slope: Vec<f64>) -> Self {
        assert!(
            x.len() >= 2 && x.len() == y.len() && x.len() == slope.len(),
            "two points or more"
        );
        assert!(
            x.windows(2).all(|w| w[0] < w[1]),
            "x must rise from point to point"
        );
        let n_cells = (x.len() - 1) as f64;
        let step = (x[x.len() - 1] - x[0]) / n_cells;
        let is_even = x
            .iter()
            .enumerate()
            .all(|(i, &xi)| (xi - (x[0] + step * i as f64)).abs() <= 1e-9 * step);
        Self {
            even: is_even.then(|| 1.0 / step),
            x,
            y,
            slope,
        }
    }

    /// Smallest x of the points.
    #[must_use]
    pub fn first_x(&self) -> f64 {
        self.x[0]
    }

    /// Largest x of the points.
    #[must_use]
    pub fn last_x(&self) -> f64 {
        self.x[self.x.len() - 1]
    }

    /// Value and slope at the last point.
    #[must_use]
    pub fn end(&self) -> (f64, f64) {
        let n = self.x.len() - 1;
        (self.y[n], self.slope[n])
    }

    /// Value and slope at the first point.
    #[must_use]
    pub fn start(&self) -> (f64, f64) {
        (self.y[0], self.slope[0])
    }

    /// Value of the curve.
    #[inline]
    #[must_use]
    pub fn at<S: Scalar>(&self, x: S) -> S {
        let n = self.x.len();
        let xv = x.value();
        if xv <= self.x[0] {
            return (x - self.x[0]) * self.slope[0] + self.y[0];
        }
        if xv >= self.x[n - 1] {
            return (x - self.x[n - 1]) * self.slope[n - 1] + self.y[n - 1];
        }
        let i = match self.even {
            Some(per_unit) => (((xv - self.x[0]) * per_unit) as usize).min(n - 2),
            // Saturating: a NaN finds no point below it, and goes through as NaN.
            None => self.x.partition_point(|&k| k <= xv).saturating_sub(1),
        };
        let h = self.x[i + 1] - self.x[i];
        let secant = (self.y[i + 1] - self.y[i]) / h;
        // Newton form of the Hermite cubic on the cell.
        let c2 = (3.0 * secant - 2.0 * self.slope[i] - self.slope[i + 1]) / h;
        let c3 = (self.slope[i] + self.slope[i + 1] - 2.0 * secant) / (h * h);
        let t = x - self.x[i];
        ((t * c3 + c2) * t + self.slope[i]) * t + self.y[i]
    }
}

/// Straight lines from point to point, going on straight beyond either end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PiecewiseLinear {
    x: Vec<f64>,
    y: Vec<f64>,
}

impl PiecewiseLinear {
    /// Lines through the points.
    ///
    /// # Panics
    /// With fewer than two points, or when x does not rise from point to point.
    #[must_use]
    pub fn through(x: Vec<f64>, y: Vec<f64>) -> Self {
        assert!(x.len() >= 2 && x.len() == y.len(), "two points or more");
        assert!(
            x.windows(2).all(|w| w[0] < w[1]),
            "x must rise from point to point"
        );
        Self { x, y }
    }

    /// Value on the lines.
    #[inline]
    #[must_use]
    pub fn at<S: Scalar>(&self, x: S) -> S {
        let i = self
            .x
            .partition_point(|&k| k <= x.value())
            .clamp(1, self.x.len() - 1)
            - 1;
        let slope = (self.y[i + 1] - self.y[i]) / (self.x[i + 1] - self.x[i]);
        (x - self.x[i]) * slope + self.y[i]
    }
}

fn limited_slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let n = x.len();
    let h: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
    let secant: Vec<f64> = (0..n - 1).map(|i| (y[i + 1] - y[i]) / h[i]).collect();
    if n == 2 {
        return vec![secant[0]; 2];
    }
    let mut slope = vec![0.0; n];
    for i in 1..n - 1 {
        if secant[i - 1] * secant[i] > 0.0 {
            let w1 = 2.0 * h[i] + h[i - 1];
            let w2 = h[i] + 2.0 * h[i - 1];
            slope[i] = (w1 + w2) / (w1 / secant[i - 1] + w2 / secant[i]);
        }
    }
    slope[0] = end_slope(h[0], h[1], secant[0], secant[1]);
    slope[n - 1] = end_slope(h[n - 2], h[n - 3], secant[n - 2], secant[n - 3]);
    slope
}

/// Three-point end slope, limited so that the end cell stays monotone.
fn end_slope(h0: f64, h1: f64, s0: f64, s1: f64) -> f64 {
    let slope = ((2.0 * h0 + h1) * s0 - h0 * s1) / (h0 + h1);
    if slope * s0 <= 0.0 {
        0.0
    } else if s0 * s1 <= 0.0 && slope.abs() > 3.0 * s0.abs() {
        3.0 * s0
    } else {
        slope
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn passes_through_its_points() {
        let t = MonotoneTable::through(vec![0.0, 1.0, 3.0, 4.0], vec![9.0, 8.0, 3.0, 0.0]);
        for (x, y) in [(0.0, 9.0), (1.0, 8.0), (3.0, 3.0), (4.0, 0.0)] {
            assert!((t.at(x) - y).abs() < 1e-14, "{x}");
        }
    }

    #[test]
    fn reproduces_a_straight_line() {
        let t = MonotoneTable::through(vec![0.0, 1.0, 3.0], vec![1.0, 3.0, 7.0]);
        assert!((t.at(2.2) - 5.4).abs() < 1e-14);
        assert!((t.at(-1.0) + 1.0).abs() < 1e-14);
        assert!((t.at(5.0) - 11.0).abs() < 1e-14);
    }

    #[test]
    fn what_is_not_a_number_stays_that_way() {
        let uneven = MonotoneTable::through(vec![0.0, 1.0, 3.0], vec![1.0, 3.0, 7.0]);
        let even = MonotoneTable::through(vec![0.0, 1.0, 2.0], vec![1.0, 3.0, 7.0]);
        assert!(uneven.at(f64::NAN).is_nan());
        assert!(even.at(f64::NAN).is_nan());
    }

    proptest! {
        #[test]
        fn falls_wherever_its_points_fall(
            steps in prop::collection::vec((0.01f64..2.0, 0.001f64..5.0), 3..12)
        ) {
            let (mut x, mut y) = (vec![0.0], vec![100.0]);
            for (dx, dy) in steps {
                x.push(x[x.len() - 1] + dx);
                y.push(y[y.len() - 1] - dy);
            }
            let end = x[x.len() - 1];
            let t = MonotoneTable::through(x, y);
            let mut previous = t.at(0.0);
            for i in 1..=400 {
                let now = t.at(end * f64::from(i) / 400.0);
                prop_assert!(now <= previous + 1e-12);
                previous = now;
            }
        }
    }
}
