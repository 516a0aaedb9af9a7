//! What anybody sees who is sent to a site: the whole of what the troubleshooter is given.
//!
//! There is no fault in here, no seed, no hint and no teaching: what is hidden cannot be
//! looked at because it is not there.

use std::sync::Arc;

use crate::plant::Start;
use crate::scenario::{
    Budget, Hidden, History, HouseholdUse, Par, Role, Rubric, Scenario, Weights,
};
use crate::session::Tool;
use crate::site::SiteSpec;

/// The public part of a scenario.
#[derive(Debug, Clone, PartialEq)]
pub struct PublicCase {
    /// The site as it is documented.
    pub site: SiteSpec,
    /// How the system stands at the start.
    pub start: Start,
    /// How long it has been as it is, and how it was used.
    pub history: Option<History>,
    /// Whether the household goes on drawing while one works, and about how often.
    pub use_during: Option<HouseholdUse>,
    /// What the customer says.
    pub complaint: String,
    /// What one may do.
    pub role: Role,
    /// What one carries.
    pub kit: Vec<Tool>,
    /// What the visit may take.
    pub budget: Budget,
}

impl PublicCase {
    /// The public part of a scenario.
    #[must_use]
    pub fn of(scenario: &Scenario) -> Self {
        Self {
            site: scenario.site.clone(),
            start: scenario.start,
            history: scenario.history,
            use_during: scenario.use_during,
            complaint: scenario.complaint.clone(),
            role: scenario.role,
            kit: scenario.kit.clone(),
            budget: scenario.budget,
        }
    }

    /// A scenario with nothing hidden, for sites that are only thought of.  Their household
    /// keeps still: when the real one draws, nobody knows beforehand.
    pub(super) fn imagined(&self) -> Arc<Scenario> {
        let weights = Weights {
            call: 100.0,
            repair: 0.0,
            proof: 0.0,
            safety: 0.0,
            economy: 0.0,
        };
        Arc::new(Scenario {
            name: String::new(),
            title: String::new(),
            level: 1,
            site: self.site.clone(),
            start: self.start,
            history: self.history,
            use_during: None,
            complaint: String::new(),
            hidden: Hidden::Fixed(Vec::new()),
            accept: Vec::new(),
            role: self.role,
            kit: self.kit.clone(),
            budget: self.budget,
            par: Par {
                minutes: self.budget.minutes,
                money: self.budget.money,
            },
            rubric: Rubric { weights, pass: 0.0 },
            hints: Vec::new(),
            teaching: String::new(),
            references: Vec::new(),
            digest: 0,
        })
    }
}
