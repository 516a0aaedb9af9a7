//! The pump's circuit as a network: every place that a probe can touch, and what lies
//! between.
//!
//! [`PumpCircuit::build`] takes what is installed, what is wrong and how the switches
//! stand; meters are put into the result, the plant reduces it to a source at the motor.

mod circuit;
mod points;

pub use circuit::{CircuitState, MotorAtTerminals, PumpCircuit, WiringDefects};
pub use points::{POINTS, Point};
