//! Visits: the one door for every face.

mod actions;
mod cautions;
mod laws;
mod safety;
