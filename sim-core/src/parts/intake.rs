//! Where the pump takes its water: how deep the opening lies and what is in front of it.
//!
//! Submergence s is the depth of water over the opening.  At s ≥ `vortex_free`
//! only water enters; below that a vortex entrains air, and at s ≤ 0 the opening
//! sucks air alone.  Between, the air share of the volume drawn falls linearly
//! (training value, common practice, no source).

use serde::{Deserialize, Serialize};

use super::FlowRating;
use crate::math::Scalar;
use crate::units::Meters;

/// The pump's intake.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct IntakeSpec {
    /// Where it hangs -- constant.
    pub mount: IntakeMount,
    /// Submergence from which no vortex forms [m] -- constant.
    pub vortex_free: Meters,
    /// Loss of screen, strainer and hose when clean -- constant.
    pub screen: FlowRating,
}

/// How the intake is held.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum IntakeMount {
    /// Hung from a float: it follows the surface until its hose lets it go no lower.
    Floating {
        /// Depth below the surface when afloat [m] -- constant.
        below_surface: Meters,
        /// Lowest height of the opening above the source's floor [m] -- constant.
        lowest_above_floor: Meters,
    },
    /// Fixed at a height above ground (negative below ground) [m] -- constant.
    Fixed {
        /// Height of the opening [m] -- constant.
        elevation: Meters,
    },
}

impl IntakeSpec {
    /// Height of the opening [m] for a water surface at `surface_m` over a source whose
    /// floor is at `floor_m`.
    #[inline]
    #[must_use]
    pub fn opening_elevation_m<S: Scalar>(&self, surface_m: S, floor_m: f64) -> S {
        match self.mount {
            IntakeMount::Floating {
                below_surface,
                lowest_above_floor,
            } => (surface_m - below_surface.si())
                .max_of(S::constant(floor_m + lowest_above_floor.si())),
            IntakeMount::Fixed { elevation } => S::constant(elevation.si()),
        }
    }

    /// Air share of the volume drawn at a submergence [m]: none from `vortex_free` on,
    /// all at nought and below.
    #[inline]
    #[must_use]
    pub fn air_share<S: Scalar>(&self, submergence_m: S) -> S {
        (-(submergence_m / self.vortex_free.si()) + 1.0).clamped(0.0, 1.0)
    }
}
