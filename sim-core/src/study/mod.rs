//! Studies: what a system does over years of a household's days.

pub mod cycle;
