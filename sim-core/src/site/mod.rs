//! What is installed at one place, as a trade-shaped file and as a validated description.
//!
//! A site file is untrusted input: any byte string gives a [`SiteSpec`] or a list
//! of [`Problem`]s with file, line and column; never a panic, never an endless
//! run.  docs/site-format.md is its reference; [`parse()`] is the only way in.

mod check;
mod draft;
mod fittings;
mod parse;
mod pipe_kinds;
mod ranges;
mod shipped;
mod spec;

pub use parse::parse;
pub(crate) use parse::{field_problems, parse_over, parse_tree, tree_over};
pub use shipped::{ShippedSite, shipped};
pub use spec::{HouseSpec, SiteSpec, SupplySpec, WallSpec};

pub use crate::file::{MAX_FILE_BYTES, Problem};

#[cfg(test)]
mod tests;
