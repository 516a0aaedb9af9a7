//! Whole-system tests.

mod bad_input;
mod determinism;
mod laws;
mod published;
mod support;
