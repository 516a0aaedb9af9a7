//! Which nodes have no path to the reference.

use super::assemble::{Branch, Equations};
use super::build::Network;
use super::problem::NetworkProblem;

/// One problem for each island, in the order of their lowest nodes.
pub(super) fn floating(network: &Network, equations: &Equations) -> Vec<NetworkProblem> {
    let n_nodes = network.n_nodes();
    let mut island: Vec<usize> = (0..n_nodes).collect();
    let ties = |branch: &&Branch| branch.is_link || !branch.y.is_zero();
    for branch in equations.branches.iter().filter(ties) {
        let (a, b) = (island[branch.a], island[branch.b]);
        let (low, high) = (a.min(b), a.max(b));
        for entry in &mut island {
            if *entry == high {
                *entry = low;
            }
        }
    }
    let name = |node| network.placed_node(node).to_owned();
    (1..n_nodes)
        .filter(|&first| island[first] == first)
        .map(|first| NetworkProblem::Floating {
            reference: name(0),
            nodes: (first..n_nodes)
                .filter(|&node| island[node] == first)
                .map(name)
                .collect(),
        })
        .collect()
}
