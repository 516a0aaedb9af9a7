//! Complex numbers for phasors, over any [`Scalar`]: the circuit is written once and
//! gives its values and, over dual numbers, its exact slopes.
//!
//! The wiring's [`crate::electric::Complex`] is a plain number and converts either way.
//! Only `+ − × ÷ √`, so the same bits on every machine.  Leaves out everything that
//! phasors of one frequency do not need (no exponential, no argument).

use core::ops::{Add, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

use crate::math::Scalar;

/// A complex number, or an RMS phasor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Complex<S = f64> {
    /// Real part.
    pub re: S,
    /// Imaginary part.
    pub im: S,
}

impl Complex<f64> {
    /// Nothing.
    pub const ZERO: Self = Self { re: 0.0, im: 0.0 };
    /// One.
    pub const ONE: Self = Self { re: 1.0, im: 0.0 };
}

impl<S: Scalar> Complex<S> {
    /// `re + j·im`.
    #[inline]
    #[must_use]
    pub fn new(re: S, im: S) -> Self {
        Self { re, im }
    }

    /// A number that depends on nothing.
    #[inline]
    #[must_use]
    pub fn constant(value: Complex<f64>) -> Self {
        Self::new(S::constant(value.re), S::constant(value.im))
    }

    /// j times this: a quarter turn ahead.
    #[inline]
    #[must_use]
    pub fn times_j(self) -> Self {
        Self::new(-self.im, self.re)
    }

    /// The mirror image in the real axis.
    #[inline]
    #[must_use]
    pub fn conj(self) -> Self {
        Self::new(self.re, -self.im)
    }

    /// Square of the magnitude.
    #[inline]
    #[must_use]
    pub fn norm_squared(self) -> S {
        self.re * self.re + self.im * self.im
    }

    /// Magnitude.
    #[inline]
    #[must_use]
    pub fn magnitude(self) -> S {
        self.norm_squared().sqrt()
    }

    /// Times a real constant.
    #[inline]
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self::new(self.re * factor, self.im * factor)
    }

    /// One over this; the number must not be zero.
    #[inline]
    #[must_use]
    pub fn inverse(self) -> Self {
        let n = self.norm_squared();
        Self::new(self.re / n, -self.im / n)
    }

    /// Parts without their derivatives.
    #[inline]
    #[must_use]
    pub fn value(self) -> Complex<f64> {
        Complex {
            re: self.re.value(),
            im: self.im.value(),
        }
    }
}

impl<S: Scalar> Add for Complex<S> {
    type Output = Self;
    #[inline]
    fn add(self, o: Self) -> Self {
        Self::new(self.re + o.re, self.im + o.im)
    }
}

impl<S: Scalar> Sub for Complex<S> {
    type Output = Self;
    #[inline]
    fn sub(self, o: Self) -> Self {
        Self::new(self.re - o.re, self.im - o.im)
    }
}

impl<S: Scalar> Mul for Complex<S> {
    type Output = Self;
    #[inline]
    fn mul(self, o: Self) -> Self {
        Self::new(
            self.re * o.re - self.im * o.im,
            self.re * o.im + self.im * o.re,
        )
    }
}

impl<S: Scalar> Neg for Complex<S> {
    type Output = Self;
    #[inline]
    fn neg(self) -> Self {
        Self::new(-self.re, -self.im)
    }
}

impl From<crate::electric::Complex> for Complex<f64> {
    fn from(z: crate::electric::Complex) -> Self {
        Self { re: z.re, im: z.im }
    }
}

impl From<Complex<f64>> for crate::electric::Complex {
    fn from(z: Complex<f64>) -> Self {
        Self::new(z.re, z.im)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_times_its_inverse_is_one() {
        let z: Complex = Complex::new(3.0, -4.0);
        let one = z * z.inverse();
        assert!((one.re - 1.0).abs() < 1e-15 && one.im.abs() < 1e-15);
        assert_eq!(z.magnitude(), 5.0);
    }

    #[test]
    fn j_is_a_quarter_turn() {
        let z: Complex = Complex::new(1.0, 2.0);
        assert_eq!(z.times_j(), Complex::new(-2.0, 1.0));
        assert_eq!((z * z.conj()).re, z.norm_squared());
    }
}
