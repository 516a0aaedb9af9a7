//! A run of pipe: friction, inertance, elastic storage.

use serde::{Deserialize, Serialize};

use crate::units::{Meters, Pascals};

/// One length of pipe with its fittings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PipeSpec {
    /// Length along the pipe [m] -- constant.
    pub length: Meters,
    /// Height of its far end above its near end [m] -- constant, |rise| ≤ length.
    pub rise: Meters,
    /// Inside diameter [m] -- constant.
    pub inside_diameter: Meters,
    /// Wall thickness [m] -- constant.
    pub wall_thickness: Meters,
    /// Absolute roughness [m] -- constant.
    pub roughness: Meters,
    /// Young's modulus of the wall [Pa] -- constant.
    pub wall_modulus: Pascals,
    /// Sum of fitting loss coefficients K on the velocity head -- constant.
    pub fittings_k: f64,
}
