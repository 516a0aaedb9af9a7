//! Solving a network, again and again, in the same memory.

use crate::electric::Complex;

use super::assemble::{Equations, REFERENCE};
use super::build::{Network, is_positive};
use super::element::{Frequency, NodeId};
use super::eliminate::{Eliminator, Stuck};
use super::islands::floating;
use super::problem::NetworkProblem;
use super::solution::{Port, Solution};

/// Solves networks; takes no memory once it has solved one of the size.
#[derive(Debug, Clone, Default)]
pub struct Solver {
    equations: Equations,
    eliminator: Eliminator,
    potentials: Vec<Complex>,
    /// Current that leaves each node by all but ideal links.
    leaving: Vec<Complex>,
    /// Ideal links at each node whose current is not known yet.
    open_links: Vec<u32>,
    pending: Vec<usize>,
    solution: Solution,
    n_solves: u64,
}

impl Solver {
    /// A solver that has solved nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// How many systems of equations it has solved.
    #[must_use]
    pub const fn n_solves(&self) -> u64 {
        self.n_solves
    }

    /// Voltages and currents of a network.
    ///
    /// # Errors
    /// Loops of ideal sources, floating nodes and unlimited resonance.
    pub fn solve(
        &mut self,
        network: &Network,
        frequency: Frequency,
    ) -> Result<&Solution, Vec<NetworkProblem>> {
        self.prepare(network, frequency)?;
        self.equations.stamp();
        self.eliminate(network)?;
        self.write_voltages(network)?;
        self.write_currents();
        Ok(&self.solution)
    }

    /// Open-circuit voltage and impedance between two nodes.
    ///
    /// # Errors
    /// As [`Solver::solve`].
    pub fn thevenin(
        &mut self,
        network: &Network,
        a: NodeId,
        b: NodeId,
        frequency: Frequency,
    ) -> Result<Port, Vec<NetworkProblem>> {
        self.solve(network, frequency)?;
        let volt = self.solution.between(a, b);
        self.equations.silence();
        self.equations.stamp();
        let (row_a, row_b) = (
            self.equations.unknown[a.index()],
            self.equations.unknown[b.index()],
        );
        self.equations.inject(row_a, Complex::ONE);
        self.equations.inject(row_b, -Complex::ONE);
        self.eliminate(network)?;
        Ok(Port {
            volt,
            ohm: self.potential(a.index()) - self.potential(b.index()),
        })
    }

    pub(super) fn into_solution(self) -> Solution {
        self.solution
    }

    fn prepare(
        &mut self,
        network: &Network,
        frequency: Frequency,
    ) -> Result<(), Vec<NetworkProblem>> {
        let mut problems = Vec::new();
        if let Frequency::Alternating { hertz } = frequency
            && !is_positive(hertz)
        {
            problems.push(NetworkProblem::NotPositive {
                quantity: "the frequency",
            });
        }
        self.equations.take(network, frequency, &mut problems);
        if problems.is_empty() {
            Ok(())
        } else {
            Err(problems)
        }
    }

    fn eliminate(&mut self, network: &Network) -> Result<(), Vec<NetworkProblem>> {
        self.n_solves += 1;
        let Equations { n, y, j, .. } = &mut self.equations;
        let stuck = match self.eliminator.solve(*n, y, j, &mut self.potentials) {
            Ok(()) => return Ok(()),
            Err(stuck) => stuck,
        };
        let islands = floating(network, &self.equations);
        if !islands.is_empty() && self.equations.leakage_s == 0.0 {
            return Err(islands);
        }
        let unknown = match stuck {
            Stuck::Untied => 0,
            Stuck::Singular { unknown } => unknown,
        };
        let node = self.equations.unknown.iter().position(|&u| u == unknown);
        Err(vec![NetworkProblem::Singular {
            node: network.placed_node(node.unwrap_or(0)).to_owned(),
        }])
    }

    /// Potential of a node's group.
    #[inline]
    fn potential(&self, node: usize) -> Complex {
        match self.equations.unknown[node] {
            REFERENCE => Complex::ZERO,
            unknown => self.potentials[unknown],
        }
    }

    fn write_voltages(&mut self, network: &Network) -> Result<(), Vec<NetworkProblem>> {
        self.solution.voltage.clear();
        for node in 0..self.equations.unknown.len() {
            let volt = self.potential(node) + self.equations.offset[node];
            if !volt.is_finite() {
                return Err(vec![NetworkProblem::OutOfRange {
                    node: network.placed_node(node).to_owned(),
                }]);
            }
            self.solution.voltage.push(volt);
        }
        Ok(())
    }

    fn write_currents(&mut self) {
        let equations = &self.equations;
        let solution = &mut self.solution;
        solution.leakage_s = equations.leakage_s;
        solution.current.clear();
        solution.ends.clear();
        self.leaving.clear();
        let leak = |volt: &Complex| *volt * equations.leakage_s;
        self.leaving.extend(solution.voltage.iter().map(leak));
        for branch in &equations.branches {
            let volt = solution.voltage[branch.a] - solution.voltage[branch.b];
            let mut current = branch.source;
            if !branch.y.is_zero() {
                current += branch.y * (volt - branch.emf);
            }
            if !branch.y_other.is_zero() {
                let other = &equations.branches[branch.other];
                current += branch.y_other * (solution.voltage[other.a] - solution.voltage[other.b]);
            }
            self.leaving[branch.a] += current;
            self.leaving[branch.b] -= current;
            solution.current.push(current);
            solution.ends.push((branch.a, branch.b));
        }
        self.write_link_currents();
    }

    /// Currents of ideal links, from the outermost of each tree inwards: at a node with one
    /// link left, that link carries whatever the others do not.
    fn write_link_currents(&mut self) {
        let equations = &self.equations;
        self.open_links.clear();
        self.open_links.resize(equations.group.len(), 0);
        self.pending.clear();
        for &link in &equations.links {
            self.open_links[equations.branches[link].a] += 1;
            self.open_links[equations.branches[link].b] += 1;
            self.pending.push(link);
        }
        while !self.pending.is_empty() {
            let before = self.pending.len();
            let (open_links, leaving) = (&mut self.open_links, &mut self.leaving);
            let current = &mut self.solution.current;
            self.pending.retain(|&link| {
                let (a, b) = (equations.branches[link].a, equations.branches[link].b);
                // The lowest node of a group keeps the sum of the others, which is known to
                // vanish; the reference keeps what flows into it.
                let is_leaf =
                    |node: usize, open: &[u32]| open[node] == 1 && equations.group[node] != node;
                if is_leaf(a, open_links) {
                    current[link] = -leaving[a];
                } else if is_leaf(b, open_links) {
                    current[link] = leaving[b];
                } else {
                    return true;
                }
                leaving[a] += current[link];
                leaving[b] -= current[link];
                open_links[a] -= 1;
                open_links[b] -= 1;
                false
            });
            // Links form trees, so every pass finds a leaf.
            debug_assert!(self.pending.len() < before);
            if self.pending.len() == before {
                break;
            }
        }
    }
}
