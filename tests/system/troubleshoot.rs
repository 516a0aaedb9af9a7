//! The tool's own troubleshooter works shipped scenarios from complaint to close-up: what it
//! calls is what was hidden, nothing is cured that was not broken, and nothing is dangerous.
//!
//! Not every scenario is here: `docs/troubleshooter.md` says what it cannot do yet.

use std::sync::Arc;

use sim_core::scenario::Scenario;
use sim_core::session::{Mode, Visit};
use sim_core::troubleshoot::{WorkEnd, work_case};

/// Works a scenario and compares the call with the truth.
#[track_caller]
fn is_found(name: &str, seed: u64) {
    let scenario = Arc::new(Scenario::shipped(name).unwrap());
    let mut visit = Visit::begin(&scenario, seed, Mode::Graded).unwrap();
    let work = work_case(&mut visit).unwrap();
    assert_eq!(work.end, WorkEnd::ClosedUp, "{name}: {:?}", work.refused);
    assert!(visit.hazards().is_empty(), "{name}: {:?}", visit.hazards());
    let mut hidden: Vec<_> = visit.truth().unwrap().iter().map(|f| f.kind).collect();
    hidden.sort_unstable();
    let mut called = work.called.clone();
    called.sort_unstable();
    assert_eq!(called, hidden, "{name}, seed {seed}");
    let left: Vec<_> = visit.condition().hidden;
    assert!(
        left.iter().all(|hidden| hidden.is_cured),
        "{name}: {left:?}"
    );
}

#[test]
fn a_dropped_cut_off_is_found() {
    is_found("quiet-farm", 1);
}

#[test]
fn a_soft_tank_is_found() {
    is_found("soft-tank", 1);
}

#[test]
fn a_tangled_float_is_found() {
    is_found("tangled-float", 1);
}

#[test]
fn a_frozen_sensing_port_is_found() {
    is_found("hard-frost", 1);
}

#[test]
fn a_beached_intake_is_found() {
    is_found("low-water", 1);
}

#[test]
fn a_bad_joint_is_found_in_a_house_in_use() {
    is_found("dim-lights", 1);
}
