//! Water, air and motor of a small off-mains water system.
pub mod air;
pub mod catalog;
#[cfg(feature = "cli")]
pub mod cli;
pub mod cues;
pub mod demand;
pub mod electric;
pub mod faults;
mod file;
pub mod instruments;
pub mod marking;
pub mod math;
pub mod motor;
pub mod parts;
pub mod plant;
mod rng;
pub mod safety;
pub mod scenario;
pub mod session;
pub mod site;
pub mod study;
mod suggest;
pub mod trace;
pub mod troubleshoot;
pub mod units;
pub mod vetting;
pub mod water;
pub mod wiring;
