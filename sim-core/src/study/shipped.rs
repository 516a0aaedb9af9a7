//! The studies that come with the program.

/// A study file that comes with the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShippedStudy {
    /// The study's name, which is the file's without its ending.
    pub name: &'static str,
    /// The file's text.
    pub text: &'static str,
}

macro_rules! studies {
    ($($name:literal,)*) => {
        &[$(ShippedStudy {
            name: $name,
            text: include_str!(concat!("../../../scenarios/studies/", $name, ".ron")),
        },)*]
    };
}

/// Every file in `scenarios/studies`, in order of name; a test compares.
const SHIPPED: &[ShippedStudy] = studies![
    "half-flow",
    "higher-pressure",
    "losing-charge",
    "small-leak",
    "switch-and-tank",
];

/// Every study that comes with the program, in order of name.
#[must_use]
pub fn shipped() -> &'static [ShippedStudy] {
    SHIPPED
}
