use std::sync::Arc;

use super::*;
use crate::faults::{Fault, FaultKind};
use crate::scenario::{Hidden, Scenario};
use crate::session::{Action, FaultName, Tool};

fn vetted(name: &str) -> Vetted {
    let scenario = Arc::new(Scenario::shipped(name).unwrap());
    vet(&scenario, scenario.seeds_of_members()[0]).unwrap()
}

#[test]
fn a_fair_scenario_has_no_error() {
    for name in ["first-steps", "quiet-farm"] {
        let vetted = vetted(name);
        assert!(!vetted.has_errors(), "{name}: {:?}", vetted.findings);
        assert!(vetted.is_right && vetted.is_cured && vetted.passes);
        assert!(!vetted.signs.is_empty(), "{name}");
        let unsafe_path = vetted.dangerous.unwrap();
        assert!(unsafe_path.mark < vetted.mark && !unsafe_path.passes);
        assert!(vetted.needless.unwrap().mark <= vetted.mark);
        assert!(vetted.decisive.unwrap().bits > 0.1);
    }
}

/// An open winding is hidden, and nothing in the kit measures electricity.
#[test]
fn a_kit_that_cannot_tell_is_caught() {
    let mut scenario = Scenario::shipped("first-steps").unwrap();
    scenario.hidden = Hidden::Fixed(vec![Fault::usual(FaultKind::MotorWindingOpen)]);
    scenario.kit = vec![Tool::Torch, Tool::HandTools, Tool::Bucket];
    let vetted = vet(&Arc::new(scenario), 1).unwrap();
    assert!(vetted.has_errors(), "{vetted:?}");
    assert!(!vetted.left.is_empty() || !vetted.is_right, "{vetted:?}");
}

#[test]
fn every_entry_of_a_pool_gets_a_seed_of_its_own() {
    let scenario = Scenario::shipped("night-starts").unwrap();
    let Hidden::Drawn(pool) = &scenario.hidden else {
        panic!("drawn");
    };
    let seeds = scenario.seeds_of_members();
    assert_eq!(seeds.len(), pool.len());
    for (member, (seed, draw)) in seeds.iter().zip(pool).enumerate() {
        assert_eq!(scenario.member_of(*seed), member);
        let kinds: Vec<FaultKind> = scenario.draw(*seed).iter().map(|f| f.kind).collect();
        let own: Vec<FaultKind> = draw.faults.iter().map(|(f, _)| f.kind).collect();
        assert_eq!(kinds, own);
    }
}

/// What is right is judged by what was hidden, not by how much the call earned: called
/// before anything is looked at, it earns half.
#[test]
fn a_call_that_the_mark_halves_is_right_all_the_same() {
    let scenario = Arc::new(Scenario::shipped("first-steps").unwrap());
    let called = |kind| {
        let faults = vec![FaultName(kind)];
        trial::marked(&scenario, 1, &[Action::Call { faults }]).unwrap()
    };
    let hidden = [FaultKind::HouseValveLeftShut];
    let right = called(FaultKind::HouseValveLeftShut);
    assert!(vet::is_right(&right, &hidden));
    let lost = vet::call_lost(&right).unwrap();
    assert!(lost.contains("counts half"), "{lost}");
    assert!(!vet::is_right(&called(FaultKind::BreakerTripped), &hidden));
    assert!(!vet::is_right(&right, &[]));
}
