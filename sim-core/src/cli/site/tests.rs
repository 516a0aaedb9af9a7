//! `site`: words, characters and picture against the circuit itself.
//!
//! After a change of sites or words: `INSTA_UPDATE=always cargo test -p sim-core site`, and
//! read the difference.

use std::process::ExitCode;

use super::plan::Plan;
use super::{diagram, ladder};
use crate::cli::plot;
use crate::site::SiteSpec;
use crate::site::shipped;

fn site(line: &str) -> String {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["shortcycle", "site"]
        .into_iter()
        .chain(line.split_whitespace());
    let code = crate::cli::run(args, &mut out, &mut err);
    let err = String::from_utf8(err).unwrap();
    assert_eq!(code, ExitCode::SUCCESS, "{line}: {err}");
    String::from_utf8(out).unwrap()
}

/// The shipped sites, and the cottage with both legs at 240 V.
fn sites() -> Vec<SiteSpec> {
    let read = |name: &str, text: &str| crate::site::parse(name, text).unwrap();
    let mut sites: Vec<SiteSpec> = shipped()
        .iter()
        .map(|shipped| read(&format!("{}.ron", shipped.name), shipped.text))
        .collect();
    let cottage = shipped().iter().find(|s| s.name == "orchard-cottage");
    let text = cottage.unwrap().text.replace("\"115 V\"", "\"240 V\"");
    sites.push(read("orchard-cottage.ron", &text));
    sites
}

#[test]
fn a_cottage_and_a_farm_as_people_read_them() {
    insta::assert_snapshot!(format!(
        "{}\n{}",
        site("orchard-cottage"),
        site("hill-farm")
    ));
}

#[test]
fn picture_and_ladder_name_every_point_of_the_circuit_and_no_other() {
    for site in sites() {
        let plan = Plan::of(&site).unwrap();
        let svg = plot::svg(&diagram::figure(&site, &plan)).unwrap();
        let ladder = ladder::ladder(&plan).join("\n");
        for point in crate::wiring::POINTS {
            let here = plan.points.iter().any(|p| p.name == point.name);
            let drawn = svg.matches(&format!(">{}<", point.name)).count();
            assert_eq!(drawn, usize::from(here), "{} {}", site.name, point.name);
            let rung = format!("o {}", point.name);
            assert_eq!(ladder.matches(&rung).count(), drawn, "{rung}");
        }
    }
}

#[test]
fn both_legs_are_drawn_as_such() {
    let sites = sites();
    let plan = Plan::of(sites.last().unwrap()).unwrap();
    insta::assert_snapshot!(ladder::ladder(&plan).join("\n"));
}

#[test]
fn no_line_of_the_report_is_wider_than_80_columns() {
    for place in shipped() {
        for line in site(place.name).lines().skip(2) {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

#[test]
fn json_has_the_site_and_its_points() {
    let text = site("hill-farm --format json");
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["format"], "shortcycle-site");
    assert_eq!(value["site"]["name"], "hill-farm");
    assert_eq!(value["points"][0]["name"], "panel.line1");
}

#[test]
fn a_picture_is_written_and_named_on_standard_error() {
    let folder = tempfile::tempdir().unwrap();
    for (name, begin) in [("wiring.svg", &b"<svg"[..]), ("wiring.png", b"\x89PNG")] {
        let path = folder.path().join(name);
        site(&format!("garden-shed --diagram {}", path.display()));
        assert!(std::fs::read(&path).unwrap().starts_with(begin));
    }
}
