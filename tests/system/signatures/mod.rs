//! Signatures: each fault of the catalogue as a technician would come to know it.
//!
//! One test per kind of fault: a visit to a suitable site, a standard examination, and
//! what the trade knows of the fault asked of its readings and cues alone, with the
//! healthy twin of the site as control.  Nothing looks into the plant.
//! `table` writes everything side by side for people.

mod cases;
mod exam;
mod examine;
mod grounds;
mod hands;
mod part_arrival;
mod part_circuit;
mod part_drained;
mod part_gauge;
mod table;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock};

use exam::Exam;
use sim_core::faults::Fault;

/// Examinations done so far, by site and fault.
static DONE: Mutex<BTreeMap<String, Arc<OnceLock<Exam>>>> = Mutex::new(BTreeMap::new());

/// The examination of a site with faults (`part.fault` or `part.fault=severity`, more of
/// them with ` + ` between; empty for the healthy twin), worked out once.
pub(super) fn exam(site: &str, faults: &str) -> Exam {
    let cell = {
        let mut done = DONE
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        Arc::clone(done.entry(format!("{site} {faults}")).or_default())
    };
    cell.get_or_init(|| {
        let faults: Vec<Fault> = faults
            .split(" + ")
            .filter(|text| !text.is_empty())
            .map(|text| Fault::parse(text).unwrap())
            .collect();
        examine::examine(&grounds::ground(site), &faults)
    })
    .clone()
}
