//! The circuit at one tick, ready for instruments.
//!
//! A bench holds the network and the conditions of its tick; nothing done on it changes
//! the plant.  Leads can be taken apart in the splice box on it, as for insulation.

use thiserror::Error;

use super::conductors::{element_at, other_terminal};
use super::hazard::LIVE_V;
use super::noise::Noise;
use super::reading::{Breaker, Conditions, Figure, Meter, NoReading, Reading};
use crate::electric::{
    Element, ElementId, Frequency, MeterInput, NetworkProblem, NodeId, Solution,
};
use crate::plant::{Plant, ReachableCapacitors};
use crate::suggest::nearest;
use crate::wiring::{POINTS, Point, PumpCircuit};

/// Why there is nothing to put an instrument on.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum BenchError {
    /// The site file has no wiring.
    #[error("site `{site}` has no wiring: its file says nothing about the pump's circuit")]
    NoWiring {
        /// The site.
        site: String,
    },
    /// The circuit has no answer.
    #[error("the circuit has no answer: {}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    NoAnswer {
        /// Everything wrong with it.
        problems: Vec<NetworkProblem>,
    },
}

/// The circuit at one tick.
///
/// ```
/// use sim_core::instruments::Bench;
/// use sim_core::plant::{Plant, Start};
///
/// let text = include_str!(concat!(
///     env!("CARGO_MANIFEST_DIR"),
///     "/../scenarios/sites/orchard-cottage.ron"
/// ));
/// let site = sim_core::site::parse("orchard-cottage.ron", text).expect("a shipped site");
/// let plant = Plant::build(&site, &[], Start::Charged)?;
/// let bench = Bench::of(&plant, 1)?;
/// let reading = bench.volts("panel.line1", "panel.neutral")?;
/// assert!((reading.figure.value - 115.0).abs() < 2.0);
/// assert!(bench.ohms("panel.line1", "panel.neutral").is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Bench {
    circuit: PumpCircuit,
    hertz: f64,
    conditions: Conditions,
    seed: Option<u64>,
    /// The motor's capacitors where a hand can reach them.
    capacitors: ReachableCapacitors,
}

impl Bench {
    /// The circuit of a plant at its present tick; `seed` is the meters' noise.
    ///
    /// # Errors
    /// When the site has no wiring, or its circuit no answer.
    pub fn of(plant: &Plant, seed: u64) -> Result<Self, BenchError> {
        let site = plant.site();
        let circuit = plant
            .pump_circuit()
            .map_err(|problems| BenchError::NoAnswer { problems })?
            .ok_or_else(|| BenchError::NoWiring {
                site: site.name.clone(),
            })?;
        let conditions = Conditions::of(plant);
        let mut bench = Self::new(circuit, site.supply.frequency.si(), conditions, seed);
        bench.capacitors = plant.reachable_capacitors();
        Ok(bench)
    }

    /// A bench of a given circuit, mains frequency [Hz] and conditions.
    #[must_use]
    pub const fn new(circuit: PumpCircuit, hertz: f64, conditions: Conditions, seed: u64) -> Self {
        Self {
            circuit,
            hertz,
            conditions,
            seed: Some(seed),
            capacitors: ReachableCapacitors::NONE,
        }
    }

    /// The same bench without the meters' noise: what they would show most likely.
    #[must_use]
    pub(crate) fn without_noise(mut self) -> Self {
        self.seed = None;
        self
    }

    pub(super) const fn capacitors(&self) -> &ReachableCapacitors {
        &self.capacitors
    }

    /// The same bench with the conductors taken apart in the splice box.
    ///
    /// # Errors
    /// When the circuit has no joints there.
    pub fn with_leads_off(mut self) -> Result<Self, NetworkProblem> {
        for joint in ["joint 1", "joint 2"] {
            let joint = self.circuit.network.element(joint)?;
            self.circuit.network.set(joint, Element::Open)?;
        }
        self.conditions.leads_off = true;
        self.conditions.pump_running = false;
        Ok(self)
    }

    /// The same bench with the pump cable taken off the pressure switch's load terminals.
    ///
    /// # Errors
    /// When the circuit has no such cable.
    pub fn with_pump_cable_off(mut self) -> Result<Self, NetworkProblem> {
        for conductor in ["pump cable 1", "pump cable 2"] {
            let conductor = self.circuit.network.element(conductor)?;
            self.circuit.network.set(conductor, Element::Open)?;
        }
        self.conditions.leads_off = true;
        self.conditions.pump_running = false;
        Ok(self)
    }

    /// Points of this circuit that a probe can touch.
    #[must_use]
    pub fn points(&self) -> Vec<&'static Point> {
        Self::points_of(&self.circuit)
    }

    /// Points of a circuit that a probe can touch.
    #[must_use]
    pub fn points_of(circuit: &PumpCircuit) -> Vec<&'static Point> {
        let has = |point: &&Point| circuit.network.node(point.name).is_ok();
        POINTS.iter().filter(has).collect()
    }

    /// Terminals at which a clamp can be closed around a conductor.
    #[must_use]
    pub fn conductors(&self) -> Vec<&'static str> {
        let names = self.points().into_iter().map(|point| point.name);
        names.filter(|name| element_at(name).is_some()).collect()
    }

    /// Terminals at which a power meter can be connected.
    #[must_use]
    pub fn power_points(&self) -> Vec<&'static str> {
        let names = self.points().into_iter().map(|point| point.name);
        names
            .filter(|name| other_terminal(name).is_some())
            .collect()
    }

    /// When and how the circuit stands.
    #[must_use]
    pub const fn conditions(&self) -> &Conditions {
        &self.conditions
    }

    /// The circuit, no meter in it.
    #[must_use]
    pub const fn circuit(&self) -> &PumpCircuit {
        &self.circuit
    }

    pub(super) const fn hertz(&self) -> f64 {
        self.hertz
    }

    /// The node of a point.
    pub(super) fn point(&self, name: &str) -> Result<NodeId, NoReading> {
        let known = self.points().into_iter().find(|point| point.name == name);
        known
            .and_then(|point| self.circuit.network.node(point.name).ok())
            .ok_or_else(|| {
                let all = self.points().into_iter().map(|point| point.name);
                Self::no_such_point(name, all.collect())
            })
    }

    /// A refusal that names what the instrument can be put on.
    pub(super) fn no_such_point(name: &str, accepted: Vec<&'static str>) -> NoReading {
        NoReading::NoSuchPoint {
            name: name.to_owned(),
            nearest: nearest(name, accepted.iter().copied()).map(str::to_owned),
            accepted,
        }
    }

    pub(super) fn element(&self, name: &str) -> Result<ElementId, NoReading> {
        let element = self.circuit.network.element(name);
        element.map_err(|problem| NoReading::NoAnswer { problem })
    }

    const fn mains(&self) -> Frequency {
        Frequency::Alternating { hertz: self.hertz }
    }

    /// The circuit at mains frequency, no meter in it.
    pub(super) fn solve(&self) -> Result<Solution, NoReading> {
        self.circuit.network.solve(self.mains()).map_err(no_answer)
    }

    /// The circuit at mains frequency with a meter between two nodes.
    pub(super) fn solution_with(
        &self,
        input: MeterInput,
        red: NodeId,
        black: NodeId,
    ) -> Result<Solution, NoReading> {
        let probed = input
            .on(&self.circuit.network, red, black)
            .map_err(no_answer)?;
        probed.network.solve(self.mains()).map_err(no_answer)
    }

    /// Magnitude of the voltage between two nodes with a meter there [V], and all the rest.
    pub(super) fn solve_with(
        &self,
        input: MeterInput,
        red: NodeId,
        black: NodeId,
    ) -> Result<(f64, Solution), NoReading> {
        let solution = self.solution_with(input, red, black)?;
        Ok((solution.between(red, black).magnitude(), solution))
    }

    /// The circuit at direct current with a meter's source between two nodes.
    pub(super) fn solve_direct_with(
        &self,
        input: MeterInput,
        red: NodeId,
        black: NodeId,
    ) -> Result<(Solution, ElementId), NoReading> {
        let probed = input
            .on(&self.circuit.network, red, black)
            .map_err(no_answer)?;
        let solution = probed.network.solve(Frequency::Direct).map_err(no_answer)?;
        Ok((solution, probed.meter))
    }

    /// Puts the figures into a reading; `figures` gets the noise of this reading.
    pub(super) fn grade(
        &self,
        meter: Meter,
        place: &[&str],
        figures: impl FnOnce(&mut Noise) -> Result<(Figure, Vec<Figure>), Figure>,
    ) -> Result<Reading, NoReading> {
        let place: Vec<String> = place.iter().map(|&name| name.to_owned()).collect();
        let mut noise = Noise::of(self.seed, self.conditions.tick, meter, &place);
        let (figure, also) = figures(&mut noise).map_err(|limit| NoReading::OverRange { limit })?;
        let mut conditions = self.conditions;
        conditions.may_be_live = self.may_be_live(&place)?;
        Ok(Reading {
            meter,
            figure,
            also,
            place,
            conditions,
        })
    }

    /// Whether 50 V or more stand at the stations of these points, or can at any moment.
    fn may_be_live(&self, place: &[String]) -> Result<bool, NoReading> {
        if self.conditions.breaker == Breaker::On {
            return Ok(true);
        }
        let solution = self.solve()?;
        let points = self.points();
        let stations: Vec<&str> = points
            .iter()
            .filter(|point| place.iter().any(|name| name == point.name))
            .map(|point| point.station)
            .collect();
        Ok(points.iter().any(|point| {
            stations.contains(&point.station)
                && self
                    .circuit
                    .network
                    .node(point.name)
                    .is_ok_and(|node| solution.voltage(node).magnitude() >= LIVE_V)
        }))
    }
}

/// The first thing that a circuit without an answer is short of.
pub(super) fn no_answer(problems: Vec<NetworkProblem>) -> NoReading {
    let first = problems.into_iter().next();
    NoReading::NoAnswer {
        problem: first.unwrap_or(NetworkProblem::NotPositive {
            quantity: "the frequency",
        }),
    }
}
