//! What must not be done, and what would have happened.
//!
//! Safety is a constraint: a hazard stops the exercise where it stands; no amount of time
//! or money saved makes up for it.

use serde::{Deserialize, Serialize};

/// A dangerous act.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum HazardKind {
    /// Climbed into the source.
    ConfinedSpace,
    /// Reached into or worked on wiring that was not locked out and proved dead.
    NotProvedDead,
    /// Touched live parts.
    LiveContact,
    /// Worked on live parts unqualified or without protection.
    LiveWorkUnprotected,
    /// Put a meter with a source of its own on a live circuit.
    MeterOnLiveCircuit,
    /// Touched a charged capacitor.
    ChargedCapacitor,
    /// Reset a tripped breaker again without a test between.
    RepeatedReset,
    /// Opened pipework, tank or filter under pressure.
    StoredPressure,
    /// Charged the tank above its rating.
    TankOverpressure,
    /// Set cut-out above what tank or relief valve stand.
    SettingAboveRating,
    /// Lifted alone what needs two.
    LiftedAlone,
    /// Let the pump run dry, or against a shut valve, until it was spoilt.
    PumpRuined,
}

/// A dangerous act, told.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hazard {
    /// Which.
    pub kind: HazardKind,
    /// What would have happened, in plain words.
    pub consequence: String,
    /// What should have been done instead.
    pub instead: String,
    /// Basis: a public rule, or "common practice".
    pub basis: String,
}
