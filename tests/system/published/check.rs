//! One check: how the library computes a published quantity.

use std::fmt;

/// What a check gives: one value, or as many as its row lists.
pub(super) struct Values(Vec<f64>);

impl From<f64> for Values {
    fn from(value: f64) -> Self {
        Self(vec![value])
    }
}

impl From<Vec<f64>> for Values {
    fn from(values: Vec<f64>) -> Self {
        Self(values)
    }
}

/// A computation of ours, named by the row that it answers.
pub(super) struct Check {
    /// Id of the row.
    pub(super) id: &'static str,
    /// What a reader should know about how ours is computed; empty when nothing.
    pub(super) note: &'static str,
    compute: Box<dyn Fn() -> Values>,
}

impl fmt::Debug for Check {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Check({})", self.id)
    }
}

impl Check {
    /// A check that needs no remark.
    pub(super) fn new<V: Into<Values>>(
        id: &'static str,
        compute: impl Fn() -> V + 'static,
    ) -> Self {
        Self::noted(id, "", compute)
    }

    /// A check with a remark for the validation page.
    pub(super) fn noted<V: Into<Values>>(
        id: &'static str,
        note: &'static str,
        compute: impl Fn() -> V + 'static,
    ) -> Self {
        Self {
            id,
            note,
            compute: Box::new(move || compute().into()),
        }
    }

    /// Our values, in the unit of the row.
    pub(super) fn values(&self) -> Vec<f64> {
        (self.compute)().0
    }
}
