//! What can be wrong with a network.

use thiserror::Error;

/// One thing wrong with a network; all that are found are listed together.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NetworkProblem {
    /// No node has this name.
    #[error("there is no node \"{name}\"{}", did_you_mean(nearest.as_deref()))]
    UnknownNode {
        /// As asked for.
        name: String,
        /// The name that it may be a slip of.
        nearest: Option<String>,
    },
    /// No element has this name.
    #[error("there is no element \"{name}\"{}", did_you_mean(nearest.as_deref()))]
    UnknownElement {
        /// As asked for.
        name: String,
        /// The name that it may be a slip of.
        nearest: Option<String>,
    },
    /// Two elements have the same name.
    #[error("two elements are named \"{name}\"")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// A node id of another network.
    #[error("element \"{element}\" is tied to a node that this network does not have")]
    ForeignNode {
        /// The element.
        element: String,
    },
    /// An element id of another network, or half a winding pair.
    #[error("element number {index} cannot be replaced alone")]
    NotReplaceable {
        /// Its place.
        index: usize,
    },
    /// Both ends of an element lie on the same node.
    #[error("both ends of element \"{element}\" are on node \"{node}\"")]
    BothEndsOnOneNode {
        /// The element.
        element: String,
        /// The node.
        node: String,
    },
    /// A value that the element cannot have.
    #[error("element \"{element}\": {rule}")]
    BadValue {
        /// The element.
        element: String,
        /// What is accepted.
        rule: &'static str,
    },
    /// The frequency is not above 0, or the leakage resistance is not.
    #[error("{quantity} must be above 0")]
    NotPositive {
        /// Which quantity.
        quantity: &'static str,
    },
    /// Ideal sources and links close a loop: its current could be anything.
    #[error("ideal sources or links close a loop: {}", elements.join(", "))]
    IdealLoop {
        /// The elements around the loop.
        elements: Vec<String>,
    },
    /// Nodes without a path to the reference: their voltage could be anything.
    #[error("no path to \"{reference}\" from: {}", nodes.join(", "))]
    Floating {
        /// The reference node.
        reference: String,
        /// The nodes of one island.
        nodes: Vec<String>,
    },
    /// Inductance and capacitance cancel with no resistance between them.
    #[error("nothing limits the resonance at node \"{node}\"")]
    Singular {
        /// Where the elimination stopped.
        node: String,
    },
    /// The answer is not a number: values are too far apart or too large.
    #[error("the voltage of node \"{node}\" is out of the range of numbers")]
    OutOfRange {
        /// The node.
        node: String,
    },
}

fn did_you_mean(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |name| format!("; did you mean \"{name}\"?"))
}
