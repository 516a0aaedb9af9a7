//! The tool's own troubleshooter: par for marks, hints in practice, judge of scenarios.
//!
//! It holds every fault that fits the site as a **twin**: the same site with that fault, at
//! several severities, lived through the same time before ([`PublicCase`] is all it is
//! given: nothing hidden is in it).  Each action of a visit is done on the twins by the same
//! door, and each outcome weighs them anew by how likely it was on each (Bayes).  From the
//! weights follow the suspects, the reading that would tell most for its time and money,
//! when to stop reading, and what a reading was worth.
//!
//! `case` is what it is given, `hypotheses` what may be wrong, `twins` the sites thought of,
//! `shown` and `likelihood` how an outcome is compared, `belief` the weights, `candidates`
//! and `prepare` what could be done next, `information` what it would tell, `advice` what
//! is best, `words` why, `worth` what a reading was worth, `work` a whole case.

mod advice;
mod belief;
mod book;
mod candidates;
mod case;
mod hypotheses;
mod information;
mod likelihood;
mod policy;
mod prepare;
mod remedy;
mod shown;
mod troubleshooter;
mod twins;
mod words;
mod work;
mod worth;

pub use advice::{Advice, Decision};
pub use belief::{Belief, Suspect};
pub use book::{Book, Compound};
pub use case::PublicCase;
pub use hypotheses::Hypothesis;
pub use troubleshooter::{Troubleshooter, TwinError};
pub use work::{CaseWork, WorkEnd, work_case};
pub use worth::Worth;

#[cfg(test)]
mod belief_tests;
#[cfg(test)]
mod tests;
