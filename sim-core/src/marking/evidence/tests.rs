use super::*;
use crate::catalog::Catalog;
use crate::marking::rules::tests::{Story, log, reading};
use crate::session::Moment;

#[test]
fn every_part_of_the_catalogue_shows_by_something() {
    for entry in Catalog::shipped().entries() {
        assert!(bears_on(entry.part).len() >= 3, "{}", entry.name());
    }
    for part in PartId::ALL {
        assert!(!bears_on(*part).is_empty(), "{part}");
    }
}

#[test]
fn one_look_at_the_gauge_says_little_of_a_check_valve_and_two_say_more() {
    let mut story = Story::healthy();
    story.then(Action::ReadGauge, reading());
    story.then(Action::Listen, Vec::new());
    let found = |story: &Story, part| story.with_case(|case| support(case, part, u64::MAX));
    assert_eq!(found(&story, PartId::CheckValve), None);
    assert_eq!(found(&story, PartId::HouseValve), Some((1, Kind::Gauge)));
    story.then(Action::TapGauge, reading());
    assert_eq!(
        found(&story, PartId::CheckValve),
        Some((3, Kind::GaugeOverTime))
    );
    assert_eq!(found(&story, PartId::Splice), None);
}

#[test]
fn what_was_undone_is_no_evidence() {
    let mut story = Story::healthy();
    let seconds = 900.0;
    let every = 60.0;
    story.then(Action::LogGauge { seconds, every }, log());
    story.with_case(|case| assert!(support(case, PartId::Tank, 2).is_some()));
    story.then(Action::Undo, Vec::new());
    story.with_case(|case| assert_eq!(support(case, PartId::Tank, u64::MAX), None));
}

#[test]
fn a_reading_counts_before_the_act_only() {
    let mut story = Story::healthy();
    story.then(
        Action::Measure {
            meter: Probe::Volts,
            from: "splice.line1".to_owned(),
            to: Some("splice.line2".to_owned()),
            moment: Moment::Starting,
        },
        reading(),
    );
    story.with_case(|case| {
        assert_eq!(support(case, PartId::Splice, 1), None);
        assert_eq!(support(case, PartId::Splice, 2), Some((1, Kind::Volts)));
        assert_eq!(support(case, PartId::Tank, 2), None);
    });
}

#[test]
fn ohms_of_the_earth_conductor_tell_of_nothing_else() {
    let mut story = Story::healthy();
    story.then(
        Action::Measure {
            meter: Probe::Ohms,
            from: "splice.earth".to_owned(),
            to: Some("pump.frame".to_owned()),
            moment: Moment::Now,
        },
        reading(),
    );
    story.with_case(|case| {
        assert_eq!(support(case, PartId::Motor, 2), None);
        assert_eq!(support(case, PartId::Earth, 2), Some((1, Kind::Ohms)));
    });
}
