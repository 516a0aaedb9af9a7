//! What a trainer wants to know of a scenario before it is handed out: can it be solved
//! with its kit, how, in what time, what looks alike to the end, and does nothing wrong pay.
//!
//! The scenario is worked by the [`troubleshooter`](crate::troubleshoot), which is told
//! nothing that is hidden; only then is its call held against the truth, and the visit
//! marked as anybody's.  `vet` does that, `trial` marks the same visit with something added,
//! `signs` compares the site with its healthy twin as its owner would, `alike` looks for
//! what parts suspects that were left, `judge` says what of all this is amiss.

mod alike;
mod judge;
mod signs;
mod trial;
mod vet;

pub use vet::{Decisive, Finding, Grade, Left, Splitter, Trial, VetError, Vetted, vet};

#[cfg(test)]
mod tests;
