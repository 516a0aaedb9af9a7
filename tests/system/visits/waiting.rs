//! Waits end when what is waited for is there already, and work has what comes with it.

use std::sync::Arc;

use sim_core::scenario::Scenario;
use sim_core::session::{Action, Cover, Mode, Outcome, Station, Until, Visit};

fn visit(name: &str) -> Visit {
    let scenario = Arc::new(Scenario::shipped(name).unwrap());
    Visit::begin(&scenario, 1, Mode::Graded).unwrap()
}

fn wait(visit: &mut Visit, until: Until) -> Outcome {
    let at_most = 1_800.0;
    visit
        .perform(&Action::WaitUntil { until, at_most })
        .unwrap()
}

fn does(visit: &mut Visit, actions: &[Action]) {
    for action in actions {
        let outcome = visit.perform(action).unwrap();
        assert_eq!(outcome.hazard, None, "{action:?}");
    }
}

#[test]
fn a_pump_that_rests_has_stopped_and_one_that_runs_has_started() {
    // Nobody draws in this house.
    let mut visit = visit("first-steps");
    let outcome = wait(&mut visit, Until::PumpStops);
    assert_eq!(outcome.seconds, 0.0);
    assert_eq!(outcome.remarks, ["The pump is not running."]);
    does(&mut visit, &[Action::SetDrain { opening: 1.0 }]);
    assert!(wait(&mut visit, Until::PumpStarts).seconds > 0.0);
    let outcome = wait(&mut visit, Until::PumpStarts);
    assert_eq!(outcome.seconds, 0.0);
    assert_eq!(outcome.remarks, ["The pump is running."]);
    assert!(wait(&mut visit, Until::PumpStops).seconds > 0.0);
}

#[test]
fn water_that_runs_solid_is_not_waited_for() {
    let mut visit = visit("first-steps");
    does(&mut visit, &[Action::SetDrain { opening: 1.0 }]);
    assert_eq!(wait(&mut visit, Until::SolidWater).seconds, 0.0);
}

#[test]
fn a_drained_systems_needle_comes_to_nought_on_every_dial() {
    for name in ["first-steps", "quiet-farm", "half-power", "hard-frost"] {
        let mut visit = visit(name);
        does(
            &mut visit,
            &[
                Action::Go { to: Station::Panel },
                Action::LockOut,
                Action::Go { to: Station::Wall },
                Action::SetDrain { opening: 1.0 },
            ],
        );
        let outcome = wait(&mut visit, Until::GaugeBelow(0.0));
        assert!(outcome.seconds < 1_500.0, "{name}: {outcome:?}");
        assert_eq!(outcome.remarks, Vec::<String>::new(), "{name}");
    }
}

#[test]
fn a_pump_lowered_again_has_a_new_splice() {
    let mut visit = visit("dim-lights");
    let is_cured = |visit: &Visit| visit.condition().hidden.iter().all(|h| h.is_cured);
    assert!(!is_cured(&visit));
    does(
        &mut visit,
        &[
            Action::CallHelper,
            Action::Go { to: Station::Panel },
            Action::LockOut,
            Action::Go {
                to: Station::Splice,
            },
            Action::OpenCover {
                cover: Cover::Splice,
            },
            Action::ProveDead,
            Action::Go {
                to: Station::Source,
            },
            Action::OpenCover {
                cover: Cover::Source,
            },
            Action::PullPump,
            Action::LowerPump { vented: true },
        ],
    );
    assert!(is_cured(&visit));
}
