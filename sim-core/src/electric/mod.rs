//! The wiring of a site, as a circuit at mains frequency or at direct current.
//!
//! [`NetworkBuilder`] takes nodes (the places a probe can touch) and elements between
//! them; [`Network::solve`] gives every voltage, current and power.  [`conductor`] turns
//! gauge, metal, length and temperature into ohms; [`MeterInput`] is what a meter is to
//! the circuit that it reads.
//!
//! Nothing here knows water, time or a part of a site.

pub mod complex;
pub mod conductor;
pub mod insulation;
pub mod meter_input;
mod network;

pub use complex::Complex;
pub use conductor::{Conductor, ConductorProblem};
pub use meter_input::{MeterInput, Probed};
pub use network::{
    Element, ElementId, Emf, Frequency, Network, NetworkBuilder, NetworkProblem, NodeId, Port,
    Solution, Solver,
};
