//! The reference in docs/site-format.md against the code that it describes.

use super::draft::all_names;
use super::fittings::FITTINGS;
use super::pipe_kinds::PIPE_KINDS;
use super::{Problem, parse};
use crate::file::quantity::UNITS;

const REFERENCE: &str = include_str!("../../../docs/site-format.md");

#[test]
fn the_reference_names_every_field_unit_pipe_and_fitting() {
    let mut missing = Vec::new();
    let names = all_names()
        .into_iter()
        .chain(UNITS.iter().map(|unit| unit.name()))
        .chain(PIPE_KINDS.iter().map(|kind| kind.names[0]))
        .chain(FITTINGS.iter().map(|(name, _)| *name));
    for name in names {
        if !REFERENCE.contains(&format!("`{name}`")) {
            missing.push(name);
        }
    }
    assert!(
        missing.is_empty(),
        "not in docs/site-format.md: {missing:?}"
    );
}

#[test]
fn the_example_in_the_reference_is_a_site() {
    let (_, after) = REFERENCE.split_once("```ron\n(\n    version").unwrap();
    let (body, _) = after.split_once("```").unwrap();
    let example = format!("(\n    version{body}");
    let site = parse("lane-end.ron", &example).unwrap_or_else(|problems: Vec<Problem>| {
        panic!(
            "{}",
            problems
                .iter()
                .map(|p| format!("{p}\n"))
                .collect::<String>()
        )
    });
    assert_eq!(site.house.fixtures.len(), 2);
}

/// The demo sites are invented, but a pump of theirs could exist.
#[test]
fn demo_pumps_have_curves_that_such_pumps_could_have() {
    use crate::parts::PumpCurve;
    use crate::units::convert::STANDARD_GRAVITY;

    for (name, text) in [
        (
            "orchard-cottage.ron",
            include_str!("../../../scenarios/sites/orchard-cottage.ron"),
        ),
        (
            "hill-farm.ron",
            include_str!("../../../scenarios/sites/hill-farm.ron"),
        ),
    ] {
        let pump = parse(name, text).unwrap().pump;
        let PumpCurve::Points(points) = &pump.curve else {
            panic!("{name}: a file gives points");
        };
        let best_efficiency = points
            .iter()
            .map(|point| {
                1000.0 * STANDARD_GRAVITY * point.flow.si() * point.head.si() / point.power.si()
            })
            .fold(0.0, f64::max);
        assert!(
            (0.35..0.55).contains(&best_efficiency),
            "{name}: {best_efficiency}"
        );
        assert!(points.is_sorted_by(|a, b| a.power < b.power), "{name}");
        for point in points {
            let npsh_m = point.npsh_required.si();
            assert!((1.5..=4.0).contains(&npsh_m), "{name}: {npsh_m}");
        }
        let inertia = pump.rotor_inertia.si();
        assert!((3e-4..=1.5e-3).contains(&inertia), "{name}: {inertia}");
    }
}
