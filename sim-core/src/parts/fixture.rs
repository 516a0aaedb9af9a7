//! A tap, shower, washer or any other outlet of the house.
//!
//! q = C·√Δp, held at `limit` where the outlet has a flow regulator (a plain
//! square-root outlet would halve its flow from 80 to 20 psi; regulated ones must
//! not: California Energy Commission 2015 asks for 60 %).

use serde::{Deserialize, Serialize};

use super::FlowRating;
use crate::units::{CubicMetersPerSecond, Meters};

/// An outlet of the house.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FixtureSpec {
    /// Name by which demand and commands refer to it, kebab-case -- constant.
    pub name: String,
    /// Height of the outlet above ground level [m] -- constant.
    pub elevation: Meters,
    /// Flow when fully open at a pressure drop -- constant.
    pub rating: FlowRating,
    /// Most that a regulated outlet lets through [m³/s] -- constant.
    pub limit: Option<CubicMetersPerSecond>,
}
