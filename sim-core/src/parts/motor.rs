//! Motor as a quasi-steady torque source at a given terminal voltage.
//!
//! Torque by Kloss's formula T = 2·T_b/(s/s_b + s_b/s), scaled by (V/V_rated)²; the
//! breakdown slip s_b is the one that puts rated torque at rated speed.  Windings,
//! capacitors, the start switch and heat are the electrical model's business.
//!
//! Source: M. Kloss (1910), as given in any text on induction machines (formula
//! from memory); NEMA MG 1-12.44.1: torque at any speed is about proportional to V².

use serde::{Deserialize, Serialize};

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
