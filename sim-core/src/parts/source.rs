//! Cistern or drilled well: how much water there is and how high it stands.

use serde::{Deserialize, Serialize};

use crate::units::{CubicMetersPerSecond, Meters, SquareMetersPerSecond};

/// Where the water comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum SourceSpec {
    /// A closed vessel that rain, a truck or a spring fills.
    Cistern {
        /// Inside shape -- constant.
        shape: CisternShape,
        /// Height of its floor above ground level (negative when buried) [m] -- constant.
        floor: Meters,
        /// Depth of water at the start [m] -- constant.
        initial_depth: Meters,
        /// Steady inflow [m³/s] -- constant.
        refill: CubicMetersPerSecond,
    },
    /// A drilled well: a narrow casing fed by the ground in proportion to its drawdown.
    Well {
        /// Height of the resting water level above ground level (negative) [m] -- constant.
        static_level: Meters,
        /// Height of the bottom of the well above ground level (negative) [m] -- constant.
        bottom: Meters,
        /// Inside diameter of the casing [m] -- constant.
        casing_diameter: Meters,
        /// Yield per metre of drawdown [m²/s] -- constant.
        specific_capacity: SquareMetersPerSecond,
    },
}

/// Inside shape of a cistern.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum CisternShape {
    /// A standing cylinder.
    UprightCylinder {
        /// Inside diameter [m] -- constant.
        diameter: Meters,
        /// Inside height [m] -- constant.
        height: Meters,
    },
    /// A lying cylinder with flat ends.
    LyingCylinder {
        /// Inside diameter [m] -- constant.
        diameter: Meters,
        /// Inside length [m] -- constant.
        length: Meters,
    },
    /// A box.
    Box {
        /// Inside length [m] -- constant.
        length: Meters,
        /// Inside width [m] -- constant.
        width: Meters,
        /// Inside height [m] -- constant.
        height: Meters,
    },
}
