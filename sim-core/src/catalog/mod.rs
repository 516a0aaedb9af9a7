//! The catalogue of faults: what a person has to know about each.

mod part;

pub use part::PartId;
