//! The scenarios that come with the program.

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
const SHIPPED: &[ShippedScenario] = scenarios!["first-steps", "dim-lights",];

/// Every scenario that comes with the program, easiest first and then in order of name.
#[must_use]
pub fn shipped() -> &'static [ShippedScenario] {
    SHIPPED
}
