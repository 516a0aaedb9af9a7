//! The engine's own promises on a shipped site; whole-system tests live in `tests/`.

use super::*;
use crate::faults::{Fault, FaultKind};
use crate::site::SiteSpec;
use crate::units::convert::PSI;
use crate::units::{Pascals, Seconds};

pub(super) fn cottage() -> SiteSpec {
    crate::site::parse(
        "orchard-cottage.ron",
        include_str!("../../../scenarios/sites/orchard-cottage.ron"),
    )
    .unwrap()
}

pub(super) fn seconds(s: f64) -> Tick {
    Tick::at_or_after(Seconds(s))
}

pub(super) fn value(plant: &Plant, name: &str) -> f64 {
    let i = crate::trace::CHANNELS
        .iter()
        .position(|c| c.name == name)
        .unwrap();
    plant.sample().values[i]
}

pub(super) fn hose_bib(plant: &Plant) -> usize {
    let fixtures = &plant.site().house.fixtures;
    fixtures.iter().position(|f| f.name == "hose-bib").unwrap()
}

#[test]
fn a_charged_healthy_plant_rests() {
    let mut plant = Plant::build(&cottage(), &[], Start::Charged).unwrap();
    plant.advance_to(seconds(86_400.0)).unwrap();
    assert_eq!(plant.totals().pump_starts, 0);
    assert!((value(&plant, "tee_pressure") / PSI - 60.0).abs() < 1e-6);
    assert!(plant.work().accepted < 60, "{:?}", plant.work());
}

#[test]
fn a_draw_starts_the_pump_and_it_stops_again() {
    let mut plant = Plant::build(&cottage(), &[], Start::Charged).unwrap();
    let fixture = hose_bib(&plant);
    plant
        .apply(Command::SetFixture {
            fixture,
            opening: 1.0,
        })
        .unwrap();
    plant.advance_to(seconds(60.0)).unwrap();
    assert!(plant.is_powered());
    plant
        .apply(Command::SetFixture {
            fixture,
            opening: 0.0,
        })
        .unwrap();
    plant.advance_to(seconds(300.0)).unwrap();
    assert!(!plant.is_powered());
    assert_eq!(plant.totals().pump_starts, 1);
    let kinds: Vec<EventKind> = plant.events().iter().map(|e| e.kind).collect();
    assert_eq!(
        kinds,
        [
            EventKind::ContactsClosed,
            EventKind::PumpStarted,
            EventKind::CheckOpened,
            EventKind::StartSwitchOpened,
            EventKind::ContactsOpened,
            EventKind::PumpStopped,
            EventKind::CheckShut,
            EventKind::ShaftStopped,
        ]
    );
}

#[test]
fn a_refused_command_changes_nothing() {
    let mut plant = Plant::build(&cottage(), &[], Start::Charged).unwrap();
    plant.advance_to(seconds(3.0)).unwrap();
    let before = plant.digest();
    for command in [
        Command::SetDrain(1.5),
        Command::SetHouseValve(f64::NAN),
        Command::SetFixture {
            fixture: 99,
            opening: 1.0,
        },
        Command::AdjustSwitch {
            cut_in: Pascals(60.0 * PSI),
            cut_out: Pascals(40.0 * PSI),
        },
    ] {
        assert!(plant.apply(command).is_err(), "{command:?}");
        assert_eq!(plant.digest(), before, "{command:?}");
    }
}

#[test]
fn the_needle_hangs_back_by_its_stiction() {
    let mut site = cottage();
    site.wall.gauge.stiction = Pascals(2.0 * PSI);
    let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
    let fixture = hose_bib(&plant);
    plant
        .apply(Command::SetFixture {
            fixture,
            opening: 0.2,
        })
        .unwrap();
    plant.advance_to(seconds(20.0)).unwrap();
    let lag = value(&plant, "gauge_pressure") - value(&plant, "tee_pressure");
    assert!((lag / PSI - 2.0).abs() < 0.1, "{}", lag / PSI);
}

#[test]
fn a_fault_of_a_part_that_is_not_there_is_refused() {
    let mut site = cottage();
    site.pump_check = None;
    let fault = Fault::usual(FaultKind::CheckValveWeeping);
    let error = Plant::build(&site, &[fault], Start::Charged).unwrap_err();
    assert!(error.to_string().contains("check valve"), "{error}");
}

#[test]
fn a_tick_that_reaches_a_time_does_not_lie_before_it() {
    // A step that ended between a tick and its rounded product once held up
    // `advance_until` for ever.
    for tick in (1..100_000).map(Tick) {
        for time in [
            tick.seconds(),
            tick.seconds().next_up(),
            tick.seconds().next_down(),
        ] {
            assert!(Tick::reaching(time).seconds() >= time, "{time}");
        }
    }
}
