//! The fault catalogue: what people need to know about each kind of fault.
//!
//! `faults` holds what a fault does to the plant; this holds what a technician
//! makes of it: which part it is, what happens and why, what shows, what it is
//! mistaken for, what is done and how that is proved.  It is data, read from
//! `scenarios/faults.ron`; nothing here changes the plant.
//!
//! Leaves out: what a reading would be on a given site, which the plant itself
//! answers, and wording for a screen.
//!
//! ```
//! use sim_core::catalog::{Catalog, PartId};
//! use sim_core::faults::FaultKind;
//!
//! let catalog = Catalog::shipped();
//! let entry = catalog.entry(FaultKind::CheckValveWeeping).unwrap();
//! assert_eq!(entry.part, PartId::CheckValve);
//! assert!(entry.severities.mild < entry.severities.severe);
//! ```

mod entry;
mod part;
mod read;
mod remedy;

pub use crate::file::Problem;
pub use entry::{Catalog, Entry, LookAlike, Severities, SiteKind, Weights};
pub use part::{PartGroup, PartId};
pub use remedy::Remedy;

#[cfg(test)]
mod tests;
