//! Dangerous acts stop the exercise, and nothing safe is taken for one.

use std::sync::Arc;

use sim_core::scenario::{Role, Scenario, ShippedSites, shipped};
use sim_core::session::{
    Action, Cover, HazardKind, Mode, Moment, Probe, Refusal, Station, Tool, Visit,
};

/// The first scenario with everything in the kit.
fn scenario(role: Role) -> Arc<Scenario> {
    // A healthy system, so that nothing but the act is dangerous.
    let first = shipped()
        .iter()
        .find(|s| s.name == "worried-owner")
        .unwrap();
    let file = format!("{}.ron", first.name);
    let mut scenario = Scenario::parse(&file, first.text, &ShippedSites).unwrap();
    scenario.role = role;
    scenario.kit = Tool::ALL.to_vec();
    Arc::new(scenario)
}

fn visit(role: Role) -> Visit {
    Visit::begin(&scenario(role), 1, Mode::Graded).unwrap()
}

fn go(to: Station) -> Action {
    Action::Go { to }
}

fn open(cover: Cover) -> Action {
    Action::OpenCover { cover }
}

fn measure(meter: Probe, from: &str, to: &str) -> Action {
    Action::Measure {
        meter,
        from: from.to_owned(),
        to: Some(to.to_owned()),
        moment: Moment::Now,
    }
}

/// Does all of it; the last action's hazard.
fn hazard(role: Role, actions: &[Action]) -> Option<HazardKind> {
    let mut visit = visit(role);
    let mut last = None;
    for (index, action) in actions.iter().enumerate() {
        let outcome = visit
            .perform(action)
            .unwrap_or_else(|refusal| panic!("{action:?}: {refusal}"));
        last = outcome.hazard.map(|hazard| hazard.kind);
        let is_last = index + 1 == actions.len();
        assert!(is_last || last.is_none(), "{action:?}: {last:?}");
    }
    if last.is_some() {
        assert!(visit.is_over(), "a graded visit goes on after a hazard");
        assert_eq!(visit.perform(&Action::Listen), Err(Refusal::Over));
    }
    last
}

#[test]
fn nobody_enters_the_source() {
    let entered = hazard(Role::Qualified, &[go(Station::Source), Action::EnterSource]);
    assert_eq!(entered, Some(HazardKind::ConfinedSpace));
}

#[test]
fn an_apprentice_opens_no_live_cover() {
    let opened = hazard(Role::Apprentice, &[open(Cover::Switch)]);
    assert_eq!(opened, Some(HazardKind::LiveWorkUnprotected));
    let dressed = hazard(
        Role::Apprentice,
        &[Action::DressForLiveWork, open(Cover::Switch)],
    );
    assert_eq!(dressed, Some(HazardKind::LiveWorkUnprotected));
}

#[test]
fn asking_a_qualified_person_is_always_allowed_and_makes_live_readings_possible() {
    let asked = hazard(
        Role::Apprentice,
        &[
            Action::CallQualified,
            open(Cover::Switch),
            measure(Probe::Volts, "switch.line1", "switch.line2"),
        ],
    );
    assert_eq!(asked, None);
}

#[test]
fn a_qualified_person_dresses_first() {
    assert_eq!(
        hazard(Role::Qualified, &[open(Cover::Switch)]),
        Some(HazardKind::LiveWorkUnprotected)
    );
    assert_eq!(
        hazard(
            Role::Qualified,
            &[Action::DressForLiveWork, open(Cover::Switch)]
        ),
        None
    );
}

#[test]
fn ohms_on_a_circuit_that_is_merely_off_is_a_breach() {
    let off = [
        go(Station::Panel),
        Action::SetBreaker { on: false },
        go(Station::Wall),
        Action::DressForLiveWork,
        open(Cover::Switch),
        measure(Probe::Ohms, "switch.line1", "switch.load1"),
    ];
    assert_eq!(
        hazard(Role::Qualified, &off),
        Some(HazardKind::NotProvedDead)
    );
    let live = [
        Action::DressForLiveWork,
        open(Cover::Switch),
        measure(Probe::Ohms, "switch.line1", "switch.load1"),
    ];
    assert_eq!(
        hazard(Role::Qualified, &live),
        Some(HazardKind::MeterOnLiveCircuit)
    );
}

#[test]
fn locked_out_and_proved_dead_ohms_are_fine() {
    let proved = [
        go(Station::Panel),
        Action::LockOut,
        go(Station::Wall),
        open(Cover::Switch),
        Action::ProveDead,
        measure(Probe::Ohms, "switch.line1", "switch.load1"),
    ];
    assert_eq!(hazard(Role::Apprentice, &proved), None);
}

#[test]
fn leads_are_taken_apart_dead_and_proved_only() {
    let unproved = [
        go(Station::Panel),
        Action::LockOut,
        go(Station::Splice),
        open(Cover::Splice),
        Action::TakeLeadsApart,
    ];
    assert_eq!(
        hazard(Role::Qualified, &unproved),
        Some(HazardKind::NotProvedDead)
    );
}

#[test]
fn a_fitting_under_pressure_is_not_loosened() {
    use sim_core::catalog::PartId;
    let under_pressure = [
        go(Station::Panel),
        Action::LockOut,
        go(Station::Wall),
        Action::Replace {
            part: PartId::Gauge,
        },
    ];
    assert_eq!(
        hazard(Role::Qualified, &under_pressure),
        Some(HazardKind::StoredPressure)
    );
}

#[test]
fn a_hand_on_live_terminals_is_a_shock_and_on_a_closed_cover_is_not() {
    use sim_core::catalog::PartId;
    let feel = Action::Feel {
        part: PartId::PressureSwitch,
    };
    let bare = [Action::DressForLiveWork, open(Cover::Switch), feel.clone()];
    assert_eq!(
        hazard(Role::Qualified, &bare),
        Some(HazardKind::LiveContact)
    );
    assert_eq!(hazard(Role::Apprentice, &[feel]), None);
}

#[test]
fn air_above_the_tanks_rating_is_not_pumped_in() {
    let burst = [Action::SetAir { pressure: 1.2e6 }];
    assert_eq!(
        hazard(Role::Qualified, &burst),
        Some(HazardKind::TankOverpressure)
    );
}

#[test]
fn a_pump_is_not_pulled_alone() {
    let alone = [go(Station::Source), open(Cover::Source), Action::PullPump];
    assert_eq!(
        hazard(Role::Qualified, &alone),
        Some(HazardKind::LiftedAlone)
    );
}

#[test]
fn a_practice_stops_at_a_hazard_and_goes_back_but_keeps_it_in_mind() {
    let scenario = scenario(Role::Apprentice);
    let mut visit = Visit::begin(&scenario, 1, Mode::Practice).unwrap();
    visit.perform(&Action::ReadGauge).unwrap();
    let outcome = visit.perform(&open(Cover::Switch)).unwrap();
    assert!(outcome.hazard.is_some() && !visit.is_over());
    assert!(matches!(
        visit.perform(&Action::ReadGauge),
        Err(Refusal::First(_))
    ));
    visit.perform(&Action::Undo).unwrap();
    visit.perform(&Action::ReadGauge).unwrap();
    assert_eq!(visit.hazards().len(), 1);
}

#[test]
fn there_is_no_undo_in_a_graded_visit() {
    let mut visit = visit(Role::Apprentice);
    visit.perform(&Action::ReadGauge).unwrap();
    assert!(matches!(
        visit.perform(&Action::Undo),
        Err(Refusal::PracticeOnly { .. })
    ));
}
