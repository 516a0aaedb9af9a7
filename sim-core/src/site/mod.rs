//! What is installed at one place, as a trade-shaped file and as a validated description.

mod spec;

pub use spec::{HouseSpec, SiteSpec, SupplySpec, WallSpec};
