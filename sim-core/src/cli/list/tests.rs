//! `list`: what people and programs read.
//!
//! After a change of scenarios or words: `INSTA_UPDATE=always cargo test -p sim-core list`,
//! and read the difference.

use super::*;

fn list(format: Format, columns: usize) -> String {
    let mut out = Vec::new();
    run_at(&ListArgs { format }, columns, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn scenarios_and_sites_as_people_read_them() {
    insta::assert_snapshot!("wide", list(Format::Text, WIDE));
    insta::assert_snapshot!("narrow", list(Format::Text, NARROW));
}

#[test]
fn no_line_is_wider_than_the_screen() {
    for columns in [NARROW, WIDE] {
        for line in list(Format::Text, columns).lines() {
            assert!(line.chars().count() <= columns, "{line}");
        }
    }
}

#[test]
fn json_has_every_scenario_and_every_site() {
    let value: serde_json::Value = serde_json::from_str(&list(Format::Json, WIDE)).unwrap();
    assert_eq!(value["format"], "shortcycle-list");
    let count = |key: &str| value[key].as_array().unwrap().len();
    assert_eq!(count("scenarios"), scenario::shipped().len());
    assert_eq!(count("sites"), site::shipped().len());
    let digest = value["scenarios"][0]["digest"].as_str().unwrap();
    assert_eq!(digest.len(), 16);
}

/// What is hidden must not be told.
#[test]
fn the_list_names_no_fault() {
    let text = list(Format::Text, WIDE) + &list(Format::Json, WIDE);
    for info in crate::faults::kinds() {
        assert!(!text.contains(info.name), "{}", info.name);
    }
}
