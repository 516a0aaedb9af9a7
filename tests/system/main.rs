//! Whole-system tests.

mod bad_input;
mod published;
