//! `faults`: list, page, JSON and slips.
//!
//! After a change of words or catalogue: `INSTA_UPDATE=always cargo test -p sim-core faults`,
//! and read the difference.

use clap::Parser;

use super::*;
use crate::cli::args::{Cli, Command};

fn faults_at(line: &str, columns: usize) -> Result<String> {
    let words = ["shortcycle", "faults"]
        .into_iter()
        .chain(line.split_whitespace());
    let Command::Faults(args) = Cli::try_parse_from(words)?.command else {
        panic!("not the subcommand `faults`: {line}");
    };
    let mut out = Vec::new();
    run_at(&args, columns, &mut out)?;
    Ok(String::from_utf8(out)?)
}

fn faults(line: &str) -> String {
    faults_at(line, WIDE).unwrap()
}

#[test]
fn the_list_has_every_fault_once_and_keeps_to_its_columns() {
    for columns in [WIDE, NARROW] {
        let list = faults_at("", columns).unwrap();
        for entry in Catalog::shipped().entries() {
            let rows = list.lines().filter(|line| {
                let mut words = line.split_whitespace();
                words.next() == Some(entry.name())
            });
            assert_eq!(rows.count(), 1, "{}", entry.name());
        }
        for line in list.lines() {
            assert!(line.chars().count() <= columns, "{line}");
            assert_eq!(line, line.trim_end());
        }
    }
}

#[test]
fn the_faults_of_a_part_are_listed() {
    insta::assert_snapshot!(format!(
        "{}\n{}",
        faults("check_valve"),
        faults_at("splice", NARROW).unwrap()
    ));
}

#[test]
fn a_fault_is_told_whole() {
    insta::assert_snapshot!(format!(
        "{}\n{}\n{}",
        faults("house.leak"),
        faults("house.leak --units si"),
        faults("earth.open")
    ));
}

#[test]
fn no_line_of_any_page_is_wider_than_80_columns() {
    for entry in Catalog::shipped().entries() {
        for line in faults(entry.name()).lines() {
            assert!(line.chars().count() <= NARROW, "{line}");
        }
    }
}

#[test]
fn json_is_si_and_has_every_field() {
    insta::assert_snapshot!(faults("house.leak --format json"));
    let value: serde_json::Value = serde_json::from_str(&faults("--format json")).unwrap();
    let n_entries = value["entries"].as_array().unwrap().len();
    assert_eq!(n_entries, Catalog::shipped().entries().len());
}

#[test]
fn a_slip_is_answered_with_what_is_near() {
    let refused = |line| faults_at(line, WIDE).unwrap_err().to_string();
    insta::assert_snapshot!(
        [
            "check_valve.weping",
            "spice",
            "wall_manifold",
            "poltergeist"
        ]
        .map(refused)
        .join("\n")
    );
}
