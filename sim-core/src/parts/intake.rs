//! Where the pump takes its water: how deep the opening lies and what is in front of it.
//!
//! Submergence s is the depth of water over the opening.  At s ≥ `vortex_free`
//! only water enters; below that a vortex entrains air, and at s ≤ 0 the opening
//! sucks air alone.  Between, the air share of the volume drawn falls linearly
//! (training value, common practice, no source).

use serde::{Deserialize, Serialize};

use super::FlowRating;
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
