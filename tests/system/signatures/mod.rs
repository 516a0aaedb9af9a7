//! Signatures: each fault of the catalogue as a technician would come to know it.
//!
//! One test per kind of fault: a visit to a suitable site, a standard examination, and
//! what the trade knows of the fault asked of its readings and cues alone, with the
//! healthy twin of the site as control.  Nothing looks into the plant.
//! `table` writes everything side by side for people.

mod control;
mod electrical;
mod exam;
mod examine;
mod gauge;
mod grounds;
mod hands;
mod house;
mod law;
mod line;
mod machine;
mod motor;
mod part_arrival;
mod part_circuit;
mod part_drained;
mod part_gauge;
mod table;
mod tank;
mod water;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock};

use exam::Exam;
use sim_core::faults::{Fault, kinds};

const ORCHARD: &str = "orchard-cottage";
const YARD: &str = "boatyard-washdown";
const FARM: &str = "hill-farm";
const SHED: &str = "garden-shed";
/// The hill farm with a second check valve at the wall.
const TWO_CHECKS: &str = "farm-with-wall-check";
/// The orchard on a night of hard frost, and with a tank that was never filled.
const FROST: &str = "orchard-in-frost";
const NEW_TANK: &str = "orchard-new-tank";

/// Length of a leak-down [s].
const FALL_S: f64 = 1_200.0;

/// A kind of fault, the site that shows it, and the test of its signature.
struct Case {
    kind: &'static str,
    site: &'static str,
    /// Named here so that no kind goes without one.
    test: fn(),
}

const fn case(kind: &'static str, site: &'static str, test: fn()) -> Case {
    Case { kind, site, test }
}

/// Every case, family by family.
fn cases() -> impl Iterator<Item = &'static Case> {
    [
        water::CASES,
        line::CASES,
        tank::CASES,
        machine::CASES,
        electrical::CASES,
        motor::CASES,
        control::CASES,
        gauge::CASES,
        house::CASES,
    ]
    .into_iter()
    .flatten()
}

/// Examinations done so far, by site and fault.
static DONE: Mutex<BTreeMap<String, Arc<OnceLock<Exam>>>> = Mutex::new(BTreeMap::new());

/// The examination of a site with faults (`part.fault` or `part.fault=severity`, more of
/// them with ` + ` between; empty for the healthy twin), worked out once.
fn exam(site: &str, faults: &str) -> Exam {
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

/// A kind's examination at its usual severity on its site, and that of the healthy twin.
#[track_caller]
fn twins(kind: &str) -> (Exam, Exam) {
    let case = cases().find(|case| case.kind == kind);
    let site = case.unwrap_or_else(|| panic!("no case of {kind}")).site;
    (exam(site, kind), exam(site, ""))
}

#[test]
fn every_kind_has_a_signature_test() {
    for info in kinds() {
        let found = cases().filter(|case| case.kind == info.name).count();
        assert_eq!(found, 1, "{}", info.name);
    }
    assert_eq!(cases().count(), kinds().count());
    let mut tests: Vec<usize> = cases().map(|case| case.test as usize).collect();
    tests.sort_unstable();
    tests.dedup();
    assert_eq!(tests.len(), cases().count(), "two kinds share a test");
}
