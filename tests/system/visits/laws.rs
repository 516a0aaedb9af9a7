//! What no stream of actions may break: balances, bits, marks.

use std::sync::Arc;

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use sim_core::marking::mark;
use sim_core::scenario::{self, Scenario, ShippedSites};
use sim_core::session::{Action, Header, Logbook, Mode, Record, Visit, replay};

use super::actions::any_action;

/// Every shipped scenario.
fn scenarios() -> Vec<Arc<Scenario>> {
    scenario::shipped()
        .iter()
        .map(|shipped| {
            let file = format!("{}.ron", shipped.name);
            Arc::new(Scenario::parse(&file, shipped.text, &ShippedSites).unwrap())
        })
        .collect()
}

/// Lives a stream of actions; hands out the visit and its logbook.
fn live(scenario: &Arc<Scenario>, seed: u64, mode: Mode, actions: &[Action]) -> (Visit, Logbook) {
    let mut visit = Visit::begin(scenario, seed, mode).unwrap();
    let header = Header::of(&visit, "");
    let mut records = Vec::new();
    for action in actions {
        let before = visit.digest();
        match visit.perform(action) {
            Ok(_) => records.push(Record::of(&visit, action)),
            Err(_) => assert_eq!(before, visit.digest(), "a refusal changed something"),
        }
    }
    let logbook = Logbook {
        header,
        records,
        is_torn: false,
    };
    (visit, logbook)
}

#[test]
fn a_thousand_streams_of_actions_keep_balances_and_replay_to_the_same_bits() {
    let all = scenarios();
    let strategy = (
        0..all.len(),
        0..1_000_u64,
        prop_oneof![Just(Mode::Practice), Just(Mode::Graded)],
        prop::collection::vec(any_action(), 1..25),
    );
    let mut runner = TestRunner::new_with_rng(
        Config {
            cases: 1_000,
            failure_persistence: None,
            max_shrink_iters: 200,
            ..Config::default()
        },
        TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]),
    );
    let run = runner.run(&strategy, |(index, seed, mode, actions)| {
        let (visit, logbook) = live(&all[index], seed, mode, &actions);
        let before = Visit::begin(&all[index], seed, mode).unwrap();
        let (then, now) = (before.plant().balance(), visit.plant().balance());
        let water = (now.water_m3 - then.water_m3).abs() / now.water_scale_m3;
        let air = (now.air_kg - then.air_kg).abs() / now.air_scale_kg.max(then.air_scale_kg);
        prop_assert!(water < 1e-9, "water off by {water}");
        prop_assert!(air < 1e-9, "air off by {air}");
        let (again, done) = replay(&logbook, &all[index]).unwrap();
        prop_assert_eq!(again.digest(), visit.digest());
        prop_assert_eq!(done.len(), logbook.records.len());
        let report = mark(&all[index], &logbook).unwrap();
        prop_assert_eq!(&report, &mark(&all[index], &logbook).unwrap());
        prop_assert!((0.0..=100.0).contains(&report.total));
        Ok(())
    });
    run.unwrap();
}
