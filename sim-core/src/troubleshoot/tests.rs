use std::sync::Arc;

use super::*;
use crate::faults::{Fault, FaultKind};
use crate::scenario::{Hidden, Scenario};
use crate::session::{Action, Mode, Visit};

fn shipped(name: &str) -> Arc<Scenario> {
    Arc::new(Scenario::shipped(name).unwrap())
}

#[test]
fn the_shut_valve_of_the_first_steps_is_found_and_opened() {
    let mut visit = Visit::begin(&shipped("first-steps"), 1, Mode::Graded).unwrap();
    let work = work_case(&mut visit).unwrap();
    assert_eq!(work.called, [FaultKind::HouseValveLeftShut]);
    assert_eq!(work.end, WorkEnd::ClosedUp);
    assert!(work.refused.is_empty(), "{:?}", work.refused);
    assert!(visit.hazards().is_empty());
    assert!(
        visit
            .condition()
            .hidden
            .iter()
            .all(|hidden| hidden.is_cured)
    );
    assert!(visit.condition().untidy.is_empty());
}

/// The troubleshooter is given nothing that differs when another fault is hidden, and from
/// the same outcomes it comes to the same bits.
#[test]
fn what_is_hidden_makes_no_difference_to_the_same_outcomes() {
    let scenario = shipped("first-steps");
    let mut other = (*scenario).clone();
    other.hidden = Hidden::Fixed(vec![Fault::usual(FaultKind::MotorWindingOpen)]);
    other.hints.clear();
    other.teaching.clear();
    assert_eq!(PublicCase::of(&scenario), PublicCase::of(&other));

    let mut visit = Visit::begin(&scenario, 1, Mode::Practice).unwrap();
    let mut minds = [&*scenario, &other]
        .map(|scenario| Troubleshooter::new(&PublicCase::of(scenario)).unwrap());
    for action in [Action::ReadGauge, Action::Look { at: None }, Action::Listen] {
        let outcome = visit.perform(&action).unwrap();
        for mind in &mut minds {
            mind.observe(&action, &outcome);
        }
    }
    let bits = minds.map(|mind| {
        let weights = mind.belief().log_weights().iter();
        weights.map(|weight| weight.to_bits()).collect::<Vec<_>>()
    });
    assert_eq!(bits[0], bits[1]);
}
