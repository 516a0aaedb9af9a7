//! Published values, each asserted at its own tolerance.
//!
//! `tests/data/check-values.csv` holds what books, standards and closed forms say;
//! the files here say how the library comes by the same quantity.  Neither may have
//! an entry that the other lacks.  `docs/validation.md` is the same comparison written
//! out for people.
//!
//! A tolerance is part of the row, not of the test: a row that fails means that the
//! library, or the row, is wrong.

mod atmosphere;
mod bracket;
mod check;
mod demand;
mod integrate;
mod motor;
mod numerics;
mod page;
mod pipes;
mod pumps;
mod row;
mod safety;
mod tanks;
mod water;
mod wiring;

use check::Check;
use row::{Confidence, Row};

/// Every check there is, in no particular order.
fn all_checks() -> Vec<Check> {
    let mut checks = water::checks();
    checks.extend(atmosphere::checks());
    checks.extend(pipes::checks());
    checks.extend(pumps::checks());
    checks.extend(tanks::checks());
    checks.extend(demand::checks());
    checks.extend(numerics::checks());
    checks.extend(wiring::checks());
    checks.extend(safety::checks());
    checks.extend(motor::checks());
    checks
}

/// Rows with their checks, in the order of the file; rows without a check are left out
/// (one of the tests looks for those).
fn pairs() -> Vec<(Row, Check)> {
    let mut checks = all_checks();
    row::load()
        .into_iter()
        .filter_map(|row| {
            let at = checks.iter().position(|check| check.id == row.id)?;
            Some((row, checks.swap_remove(at)))
        })
        .collect()
}

#[test]
#[expect(
    clippy::print_stdout,
    reason = "rows that rest on memory must be told apart in the output"
)]
fn every_published_value_is_met_at_its_own_tolerance() {
    let mut misses = Vec::new();
    for (row, check) in pairs() {
        let ours = check.values();
        let met = row.is_met_by(&ours);
        let memory = match row.confidence {
            Confidence::Memory => " [published value from memory, no text seen]",
            Confidence::ReadPrimary | Confidence::ReadSecondary | Confidence::Computed => "",
        };
        let line = format!(
            "{}: {} ({}): published {} {}, ours {:?}, tolerance {} ({}), source {} ({}){memory}",
            row.id,
            row.quantity,
            row.inputs,
            row.expected_text,
            row.units,
            ours,
            row.tolerance_text,
            row.tolerance_reason,
            row.source,
            row.confidence_text,
        );
        println!("{} {line}", if met { "ok  " } else { "MISS" });
        if !met {
            misses.push(line);
        }
    }
    assert!(misses.is_empty(), "not met:\n{}", misses.join("\n"));
}

#[test]
fn every_row_has_one_check_and_every_check_has_one_row() {
    let mut rows: Vec<String> = row::load().into_iter().map(|row| row.id).collect();
    let mut checks: Vec<String> = all_checks()
        .into_iter()
        .map(|check| check.id.to_owned())
        .collect();
    rows.sort();
    checks.sort();
    assert_eq!(
        rows, checks,
        "left: rows of tests/data/check-values.csv; right: checks of tests/system/published"
    );
    let doubled = rows.windows(2).find(|pair| pair[0] == pair[1]);
    assert_eq!(doubled, None, "a row stands in the file twice");
}

#[test]
fn the_old_empirical_pipe_formula_stays_within_ten_percent_of_ours() {
    let ratio = pipes::hazen_williams_ft_per_100_ft() / pipes::plastic_ft_per_100_ft();
    assert!((0.9..1.1).contains(&ratio), "{ratio}");
}

#[test]
fn the_validation_page_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/validation.md");
    let fresh = page::render(&pairs());
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(path, &fresh).expect("docs/ can be written");
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        committed == fresh,
        "docs/validation.md is not what the checks give now; look at the change, then run\n    \
         UPDATE_DOCS=1 cargo test -p system-tests validation_page\nand commit the file"
    );
}
