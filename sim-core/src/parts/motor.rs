//! Motor as a quasi-steady torque source at a given terminal voltage.
//!
//! Torque by Kloss's formula T = 2·T_b/(s/s_b + s_b/s), scaled by (V/V_rated)²; the
//! breakdown slip s_b is the one that puts rated torque at rated speed.  Windings,
//! capacitors, the start switch and heat are the electrical model's business.
//!
//! Source: M. Kloss (1910), as given in any text on induction machines (formula
//! from memory); NEMA MG 1-12.44.1: torque at any speed is about proportional to V².

use serde::{Deserialize, Serialize};

use crate::math::Scalar;
use crate::units::{RadiansPerSecond, Volts, Watts};

/// A motor's nameplate and torque curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MotorSpec {
    /// Rated shaft power [W] -- constant.
    pub rated_power: Watts,
    /// Rated voltage [V] -- constant.
    pub rated_voltage: Volts,
    /// Speed of the rotating field [rad/s] -- constant.
    pub synchronous_speed: RadiansPerSecond,
    /// Speed at rated power [rad/s] -- constant, below synchronous.
    pub full_load_speed: RadiansPerSecond,
    /// Breakdown torque over rated torque -- constant, above 1.
    pub breakdown_torque_ratio: f64,
}

/// Torque against speed at a given terminal voltage, ready for the inner loop.
///
/// This is the seam where the electrical model plugs in: whatever stands in for it
/// must give torque as a smooth function of speed for one state of the wiring.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TorqueCurve {
    breakdown_torque_nm: f64,
    breakdown_slip: f64,
    synchronous_rad_per_s: f64,
}

impl TorqueCurve {
    /// The curve of a motor at `terminal_voltage_v`.
    #[must_use]
    pub fn new(spec: &MotorSpec, terminal_voltage_v: f64) -> Self {
        let synchronous = spec.synchronous_speed.si();
        let rated_slip = (synchronous - spec.full_load_speed.si()) / synchronous;
        let ratio = spec.breakdown_torque_ratio;
        let volts = terminal_voltage_v / spec.rated_voltage.si();
        let rated_torque_nm = spec.rated_power.si() / spec.full_load_speed.si();
        Self {
            breakdown_torque_nm: ratio * rated_torque_nm * volts * volts,
            // Root above the rated slip of  rated/breakdown = 2/(s/s_b + s_b/s).
            breakdown_slip: rated_slip * (ratio + (ratio * ratio - 1.0).sqrt()),
            synchronous_rad_per_s: synchronous,
        }
    }

    /// Torque on the rotor [N·m] at a speed [rad/s].
    #[inline]
    #[must_use]
    pub fn torque_nm<S: Scalar>(&self, speed_rad_per_s: S) -> S {
        let slip = (S::constant(self.synchronous_rad_per_s) - speed_rad_per_s)
            / self.synchronous_rad_per_s;
        let b = self.breakdown_slip;
        slip * (2.0 * b * self.breakdown_torque_nm) / (slip * slip + b * b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{RadiansPerSecond, Volts, Watts};

    fn motor() -> MotorSpec {
        MotorSpec {
            rated_power: Watts(550.0),
            rated_voltage: Volts(230.0),
            synchronous_speed: RadiansPerSecond(377.0),
            full_load_speed: RadiansPerSecond(361.0),
            breakdown_torque_ratio: 2.2,
        }
    }

    #[test]
    fn rated_power_comes_at_rated_speed() {
        let curve = TorqueCurve::new(&motor(), 230.0);
        assert!((curve.torque_nm(361.0) * 361.0 - 550.0).abs() < 1e-9);
    }

    #[test]
    fn torque_falls_with_the_square_of_voltage() {
        let full = TorqueCurve::new(&motor(), 230.0);
        let half = TorqueCurve::new(&motor(), 115.0);
        for speed in [0.0, 100.0, 300.0, 370.0] {
            assert!((half.torque_nm(speed) / full.torque_nm(speed) - 0.25).abs() < 1e-12);
        }
    }
}
