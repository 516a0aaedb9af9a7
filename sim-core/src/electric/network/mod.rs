//! Circuits of resistance, inductance, capacitance, sources and winding pairs, solved by
//! nodal analysis.
//!
//! `problem` lists what can be wrong, `build` takes the circuit in, `assemble` writes
//! its node equations, `eliminate` solves them and `solution` hands out the answer.

mod assemble;
mod build;
mod element;
mod eliminate;
mod islands;
mod problem;
mod solution;
mod solver;
#[cfg(test)]
mod tests;

pub use build::{Network, NetworkBuilder};
pub use element::{Element, ElementId, Emf, Frequency, NodeId};
pub use problem::NetworkProblem;
pub use solution::{Port, Solution};
pub use solver::Solver;
