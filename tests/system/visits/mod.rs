//! Visits: the one door for every face.

mod actions;
mod laws;
mod safety;
mod waiting;
