//! Whole-system tests.

mod bad_input;
