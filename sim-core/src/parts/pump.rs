//! Centrifugal pump: head and shaft power against flow, affinity laws, suction limit, air.

use serde::{Deserialize, Serialize};

use crate::units::{
    CubicMeters, CubicMetersPerSecond, KilogramSquareMeters, Meters, RadiansPerSecond, Seconds,
    Watts,
};

/// A pump's published curve and what the plant needs beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PumpSpec {
    /// In the water or above it -- constant.
    pub placement: PumpPlacement,
    /// Height of the impeller above ground level (negative when sunk) [m] -- constant.
    pub elevation: Meters,
    /// Speed at which the points were taken [rad/s] -- constant.
    pub rated_speed: RadiansPerSecond,
    /// Head, power and suction need against flow at rated speed -- constant.
    pub curve: PumpCurve,
    /// Volume inside the pump where air can gather [m³] -- constant.
    pub bowl_volume: CubicMeters,
    /// Inertia of rotor, shaft and impellers [kg·m²] -- constant.
    pub rotor_inertia: KilogramSquareMeters,
    /// Time constant at which trapped air weeps out of the resting pump, if it has a
    /// vent [s] -- constant.
    pub vent_time: Option<Seconds>,
}

/// A pump curve at rated speed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PumpCurve {
    /// Points in order of rising flow, the first at no flow; three or more, head
    /// falling from point to point.  A monotone cubic is laid through them.
    Points(Vec<PumpPoint>),
    /// Quadratics c₀ + c₁·Q + c₂·Q² with Q in m³/s, good from no flow to `max_flow`.
    Quadratic {
        /// Head [m].
        head: [f64; 3],
        /// Shaft power [W].
        power: [f64; 3],
        /// Net positive suction head required [m].
        npsh_required: [f64; 3],
        /// Largest flow at which the quadratics hold [m³/s].
        max_flow: CubicMetersPerSecond,
    },
}

/// One point of a pump curve at rated speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PumpPoint {
    /// Flow [m³/s].
    pub flow: CubicMetersPerSecond,
    /// Head [m of water].
    pub head: Meters,
    /// Shaft power [W].
    pub power: Watts,
    /// Net positive suction head required, above vapour pressure [m].
    pub npsh_required: Meters,
}

/// Where the pump sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum PumpPlacement {
    /// In the source, below the water.
    Submersible,
    /// Above the source, lifting by suction through a foot valve.
    SuctionLift,
}
