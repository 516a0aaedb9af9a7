//! Whole-system tests.

mod published;
