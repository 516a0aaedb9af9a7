//! Whole-system tests.

mod bad_input;
mod electrical;
mod netlist;
mod published;
mod wiring_against_ngspice;
mod wiring_laws;
