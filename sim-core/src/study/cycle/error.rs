//! Why a cycle run could not be done.

use crate::plant::{BuildError, CommandError, StepError};

/// Why tables could not be built or a run not be finished.  Fatal: there is no result.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CycleError {
    /// The site and its faults make no plant.
    #[error(transparent)]
    Build(#[from] BuildError),
    /// The plant engine, to which a stretch was handed over, could not go on.
    #[error(transparent)]
    Step(#[from] StepError),
    /// A draw asks for what the site cannot do.
    #[error(transparent)]
    Draw(#[from] CommandError),
}
