//! Node equations of a network.
//!
//! Kirchhoff's current law at every node, Y·U = J.  Nodes joined by ideal links (sources
//! without impedance, links of 0 Ω, coils at direct current) become one group with one
//! unknown U; each node lies a known offset above its group.  So an ideal source adds no
//! unknown, as it does in the usual modified nodal analysis, and a loop of ideal links
//! shows itself when its second end falls into its own group.  The currents of the links
//! follow afterwards from Kirchhoff's law, leaf by leaf.
//!
//! Only the off-diagonal admittances are kept (row by row, the reference last), with the
//! sign of an admittance between two nodes; the diagonal is their sum, and `eliminate`
//! forms it when it needs it.
//!
//! Source: node equations as in any text on circuits; grouping as "supernodes" there.

use core::f64::consts::TAU;

use crate::electric::Complex;

use super::build::Network;
use super::element::{Element, Frequency, inverse_of_pair};
use super::problem::NetworkProblem;

/// What an element is at one frequency: I = y·(V − emf) + y_other·V_other + source, or a
/// link with V = emf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Branch {
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) y: Complex,
    pub(super) emf: Complex,
    /// Coupling to the voltage of the other winding of a pair.
    pub(super) y_other: Complex,
    /// Place of that winding.
    pub(super) other: usize,
    pub(super) source: Complex,
    pub(super) is_link: bool,
}

impl Branch {
    fn open(a: usize, b: usize) -> Self {
        Self {
            a,
            b,
            y: Complex::ZERO,
            emf: Complex::ZERO,
            y_other: Complex::ZERO,
            other: 0,
            source: Complex::ZERO,
            is_link: false,
        }
    }
}

/// The reference in [`Equations::unknown`].
pub(super) const REFERENCE: usize = usize::MAX;

/// Node equations, with the memory that they need from solve to solve.
#[derive(Debug, Clone, Default)]
pub(super) struct Equations {
    pub(super) branches: Vec<Branch>,
    /// Elements that are ideal links.
    pub(super) links: Vec<usize>,
    /// Lowest node of the group of every node.
    pub(super) group: Vec<usize>,
    /// Voltage of every node above its group [V].
    pub(super) offset: Vec<Complex>,
    /// Unknown of every node, or [`REFERENCE`].
    pub(super) unknown: Vec<usize>,
    /// Number of unknowns.
    pub(super) n: usize,
    /// Admittances between unknowns, n rows of n + 1; the reference is the last column [S].
    pub(super) y: Vec<Complex>,
    /// Currents into the unknowns [A].
    pub(super) j: Vec<Complex>,
    /// Leakage of every node to the reference [S].
    pub(super) leakage_s: f64,
}

impl Equations {
    /// Takes the values at one frequency and joins what ideal links join.
    pub(super) fn take(
        &mut self,
        network: &Network,
        frequency: Frequency,
        problems: &mut Vec<NetworkProblem>,
    ) {
        self.leakage_s = network.leakage_ohm().map_or(0.0, |ohm| 1.0 / ohm);
        self.take_branches(network, frequency);
        self.join(network, problems);
        self.number();
    }

    /// Removes every source, for the impedance that a port sees.
    pub(super) fn silence(&mut self) {
        for branch in &mut self.branches {
            branch.emf = Complex::ZERO;
            branch.source = Complex::ZERO;
        }
        self.offset.fill(Complex::ZERO);
    }

    fn take_branches(&mut self, network: &Network, frequency: Frequency) {
        self.branches.clear();
        self.links.clear();
        let mut pair = [[Complex::ZERO; 2]; 2];
        for (i, placed) in network.placed().iter().enumerate() {
            let mut branch = Branch::open(placed.a.index(), placed.b.index());
            match placed.element {
                Element::Open => {}
                Element::Resistance { ohm } => branch.set_impedance(Complex::real(ohm)),
                Element::Impedance {
                    mains_ohm,
                    direct_ohm,
                } => branch.set_impedance(match frequency {
                    Frequency::Alternating { .. } => mains_ohm,
                    Frequency::Direct => Complex::real(direct_ohm),
                }),
                Element::SeriesRl { ohm, henry } => branch.set_impedance(match frequency {
                    Frequency::Alternating { hertz } => Complex::new(ohm, TAU * hertz * henry),
                    Frequency::Direct => Complex::real(ohm),
                }),
                Element::Capacitance { farad } => {
                    if let Frequency::Alternating { hertz } = frequency {
                        branch.y = Complex::new(0.0, TAU * hertz * farad);
                    }
                }
                Element::VoltageSource { volt, series_ohm } => {
                    branch.emf = volt.at(frequency);
                    branch.set_impedance(match frequency {
                        Frequency::Alternating { .. } => series_ohm,
                        Frequency::Direct => Complex::real(series_ohm.re),
                    });
                }
                Element::CurrentSource { ampere } => branch.source = ampere.at(frequency),
                Element::WindingOfPair {
                    mains_ohm,
                    direct_ohm,
                } => {
                    pair = pair_admittance(&mains_ohm, direct_ohm, frequency);
                    branch.y = pair[0][0];
                    branch.y_other = pair[0][1];
                    branch.other = i + 1;
                }
                Element::OtherOfPair => {
                    branch.y = pair[1][1];
                    branch.y_other = pair[1][0];
                    branch.other = i - 1;
                }
            }
            if branch.is_link {
                self.links.push(i);
            }
            self.branches.push(branch);
        }
        self.group.clear();
        self.group.extend(0..network.n_nodes());
        self.offset.clear();
        self.offset.resize(network.n_nodes(), Complex::ZERO);
    }

    /// Joins the ends of every ideal link into one group.
    fn join(&mut self, network: &Network, problems: &mut Vec<NetworkProblem>) {
        for (at, &link) in self.links.iter().enumerate() {
            let Branch { a, b, emf, .. } = self.branches[link];
            let (group_a, group_b) = (self.group[a], self.group[b]);
            if group_a == group_b {
                problems.push(ideal_loop(network, &self.branches, &self.links[..at], link));
                continue;
            }
            // V(group a) − V(group b), from V_a − V_b = emf.
            let step = emf + self.offset[b] - self.offset[a];
            let (from, to, shift) = if group_a > group_b {
                (group_a, group_b, step)
            } else {
                (group_b, group_a, -step)
            };
            for (group, offset) in self.group.iter_mut().zip(&mut self.offset) {
                if *group == from {
                    *group = to;
                    *offset += shift;
                }
            }
        }
    }

    fn number(&mut self) {
        self.unknown.clear();
        self.n = 0;
        for (node, &group) in self.group.iter().enumerate() {
            let unknown = if group == 0 {
                REFERENCE
            } else if group == node {
                self.n += 1;
                self.n - 1
            } else {
                // The lowest node of a group comes first, so it has its number.
                self.unknown[group]
            };
            self.unknown.push(unknown);
        }
    }

    /// Writes Y and J.
    pub(super) fn stamp(&mut self) {
        let width = self.n + 1;
        self.y.clear();
        self.y.resize(self.n * width, Complex::ZERO);
        self.j.clear();
        self.j.resize(self.n, Complex::ZERO);
        for i in 0..self.branches.len() {
            let branch = self.branches[i];
            if branch.is_link {
                continue;
            }
            let (a, b) = (self.unknown[branch.a], self.unknown[branch.b]);
            if a == b {
                continue;
            }
            let known_v = self.offset[branch.a] - self.offset[branch.b];
            let mut current = branch.y * (known_v - branch.emf) + branch.source;
            self.connect(a, b, branch.y);
            self.connect(b, a, branch.y);
            if !branch.y_other.is_zero() {
                let other = self.branches[branch.other];
                let (c, d) = (self.unknown[other.a], self.unknown[other.b]);
                current += branch.y_other * (self.offset[other.a] - self.offset[other.b]);
                self.connect(a, c, -branch.y_other);
                self.connect(a, d, branch.y_other);
                self.connect(b, c, branch.y_other);
                self.connect(b, d, -branch.y_other);
            }
            self.inject(a, -current);
            self.inject(b, current);
        }
        if self.leakage_s > 0.0 {
            for node in 1..self.unknown.len() {
                let unknown = self.unknown[node];
                self.connect(unknown, REFERENCE, Complex::real(self.leakage_s));
                self.inject(unknown, -(self.offset[node] * self.leakage_s));
            }
        }
    }

    fn connect(&mut self, row: usize, column: usize, y: Complex) {
        if row != REFERENCE && row != column {
            let column = column.min(self.n);
            self.y[row * (self.n + 1) + column] += y;
        }
    }

    pub(super) fn inject(&mut self, row: usize, current: Complex) {
        if row != REFERENCE {
            self.j[row] += current;
        }
    }
}

impl Branch {
    fn set_impedance(&mut self, ohm: Complex) {
        if ohm.is_zero() {
            self.is_link = true;
        } else {
            self.y = ohm.inverse();
        }
    }
}

fn pair_admittance(
    mains_ohm: &[[Complex; 2]; 2],
    direct_ohm: [f64; 2],
    frequency: Frequency,
) -> [[Complex; 2]; 2] {
    match frequency {
        // The values were checked to have an inverse when the pair was placed.
        Frequency::Alternating { .. } => {
            inverse_of_pair(mains_ohm).unwrap_or([[Complex::ZERO; 2]; 2])
        }
        Frequency::Direct => {
            let siemens = direct_ohm.map(|ohm| Complex::real(1.0 / ohm));
            [[siemens[0], Complex::ZERO], [Complex::ZERO, siemens[1]]]
        }
    }
}

/// Names the links around the loop that `closing` closes with `links`.
fn ideal_loop(
    network: &Network,
    branches: &[Branch],
    links: &[usize],
    closing: usize,
) -> NetworkProblem {
    let (from, to) = (branches[closing].a, branches[closing].b);
    // How each node was reached, walking out from one end of the closing link.
    let mut reached: Vec<Option<usize>> = vec![None; network.n_nodes()];
    let mut front = vec![from];
    while let Some(node) = front.pop() {
        for &link in links {
            let Branch { a, b, .. } = branches[link];
            let next = if a == node {
                b
            } else if b == node {
                a
            } else {
                continue;
            };
            if next != from && reached[next].is_none() {
                reached[next] = Some(link);
                front.push(next);
            }
        }
    }
    let mut elements = vec![closing];
    let mut node = to;
    while node != from
        && let Some(link) = reached[node]
    {
        elements.push(link);
        let Branch { a, b, .. } = branches[link];
        node = if a == node { b } else { a };
    }
    elements.sort_unstable();
    let names = elements.iter().map(|&i| network.placed()[i].name.clone());
    NetworkProblem::IdealLoop {
        elements: names.collect(),
    }
}
