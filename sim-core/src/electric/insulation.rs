//! Insulation resistance: what is good enough, and what heat does to it.
//!
//! - Least acceptable, random-wound machines below 1 kV, after one minute, corrected to
//!   40 °C: 5 MΩ (IEEE 43, read in quotation only).
//! - It halves with every 10 K of rise: R(T) = R(T₀)·2^((T₀ − T)/10 K), the older rule for
//!   thermoplastic insulation (IEEE 43-2000, from memory); the 2013 edition has another
//!   for thermosetting insulation.
//!
//! Leaves out: absorption (the slow rise of the reading in the first minute), damp.

use crate::math;

/// Least insulation resistance of a random-wound machine below 1 kV at 40 °C [Ω].
pub const LEAST_AT_40_C_OHM: f64 = 5.0e6;
/// Rise that halves insulation resistance [K].
pub const HALVING_RISE_K: f64 = 10.0;

/// Insulation resistance at `to_k` over that at `from_k`.
///
/// ```
/// use sim_core::electric::insulation::temperature_factor;
///
/// assert!((temperature_factor(293.15, 313.15) - 0.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn temperature_factor(from_k: f64, to_k: f64) -> f64 {
    math::pow(2.0, (from_k - to_k) / HALVING_RISE_K)
}
