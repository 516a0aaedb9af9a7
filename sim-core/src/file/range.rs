//! Least and most of a quantity that a file gives.

use super::quantity::Unit;

/// Least and most, both allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Range {
    /// Least.
    pub(crate) least: f64,
    /// Most.
    pub(crate) most: f64,
}

impl Range {
    /// From least to most.
    pub(crate) const fn new(least: f64, most: f64) -> Self {
        Self { least, most }
    }

    /// Whether a value is inside; never true of one that is not a number.
    pub(crate) fn holds(self, si: f64) -> bool {
        // A bound written in another unit may miss by a rounding.
        let rounding = 1e-12 * (self.least.abs() + self.most.abs());
        self.least - rounding <= si && si <= self.most + rounding
    }

    /// The bounds in a unit, rounded inwards: what is shown is accepted.
    pub(crate) fn show(self, unit: &Unit) -> String {
        format!(
            "{} to {}",
            unit.show_at_least(self.least),
            unit.show_at_most(self.most)
        )
    }
}

/// Flow of a rating, so much flow at so much pressure drop [m³/s]; a training value.
pub(crate) const RATING_FLOW: Range = Range::new(1.0e-8, 0.1);
/// Pressure drop of a rating [Pa]; a training value.
pub(crate) const RATING_DROP: Range = Range::new(1.0, 3.0e6);
