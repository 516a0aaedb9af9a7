//! The plant engine: the truth about a site, in any mode.

mod event;

pub use event::{Event, EventKind};
