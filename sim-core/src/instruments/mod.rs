//! Instruments: what a meter shows on the pump's circuit, or why it shows nothing; and
//! what is read of the water by eye (`hand`).
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
mod grade;
mod hand;
mod hazard;
mod insulation;
mod noise;
mod ohmmeter;
mod power_meter;
mod reading;
#[cfg(test)]
mod tests;
mod voltmeter;

pub use bench::{Bench, BenchError};
pub use clamp::{INRUSH_WINDOW_S, inrush};
pub use hand::{
    GaugePort, HandReading, bucket, dial_gauge, level_tape, test_gauge, thermometer, tyre_gauge,
    vacuum_gauge,
};
pub use reading::{
    Accuracy, Breaker, Conditions, Figure, Hazard, Meter, MeterQuantity, NoReading, Reading,
};
