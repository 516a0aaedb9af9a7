//! The scenarios that come with the program.

use super::sites::ShippedSites;
use super::spec::Scenario;

/// A scenario file that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShippedScenario {
    /// The scenario's name, which is the file's without its ending.
    pub name: &'static str,
    /// The file's text.
    pub text: &'static str,
}

macro_rules! scenarios {
    ($($name:literal,)*) => {
        &[$(ShippedScenario {
            name: $name,
            text: include_str!(concat!("../../../scenarios/", $name, ".ron")),
        },)*]
    };
}

/// Every scenario in `scenarios`, easiest first; a test compares with the folder.
const SHIPPED: &[ShippedScenario] = scenarios![
    "first-steps",
    "quiet-farm",
    "soft-tank",
    "tangled-float",
    "weak-shower",
    "worried-owner",
    "wrong-strap",
    "after-the-clean",
    "dim-lights",
    "first-water",
    "half-power",
    "hard-frost",
    "low-water",
    "milky-water",
    "restless-shed",
    "slow-to-notice",
    "honest-needle",
    "long-lead",
    "never-stops",
    "night-starts",
    "rain-trips",
    "a-long-year",
    "tingle",
];

impl Scenario {
    /// The scenario of that name that comes with the program, with its site; none when there
    /// is no such one.
    ///
    /// ```
    /// use sim_core::scenario::Scenario;
    ///
    /// assert_eq!(Scenario::shipped("dim-lights").map(|scenario| scenario.level), Some(3));
    /// assert!(Scenario::shipped("bright-lights").is_none());
    /// ```
    #[must_use]
    pub fn shipped(name: &str) -> Option<Self> {
        let found = shipped().iter().find(|scenario| scenario.name == name)?;
        // A test reads every one of them.
        Self::parse(&format!("{name}.ron"), found.text, &ShippedSites).ok()
    }
}

/// Every scenario that comes with the program, easiest first and then in order of name.
#[must_use]
pub fn shipped() -> &'static [ShippedScenario] {
    SHIPPED
}
