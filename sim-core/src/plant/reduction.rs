//! From the wiring to the drives.

use super::circuit::{CircuitModel, DrivePair};
use crate::faults::Defects;
use crate::site::SiteSpec;

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Reduction;

impl Reduction {
    pub(crate) fn drives(&self, _level: usize) -> DrivePair {
        DrivePair {
            starting: None,
            running: None,
        }
    }
}

pub(crate) fn circuit_model(_site: &SiteSpec, _defects: &Defects) -> Option<CircuitModel> {
    None
}
