//! The one door to transcendental functions.
//!
//! The standard library's versions differ between platforms in the last bits,
//! and a mark must not depend on the machine it was earned on.  `libm` gives the
//! same bits everywhere.  `+ - * / sqrt` are exactly rounded by IEEE 754 and are
//! used directly.

/// Natural exponential.
#[inline]
#[must_use]
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm.
#[inline]
#[must_use]
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// Common logarithm.
#[inline]
#[must_use]
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// `base` raised to `exponent`.
#[inline]
#[must_use]
pub fn pow(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

/// Cube root.
#[inline]
#[must_use]
pub fn cbrt(x: f64) -> f64 {
    libm::cbrt(x)
}

/// Sine of an angle in radians.
#[inline]
#[must_use]
pub fn sin(x: f64) -> f64 {
    libm::sin(x)
}

/// Cosine of an angle in radians.
#[inline]
#[must_use]
pub fn cos(x: f64) -> f64 {
    libm::cos(x)
}

/// Arc cosine in radians.
#[inline]
#[must_use]
pub fn acos(x: f64) -> f64 {
    libm::acos(x)
}

/// Angle of the point (x, y) in radians, −π to π.
#[inline]
#[must_use]
pub fn atan2(y: f64, x: f64) -> f64 {
    libm::atan2(y, x)
}

/// √(x² + y²) without overflow on the way.
#[inline]
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    libm::hypot(x, y)
}

mod fnv;
mod scalar;
mod table;

pub use fnv::Fnv;
pub use scalar::{Dual, Scalar};
pub use table::{MonotoneTable, PiecewiseLinear};
