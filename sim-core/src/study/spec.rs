//! A study as read and validated.

use super::limits::Limit;
use super::measure::Measure;
use super::parameter::{Axis, Parameter};
use crate::demand::DemandSchedule;
use crate::faults::Fault;
use crate::file::Value;
use crate::site::SiteSpec;

/// A study: what is asked of which site.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// File name without its ending, kebab-case.
    pub name: String,
    /// One line for people.
    pub title: String,
    /// The question in a sentence or two; may be empty.
    pub question: String,
    /// The site with the study's own changes, before anything is varied.
    pub site: SiteSpec,
    /// Faults that every setting has.
    pub faults: Vec<Fault>,
    /// What is drawn.
    pub demand: Demand,
    /// Days that are lived through for each seed.
    pub days: f64,
    /// Households to live them with; one where nothing depends on a seed.
    pub seeds: Vec<u64>,
    /// What is varied, in the file's order.
    pub parameters: Vec<Parameter>,
    /// How distributions are sampled.
    pub sampling: Option<Sampling>,
    /// What a setting must respect.
    pub limits: Vec<Limit>,
    /// What makes one setting better than another, most important first.
    pub prefer: Vec<Preference>,
    /// What was assumed, for the report.
    pub assumptions: Vec<String>,
    /// Where figures come from, for the report.
    pub sources: Vec<String>,
    /// Number that stands for everything above: study, site, draws and program.
    pub digest: u64,
    pub(super) axes: Vec<Axis>,
    /// For each parameter where in its distribution each sample stands; nothing for one
    /// without a distribution.
    pub(super) shares: Vec<Vec<f64>>,
    pub(super) tree: Value,
    pub(super) site_file: String,
    pub(super) study_file: String,
}

/// What a study draws.
#[derive(Debug, Clone, PartialEq)]
pub enum Demand {
    /// Nothing but what faults draw.
    Nothing,
    /// A made-up household.
    Household(HouseholdSpec),
    /// Measured draws from a file, repeated until the days are over.
    Measured {
        /// The file's name as given.
        file: String,
        /// Its draws.
        draws: DemandSchedule,
        /// Length of the record [s].
        length_s: f64,
    },
}

/// A household and what belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct HouseholdSpec {
    /// People; draws grow in proportion.
    pub occupants: f64,
    /// For the garden, by hoses, averaged over the year [m³/s].
    pub garden_m3_per_s: f64,
    /// Animals that drink at troughs.
    pub livestock: Vec<Livestock>,
    /// A leak behind the house valve that never ends, as flow at 50 psi [m³/s].
    pub leak_m3_per_s: f64,
}

/// Animals of one sort.
#[derive(Debug, Clone, PartialEq)]
pub struct Livestock {
    /// Which.
    pub name: String,
    /// How many.
    pub head: f64,
    /// What one drinks [m³/s].
    pub each_m3_per_s: f64,
}

/// How distributions are turned into settings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sampling {
    /// Each distribution is cut into as many equally likely slices as there are samples,
    /// and every slice is used once (M. D. McKay, R. J. Beckman, W. J. Conover,
    /// Technometrics 21 (1979) 239).
    LatinHypercube {
        /// Samples.
        number: usize,
        /// Seed.
        seed: u64,
    },
    /// Every sample is drawn by itself.
    MonteCarlo {
        /// Samples.
        number: usize,
        /// Seed.
        seed: u64,
    },
}

/// Something that makes a setting better.
#[derive(Debug, Clone, PartialEq)]
pub struct Preference {
    /// Of what.
    pub target: Target,
    /// Whether less is better; more is otherwise.
    pub least: bool,
}

/// What a preference looks at.
#[derive(Debug, Clone, PartialEq)]
pub enum Target {
    /// A varied parameter, by its place among the study's.
    Parameter(usize),
    /// A result.
    Measure(&'static Measure),
}
