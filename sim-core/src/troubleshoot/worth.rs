//! What a reading was worth.

use crate::session::Action;

/// What one thing done was worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Worth {
    /// What was done.
    pub action: Action,
    /// How much less is unknown of part and mechanism [bits]; negative after a surprise.
    pub bits: f64,
    /// How far the weights of all hypotheses moved [bits]: nought for what told nothing.
    pub moved_bits: f64,
    /// What it took [min].
    pub minutes: f64,
    /// What it cost [USD].
    pub money: f64,
}

/// Below this a reading told nothing [bits].
pub(super) const NOTHING_BITS: f64 = 0.01;

impl Worth {
    /// Whether it told nothing.
    #[must_use]
    pub fn told_nothing(&self) -> bool {
        self.moved_bits < NOTHING_BITS
    }
}
