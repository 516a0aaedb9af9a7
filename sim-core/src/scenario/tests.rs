//! Shipped scenarios, what is drawn from them, what a history leaves, and the reference.

use std::path::Path;

use super::read::all_names;
use super::*;
use crate::faults::{Fault, FaultKind};
use crate::site;

/// Files that lie beside the scenarios and are none.
const BESIDE: [&str; 3] = ["costs", "faults", "faults-pending"];

const REFERENCE: &str = include_str!("../../../docs/scenario-format.md");

fn parse(name: &str, text: &str) -> Scenario {
    Scenario::parse(&format!("{name}.ron"), text, &ShippedSites).unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", lines.join("\n"))
    })
}

fn by_name(name: &str) -> Scenario {
    let shipped = shipped().iter().find(|s| s.name == name).unwrap();
    parse(shipped.name, shipped.text)
}

fn names_in(folder: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../scenarios")
        .join(folder);
    let mut names: Vec<String> = std::fs::read_dir(path)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter_map(|name| name.strip_suffix(".ron").map(str::to_owned))
        .filter(|name| !BESIDE.contains(&name.as_str()))
        .collect();
    names.sort();
    names
}

#[test]
fn every_shipped_scenario_is_listed_and_sound() {
    let scenarios: Vec<Scenario> = shipped().iter().map(|s| parse(s.name, s.text)).collect();
    let mut names: Vec<&str> = scenarios.iter().map(|s| s.name.as_str()).collect();
    assert!(
        scenarios.is_sorted_by_key(|s| (s.level, s.name.clone())),
        "easiest first, then by name: {:?}",
        {
            let mut order: Vec<(u8, &str)> = scenarios
                .iter()
                .map(|s| (s.level, s.name.as_str()))
                .collect();
            order.sort_unstable();
            order
        }
    );
    names.sort_unstable();
    assert_eq!(names, names_in(""));
    for scenario in &scenarios {
        assert!(!scenario.teaching.is_empty(), "{}", scenario.name);
        assert_eq!(scenario.hints.len(), 3, "{}", scenario.name);
        assert!(!scenario.references.is_empty(), "{}", scenario.name);
        for seed in 0..8 {
            let faults = scenario.draw(seed);
            crate::plant::Plant::build(&scenario.site, &faults, scenario.start)
                .unwrap_or_else(|error| panic!("{}: {error}", scenario.name));
        }
    }
}

#[test]
fn every_shipped_site_is_in_the_folder() {
    let names: Vec<&str> = site::shipped().iter().map(|site| site.name).collect();
    assert_eq!(names, names_in("sites"));
}
