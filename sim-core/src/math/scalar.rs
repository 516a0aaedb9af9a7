//! Numbers with derivatives: the plant's equations are written once and give both
//! their values and their exact Jacobian.
//!
//! Forward-mode automatic differentiation with `L` directions.  A wrong Jacobian
//! gives right answers and twenty times the work, so none is written by hand.
//! Because every flux is computed once and added to one balance and subtracted
//! from another, the derivatives cancel exactly too, and linear invariants (water,
//! air) survive an implicit step to the last bit but rounding.

use core::ops::{Add, Div, Mul, Neg, Sub};

/// A real number that the plant's equations can be written in.
pub trait Scalar:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
{
    /// A number that depends on nothing.
    fn constant(value: f64) -> Self;
    /// The value alone.
    fn value(self) -> f64;
    /// Square root; the argument must be positive for the derivative to exist.
    #[must_use]
    fn sqrt(self) -> Self;

    /// The smaller of two by value.
    #[inline]
    #[must_use]
    fn min_of(self, other: Self) -> Self {
        if other.value() < self.value() {
            other
        } else {
            self
        }
    }

    /// The larger of two by value.
    #[inline]
    #[must_use]
    fn max_of(self, other: Self) -> Self {
        if other.value() > self.value() {
            other
        } else {
            self
        }
    }

    /// Held between two bounds; constant outside them.
    #[inline]
    #[must_use]
    fn clamped(self, low: f64, high: f64) -> Self {
        if self.value() < low {
            Self::constant(low)
        } else if self.value() > high {
            Self::constant(high)
        } else {
            self
        }
    }
}

impl Scalar for f64 {
    #[inline]
    fn constant(value: f64) -> Self {
        value
    }
    #[inline]
    fn value(self) -> f64 {
        self
    }
    #[inline]
    fn sqrt(self) -> Self {
        f64::sqrt(self)
    }
}

/// A value and its derivatives in `L` directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dual<const L: usize> {
    /// Value.
    pub v: f64,
    /// Derivative along each direction.
    pub d: [f64; L],
}

impl<const L: usize> Dual<L> {
    /// The variable of direction `lane`.
    #[inline]
    #[must_use]
    pub fn variable(value: f64, lane: usize) -> Self {
        let mut d = [0.0; L];
        d[lane] = 1.0;
        Self { v: value, d }
    }

    #[inline]
    fn map(self, v: f64, slope: f64) -> Self {
        let mut d = self.d;
        for x in &mut d {
            *x *= slope;
        }
        Self { v, d }
    }

    #[inline]
    fn zip(self, other: Self, v: f64, slope_a: f64, slope_b: f64) -> Self {
        let mut d = [0.0; L];
        for (out, (a, b)) in d.iter_mut().zip(self.d.iter().zip(other.d.iter())) {
            *out = a * slope_a + b * slope_b;
        }
        Self { v, d }
    }
}

impl<const L: usize> Scalar for Dual<L> {
    #[inline]
    fn constant(value: f64) -> Self {
        Self {
            v: value,
            d: [0.0; L],
        }
    }
    #[inline]
    fn value(self) -> f64 {
        self.v
    }
    #[inline]
    fn sqrt(self) -> Self {
        let root = self.v.sqrt();
        self.map(root, 0.5 / root)
    }
}

impl<const L: usize> Add for Dual<L> {
    type Output = Self;
    #[inline]
    fn add(self, o: Self) -> Self {
        let mut d = self.d;
        for (a, b) in d.iter_mut().zip(o.d.iter()) {
            *a += b;
        }
        Self { v: self.v + o.v, d }
    }
}

impl<const L: usize> Sub for Dual<L> {
    type Output = Self;
    #[inline]
    fn sub(self, o: Self) -> Self {
        let mut d = self.d;
        for (a, b) in d.iter_mut().zip(o.d.iter()) {
            *a -= b;
        }
        Self { v: self.v - o.v, d }
    }
}

impl<const L: usize> Mul for Dual<L> {
    type Output = Self;
    #[inline]
    fn mul(self, o: Self) -> Self {
        self.zip(o, self.v * o.v, o.v, self.v)
    }
}

impl<const L: usize> Div for Dual<L> {
    type Output = Self;
    #[inline]
    fn div(self, o: Self) -> Self {
        let inverse = 1.0 / o.v;
        // The value is divided, not multiplied by the inverse, so that it has the
        // same bits as the plain evaluation of the same equation.
        let v = self.v / o.v;
        self.zip(o, v, inverse, -v * inverse)
    }
}

impl<const L: usize> Neg for Dual<L> {
    type Output = Self;
    #[inline]
    fn neg(self) -> Self {
        self.map(-self.v, -1.0)
    }
}

impl<const L: usize> Add<f64> for Dual<L> {
    type Output = Self;
    #[inline]
    fn add(self, o: f64) -> Self {
        Self {
            v: self.v + o,
            d: self.d,
        }
    }
}

impl<const L: usize> Sub<f64> for Dual<L> {
    type Output = Self;
    #[inline]
    fn sub(self, o: f64) -> Self {
        Self {
            v: self.v - o,
            d: self.d,
        }
    }
}

impl<const L: usize> Mul<f64> for Dual<L> {
    type Output = Self;
    #[inline]
    fn mul(self, o: f64) -> Self {
        self.map(self.v * o, o)
    }
}

impl<const L: usize> Div<f64> for Dual<L> {
    type Output = Self;
    #[inline]
    fn div(self, o: f64) -> Self {
        self.map(self.v / o, 1.0 / o)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn expression<S: Scalar>(x: S, y: S) -> S {
        ((x * y + 3.0) / (x * x + y) - y * 0.5).max_of(S::constant(-9.0)) + (x + 1.0).sqrt() * -y
    }

    #[test]
    fn derivatives_match_central_differences() {
        let (x, y) = (1.3, 2.7);
        let d = expression(Dual::<2>::variable(x, 0), Dual::<2>::variable(y, 1));
        let h = 1e-6;
        let dx = (expression(x + h, y) - expression(x - h, y)) / (2.0 * h);
        let dy = (expression(x, y + h) - expression(x, y - h)) / (2.0 * h);
        assert!((d.d[0] - dx).abs() < 1e-8, "{} {dx}", d.d[0]);
        assert!((d.d[1] - dy).abs() < 1e-8, "{} {dy}", d.d[1]);
    }

    #[test]
    fn values_have_the_same_bits_as_plain_numbers() {
        let d = expression(Dual::<2>::variable(1.3, 0), Dual::<2>::variable(2.7, 1));
        assert_eq!(d.v.to_bits(), expression(1.3, 2.7).to_bits());
    }
}
