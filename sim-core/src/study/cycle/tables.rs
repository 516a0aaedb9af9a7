//! Everything about a site that a run needs, built once.

use super::calibrate;
use super::checks;
use super::error::CycleError;
use super::gas::Gas;
use super::layer::Layer;
use super::result::Reason;
use super::surfaces::Knot;
use crate::faults::Fault;
use crate::plant::model::Model;
use crate::plant::state::{N_STATES, TANK_CHARGE};
use crate::plant::{Controls, Modes, Plant, Start};
use crate::site::SiteSpec;

/// Widest cell of pressure [Pa] and least number of nodes.
const CELL_PA: f64 = 16_000.0;
const LEAST_NODES: usize = 10;
const MOST_NODES: usize = 40;
/// Most that the pipes may store beside the tank: what they do is taken as quick, and pipes
/// that store more make a second tank.
const MOST_IN_PIPES: f64 = 0.05; // training value

/// A site with its faults, made ready for runs of years.
///
/// ```
/// use sim_core::demand::{Household, household};
/// use sim_core::plant::Tick;
/// use sim_core::study::cycle::{self, CycleTables};
///
/// let shipped = sim_core::site::shipped().last().expect("a shipped site");
/// let site = sim_core::site::parse(shipped.name, shipped.text).expect("a sound site");
/// let tables = CycleTables::build(&site, &[])?;
/// let week = household(
///     &Household { seed: 3, draws_per_day: 60.0, days: 7.0 },
///     &site.house.fixtures,
/// );
/// let mut longest_s = 0.0_f64;
/// let run = cycle::run(&tables, &week, Tick(7 * 86_400 * Tick::PER_SECOND), |pump| {
///     longest_s = longest_s.max(pump.seconds);
/// })?;
/// assert!(run.starts > 50 && longest_s > 15.0);
/// # Ok::<(), sim_core::study::cycle::CycleError>(())
/// ```
#[derive(Debug, Clone)]
pub struct CycleTables {
    pub(super) plant: Plant,
    pub(super) way: Way,
}

/// How a site is run.
#[derive(Debug, Clone)]
pub(super) enum Way {
    /// By the plant engine from end to end.
    Plant(Reason),
    Cycles(Box<Cycles>),
}

/// What the cycle engine needs to know.
#[derive(Debug, Clone)]
pub(super) struct Cycles {
    pub(super) controls: Controls,
    pub(super) off_modes: Modes,
    pub(super) on_modes: Modes,
    pub(super) off_state: [f64; N_STATES],
    pub(super) on_state: [f64; N_STATES],
    /// Lowest, middle and highest content of the source, and its surface there [m].
    pub(super) sources: [f64; 3],
    pub(super) surfaces_m: [f64; 3],
    pub(super) low_pa: f64,
    pub(super) high_pa: f64,
    pub(super) n_nodes: usize,
    /// Heights of the surface about which sheets with the pump on are laid.
    pub(super) knots: Vec<Knot>,
    pub(super) gas: Gas,
    pub(super) start: Layer,
    pub(super) stop: Layer,
    /// Cut-in and cut-out [Pa, gauge].
    pub(super) cut_in: f64,
    pub(super) cut_out: f64,
    pub(super) delay_s: f64,
    pub(super) port_s: f64,
    /// Content of the source below which the plant engine takes over [m³].
    pub(super) safe_source: f64,
    /// Content that fills the source to its brim [m³].
    pub(super) brim: f64,
    /// Content at which as much runs over as comes in [m³].
    pub(super) full_source: f64,
}

/// What every state of the outlets is built on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grounds<'a> {
    pub(super) model: &'a Model,
    pub(super) controls: &'a Controls,
    pub(super) off_modes: Modes,
    pub(super) on_modes: Modes,
    pub(super) off_state: &'a [f64; N_STATES],
    pub(super) on_state: &'a [f64; N_STATES],
    /// Content of the source at the middle of its range [m³].
    pub(super) middle_m3: f64,
    pub(super) low_pa: f64,
    pub(super) high_pa: f64,
    pub(super) n_nodes: usize,
    pub(super) knots: &'a [Knot],
}

impl Cycles {
    pub(super) fn grounds<'a>(&'a self, model: &'a Model) -> Grounds<'a> {
        Grounds {
            model,
            controls: &self.controls,
            off_modes: self.off_modes,
            on_modes: self.on_modes,
            off_state: &self.off_state,
            on_state: &self.on_state,
            middle_m3: self.sources[1],
            low_pa: self.low_pa,
            high_pa: self.high_pa,
            n_nodes: self.n_nodes,
            knots: &self.knots,
        }
    }
}

impl CycleTables {
    /// Builds the tables of a site with its faults.
    ///
    /// Where the cycle engine's assumptions do not hold at all there are none to build: a
    /// run is then the plant engine's from end to end, and says why.
    ///
    /// # Errors
    /// When a fault needs a part that the site does not have.
    pub fn build(site: &SiteSpec, faults: &[Fault]) -> Result<Self, CycleError> {
        let plant = Plant::build(site, faults, Start::Charged)?;
        let way = match Cycles::build(&plant) {
            Ok(cycles) => Way::Cycles(Box::new(cycles)),
            Err(reason) => Way::Plant(reason),
        };
        Ok(Self { plant, way })
    }

    /// Why every run is left to the plant engine; none where the cycle engine runs it.
    #[must_use]
    pub fn left_to_plant(&self) -> Option<Reason> {
        match &self.way {
            Way::Plant(reason) => Some(*reason),
            Way::Cycles(_) => None,
        }
    }
}

impl Cycles {
    fn build(plant: &Plant) -> Result<Self, Reason> {
        let model = plant.model.as_ref();
        checks::before(plant)?;
        let off_state = plant.state_now();
        let gas = Gas::new(model, off_state[TANK_CHARGE]);
        let controls = plant.controls().clone();
        let (cut_in, cut_out) = (controls.cut_in.si(), controls.cut_out.si());
        let atmosphere = model.atmosphere_pa;
        let empty_pa = gas.empty_pa(gas.ambient_k);
        if empty_pa >= atmosphere + cut_in {
            return Err(Reason::Tank);
        }
        let edge_pa = atmosphere + cut_in;
        let gas_m3 = model.tank_shell - gas.water_at(edge_pa, gas.ambient_k);
        let line = model.line.as_ref().map_or(0.0, |line| line.capacity);
        let pipes = model.tee.capacity + model.house.capacity + line;
        if pipes > MOST_IN_PIPES * gas_m3 / edge_pa {
            return Err(Reason::SoftPipes);
        }
        // A cold tank is empty at less.
        let low_pa = (0.93 * empty_pa).max(atmosphere + 0.35 * cut_in);
        let high_pa = 1.03 * (atmosphere + cut_out) + 10_000.0;
        let full_pa = gas.empty_pa(gas.ambient_k) * model.tank_shell
            / (model.tank_shell - model.tank_acceptance);
        if full_pa < high_pa {
            return Err(Reason::Tank);
        }
        let n_nodes =
            (((high_pa - low_pa) / CELL_PA).ceil() as usize + 1).clamp(LEAST_NODES, MOST_NODES);
        let depths = checks::source_range(plant)?;
        let content = |surface: f64| {
            let depth_m = surface - model.source.floor_m();
            model.site.source.volume_m3(depth_m)
        };
        let mut cycles = Self {
            off_modes: *plant.modes(),
            on_modes: *plant.modes(),
            on_state: off_state,
            off_state,
            sources: depths.map(content),
            surfaces_m: depths,
            low_pa,
            high_pa,
            n_nodes,
            knots: Vec::new(),
            gas,
            start: Layer::none(),
            stop: Layer::none(),
            cut_in,
            cut_out,
            delay_s: model.contact_delay,
            port_s: 1.0 / model.port_rate,
            safe_source: content(depths[0]),
            brim: checks::brim(model),
            full_source: checks::full_source(model),
            controls,
        };
        calibrate::calibrate(&mut cycles, plant)?;
        Ok(cycles)
    }
}
