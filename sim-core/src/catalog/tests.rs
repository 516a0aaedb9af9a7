//! The shipped catalogue, and what becomes of files that are none.

use proptest::prelude::*;

use super::*;
use crate::faults::kinds;

const SHIPPED: &str = include_str!("../../../scenarios/faults.ron");

fn problems(text: &str) -> Vec<String> {
    let problems = Catalog::parse("f.ron", text).unwrap_err();
    problems.iter().map(ToString::to_string).collect()
}

/// The shipped entry of the weeping check valve alone, with a replacement made in it.
fn edited(from: &str, to: &str) -> String {
    let start = SHIPPED
        .find("        (\n            kind: \"check_valve.weeping\"")
        .unwrap();
    let end = start + SHIPPED[start..].find("\n        ),\n").unwrap();
    let entry = &SHIPPED[start..end];
    assert_eq!(entry.matches(from).count(), 1, "{from}");
    format!("(version: 1, entries: [\n{}\n)])", entry.replace(from, to))
}

#[test]
fn the_shipped_catalogue_is_read() {
    if let Err(problems) = Catalog::parse("faults.ron", SHIPPED) {
        let shown: Vec<String> = problems.iter().map(|p| format!("{p}\n")).collect();
        panic!("{}", shown.concat());
    }
    assert_eq!(Catalog::shipped(), Catalog::parse("x", SHIPPED).unwrap());
}

#[test]
fn every_kind_has_an_entry_and_every_entry_a_kind() {
    let catalog = Catalog::shipped();
    for info in kinds() {
        assert!(
            catalog.entry(info.kind).is_some(),
            "no entry: {}",
            info.name
        );
    }
    assert_eq!(catalog.entries().len(), kinds().count());
}

#[test]
fn every_entry_is_met_somewhere_and_told_from_its_look_alikes() {
    for entry in Catalog::shipped().entries() {
        let Weights { cistern, well, jet } = entry.weight;
        assert!(cistern + well + jet > 0.0, "{}", entry.name());
        assert!(entry.minutes > 0.0, "{}", entry.name());
        for sign in &entry.signs {
            let (by, what) = sign.split_once(": ").unwrap_or(("", sign));
            let known = [
                "gauge",
                "volts",
                "amps",
                "ohms",
                "insulation",
                "sound",
                "sight",
                "touch",
                "flow",
                "timing",
                "air valve",
            ];
            assert!(known.contains(&by) && !what.is_empty(), "{sign}");
        }
    }
}

#[test]
fn the_usual_severity_is_the_one_taken_when_none_is_given() {
    for entry in Catalog::shipped().entries() {
        let default = entry.kind.info().default;
        assert_eq!(entry.severities.usual, default, "{}", entry.name());
    }
}

#[test]
fn a_demand_is_explained_and_not_repaired() {
    let catalog = Catalog::shipped();
    for entry in catalog.entries() {
        let is_demand = ["house.steady_draw", "house.heavy_draw", "house.small_draws"]
            .contains(&entry.name())
            || ["fixture.too_high", "heater.expansion"].contains(&entry.name());
        assert_eq!(entry.is_demand(), is_demand, "{}", entry.name());
    }
}

#[test]
fn a_lost_earth_has_no_functional_symptom_and_is_restored() {
    let catalog = Catalog::shipped();
    let entry = catalog.entry(crate::faults::FaultKind::EarthOpen).unwrap();
    assert!(entry.mechanism.contains("no functional symptom"));
    assert_eq!(entry.remedies[0], Remedy::Rewire(PartId::Earth));
}

#[test]
fn parts_have_one_name_each_and_find_themselves() {
    for part in PartId::ALL {
        assert_eq!(PartId::from_name(part.name()), Some(*part));
        assert_eq!(
            PartId::ALL
                .iter()
                .filter(|p| p.name() == part.name())
                .count(),
            1
        );
        assert!(PartGroup::ALL.contains(&part.group()));
    }
    assert_eq!(PartId::from_name("flux capacitor"), None);
}

#[test]
fn a_slip_is_told_with_its_place_and_what_is_accepted() {
    let mut shown = String::new();
    for (from, to) in [
        ("\"check_valve.weeping\"", "\"check_valve.wheeping\""),
        (
            "part: \"check_valve\",\n            mech",
            "part: \"chekc_valve\",\n            mech",
        ),
        ("mild: 0.02", "mild: 0"),
        ("usual: 0.13", "usual: 5"),
        ("severe: 1.0", "severe: \"1 gpm\""),
        ("minutes: 45", "minutes: -45"),
        ("cost:", "costs:"),
        ("title: \"check valve weeping\"", "title: \" \""),
        (
            "Replace(part: \"check_valve\")",
            "Repalce(part: \"check_valve\")",
        ),
        ("Replace(part: \"check_valve\")", "Replace"),
        ("cistern: 8", "cistern: 8, boat: 3"),
        ("(kind: \"run.leak\",", "(kind: \"check_valve.weeping\","),
    ] {
        shown += &format!("{to}\n");
        for problem in problems(&edited(from, to)) {
            shown += &format!("  {problem}\n");
        }
    }
    insta::assert_snapshot!(shown);
}

#[test]
fn a_second_entry_and_another_version_are_refused() {
    let once = edited("minutes: 45", "minutes: 40");
    assert_eq!(Catalog::parse("f.ron", &once).unwrap().entries().len(), 1);
    let entry = &once[once.find("[\n").unwrap() + 2..once.rfind("])").unwrap()];
    let twice = format!("(version: 2, entries: [\n{entry},\n{entry}])");
    insta::assert_snapshot!(problems(&twice).join("\n"));
}

#[test]
fn what_is_no_catalogue_is_said_to_be_none() {
    insta::assert_snapshot!(
        [
            "",
            "(version: 1)",
            "(version: 1, entries: [])",
            "[1]",
            "(entries: [(version: 1)]"
        ]
        .map(|text| format!("{text}\n  {}\n", problems(text).join("\n  ")))
        .concat()
    );
}

proptest! {
    #[test]
    fn any_bytes_give_a_catalogue_or_problems(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        if let Err(problems) = Catalog::parse("f.ron", &bytes) {
            prop_assert!(!problems.is_empty());
        }
    }

    #[test]
    fn a_damaged_catalogue_gives_problems_or_a_catalogue(
        at in 0.0..1.0_f64, length in 0_usize..40, put in "[ -~]{0,6}"
    ) {
        let bytes = SHIPPED.as_bytes();
        let start = (at * bytes.len() as f64) as usize;
        let end = (start + length).min(bytes.len());
        let damaged = [&bytes[..start], put.as_bytes(), &bytes[end..]].concat();
        if let Err(problems) = Catalog::parse("f.ron", &damaged) {
            prop_assert!(!problems.is_empty() && problems.len() <= 101);
            prop_assert!(problems.iter().all(|p| !p.accepted.is_empty()));
        }
    }
}
