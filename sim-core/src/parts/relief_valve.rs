//! Pressure relief valve: opens in proportion from its set pressure to 10 % above.

use serde::{Deserialize, Serialize};

use super::FlowRating;
use crate::units::Pascals;

/// A pressure relief valve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ReliefValveSpec {
    /// Pressure at which it begins to open [Pa, gauge] -- constant.
    pub set_pressure: Pascals,
    /// Flow when fully open (10 % above set pressure) -- constant.
    pub rating: FlowRating,
}
