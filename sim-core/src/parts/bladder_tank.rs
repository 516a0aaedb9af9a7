//! Bladder tank: water on one side of a bladder, a fixed mass of air on the other.
//!
//! p·V = m·R·T and dT/dt = −(γ−1)·(T/V)·dV/dt + (T_amb − T)/τ: a slow cycle is
//! isothermal, a fast one tends to adiabatic, and the gauge sags a little after the
//! pump stops while the air cools.

use serde::{Deserialize, Serialize};

use super::FlowRating;
use crate::units::{CubicMeters, Pascals, Seconds};

/// A bladder tank as installed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BladderTankSpec {
    /// Volume of air when the bladder is flat [m³] -- constant.
    pub shell_volume: CubicMeters,
    /// Most water that the bladder takes [m³] -- constant, below `shell_volume`.
    pub acceptance_volume: CubicMeters,
    /// Air pressure with no water in the tank, at air temperature [Pa, gauge] -- constant.
    pub precharge: Pascals,
    /// Loss of the connection between tee and tank -- constant.
    pub connection: FlowRating,
    /// Time constant of heat exchange between the air and the shell [s] -- constant.
    pub gas_time_constant: Seconds,
    /// Working pressure on the plate [Pa, gauge] -- constant.
    pub rated_pressure: Pascals,
}
