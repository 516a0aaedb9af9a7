//! Marks: what a visit was worth, recomputed from its logbook by living it again.
//!
//! A mark is a pure function of scenario and logbook.  Nothing in a logbook is believed:
//! [`mark`] replays it, and what came out of the replay is judged by five rules, one per
//! file in [`rules`], each of plain data ([`Case`]).
//!
//! Safety is a constraint and no points to trade: after a dangerous act the part for
//! safety is nothing and the whole mark is held below the pass mark, whatever else was
//! earned.
//!
//! Leaves out: what a reading was worth, which needs beliefs, and wording of quantities
//! in units, which is the faces' matter.

mod case;
pub mod evidence;
mod mark;
mod report;
pub mod rules;

pub use case::Case;
pub use mark::{Sum, judge, mark};
pub use report::{
    Called, Counts, EndCondition, Finding, HiddenFault, PartMark, Report, Row, ScenarioFacts,
    Unneeded, WhyUnneeded,
};

#[cfg(test)]
mod tests;
