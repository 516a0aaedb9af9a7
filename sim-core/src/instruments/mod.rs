//! Instruments: what a meter shows on the pump's circuit and a tool in the hand on the
//! water, or why it shows nothing.
//!
//! A reading is a solve of the circuit with the meter in it ([`Bench`] is the circuit at
//! one tick, the hands and the meter are the caller's); range, resolution, accuracy and a
//! little seeded noise come last (`grade`).  So a ghost, a loaded joint, a parallel path
//! come out of the network, never out of a table.
//!
//! Invariants: a reading is finite; what cannot be shown is a [`NoReading`] that says why;
//! same circuit, tick and seed give the same digits.

mod bench;
mod capacitance;
mod clamp;
mod conductors;
mod gauges;
mod grade;
mod hands;
#[cfg(test)]
mod hands_tests;
mod hazard;
mod insulation;
mod noise;
mod ohmmeter;
mod power_meter;
mod reading;
#[cfg(test)]
mod tests;
mod timing;
mod voltmeter;

pub use bench::{Bench, BenchError};
pub use clamp::{INRUSH_WINDOW_S, inrush};
pub use gauges::{GaugePort, TyreCheck, TyreGauge};
pub use hands::{Hands, Surface};
pub use reading::{
    Accuracy, Breaker, Conditions, Figure, Hazard, Meter, MeterQuantity, NoReading, Reading,
};
