//! The plant engine: the truth about a site, in any mode.
//!
//! `model` holds what does not change, `state` and `modes` what does; `flows` are the
//! equations, `system` puts them into balances, `rosenbrock` takes a step, `guards` say
//! when a mode ends, `engine` runs it all in time.  The plant does no input or output,
//! reads no clock, starts no thread and holds no global.

mod actions;
pub(crate) mod circuit;
mod circuit_now;
mod conditions;
mod controls;
mod engine;
mod equations;
mod event;
mod flows;
mod guards;
pub(crate) mod model;
mod modes;
mod nozzle_table;
mod observe;
mod query;
mod reduction;
mod refit;
mod repeats;
pub mod rosenbrock;
mod settle;
mod source_map;
mod start;
pub(crate) mod state;
pub(crate) mod system;

pub use circuit_now::ReachableCapacitors;
pub(crate) use conditions::{Conditions, HotJoint};
pub use controls::{Command, CommandError, Controls, Renewed};
pub use engine::{DEFAULT_TOLERANCE, Plant, PlantState, StepError, Tick};
pub use equations::{Equations, STATE_LENGTH};
pub use event::{Event, EventKind};
pub use modes::{
    Air, Bladder, Circuit, Contacts, Damage, Device, Front, Guard, Modes, Shaft, SmallDraw, Trunk,
};
pub use observe::Balance;
pub use start::{BuildError, Start};

#[cfg(test)]
mod tests;
