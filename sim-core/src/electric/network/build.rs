//! Taking a circuit in: names, nodes, elements, and the checks that need no solving.

use crate::electric::Complex;
use crate::suggest::nearest;

use super::element::{Element, ElementId, Frequency, NodeId};
use super::problem::NetworkProblem;
use super::solution::{Port, Solution};
use super::solver::Solver;

/// An element with its ends and its name.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) name: String,
    pub(super) a: NodeId,
    pub(super) b: NodeId,
    pub(super) element: Element,
}

/// A circuit being put together.  Nothing is refused before [`NetworkBuilder::build`],
/// which lists all problems at once.
#[derive(Debug, Clone, PartialEq)]
pub struct NetworkBuilder {
    nodes: Vec<String>,
    placed: Vec<Placed>,
    leakage_ohm: Option<f64>,
}

impl NetworkBuilder {
    /// Starts with the reference node, the one at 0 V: usually earth.
    #[must_use]
    pub fn new(reference: &str) -> Self {
        Self {
            nodes: vec![reference.to_owned()],
            placed: Vec::new(),
            leakage_ohm: None,
        }
    }

    /// The reference node.
    #[must_use]
    pub const fn reference(&self) -> NodeId {
        NodeId(0)
    }

    /// The node of a name; new when the name is.
    pub fn node(&mut self, name: &str) -> NodeId {
        let known = self.nodes.iter().position(|node| node == name);
        let at = known.unwrap_or_else(|| {
            self.nodes.push(name.to_owned());
            self.nodes.len() - 1
        });
        // A circuit of more than 2³² nodes does not fit in memory.
        NodeId(u32::try_from(at).unwrap_or(u32::MAX))
    }

    /// Places an element from `a` to `b`.
    pub fn place(&mut self, name: &str, a: NodeId, b: NodeId, element: Element) -> ElementId {
        let id = ElementId(u32::try_from(self.placed.len()).unwrap_or(u32::MAX));
        self.placed.push(Placed {
            name: name.to_owned(),
            a,
            b,
            element,
        });
        id
    }

    /// Places two coupled windings, such as the main and auxiliary windings of a motor:
    /// (V₁, V₂) = Z·(I₁, I₂) at mains frequency, resistances alone at direct current.
    pub fn winding_pair(
        &mut self,
        names: [&str; 2],
        first: (NodeId, NodeId),
        second: (NodeId, NodeId),
        mains_ohm: [[Complex; 2]; 2],
        direct_ohm: [f64; 2],
    ) -> [ElementId; 2] {
        let pair = Element::WindingOfPair {
            mains_ohm,
            direct_ohm,
        };
        [
            self.place(names[0], first.0, first.1, pair),
            self.place(names[1], second.0, second.1, Element::OtherOfPair),
        ]
    }

    /// Lets every node leak to the reference through `ohm`, as real insulation does.
    ///
    /// Without it a circuit that floats (a disconnected cable read by a meter) has no
    /// answer and is reported.  A large value, 1 TΩ say, changes no reading and costs no
    /// accuracy, see `eliminate`.
    pub const fn leak_to_reference(&mut self, ohm: f64) -> &mut Self {
        self.leakage_ohm = Some(ohm);
        self
    }

    /// Checks names, ends and values.
    ///
    /// # Errors
    /// Everything that is wrong with the circuit at any frequency.
    pub fn build(self) -> Result<Network, Vec<NetworkProblem>> {
        let mut problems = Vec::new();
        for (i, placed) in self.placed.iter().enumerate() {
            self.check(i, placed, &mut problems);
        }
        if self.leakage_ohm.is_some_and(|ohm| !is_positive(ohm)) {
            problems.push(NetworkProblem::NotPositive {
                quantity: "the leakage resistance",
            });
        }
        if problems.is_empty() {
            Ok(Network { parts: self })
        } else {
            Err(problems)
        }
    }

    fn check(&self, at: usize, placed: &Placed, problems: &mut Vec<NetworkProblem>) {
        let element = || placed.name.clone();
        if self.placed[..at].iter().any(|p| p.name == placed.name) {
            problems.push(NetworkProblem::NameTaken { name: element() });
        }
        if placed.a.index().max(placed.b.index()) >= self.nodes.len() {
            problems.push(NetworkProblem::ForeignNode { element: element() });
        } else if placed.a == placed.b {
            problems.push(NetworkProblem::BothEndsOnOneNode {
                element: element(),
                node: self.nodes[placed.a.index()].clone(),
            });
        }
        if let Some(rule) = placed.element.complaint() {
            problems.push(NetworkProblem::BadValue {
                element: element(),
                rule,
            });
        }
        let is_other = |p: &Placed| matches!(p.element, Element::OtherOfPair);
        let follows_pair =
            at > 0 && matches!(self.placed[at - 1].element, Element::WindingOfPair { .. });
        let leads_pair = self.placed.get(at + 1).is_some_and(is_other);
        if is_other(placed) != follows_pair
            || (matches!(placed.element, Element::WindingOfPair { .. }) && !leads_pair)
        {
            problems.push(NetworkProblem::BadValue {
                element: element(),
                rule: "windings of a pair are placed together, by winding_pair",
            });
        }
    }
}

pub(super) fn is_positive(x: f64) -> bool {
    x.is_finite() && x > 0.0
}

/// A checked circuit.
///
/// ```
/// use sim_core::electric::{Complex, Element, Frequency, NetworkBuilder};
///
/// let mut circuit = NetworkBuilder::new("earth");
/// let (earth, line, motor) = (circuit.reference(), circuit.node("line"), circuit.node("motor"));
/// circuit.place("mains", line, earth, Element::ideal_alternating(Complex::real(230.0)));
/// let joint = circuit.place("joint", line, motor, Element::Resistance { ohm: 1.0 });
/// circuit.place("winding", motor, earth, Element::Resistance { ohm: 22.0 });
/// let solution = circuit.build()?.solve(Frequency::FIFTY_HERTZ)?;
/// assert!((solution.current(joint).magnitude() - 10.0).abs() < 1e-12);
/// assert!((solution.power(joint).re - 100.0).abs() < 1e-10);
/// # Ok::<(), Vec<sim_core::electric::NetworkProblem>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Network {
    parts: NetworkBuilder,
}

impl Network {
    /// The reference node.
    #[must_use]
    pub const fn reference(&self) -> NodeId {
        NodeId(0)
    }

    /// Number of nodes, the reference included.
    #[must_use]
    pub fn n_nodes(&self) -> usize {
        self.parts.nodes.len()
    }

    /// Number of elements.
    #[must_use]
    pub fn n_elements(&self) -> usize {
        self.parts.placed.len()
    }

    /// Every node, in order.
    pub fn nodes(&self) -> impl Iterator<Item = NodeId> + use<> {
        (0..self.parts.nodes.len() as u32).map(NodeId)
    }

    /// Every element, in order.
    pub fn elements(&self) -> impl Iterator<Item = ElementId> + use<> {
        (0..self.parts.placed.len() as u32).map(ElementId)
    }

    /// The node of a name.
    ///
    /// # Errors
    /// When there is none; with the nearest name.
    pub fn node(&self, name: &str) -> Result<NodeId, NetworkProblem> {
        let found = self.nodes().find(|&id| self.node_name(id) == name);
        found.ok_or_else(|| NetworkProblem::UnknownNode {
            name: name.to_owned(),
            nearest: nearest(name, self.parts.nodes.iter().map(String::as_str)).map(str::to_owned),
        })
    }

    /// The element of a name.
    ///
    /// # Errors
    /// When there is none; with the nearest name.
    pub fn element(&self, name: &str) -> Result<ElementId, NetworkProblem> {
        let found = self.elements().find(|&id| self.element_name(id) == name);
        let names = self.parts.placed.iter().map(|placed| placed.name.as_str());
        found.ok_or_else(|| NetworkProblem::UnknownElement {
            name: name.to_owned(),
            nearest: nearest(name, names).map(str::to_owned),
        })
    }

    /// Name of a node.
    ///
    /// # Panics
    /// When the id is of a larger network.
    #[must_use]
    pub fn node_name(&self, node: NodeId) -> &str {
        &self.parts.nodes[node.index()]
    }

    /// Name of an element.
    ///
    /// # Panics
    /// When the id is of a larger network.
    #[must_use]
    pub fn element_name(&self, element: ElementId) -> &str {
        &self.parts.placed[element.index()].name
    }

    /// The nodes that an element goes from and to.
    ///
    /// # Panics
    /// When the id is of a larger network.
    #[must_use]
    pub fn ends(&self, element: ElementId) -> (NodeId, NodeId) {
        let placed = &self.parts.placed[element.index()];
        (placed.a, placed.b)
    }

    /// Replaces what an element is; its name and ends stay.  Opens a switch, warms a wire.
    ///
    /// A winding pair is replaced by giving its first element a new pair.
    ///
    /// # Errors
    /// When the value is not one that the element can have; the network is then unchanged.
    pub fn set(&mut self, id: ElementId, element: Element) -> Result<(), NetworkProblem> {
        let kind = |e: &Element| match e {
            Element::WindingOfPair { .. } => 1,
            Element::OtherOfPair => 2,
            _ => 0,
        };
        let index = id.index();
        let placed = self.parts.placed.get_mut(index);
        let placed = placed
            .filter(|placed| kind(&placed.element) == kind(&element))
            .ok_or(NetworkProblem::NotReplaceable { index })?;
        if let Some(rule) = element.complaint() {
            return Err(NetworkProblem::BadValue {
                element: placed.name.clone(),
                rule,
            });
        }
        placed.element = element;
        Ok(())
    }

    /// The same circuit as a builder again; node and element ids stay what they are.
    #[must_use]
    pub fn to_builder(&self) -> NetworkBuilder {
        self.parts.clone()
    }

    /// A copy with one more element, such as a meter between two nodes.
    ///
    /// # Errors
    /// When the element cannot be placed.
    pub fn with_element(
        &self,
        name: &str,
        a: NodeId,
        b: NodeId,
        element: Element,
    ) -> Result<(Self, ElementId), Vec<NetworkProblem>> {
        let mut builder = self.to_builder();
        let id = builder.place(name, a, b, element);
        Ok((builder.build()?, id))
    }

    /// Solves once.  Use a [`Solver`] to solve often: it keeps its memory.
    ///
    /// # Errors
    /// Loops of ideal sources, floating nodes and unlimited resonance.
    pub fn solve(&self, frequency: Frequency) -> Result<Solution, Vec<NetworkProblem>> {
        let mut solver = Solver::new();
        solver.solve(self, frequency)?;
        Ok(solver.into_solution())
    }

    /// What the circuit is to something connected between `a` and `b`: open-circuit
    /// voltage V_a − V_b behind an impedance (L. Thévenin, 1883).
    ///
    /// # Errors
    /// As [`Network::solve`].
    pub fn thevenin(
        &self,
        a: NodeId,
        b: NodeId,
        frequency: Frequency,
    ) -> Result<Port, Vec<NetworkProblem>> {
        Solver::new().thevenin(self, a, b, frequency)
    }

    pub(super) fn placed_node(&self, node: usize) -> &str {
        &self.parts.nodes[node]
    }

    pub(super) fn placed(&self) -> &[Placed] {
        &self.parts.placed
    }

    pub(super) const fn leakage_ohm(&self) -> Option<f64> {
        self.parts.leakage_ohm
    }
}
