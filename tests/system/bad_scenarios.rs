//! A scenario file is untrusted input, and so is the site file that it names: any byte
//! string gives a scenario or a list of problems, each with its file, place, part and what
//! would be accepted.
//!
//! The broken scenarios are edits of a valid template in `tests/data/broken-scenarios`; the
//! golden list of their problems is for people to read.  Update it with
//! `INSTA_UPDATE=always` when wording or template changed on purpose.

use std::fmt::Write as _;
use std::path::Path;

use proptest::prelude::*;
use sim_core::scenario::{Scenario, ShippedSites, SiteFile, Sites, shipped};
use sim_core::site::Problem;

use super::bad_input::{Edited, edited_cases, mutate, mutation};

const TEMPLATE: &str = include_str!("../data/broken-scenarios/template.ron");

fn parse(text: &[u8]) -> Result<Scenario, Vec<Problem>> {
    Scenario::parse("template.ron", text, &ShippedSites)
}

fn apply(case: &Edited) -> String {
    case.edits
        .iter()
        .fold(TEMPLATE.to_owned(), |text, (old, new)| {
            assert_eq!(
                text.matches(old.as_str()).count(),
                1,
                "{}: {old:?}",
                case.name
            );
            text.replace(old.as_str(), new)
        })
}

/// What holds of every list of problems.
fn assert_well_formed(name: &str, problems: &[Problem]) {
    assert!(!problems.is_empty(), "{name} is accepted");
    assert!(problems.len() <= 202, "{name}: {} problems", problems.len());
    for problem in problems {
        let shown = problem.to_string();
        assert!(problem.line > 0 && problem.column > 0, "{name}: {shown}");
        assert!(!problem.part.is_empty(), "{name}: {shown}");
        assert!(!problem.message.is_empty(), "{name}: {shown}");
        assert!(!problem.accepted.is_empty(), "{name}: {shown}");
        // The net under the rule that every refusal says why; nothing falls into it.
        assert!(!shown.contains("could not be read"), "{name}: {shown}");
        assert!(shown.chars().count() < 4000, "{name}: {shown}");
        assert!(!shown.contains('\n'), "{name}: {shown}");
    }
    let places: Vec<_> = problems
        .iter()
        .map(|p| (p.file != problems[0].file, p.line, p.column))
        .collect();
    assert!(places.is_sorted(), "{name}: not in order of file and place");
}

#[test]
fn the_template_is_valid() {
    let scenario = parse(TEMPLATE.as_bytes()).unwrap_or_else(|p| panic!("{p:?}"));
    assert_eq!(scenario.name, "template");
}

#[test]
fn every_broken_scenario_is_refused_with_messages_that_help() {
    let list = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/broken-scenarios/edits.txt");
    let cases = edited_cases(&list);
    assert!(cases.len() >= 40, "only {} broken scenarios", cases.len());
    let mut shown = String::new();
    for case in &cases {
        let problems = parse(apply(case).as_bytes()).err().unwrap_or_default();
        assert_well_formed(&case.name, &problems);
        writeln!(shown, "== {}", case.name).unwrap();
        for problem in &problems {
            writeln!(shown, "{problem}").unwrap();
        }
    }
    insta::assert_snapshot!("broken_scenarios", shown);
}

/// A folder with one site file that is broken.
struct BrokenSite;

impl Sites for BrokenSite {
    fn site_file(&self, _: &str) -> Result<SiteFile, String> {
        let text = ShippedSites.site_file("orchard-cottage")?;
        let text = String::from_utf8(text.bytes).map_err(|error| error.to_string())?;
        Ok(SiteFile {
            file: "orchard-cottage.ron".to_owned(),
            bytes: text.replace("poles: 2", "poles: 3").into_bytes(),
        })
    }
}

#[test]
fn each_problem_is_told_in_the_file_where_it_stands() {
    let text = TEMPLATE
        .replace("precharge: \"36 psi\"", "precharge: \"900 psi\"")
        .replace("level: 2", "level: 0");
    let problems = Scenario::parse("template.ron", text, &BrokenSite).unwrap_err();
    let places: Vec<(&str, &str, usize)> = problems
        .iter()
        .map(|p| (p.file.as_str(), p.part.as_str(), p.line))
        .collect();
    let poles = 1 + include_str!("../../scenarios/sites/orchard-cottage.ron")
        .lines()
        .position(|line| line.contains("poles"))
        .unwrap();
    assert_eq!(
        places,
        [
            ("template.ron", "level", 6),
            ("template.ron", "tank.precharge", 9),
            ("orchard-cottage.ron", "motor.poles", poles),
        ]
    );
}

#[test]
fn huge_and_deeply_nested_scenarios_are_refused_at_once() {
    for piece in [
        "(a: ",
        "[",
        "(overrides: ",
        "(overrides: (tank: ",
        "Some(",
        "\"",
        "r#\"",
    ] {
        let text = piece.repeat((1 << 20) / piece.len());
        assert_well_formed(piece, &parse(text.as_bytes()).unwrap_err());
    }
    let wide = format!(
        "{}overrides: ({}))",
        "(site: \"hill-farm\", ",
        "a: 1, ".repeat(9_000)
    );
    assert_well_formed("wide", &parse(wide.as_bytes()).unwrap_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn a_spoilt_scenario_is_refused_in_good_order_or_is_a_scenario(
        which in any::<prop::sample::Index>(),
        mutations in prop::collection::vec(mutation(), 1..8),
        seed in any::<u64>(),
    ) {
        let original = which.get(shipped());
        let text = mutate(original.text.as_bytes().to_vec(), &mutations);
        let file = format!("{}.ron", original.name);
        match Scenario::parse(&file, &text, &ShippedSites) {
            Err(problems) => assert_well_formed(original.name, &problems),
            Ok(scenario) => {
                // What is drawn suits the site and lies in range.
                for fault in scenario.draw(seed) {
                    let info = fault.info();
                    let own = fault.severity / info.si_per_unit;
                    let (low, high) = info.range;
                    let slack = 1e-9 * high.abs();
                    prop_assert!(own >= low - slack && own <= high + slack);
                    prop_assert!(info.needs.iter().all(|need| need.is_met_by(&scenario.site)));
                }
                let text = String::from_utf8(text).unwrap();
                prop_assert!(ron::from_str::<ron::Value>(&text).is_ok());
            }
        }
    }

    #[test]
    fn any_bytes_are_no_scenario(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        assert_well_formed("bytes", &parse(&bytes).unwrap_err());
    }
}
