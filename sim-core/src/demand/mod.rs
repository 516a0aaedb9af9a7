//! What the household draws, and when: an ordered list of outlets opened and shut.
//!
//! A schedule is plain data; whoever runs the plant turns each draw into two
//! commands (open the outlet, shut it again).  It comes from nowhere
//! ([`DemandSchedule::none`]), from a file of draws ([`from_csv`]) or from the seeded
//! generator ([`household`]).

mod csv;
mod duration;
mod household;
mod schedule;

pub use csv::{
    DemandProblem, DemandProblemKind, DemandProblems, MAX_BYTES, MAX_DRAWS, MAX_PROBLEMS, from_csv,
};
pub use duration::{DurationError, seconds_from_text};
pub use household::{AddOns, FixtureKind, Household, household, household_with};
pub use schedule::{DemandSchedule, Draw, TICKS_PER_SECOND, nominal_flow_m3_per_s};

/// An outlet that gives so many gallons a minute at 40 psi.
#[cfg(test)]
pub(crate) fn test_outlet(name: &str, gpm: f64) -> crate::parts::FixtureSpec {
    use crate::units::convert::{PSI, US_GPM};
    use crate::units::{CubicMetersPerSecond, Meters, Pascals};

    crate::parts::FixtureSpec {
        name: name.to_owned(),
        elevation: Meters(1.0),
        rating: crate::parts::FlowRating {
            flow: CubicMetersPerSecond(gpm * US_GPM),
            drop: Pascals(40.0 * PSI),
        },
        limit: None,
    }
}
