//! Scenarios: a site, what was done to it, what the customer says, what is hidden.

mod spec;

pub use spec::{
    Budget, Hidden, HiddenDraw, History, HouseholdUse, Par, Role, Rubric, Scenario, Weights,
};
