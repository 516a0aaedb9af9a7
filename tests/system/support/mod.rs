//! What several modules of whole-system tests stand on.

pub(crate) mod shuffle;
pub(crate) mod sites;
pub(crate) mod story;
