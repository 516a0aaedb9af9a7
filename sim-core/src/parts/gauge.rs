//! Dial pressure gauge at the wall.

use serde::{Deserialize, Serialize};

use crate::units::{Pascals, Seconds};

/// A dial gauge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct GaugeSpec {
    /// Top of the scale [Pa, gauge] -- constant.
    pub full_scale: Pascals,
    /// First-order lag of port, snubber and movement [s] -- constant.
    pub lag: Seconds,
    /// How far the movement hangs back until it slips or is tapped [Pa] -- constant.
    pub stiction: Pascals,
    /// What it reads at no pressure [Pa] -- constant.
    pub offset: Pascals,
}
