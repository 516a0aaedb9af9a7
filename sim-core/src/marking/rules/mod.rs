//! The rubric's rules, one per file: each takes a [`Case`] and gives a share of its weight.
//!
//! The shares and tolerances in these files are training values, common practice, no
//! source, unless a constant says otherwise.

pub mod call;
pub mod economy;
pub mod proof;
pub mod repair;
pub mod safety;

use super::case::Case;
use super::report::Finding;

/// What a rule comes to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Judged {
    /// Share of the part's weight that is earned, 0 to 1.
    pub share: f64,
    /// Why.
    pub findings: Vec<Finding>,
}

impl Judged {
    /// Notes why a share was given or, below zero, taken.
    fn note(&mut self, share: f64, action: Option<u64>, sentence: impl Into<String>) {
        self.share += share;
        self.findings.push(Finding {
            sentence: sentence.into(),
            action,
            share,
        });
    }

    /// Notes something that neither gives nor takes.
    fn remark(&mut self, action: Option<u64>, sentence: impl Into<String>) {
        self.note(0.0, action, sentence);
    }

    /// Neither less than nothing nor more than all.
    fn bounded(mut self) -> Self {
        self.share = self.share.clamp(0.0, 1.0);
        self
    }
}

/// A rule.
#[derive(Debug, Clone, Copy)]
pub struct Rule {
    /// Name of the part of the mark.
    pub name: &'static str,
    /// For people.
    pub label: &'static str,
    /// The judgement.
    pub judge: fn(&Case<'_>) -> Judged,
}

/// Every rule, in the order of a report.
pub const RULES: [Rule; 5] = [
    Rule {
        name: "call",
        label: "The call",
        judge: call::judge,
    },
    Rule {
        name: "repair",
        label: "The repair",
        judge: repair::judge,
    },
    Rule {
        name: "proof",
        label: "The proof",
        judge: proof::judge,
    },
    Rule {
        name: "safety",
        label: "Safety",
        judge: safety::judge,
    },
    Rule {
        name: "economy",
        label: "Economy",
        judge: economy::judge,
    },
];

#[cfg(test)]
pub(in crate::marking) mod tests;
