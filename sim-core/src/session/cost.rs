//! What an action costs in minutes and money: read from `scenarios/costs.ron`.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::catalog::PartId;

const TEXT: &str = include_str!("../../../scenarios/costs.ron");

/// The price list.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Costs {
    /// Version of the file.
    version: u32,
    /// Walking speed [m/s].
    pub(super) walking_m_per_s: f64,
    /// Leaving one place and settling at another [min].
    pub(super) settle_min: f64,
    minutes: BTreeMap<String, f64>,
    money: BTreeMap<String, f64>,
    parts: BTreeMap<String, NewPart>,
}

/// Putting in a new part.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NewPart {
    /// Price [USD].
    pub(super) money: f64,
    /// Work [min].
    pub(super) minutes: f64,
}

impl Costs {
    /// The list that comes with the program.
    pub(super) fn shipped() -> Self {
        let costs: Self = ron::from_str(TEXT).expect("a test reads the same text");
        debug_assert_eq!(costs.version, 1);
        costs
    }

    /// Minutes of a piece of work; every name used in this module is in the list, which a
    /// test checks.
    pub(super) fn minutes(&self, work: &str) -> f64 {
        self.minutes.get(work).copied().unwrap_or(0.0)
    }

    /// Money of a piece of work [USD]; nothing where the list has nothing.
    pub(super) fn money(&self, work: &str) -> f64 {
        self.money.get(work).copied().unwrap_or(0.0)
    }

    /// A new part; none for what cannot be replaced.
    pub(super) fn new_part(&self, part: PartId) -> Option<NewPart> {
        self.parts.get(part.name()).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_has_every_part_and_no_stranger() {
        let costs = Costs::shipped();
        for part in PartId::ALL {
            let is_listed = costs.new_part(*part).is_some();
            assert_eq!(is_listed, *part != PartId::None, "{}", part.name());
        }
        for name in costs.parts.keys() {
            assert!(PartId::from_name(name).is_some(), "{name}");
        }
        let all = costs.minutes.values().chain(costs.money.values());
        assert!(all.copied().all(|v| v >= 0.0 && v.is_finite()));
    }
}
