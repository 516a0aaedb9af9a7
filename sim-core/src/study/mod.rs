//! Studies: how settings and sizes change pump starts, pressure and energy.
//!
//! A study file names a site, a household, what is varied and what must be respected;
//! [`Study::parse`] reads it, [`Study::case`] gives one setting of it, [`simulate()`] lives
//! through the days of one setting, [`Figures`] say what came of it, [`recommend()`] picks.
//! Whoever runs a study (the command) owns threads and files; nothing here does.

pub mod cycle;
mod drawdown;
mod grid;
mod limits;
mod measure;
mod parameter;
mod read;
mod recommend;
mod results;
mod shipped;
mod simulate;
mod spec;

pub use drawdown::{drawdown_fraction_of, drawdown_m3, shut_off_pa};
pub use grid::{Case, CaseValue};
pub use limits::{Kept, Limit, LimitRule, judge};
pub use measure::{MEASURES, Measure, MeasureUnit};
pub use parameter::{Axis, Parameter, Spread};
pub use read::StudyFiles;
pub use recommend::{Recommendation, recommend};
pub use results::{Figures, FixtureFigures, Outcome, SettingRow};
pub use shipped::{ShippedStudy, shipped};
pub use simulate::{
    FixturePressure, SettingResult, SimulateError, run_case, simulate, simulate_by_plant,
};
pub use spec::{Demand, HouseholdSpec, Livestock, Preference, Sampling, Study, Target};

#[cfg(test)]
mod tests;
