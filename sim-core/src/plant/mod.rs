//! The plant engine: the truth about a site, in any mode.

mod event;
pub mod rosenbrock;

pub use event::{Event, EventKind};
