//! Scenarios: a site, what was done to it, what the customer says, what is hidden.
//!
//! A scenario file is untrusted input: any bytes give a [`Scenario`] or a list of
//! [`Problem`](crate::site::Problem)s with file, line and column.  docs/scenario-format.md
//! is its reference; [`Scenario::parse`] is the only way in.  Nothing here opens files:
//! whoever calls says where a scenario's site comes from ([`Sites`]).

mod draw;
mod history;
mod read;
mod shipped;
mod sites;
mod spec;

pub use history::{LifeError, Lived, wear_from};
pub(crate) use read::read_faults;
pub use shipped::{ShippedScenario, shipped};
pub use sites::{ShippedSites, SiteFile, Sites};
pub use spec::{
    Budget, Hidden, HiddenDraw, History, HouseholdUse, Par, Reference, Role, Rubric, Scenario,
    Weights,
};

#[cfg(test)]
mod tests;
