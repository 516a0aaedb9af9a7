//! One visit to a site, from the complaint to the close-up.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::action::{Action, FaultName};
use super::hazard::Hazard;
use super::kit::Tool;
use super::outcome::{Entry, Outcome, Refusal};
use super::station::{Cover, Station};
use crate::faults::Fault;
use crate::plant::{BuildError, Plant, Tick};
use crate::scenario::Scenario;

/// How a visit counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mode {
    /// Hints and undo.
    Practice,
    /// One try.
    Graded,
}

/// Why a visit cannot be begun.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BeginError {
    /// A hidden fault does not fit the site.
    #[error("the scenario's fault does not fit its site: {0}")]
    Build(#[from] BuildError),
    /// The plant cannot be followed through what happened before the visit.
    #[error("the simulated plant cannot be followed through the time before the visit: {0}")]
    History(String),
}

/// How a hidden fault stands now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remaining {
    /// The fault as it was hidden.
    pub fault: Fault,
    /// The plant's parameters are well again in this respect.
    pub is_cured: bool,
}

/// What is right and wrong at the site at this moment: for marks and the debrief.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Condition {
    /// Every hidden fault.
    pub hidden: Vec<Remaining>,
    /// What the visit itself has spoilt, in words.
    pub spoilt: Vec<String>,
    /// What is not left as it should be: covers, valves, lock, power, lids, in words.
    pub untidy: Vec<String>,
    /// The source was opened and not disinfected, or nobody was told.
    pub owes_disinfection: bool,
}

/// One visit.
#[derive(Debug, Clone)]
pub struct Visit {
    scenario: Arc<Scenario>,
    seed: u64,
    mode: Mode,
    plant: Plant,
    station: Station,
    money: f64,
    notebook: Vec<Entry>,
    suspects: Vec<FaultName>,
    struck_out: Vec<FaultName>,
    call: Option<Vec<FaultName>>,
    hazards: Vec<Hazard>,
    open_covers: Vec<Cover>,
    actions_done: u64,
    is_over: bool,
}

impl Visit {
    /// Arrives at a scenario's site: what is hidden is drawn from the seed, what went
    /// before is lived through.
    ///
    /// # Errors
    /// When a hidden fault does not fit the site, or the plant cannot be followed.
    pub fn begin(scenario: &Arc<Scenario>, seed: u64, mode: Mode) -> Result<Self, BeginError> {
        let plant = Plant::build(&scenario.site, &[], scenario.start)?;
        Ok(Self {
            scenario: Arc::clone(scenario),
            seed,
            mode,
            plant,
            station: Station::Wall,
            money: 0.0,
            notebook: Vec::new(),
            suspects: Vec::new(),
            struck_out: Vec::new(),
            call: None,
            hazards: Vec::new(),
            open_covers: Vec::new(),
            actions_done: 0,
            is_over: false,
        })
    }

    /// Does something.
    ///
    /// # Errors
    /// When it cannot be done as things stand; nothing has changed then.
    pub fn perform(&mut self, _action: &Action) -> Result<Outcome, Refusal> {
        if self.is_over {
            return Err(Refusal::Over);
        }
        self.actions_done += 1;
        Ok(Outcome::default())
    }

    /// The scenario.
    #[must_use]
    pub fn scenario(&self) -> &Arc<Scenario> {
        &self.scenario
    }

    /// Seed of what is hidden and of the instruments' noise.
    #[must_use]
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// How it counts.
    #[must_use]
    pub const fn mode(&self) -> Mode {
        self.mode
    }

    /// Where the person stands.
    #[must_use]
    pub const fn station(&self) -> Station {
        self.station
    }

    /// The site's clock.
    #[must_use]
    pub fn now(&self) -> Tick {
        self.plant.now()
    }

    /// Minutes since arrival.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.plant.now().seconds() / 60.0
    }

    /// Money spent [USD].
    #[must_use]
    pub const fn money(&self) -> f64 {
        self.money
    }

    /// Everything written down so far.
    #[must_use]
    pub fn notebook(&self) -> &[Entry] {
        &self.notebook
    }

    /// The person's own list of what may be wrong.
    #[must_use]
    pub fn suspects(&self) -> &[FaultName] {
        &self.suspects
    }

    /// What the person has struck out of the list.
    #[must_use]
    pub fn struck_out(&self) -> &[FaultName] {
        &self.struck_out
    }

    /// What was called; none when nothing was.
    #[must_use]
    pub fn call(&self) -> Option<&[FaultName]> {
        self.call.as_deref()
    }

    /// Dangerous acts so far.
    #[must_use]
    pub fn hazards(&self) -> &[Hazard] {
        &self.hazards
    }

    /// Covers that stand open.
    #[must_use]
    pub fn open_covers(&self) -> &[Cover] {
        &self.open_covers
    }

    /// What is carried.
    #[must_use]
    pub fn kit(&self) -> &[Tool] {
        &self.scenario.kit
    }

    /// Actions so far.
    #[must_use]
    pub const fn actions_done(&self) -> u64 {
        self.actions_done
    }

    /// Whether the exercise is over.
    #[must_use]
    pub const fn is_over(&self) -> bool {
        self.is_over
    }

    /// The plant, for what draws it; nothing that a person could not perceive may be shown
    /// from it before the end.
    #[must_use]
    pub const fn plant(&self) -> &Plant {
        &self.plant
    }

    /// What was hidden; only once the exercise is over.
    #[must_use]
    pub fn truth(&self) -> Option<Vec<Fault>> {
        self.is_over.then(Vec::new)
    }

    /// What is right and wrong at the site now.  For marks; faces show it only once the
    /// exercise is over.
    #[must_use]
    pub fn condition(&self) -> Condition {
        Condition::default()
    }

    /// A digest of everything that changes, bit by bit.
    #[must_use]
    pub fn digest(&self) -> u64 {
        self.plant.digest()
    }
}
