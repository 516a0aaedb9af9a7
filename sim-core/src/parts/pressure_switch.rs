//! Pressure switch: closes at cut-in, opens at cut-out, senses through a small port.
//!
//! Sensed pressure follows the tee with a first-order lag: clean port about 50 ms,
//! minutes when plugged.  Contact bounce is left out.

use serde::{Deserialize, Serialize};

use crate::units::{Pascals, Seconds};

/// A pressure switch as set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PressureSwitchSpec {
    /// Falling pressure at which the contacts close [Pa, gauge] -- constant.
    pub cut_in: Pascals,
    /// Rising pressure at which the contacts open [Pa, gauge] -- constant.
    pub cut_out: Pascals,
    /// First-order lag of the sensing port [s] -- constant.
    pub port_lag: Seconds,
    /// Time the contacts take to move once the spring has tripped [s] -- constant.
    pub contact_delay: Seconds,
}
