//! Whole-system tests.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on has failed, and says where"
)]

mod bad_input;
mod bad_scenarios;
mod cues;
mod cycle_engine;
mod determinism;
mod electrical;
mod electrical_faults;
mod faults_page;
mod laws;
mod meters;
mod netlist;
mod published;
mod referee;
mod refused_logbooks;
mod repeats;
mod runs;
mod signatures;
mod support;
mod symptoms;
mod tidy;
mod troubleshoot;
mod visits;
mod wiring_against_ngspice;
mod wiring_laws;
mod work;
