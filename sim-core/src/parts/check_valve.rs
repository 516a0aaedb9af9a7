//! Check valve or foot valve.
//!
//! Open: Δp = k·Q².  Shut: nothing flows backwards, or what the seat lets weep.
//! It opens when the pressure below exceeds the pressure above by the cracking
//! pressure and shuts when the flow through it turns round.  The poppet's own
//! inertia is left out, so that a slam is the flow reversal itself.

use serde::{Deserialize, Serialize};

use super::FlowRating;
use crate::units::Pascals;

/// A check valve as installed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CheckValveSpec {
    /// Pressure difference that lifts the poppet [Pa] -- constant.
    pub cracking_pressure: Pascals,
    /// Loss when open -- constant.
    pub forward: FlowRating,
}
