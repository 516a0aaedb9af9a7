//! Whole-system tests.

mod bad_input;
mod netlist;
mod published;
mod wiring_against_ngspice;
mod wiring_laws;
