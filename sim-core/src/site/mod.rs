//! What is installed at one place, as a trade-shaped file and as a validated description.
//!
//! A site file is untrusted input: any byte string gives a [`SiteSpec`] or a list
//! of [`Problem`]s with file, line and column; never a panic, never an endless
//! run.  docs/site-format.md is its reference; [`parse()`] is the only way in.

mod check;
mod draft;
mod fields;
mod fittings;
mod parse;
mod pipe_kinds;
mod problem;
mod quantity;
mod ranges;
mod ron_text;
mod spec;

pub use parse::{MAX_FILE_BYTES, parse};
pub use problem::Problem;
#[cfg(feature = "cli")]
pub(crate) use quantity::{pressure_from_text, volume_from_text};
pub use spec::{HouseSpec, SiteSpec, SupplySpec, WallSpec};

#[cfg(test)]
mod tests;
