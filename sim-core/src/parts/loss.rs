//! Turbulent pressure losses given the way the trade gives them: so much drop at
//! so much flow.
//!
//! Δp = k·Q², with k = drop / flow² [Pa·s²/m⁶].  Laminar corrections are left
//! out: at household flows every valve, screen and cartridge is turbulent.

use serde::{Deserialize, Serialize};

use crate::math::Scalar;
use crate::units::{CubicMetersPerSecond, Pascals};

/// "This much pressure drop at this much flow."
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FlowRating {
    /// Flow at which the drop was taken [m³/s] -- constant, above zero.
    pub flow: CubicMetersPerSecond,
    /// Pressure drop at that flow [Pa] -- constant, above zero.
    pub drop: Pascals,
}

impl FlowRating {
    /// Quadratic coefficient k in Δp = k·Q² [Pa·s²/m⁶].
    #[must_use]
    pub fn quadratic_coefficient(self) -> f64 {
        self.drop.si() / (self.flow.si() * self.flow.si())
    }

    /// Discharge coefficient C in Q = C·√Δp [m³/s/√Pa].
    #[must_use]
    pub fn discharge_coefficient(self) -> f64 {
        self.flow.si() / self.drop.si().sqrt()
    }
}

/// Flow through a turbulent resistance with a laminar floor, signed like Δp.
///
/// Solves Δp = r·Q + k·Q·|Q| for Q.  The small linear part keeps the slope finite at
/// rest, where a pure square root would be vertical.
///
/// `drop_pa` [Pa], `quadratic` k [Pa·s²/m⁶] above zero, `linear` r [Pa·s/m³] above zero.
#[inline]
#[must_use]
pub fn flow_through<S: Scalar>(drop_pa: S, quadratic: S, linear: S) -> S {
    let size = if drop_pa.value() < 0.0 {
        -drop_pa
    } else {
        drop_pa
    };
    drop_pa * 2.0 / (linear + (linear * linear + quadratic * size * 4.0).sqrt())
}
