//! One visit to a site, from the complaint to the close-up: what it is and where it stands.
//! What can be done on it is in the modules beside this one.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::action::{FaultName, Port};
use super::arrive::{MOST_STEPS, MOST_STEPS_IMAGINED, arrive};
use super::condition::Condition;
use super::cost::Costs;
use super::hazard::Hazard;
use super::household::Household;
use super::kit::Tool;
use super::needle::NeedleTrace;
use super::outcome::{Entry, Proof};
use super::station::{Cover, Station};
use crate::catalog::{Catalog, PartId};
use crate::faults::Fault;
use crate::math::Fnv;
use crate::plant::{BuildError, Damage, Plant, Tick};
use crate::scenario::{Role, Scenario};
use crate::site::SiteSpec;

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

/// What is looked up during a visit: read once, shared by many.
#[derive(Debug, Clone)]
pub(crate) struct Books {
    /// The catalogue of faults.
    pub(crate) catalog: Arc<Catalog>,
    costs: Arc<Costs>,
}

impl Books {
    /// Those that come with the program.
    pub(crate) fn shipped() -> Self {
        Self {
            catalog: Arc::new(Catalog::shipped()),
            costs: Arc::new(Costs::shipped()),
        }
    }
}

/// What does not change during a visit.
#[derive(Debug)]
pub(super) struct Fixed {
    pub(super) scenario: Arc<Scenario>,
    pub(super) seed: u64,
    pub(super) mode: Mode,
    /// Whether the instruments have noise; those of a site that is only thought of have none.
    pub(super) has_noise: bool,
    pub(super) catalog: Arc<Catalog>,
    pub(super) costs: Arc<Costs>,
    /// Every fault that was there on arrival, what the time before added included.
    pub(super) hidden: Vec<Fault>,
    /// The plant's tick on arrival.
    pub(super) arrival: Tick,
    /// What was spoilt already.
    pub(super) damage_on_arrival: Damage,
}

/// How hands, locks and covers stand.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Hands {
    pub(super) open_covers: BTreeSet<Cover>,
    pub(super) is_locked_out: bool,
    /// Stations where the absence of voltage was proved under the present lock.
    pub(super) proved_dead: BTreeSet<Station>,
    pub(super) is_dressed: bool,
    pub(super) has_helper: bool,
    pub(super) has_qualified: bool,
    pub(super) leads_are_apart: bool,
    /// The capacitor was discharged since the motor last had power.
    pub(super) is_discharged: bool,
    pub(super) pump_is_out: bool,
    pub(super) second_gauge: Option<Port>,
    /// Resets of the breaker after a trip, since ohms or insulation were last measured.
    pub(super) resets_untested: u32,
    /// The source was opened and has not been disinfected since.
    pub(super) source_was_opened: bool,
}

/// One visit.
///
/// ```
/// use std::sync::Arc;
///
/// use sim_core::scenario::Scenario;
/// use sim_core::session::{Action, Mode, Visit};
///
/// let scenario = Arc::new(Scenario::shipped("first-steps").expect("a shipped scenario"));
/// let mut visit = Visit::begin(&scenario, 1, Mode::Practice)?;
/// let outcome = visit.perform(&Action::ReadGauge)?;
/// assert_eq!(outcome.readings.len(), 1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Visit {
    pub(super) fixed: Arc<Fixed>,
    /// The site as it is installed now, without its faults.
    pub(super) site: SiteSpec,
    /// Faults that are still there.
    pub(super) faults: Vec<Fault>,
    pub(super) plant: Plant,
    pub(super) household: Household,
    pub(super) station: Station,
    pub(super) hands: Hands,
    pub(super) money: f64,
    pub(super) notebook: Vec<Entry>,
    pub(super) suspects: Vec<FaultName>,
    pub(super) struck_out: Vec<FaultName>,
    pub(super) call: Option<Vec<FaultName>>,
    pub(super) explained: Vec<FaultName>,
    pub(super) replaced: Vec<PartId>,
    pub(super) hazards: Vec<Hazard>,
    /// A dangerous act has stopped a practice: only undo and close-up are left.
    pub(super) is_stopped: bool,
    pub(super) hints_given: usize,
    pub(super) actions_done: u64,
    pub(super) is_over: bool,
    /// What had been spoilt when the last action ended, so that what is spoilt next is told.
    pub(super) damage_told: Damage,
    /// Digest of every action and outcome so far.
    pub(super) trail: Fnv,
    /// Where the gauge's needle stood, for the debrief.
    pub(super) needle: NeedleTrace,
    /// The visit before the last action (practice only).
    pub(super) before: Option<Arc<Visit>>,
}

impl Visit {
    /// Arrives at a scenario's site: what is hidden is drawn from the seed, what went
    /// before is lived through.
    ///
    /// # Errors
    /// When a hidden fault does not fit the site, or the plant cannot be followed.
    pub fn begin(scenario: &Arc<Scenario>, seed: u64, mode: Mode) -> Result<Self, BeginError> {
        let books = Books::shipped();
        let hidden = scenario.draw(seed);
        Self::begin_with(scenario, hidden, seed, mode, &books, true)
    }

    /// A site that is only thought of: these faults, and instruments without noise.
    ///
    /// # Errors
    /// When a fault does not fit the site, or the plant cannot be followed.
    pub(crate) fn imagine(
        scenario: &Arc<Scenario>,
        faults: Vec<Fault>,
        seed: u64,
        books: &Books,
    ) -> Result<Self, BeginError> {
        Self::begin_with(scenario, faults, seed, Mode::Graded, books, false)
    }

    fn begin_with(
        scenario: &Arc<Scenario>,
        mut hidden: Vec<Fault>,
        seed: u64,
        mode: Mode,
        books: &Books,
        has_noise: bool,
    ) -> Result<Self, BeginError> {
        let most_steps = if has_noise {
            MOST_STEPS
        } else {
            MOST_STEPS_IMAGINED
        };
        let plant = arrive(scenario, &mut hidden, seed, most_steps)?;
        let household = Household::new(scenario, seed, &plant);
        let damage = plant.modes().damage;
        Ok(Self {
            site: scenario.site.clone(),
            faults: hidden.clone(),
            household,
            station: Station::Wall,
            hands: Hands::default(),
            money: 0.0,
            notebook: Vec::new(),
            suspects: Vec::new(),
            struck_out: Vec::new(),
            call: None,
            explained: Vec::new(),
            replaced: Vec::new(),
            hazards: Vec::new(),
            is_stopped: false,
            hints_given: 0,
            actions_done: 0,
            is_over: false,
            damage_told: damage,
            trail: Fnv::new(),
            needle: NeedleTrace::default(),
            before: None,
            fixed: Arc::new(Fixed {
                scenario: Arc::clone(scenario),
                seed,
                mode,
                has_noise,
                catalog: Arc::clone(&books.catalog),
                costs: Arc::clone(&books.costs),
                hidden,
                arrival: plant.now(),
                damage_on_arrival: damage,
            }),
            plant,
        })
    }

    /// The scenario.
    #[must_use]
    pub fn scenario(&self) -> &Arc<Scenario> {
        &self.fixed.scenario
    }

    /// Seed of what is hidden and of the instruments' noise.
    #[must_use]
    pub fn seed(&self) -> u64 {
        self.fixed.seed
    }

    /// How it counts.
    #[must_use]
    pub fn mode(&self) -> Mode {
        self.fixed.mode
    }

    /// Where the person stands.
    #[must_use]
    pub const fn station(&self) -> Station {
        self.station
    }

    /// The visit's clock: ticks since arrival.
    #[must_use]
    pub fn now(&self) -> Tick {
        Tick(self.plant.now().0 - self.fixed.arrival.0)
    }

    /// Minutes since arrival.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.now().seconds() / 60.0
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

    /// Dangerous acts so far, undone ones included.
    #[must_use]
    pub fn hazards(&self) -> &[Hazard] {
        &self.hazards
    }

    /// Whether a dangerous act has stopped a practice: only undo and close-up are left.
    #[must_use]
    pub const fn is_stopped(&self) -> bool {
        self.is_stopped
    }

    /// Covers that stand open.
    #[must_use]
    pub fn open_covers(&self) -> Vec<Cover> {
        self.hands.open_covers.iter().copied().collect()
    }

    /// The breaker is locked off and tagged.
    #[must_use]
    pub const fn is_locked_out(&self) -> bool {
        self.hands.is_locked_out
    }

    /// Stations where the absence of voltage was proved under the present lock.
    #[must_use]
    pub fn proved_dead(&self) -> Vec<Station> {
        self.hands.proved_dead.iter().copied().collect()
    }

    /// The person is dressed and equipped for work on live parts.
    #[must_use]
    pub const fn is_dressed(&self) -> bool {
        self.hands.is_dressed
    }

    /// A second person is here.
    #[must_use]
    pub const fn has_helper(&self) -> bool {
        self.hands.has_helper
    }

    /// A qualified electrician is here.
    #[must_use]
    pub const fn has_qualified(&self) -> bool {
        self.hands.has_qualified
    }

    /// The conductors are taken apart in the splice box.
    #[must_use]
    pub const fn leads_are_apart(&self) -> bool {
        self.hands.leads_are_apart
    }

    /// The pump lies beside the source.
    #[must_use]
    pub const fn pump_is_out(&self) -> bool {
        self.hands.pump_is_out
    }

    /// Where the second gauge is fitted.
    #[must_use]
    pub const fn second_gauge(&self) -> Option<Port> {
        self.hands.second_gauge
    }

    /// What is carried.
    #[must_use]
    pub fn kit(&self) -> &[Tool] {
        &self.fixed.scenario.kit
    }

    /// Whether work on live parts may be done now: by a person qualified for it, dressed
    /// for it.
    #[must_use]
    pub fn may_work_live(&self) -> bool {
        self.hands.has_qualified
            || (self.fixed.scenario.role == Role::Qualified && self.hands.is_dressed)
    }

    /// The last proof that was run.
    #[must_use]
    pub fn last_proof(&self) -> Option<&Proof> {
        self.notebook
            .iter()
            .rev()
            .find_map(|entry| match &entry.observation {
                super::outcome::Observation::Proof(proof) => Some(proof),
                _ => None,
            })
    }

    /// Parts replaced so far, in order.
    #[must_use]
    pub fn replaced(&self) -> &[PartId] {
        &self.replaced
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

    /// The catalogue of faults.
    #[must_use]
    pub fn catalog(&self) -> &Catalog {
        &self.fixed.catalog
    }

    /// What was hidden; only once the exercise is over.
    #[must_use]
    pub fn truth(&self) -> Option<&[Fault]> {
        self.is_over.then_some(self.fixed.hidden.as_slice())
    }

    /// What is right and wrong at the site now.  For marks; faces show it only once the
    /// exercise is over.
    #[must_use]
    pub fn condition(&self) -> Condition {
        Condition::of(self)
    }

    /// Moves the water of a site that is only thought of, so that its gauge shows what was
    /// read at the real one.  Nothing where the tank holds no water that presses.
    pub(crate) fn agree_with_gauge(&mut self, needle_pa: f64) {
        let difference = needle_pa - self.plant.gauge_reading_pa();
        self.plant.shift_tank_pressure(difference);
    }

    /// A digest of everything that changes, bit by bit, and of seed and mode, so that a
    /// logbook's header cannot claim others.
    #[must_use]
    pub fn digest(&self) -> u64 {
        let mut hash = self.trail;
        hash.text(match self.fixed.mode {
            Mode::Practice => "practice",
            Mode::Graded => "graded",
        });
        hash.word(self.fixed.seed);
        hash.word(self.plant.digest());
        hash.word(self.actions_done);
        hash.float(self.money);
        hash.text(self.station.name());
        hash.text(&format!("{:?}", self.hands));
        for fault in &self.faults {
            hash.text(fault.info().name);
            hash.float(fault.severity);
        }
        hash.finish()
    }
}
