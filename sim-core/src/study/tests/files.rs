//! Study files: what is read, what is refused and how it is told.

use std::fmt::Write;

use proptest::prelude::*;

use super::{Files, study, text};
use crate::study::{Study, shipped};

#[test]
fn every_shipped_study_is_listed_in_order_and_sound() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenarios/studies");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    let listed: Vec<String> = shipped()
        .iter()
        .map(|s| format!("{}.ron", s.name))
        .collect();
    assert_eq!(files, listed);
    for shipped in shipped() {
        let file = format!("{}.ron", shipped.name);
        let study = Study::parse(&file, shipped.text, &Files).unwrap_or_else(|p| panic!("{p:#?}"));
        assert!(
            shipped.text.starts_with("//"),
            "{file} has no header comment"
        );
        for setting in 0..study.n_settings() {
            let case = study.case(setting);
            assert!(case.is_ok(), "{file}, setting {setting}: {case:?}");
        }
    }
}

#[test]
fn settings_are_every_combination_and_ties_follow() {
    let study = study(
        "demand: Nothing, days: 1, vary: [
            List(path: \"wall.pressure_switch.cut_in\", values: [\"30 psi\", \"2 bar\"]),
            Range(path: \"tank.shell_volume\", from: \"25 gal\", to: \"85 gal\", count: 3),
            Tied(path: \"tank.precharge\", to: \"wall.pressure_switch.cut_in\", plus: \"-2 psi\"),
            Tied(path: \"wall.pressure_switch.cut_out\", to: \"wall.pressure_switch.cut_in\",
                plus: \"20 psi\"),
        ]",
    );
    let told: Vec<String> = (0..study.n_settings())
        .map(|setting| {
            let texts: Vec<String> = study.values(setting).into_iter().map(|v| v.text).collect();
            texts.join(", ")
        })
        .collect();
    assert_eq!(
        told,
        [
            "30 psi, 25 gal, 28 psi, 50 psi",
            "30 psi, 55 gal, 28 psi, 50 psi",
            "30 psi, 85 gal, 28 psi, 50 psi",
            "2 bar, 25 gal, 27.007547546 psi, 49.007547546 psi",
            "2 bar, 55 gal, 27.007547546 psi, 49.007547546 psi",
            "2 bar, 85 gal, 27.007547546 psi, 49.007547546 psi",
        ]
    );
    let case = study.case(4).unwrap();
    assert!((case.site.wall.pressure_switch.cut_in.si() - 2.0e5).abs() < 1.0);
}

#[test]
fn lists_of_the_site_are_reached_by_name_and_by_number() {
    let study = study(
        "demand: Nothing, days: 1, vary: [
            List(path: \"house.fixtures.shower.height\", values: [\"20 ft\"]),
            List(path: \"run[2].diameter\", values: [\"3/4 in sch40 pvc\", \"1-1/4 in sch40 pvc\"]),
            List(path: \"wall.pressure_switch.port_lag\", values: [\"1 s\"]),
            List(path: \"source.refill\", values: [\"1 gpm\"]),
            List(path: \"fault.house.leak\", values: [\"0.1 gpm\"]),
            List(path: \"fault.run.leak\", values: [0.1]),
        ]",
    );
    let (narrow, wide) = (study.case(0).unwrap(), study.case(1).unwrap());
    assert!(narrow.site.run[1].inside_diameter.si() < wide.site.run[1].inside_diameter.si());
    let shower = narrow
        .site
        .house
        .fixtures
        .iter()
        .find(|f| f.name == "shower");
    assert!((shower.unwrap().elevation.si() - 6.096).abs() < 1e-9);
    assert_eq!(narrow.site.wall.pressure_switch.port_lag.si(), 1.0);
    assert_eq!(narrow.faults[0].severity, narrow.faults[1].severity);
    assert_eq!(
        study.values(0)[1].si,
        None,
        "a pipe is a choice, not a number"
    );
}

#[test]
fn measured_draws_are_repeated_day_by_day() {
    let study = study(
        "demand: Measured(file: \"draws.csv\"), days: 3,
        vary: [List(path: \"tank.precharge\", values: [\"30 psi\"])]",
    );
    let case = study.case(0).unwrap();
    let schedule = case
        .demand
        .schedule(1, study.days, &case.site.house.fixtures);
    let starts: Vec<u64> = schedule
        .draws()
        .iter()
        .map(|d| d.start_ticks / 50)
        .collect();
    assert_eq!(starts, [7 * 3_600, 31 * 3_600, 55 * 3_600]);
}

#[test]
fn a_combination_that_cannot_be_built_is_refused_for_itself() {
    let study = study(
        "demand: Nothing, days: 1, vary: [
            List(path: \"wall.pressure_switch.cut_in\", values: [\"40 psi\", \"65 psi\"]),
        ]",
    );
    assert!(study.case(0).is_ok());
    insta::assert_snapshot!(
        study.case(1).unwrap_err(),
        @r#"wall.pressure_switch.cut_out: "60 psi" is not above cut_in "65 psi""#
    );
}

#[test]
fn a_latin_hypercube_uses_every_slice_once() {
    let study = study(
        "demand: Nothing, days: 1, samples: LatinHypercube(number: 20, seed: 4), vary: [
            Uniform(path: \"tank.shell_volume\", least: \"30 gal\", most: \"50 gal\"),
            Normal(path: \"tank.precharge\", mean: \"30 psi\", deviation: \"1 psi\"),
        ]",
    );
    let gallon = crate::units::convert::US_GALLON;
    let mut slices: Vec<usize> = (0..study.n_settings())
        .map(|setting| {
            let gallons = study.values(setting)[0].si.unwrap() / gallon;
            (gallons - 30.0) as usize
        })
        .collect();
    assert_ne!(slices, (0..20).collect::<Vec<_>>());
    slices.sort_unstable();
    assert_eq!(slices, (0..20).collect::<Vec<_>>());
}

#[test]
fn monte_carlo_samples_have_the_mean_and_spread_that_were_asked_for() {
    let study = study(
        "demand: Nothing, days: 1, samples: MonteCarlo(number: 4000, seed: 4), vary: [
            Normal(path: \"tank.precharge\", mean: \"30 psi\", deviation: \"2 psi\"),
        ]",
    );
    let psi = crate::units::convert::PSI;
    let values: Vec<f64> = (0..study.n_settings())
        .map(|setting| study.values(setting)[0].si.unwrap() / psi)
        .collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let deviation = (values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / n).sqrt();
    // Three standard errors: 2/sqrt(4000) and 2/sqrt(8000).
    assert!((mean - 30.0).abs() < 0.1, "{mean}");
    assert!((deviation - 2.0).abs() < 0.07, "{deviation}");
}

#[test]
fn a_slip_is_told_with_its_place_and_what_is_accepted() {
    let vary = "vary: [List(path: \"tank.precharge\", values: [\"30 psi\"])]";
    let cases = [
        ("nothing is given", String::new()),
        (
            "an unknown parameter",
            "demand: Nothing, days: 1,
            vary: [List(path: \"wall.pressure_switch.cut_inn\", values: [\"30 psi\"])]"
                .to_owned(),
        ),
        (
            "a path that leads nowhere",
            "demand: Nothing, days: 1, vary: [
                List(path: \"roof.height\", values: [\"3 m\"]),
                List(path: \"run[9].length\", values: [\"3 m\"]),
                List(path: \"house.fixtures.sauna.height\", values: [\"3 m\"]),
                List(path: \"tank.precharge.more\", values: [\"3 m\"]),
                List(path: \"fault.house.leek\", values: [\"3 gpm\"]),
                List(path: \"demand.occupant\", values: [3]),
                List(path: \"tank..precharge\", values: [\"3 psi\"]),
            ]"
            .to_owned(),
        ),
        (
            "values that are none",
            "demand: Nothing, days: 1, vary: [
                List(path: \"tank.precharge\", values: [\"30 gal\", \"900 psi\", \"lots\"]),
                List(path: \"tank.shell_volume\", values: []),
                List(path: \"tank.rated_pressure\", values: 3),
                Range(path: \"altitude\", from: \"0 ft\", to: \"3 psi\", count: 2.5),
            ]"
            .to_owned(),
        ),
        (
            "severities and people that are none",
            "demand: Household(occupants: 2), days: 1, vary: [
                List(path: \"fault.house.leak\", values: [\"0.1 gpm\", \"3 psi\"]),
                List(path: \"fault.run.leak\", values: [0, 0.2, 500]),
                List(path: \"demand.occupants\", values: [\"3 ft\"]),
                List(path: \"demand.garden\", values: [3]),
            ]"
            .to_owned(),
        ),
        (
            "an empty grid",
            "demand: Nothing, days: 1, vary: []".to_owned(),
        ),
        (
            "a million million settings",
            "demand: Nothing, days: 1, vary: [
                Range(path: \"tank.precharge\", from: \"10 psi\", to: \"30 psi\", count: 10000),
                Range(path: \"tank.shell_volume\", from: \"40 gal\", to: \"80 gal\", count: 10000),
                Range(path: \"altitude\", from: \"0 ft\", to: \"300 ft\", count: 10000),
            ]"
            .to_owned(),
        ),
        (
            "a distribution without samples",
            "demand: Nothing, days: 1, vary: [
                Uniform(path: \"tank.shell_volume\", least: \"30 gal\", most: \"40 gal\"),
            ]"
            .to_owned(),
        ),
        (
            "a distribution the wrong way round",
            "demand: Nothing, days: 1, vary: [
                Uniform(path: \"tank.precharge\", least: \"30 psi\", most: \"20 psi\"),
            ]"
            .to_owned(),
        ),
        (
            "samples without distributions",
            format!("demand: Nothing, days: 1, samples: MonteCarlo(number: 5), {vary}"),
        ),
        (
            "ties that do not hold",
            "demand: Nothing, days: 1, vary: [
                Tied(path: \"tank.precharge\", to: \"wall.pressure_switch.cut_in\"),
                List(path: \"tank.shell_volume\", values: [\"40 gal\"]),
                Tied(path: \"altitude\", to: \"tank.shell_volume\", plus: \"3 ft\"),
                List(path: \"tank.shell_volume\", values: [\"40 gal\"]),
            ]"
            .to_owned(),
        ),
        (
            "limits and preferences that are none",
            format!(
                "demand: Nothing, days: 1, {vary}, limits: [
                    Pressure(fixture: \"sauna\", least: \"20 psi\"),
                    RunTime(least: \"20 psi\"),
                    Quietness(),
                    StartsPerDay(most: 0),
                ], prefer: [Least(of: \"starts\"), Best(of: \"energy\")]"
            ),
        ),
        (
            "a household that cannot be",
            format!(
                "demand: Household(occupants: -1, garden: \"3 psi\", livestock: [
                    (name: \"sheep\", head: 3, each: \"2 gpd\"),
                ]), years: 1, days: 3, seeds: 1.5, {vary}"
            ),
        ),
        (
            "draws that are not there",
            format!("demand: Measured(file: \"nowhere.csv\"), days: 1, {vary}"),
        ),
        (
            "draws that are wrong",
            format!("demand: Measured(file: \"broken.csv\"), days: 1, {vary}"),
        ),
        (
            "a site that is not there",
            format!("demand: Nothing, days: 1, {vary}"),
        ),
        (
            "a fault with a range",
            format!(
                "demand: Nothing, days: 1, {vary}, faults: [
                    (fault: \"house.leak\", severity: (from: \"0.1 gpm\", to: \"1 gpm\")),
                ]"
            ),
        ),
    ];
    let mut told = String::new();
    for (what, body) in cases {
        writeln!(told, "{what}").unwrap();
        let mut text = text(&body);
        if what == "a site that is not there" {
            text = text.replace("orchard-cottage", "orchid-cottage");
        }
        let problems = match Study::parse("a-study.ron", &text, &Files) {
            Ok(_) => panic!("{what} is accepted"),
            Err(problems) => problems,
        };
        assert!(!problems.is_empty());
        for problem in problems {
            let shown: String = problem.to_string().chars().take(300).collect();
            writeln!(told, "  {shown}").unwrap();
        }
    }
    insta::assert_snapshot!(told);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Any damage to a good file gives a study or problems, and every problem has a place
    /// in some file.
    #[test]
    fn a_damaged_file_never_panics(
        which in 0..4_usize,
        from in 0.0..1.0_f64,
        length in 0..40_usize,
        put in "[(),:\\[\\]\"a-z0-9. -]{0,12}",
    ) {
        let text = shipped()[which].text;
        let mut chars: Vec<char> = text.chars().collect();
        let at = (from * chars.len() as f64) as usize;
        let end = (at + length).min(chars.len());
        chars.splice(at..end, put.chars());
        let damaged: String = chars.into_iter().collect();
        if let Err(problems) = Study::parse("x", damaged, &Files) {
            prop_assert!(!problems.is_empty());
            for problem in problems {
                prop_assert!(problem.line >= 1 && problem.column >= 1);
            }
        }
    }
}

/// The reference against the code that it describes.
const REFERENCE: &str = include_str!("../../../../docs/study-format.md");

#[test]
fn the_reference_names_every_field_choice_and_result() {
    let names = crate::study::read::every_name()
        .into_iter()
        .chain(crate::study::MEASURES.iter().map(|measure| measure.name));
    let missing: Vec<&str> = names
        .filter(|name| {
            let places = [
                format!("`{name}`"),
                format!("`{name}("),
                format!("({name}: "),
                format!(" {name}: "),
                format!("\"{name}\""),
            ];
            !places.iter().any(|place| REFERENCE.contains(place))
        })
        .collect();
    assert!(
        missing.is_empty(),
        "not in docs/study-format.md: {missing:?}"
    );
}

#[test]
fn the_references_example_is_a_study() {
    let example = REFERENCE
        .split("```ron\n")
        .nth(1)
        .and_then(|rest| rest.split("```").next())
        .unwrap();
    let study = Study::parse("a-study.ron", example, &Files).unwrap_or_else(|p| panic!("{p:#?}"));
    assert_eq!(study.n_settings(), 6);
    for setting in 0..study.n_settings() {
        assert!(study.case(setting).is_ok());
    }
}
