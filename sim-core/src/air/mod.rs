//! The physics of air around and inside a water system, as pure functions: the
//! atmosphere by altitude, a closed charge of gas, and air leaving through a hole.
//!
//! Gauge pressure is above the local atmosphere; every law here is in absolute pressure.

pub mod atmosphere;
pub mod gas;
pub mod nozzle;

pub use gas::IdealGas;
