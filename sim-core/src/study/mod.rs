//! Studies: how settings and sizes change pump starts, pressure and energy.
//!
//! A study file names a site, a household, what is varied and what must be respected;
//! [`Study::parse`] reads it, [`Study::case`] gives one setting of it, [`simulate()`] lives
//! through the days of one setting, [`Figures`] say what came of it, [`recommend()`] picks.
//! Whoever runs a study (the command) owns threads and files; nothing here does.

pub mod cycle;
mod drawdown;
mod grid;
mod lengths;
mod limits;
mod measure;
mod parameter;
mod read;
mod recommend;
mod results;
mod schedules;
mod shipped;
mod simulate;
mod spec;
mod trend;

pub use drawdown::{drawdown_fraction_of, drawdown_m3, shut_off_pa};
pub use grid::{Case, CaseValue};
pub use lengths::RunLengths;
pub use limits::{Kept, Limit, LimitRule, judge};
pub use measure::{MEASURES, Measure, MeasureUnit};
pub use parameter::{Axis, Parameter, Spread};
pub use read::StudyFiles;
pub use recommend::{Ranking, Recommendation, Standing, recommend};
pub use results::{Figures, FixtureFigures, Outcome, SettingRow};
pub use schedules::Schedules;
pub use shipped::{ShippedStudy, shipped};
pub use simulate::{
    FixturePressure, SettingResult, SimulateError, run_case, simulate, simulate_by_plant,
};
pub use spec::{Demand, HouseholdSpec, Livestock, Preference, Sampling, Study, Target};
pub use trend::{Edge, Point, Trend, TrendFinder};

/// Version of what settings come to; raised by a change to the plant, the cycle engine, the
/// generator of draws or the figures that lets the same study come to other results, so that
/// results of an older program are not gone on with.
pub const ENGINE_VERSION: u32 = 2;

#[cfg(test)]
mod tests;
