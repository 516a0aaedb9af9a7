//! The cycle engine: years of pump starts in milliseconds.
//!
//! Between two events a household's system has one slow thing, the water and air in its
//! tank, and everything quick has settled to it.  `manifold` settles the plant's own
//! equations at a grid of tank pressures, `sheet` and `config` keep the result for each
//! state of the outlets that occurs, `surfaces` for the heights of the source's water,
//! `gas` and `track` go along it in long steps, `layer` and `calibrate` hold what a start
//! and a stop do beside it.  `engine` jumps from event to event: `courses` lie between
//! them, `switching` and `outlets` are the events.
//!
//! Where its assumptions fail (`checks`) it says so and `stretch` lets the plant engine
//! run that stretch of time, or all of it; nothing is guessed.

#![allow(
    clippy::needless_range_loop,
    reason = "lanes of several tables are gone through side by side"
)]

mod book;
mod calibrate;
mod checks;
mod config;
mod courses;
mod demand;
mod engine;
mod error;
mod gas;
mod layer;
mod manifold;
mod outlets;
mod result;
mod sheet;
mod stretch;
mod surfaces;
mod switching;
mod tables;
mod track;

pub use engine::run;
pub use error::CycleError;
pub use result::{CycleRun, HandOver, PressureShare, PumpRun, RUN_CLASSES_S, Reason};
pub use tables::CycleTables;
