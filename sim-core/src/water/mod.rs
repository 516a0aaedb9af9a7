//! The physics of water in pipes, as pure functions: properties, friction, local
//! losses, orifices, pressure surge and pumping.
//!
//! Everything here takes and returns `f64` in SI units, with the unit in the name.
//! Nothing here knows a part, a network or time; [`crate::parts::PipeSpec`] is
//! the one description it reads.

pub mod friction;
pub mod hammer;
pub mod losses;
pub mod orifice;
pub mod properties;
pub mod pumping;

pub use friction::Fluid;
pub use losses::Fitting;
pub use properties::WaterProperties;
