//! Complex numbers for phasors: RMS magnitude and phase of a steady alternating
//! quantity, x(t) = √2·Re(X·e^{jωt}).
//!
//! Our own type and not a library's, because the four operations are forty lines while a
//! general type brings magnitude and angle through the platform's own functions, which
//! differ in the last bits; here they come from [`crate::math`].
//!
//! Division follows R. L. Smith, "Algorithm 116: Complex division", Comm. ACM 5 (1962)
//! 435: scaled by the larger part, so that neither 1 pS nor 1 MS overflows when squared.

use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use serde::{Deserialize, Serialize};

use crate::math;

/// A complex number: of a voltage, current, impedance, admittance or power.
///
/// ```
/// use sim_core::electric::Complex;
///
/// let impedance_ohm = Complex::new(3.0, 4.0);
/// let current_a = Complex::phasor(10.0, 0.0) / impedance_ohm;
/// assert!((current_a.magnitude() - 2.0).abs() < 1e-15);
/// assert!((current_a.degrees() + 53.130_102).abs() < 1e-6);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Complex {
    /// Real part.
    pub re: f64,
    /// Imaginary part.
    pub im: f64,
}

impl Complex {
    /// 0.
    pub const ZERO: Self = Self::new(0.0, 0.0);
    /// 1.
    pub const ONE: Self = Self::new(1.0, 0.0);

    /// From its parts.
    #[inline]
    #[must_use]
    pub const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }

    /// A real number.
    #[inline]
    #[must_use]
    pub const fn real(re: f64) -> Self {
        Self::new(re, 0.0)
    }

    /// From magnitude and angle in degrees.
    #[must_use]
    pub fn phasor(magnitude: f64, degrees: f64) -> Self {
        let angle = degrees.to_radians();
        Self::new(magnitude * math::cos(angle), magnitude * math::sin(angle))
    }

    /// Magnitude.
    #[must_use]
    pub fn magnitude(self) -> f64 {
        math::hypot(self.re, self.im)
    }

    /// Angle in degrees, −180 to 180.
    #[must_use]
    pub fn degrees(self) -> f64 {
        math::atan2(self.im, self.re).to_degrees()
    }

    /// |re| + |im|: between the magnitude and √2 times it, without a root.
    #[inline]
    #[must_use]
    pub fn size(self) -> f64 {
        self.re.abs() + self.im.abs()
    }

    /// Mirrored at the real axis.
    #[inline]
    #[must_use]
    pub const fn conjugate(self) -> Self {
        Self::new(self.re, -self.im)
    }

    /// 1 over this.
    #[inline]
    #[must_use]
    pub fn inverse(self) -> Self {
        if self.re.abs() >= self.im.abs() {
            let ratio = self.im / self.re;
            let scale = 1.0 / (self.re + self.im * ratio);
            Self::new(scale, -ratio * scale)
        } else {
            let ratio = self.re / self.im;
            let scale = 1.0 / (self.re * ratio + self.im);
            Self::new(ratio * scale, -scale)
        }
    }

    /// Whether it is 0.
    #[inline]
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.re == 0.0 && self.im == 0.0
    }

    /// Whether both parts are numbers.
    #[inline]
    #[must_use]
    pub const fn is_finite(self) -> bool {
        self.re.is_finite() && self.im.is_finite()
    }
}

impl Add for Complex {
    type Output = Self;
    #[inline]
    fn add(self, o: Self) -> Self {
        Self::new(self.re + o.re, self.im + o.im)
    }
}

impl AddAssign for Complex {
    #[inline]
    fn add_assign(&mut self, o: Self) {
        *self = *self + o;
    }
}

impl Sub for Complex {
    type Output = Self;
    #[inline]
    fn sub(self, o: Self) -> Self {
        Self::new(self.re - o.re, self.im - o.im)
    }
}

impl SubAssign for Complex {
    #[inline]
    fn sub_assign(&mut self, o: Self) {
        *self = *self - o;
    }
}

impl Mul for Complex {
    type Output = Self;
    #[inline]
    fn mul(self, o: Self) -> Self {
        Self::new(
            self.re * o.re - self.im * o.im,
            self.re * o.im + self.im * o.re,
        )
    }
}

impl Mul<f64> for Complex {
    type Output = Self;
    #[inline]
    fn mul(self, o: f64) -> Self {
        Self::new(self.re * o, self.im * o)
    }
}

impl Div for Complex {
    type Output = Self;
    #[inline]
    #[expect(
        clippy::suspicious_arithmetic_impl,
        reason = "a quotient is a product with the inverse"
    )]
    fn div(self, o: Self) -> Self {
        self * o.inverse()
    }
}

impl Neg for Complex {
    type Output = Self;
    #[inline]
    fn neg(self) -> Self {
        Self::new(-self.re, -self.im)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn phasors_come_back_as_magnitude_and_angle() {
        for degrees in [-179.0, -90.0, -30.0, 0.0, 45.0, 120.0, 180.0] {
            let x = Complex::phasor(230.0, degrees);
            assert!((x.magnitude() - 230.0).abs() < 1e-12);
            assert!((x.degrees() - degrees).abs() < 1e-12);
        }
    }

    #[test]
    fn very_large_and_very_small_numbers_divide() {
        for scale in [1e-200, 1e-12, 1.0, 1e12, 1e200] {
            for (re, im) in [(3.0, 4.0), (4.0, -3.0), (0.0, 2.0), (-5.0, 0.0)] {
                let x = Complex::new(re * scale, im * scale);
                let one = x * x.inverse();
                assert!((one - Complex::ONE).size() < 1e-15, "{x:?}");
            }
        }
    }
}
