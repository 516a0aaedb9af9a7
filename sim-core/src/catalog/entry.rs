//! The catalogue and its entries.

use super::{PartId, Remedy};
use crate::faults::FaultKind;
use crate::parts::{PumpPlacement, SourceSpec};
use crate::site::SiteSpec;

/// Every fault that is known, in the order of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Catalog {
    pub(super) entries: Vec<Entry>,
}

/// What people need to know about one kind of fault.
///
/// Texts are plain English for an apprentice; numbers are training values unless
/// [`Entry::numbers`] says otherwise.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Entry {
    /// Which.
    pub kind: FaultKind,
    /// A few words for people, such as "check valve weeping".
    pub title: String,
    /// What a person would point at or replace.
    pub part: PartId,
    /// What happens and why, in one to three sentences.
    pub mechanism: String,
    /// How bad it is when it is mild, usual, severe.
    pub severities: Severities,
    /// How often it is met, by type of site.
    pub weight: Weights,
    /// What is done about it, the usual remedy first; at least one.
    pub remedies: Vec<Remedy>,
    /// The check that closes the job, in one sentence.
    pub proof: String,
    /// Time for the usual remedy, one technician on site [min].
    pub minutes: f64,
    /// Parts and materials for the usual remedy, without labor [US dollars].
    pub cost: f64,
    /// What can be observed, a sign a text, each begun by how it is observed.
    pub signs: Vec<String>,
    /// What it is mistaken for.
    pub look_alikes: Vec<LookAlike>,
    /// Where the numbers come from.
    pub numbers: String,
    /// Related situations that the kind stands for.
    pub also: Vec<String>,
}

/// Three severities in the kind's own unit, as `KindInfo::unit` gives it.
///
/// They rise or fall from mild to severe: less air left in a tank is worse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Severities {
    /// Noticed by somebody who measures.
    pub mild: f64,
    /// As it is usually met.
    pub usual: f64,
    /// As bad as it comes.
    pub severe: f64,
}

/// Relative frequencies by type of site, 0 where it cannot be; only ratios within one type
/// mean anything.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    /// Submersible pump in a cistern.
    pub cistern: f64,
    /// Submersible pump in a well.
    pub well: f64,
    /// Pump that lifts by suction.
    pub jet: f64,
}

/// Types of site that differ in what goes wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SiteKind {
    /// Submersible pump in a cistern.
    Cistern,
    /// Submersible pump in a well.
    Well,
    /// Pump that lifts by suction, from whatever source.
    Jet,
}

/// A fault that shows much the same.
#[derive(Debug, Clone, PartialEq)]
pub struct LookAlike {
    /// Which.
    pub kind: FaultKind,
    /// The observation that tells the two apart best, in one sentence.
    pub splitter: String,
}

impl SiteKind {
    /// The type of a site.
    #[must_use]
    pub fn of(site: &SiteSpec) -> Self {
        match (site.pump.placement, &site.source) {
            (PumpPlacement::SuctionLift, _) => Self::Jet,
            (PumpPlacement::Submersible, SourceSpec::Cistern { .. }) => Self::Cistern,
            (PumpPlacement::Submersible, SourceSpec::Well { .. }) => Self::Well,
        }
    }
}

impl Weights {
    /// The weight on one type of site.
    #[must_use]
    pub const fn on(&self, site: SiteKind) -> f64 {
        match site {
            SiteKind::Cistern => self.cistern,
            SiteKind::Well => self.well,
            SiteKind::Jet => self.jet,
        }
    }
}

impl Severities {
    /// From mild to severe.
    #[must_use]
    pub const fn all(&self) -> [f64; 3] {
        [self.mild, self.usual, self.severe]
    }
}

impl Entry {
    /// Name as on the command line: part and mechanism.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.kind.info().name
    }

    /// Whether it is no defect but a demand that the owner has to know about.
    #[must_use]
    pub fn is_demand(&self) -> bool {
        self.remedies.first() == Some(&Remedy::Explain)
    }
}

impl Catalog {
    /// The catalogue that comes with the program.
    ///
    /// # Panics
    /// Never: a test reads the same text.
    #[must_use]
    pub fn shipped() -> Self {
        let text = include_str!("../../../scenarios/faults.ron");
        Self::parse("faults.ron", text).expect("a test reads the same text")
    }

    /// The entry of a kind.
    #[must_use]
    pub fn entry(&self, kind: FaultKind) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.kind == kind)
    }

    /// Every entry, in the order of the file.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }
}
