//! Water, air and motor of a small off-mains water system.
pub mod air;
pub mod faults;
pub mod math;
pub mod parts;
pub mod plant;
pub mod site;
pub mod trace;
pub mod units;
pub mod water;
