//! Signatures of faults of the gauge at the wall.

use super::{Case, ORCHARD, case, twins};

pub(super) const CASES: &[Case] = &[
    case(
        "gauge.stuck",
        ORCHARD,
        a_stuck_needle_shows_the_same_with_and_without_pressure,
    ),
    case(
        "gauge.offset",
        ORCHARD,
        an_offset_needle_shows_pressure_where_there_is_none,
    ),
    case(
        "gauge.plugged_snubber",
        ORCHARD,
        a_plugged_snubber_hides_the_swing_from_the_needle,
    ),
];

#[test]
fn a_stuck_needle_shows_the_same_with_and_without_pressure() {
    let (sick, well) = twins("gauge.stuck");
    assert_eq!(
        sick.number("gauge_drained"),
        sick.number("gauge_arrival"),
        "{sick}"
    );
    assert!(well.number("gauge_drained") <= 1.0, "{well}");
    assert!(sick.number("tap_moves").abs() > 5.0, "{sick}");
    // The second gauge follows the pump, as the water does.
    let second = sick.number("tee_static") - sick.number("tee_flowing");
    let sound = well.number("tee_static") - well.number("tee_flowing");
    assert!((second - sound).abs() < 3.0 && second > 1.0, "{sick}");
    assert!(
        (sick.number("flow_widest") / well.number("flow_widest") - 1.0).abs() < 0.1,
        "{sick}"
    );
}

#[test]
fn an_offset_needle_shows_pressure_where_there_is_none() {
    let (sick, well) = twins("gauge.offset");
    // Its sound twin hangs by its stiction up to a psi above the pin.
    let zero = sick.number("gauge_drained") - well.number("gauge_drained");
    assert!((zero - 8.0).abs() <= 1.0, "{sick}");
    // The two gauges are read half a minute apart, while a tank just filled still sags: in
    // the twin as well.
    for port in ["tee_static", "tee_flowing"] {
        let apart =
            |exam: &super::exam::Exam| exam.number(&format!("{port}_wall")) - exam.number(port);
        let off = apart(&sick) - apart(&well);
        assert!((off - 8.0).abs() <= 1.5, "{port} {off}\n{sick}");
        assert!(apart(&well).abs() <= 2.5, "{port}\n{well}");
    }
    assert!(sick.number("tap_moves").abs() <= 2.0, "{sick}");
}

#[test]
fn a_plugged_snubber_hides_the_swing_from_the_needle() {
    let (sick, well) = twins("gauge.plugged_snubber");
    let swing = sick.number("draw_high") - sick.number("draw_low");
    let sound = well.number("draw_high") - well.number("draw_low");
    assert!(swing < 0.6 * sound, "{sick}");
    assert!(sick.number("tap_moves").abs() <= 2.0, "{sick}");
    // Water, run and current are those of a sound system: the needle alone is late.
    assert!(
        (sick.number("run_s") / well.number("run_s") - 1.0).abs() < 0.1,
        "{sick}"
    );
    let second = sick.number("tee_static") - sick.number("tee_static_wall");
    assert!(second > 2.0, "{sick}");
}
