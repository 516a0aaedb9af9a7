//! `docs/validation.md`, written from the same rows and checks that the tests assert.

use std::fmt::Write as _;

use super::check::Check;
use super::row::{Row, Tolerance};

const INTRODUCTION: &str = "\
# Validation: published values and ours

Every row below is a value that someone else published, or that follows from a closed form, beside the value that this library gives.
Each is asserted by a test at the tolerance in its last column; a tolerance belongs to its row and is not widened to make a row pass.
The rows, with their inputs and the reason for each tolerance, are in `tests/data/check-values.csv`; how ours is computed is in `tests/system/published`.

This page is generated.
When a test says that it is stale, look at what changed, run `UPDATE_DOCS=1 cargo test -p system-tests validation_page` and commit it.

How far a published value can be trusted:

| Class | Meaning |
|---|---|
| READ-PRIMARY | The cited source itself was read, at least in excerpt. |
| READ-SECONDARY | The value was read in a copy or quotation; the standard or book itself was not seen. |
| COMPUTED | The value was recomputed independently: with another open library, or a closed form. Where the inputs come from a book's example, the book's printed answer is from memory unless the row says otherwise. |
| MEMORY | Not confirmed in any text. Such a row pins a number, it does not confirm it. |

The error is relative or absolute as the tolerance is; \"< x\" means that it is below a thousandth of the tolerance.
";

/// The whole page.
pub(super) fn render(pairs: &[(Row, Check)]) -> String {
    let mut page = String::from(INTRODUCTION);
    let mut section = "";
    let mut notes = String::new();
    for (row, check) in pairs {
        if row.section != section {
            section = &row.section;
            write_section(&mut page, section);
        }
        write_row(&mut page, row, check);
        if !check.note.is_empty() {
            writeln!(notes, "- {}: {}", row.id, check.note).expect("a String takes all");
        }
    }
    page.push_str("\n## Remarks\n\n");
    page.push_str(&notes);
    page
}

fn write_section(page: &mut String, section: &str) {
    let mut name = section
        .trim_start_matches(|c: char| c.is_ascii_digit() || c == ' ')
        .to_owned();
    if let Some(first) = name.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    writeln!(
        page,
        "\n## {name}\n\n| Id | Quantity | Source | Confidence | Published | Ours | Error | Tolerance |\n\
         |---|---|---|---|---|---|---|---|"
    )
    .expect("a String takes all");
}

fn write_row(page: &mut String, row: &Row, check: &Check) {
    let values = check.values();
    let digits = row
        .expected_text
        .split(';')
        .map(significant_digits)
        .max()
        .unwrap_or(0);
    // One digit more than was published shows where ours goes on; beyond eight nobody looks.
    let ours: Vec<String> = values
        .iter()
        .map(|value| number(*value, (digits + 1).clamp(4, 8)))
        .collect();
    let errors: Vec<String> = values
        .iter()
        .zip(&row.expected)
        .map(|(ours, published)| error(row.tolerance, *ours, *published))
        .collect();
    writeln!(
        page,
        "| {} | {} | {} | {} | {} | {} | {} | {} |",
        row.id,
        row.quantity,
        row.source,
        row.confidence.label(),
        with_units(&row.expected_text, &row.units),
        ours.join(" ; "),
        errors.join(" ; "),
        tolerance(row.tolerance),
    )
    .expect("a String takes all");
}

fn with_units(text: &str, units: &str) -> String {
    match units {
        "-" | "p*/p0" => text.to_owned(),
        _ => format!("{text} {units}"),
    }
}

fn tolerance(tolerance: Tolerance) -> String {
    match tolerance {
        Tolerance::Relative(limit) => format!("rel {}", number(limit, 2)),
        Tolerance::Absolute(limit) => format!("abs {}", number(limit, 2)),
        Tolerance::Exact => "exact".to_owned(),
    }
}

fn error(tolerance: Tolerance, ours: f64, published: f64) -> String {
    let error = tolerance.error(ours, published);
    let floor = 1e-3 * tolerance.limit();
    if error == 0.0 {
        "0".to_owned()
    } else if error < floor {
        format!("< {}", number(floor, 2))
    } else {
        number(error, 2)
    }
}

/// Digits of a decimal number that are not leading zeros or part of an exponent.
fn significant_digits(text: &str) -> usize {
    let mantissa = text.trim().split(['e', 'E']).next().unwrap_or_default();
    mantissa
        .chars()
        .filter(char::is_ascii_digit)
        .skip_while(|digit| *digit == '0')
        .count()
}

/// A number at so many significant digits: plain from 0.001 to a million, else with an
/// exponent, trailing zeros after the point dropped.
fn number(value: f64, digits: usize) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let scientific = format!("{value:.*e}", digits.saturating_sub(1));
    let (mantissa, exponent) = scientific.split_once('e').unwrap_or((&scientific, "0"));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    if !(-3..6).contains(&exponent) {
        return format!("{}e{exponent}", without_trailing_zeros(mantissa));
    }
    let decimals = usize::try_from(i32::try_from(digits).unwrap_or(0) - 1 - exponent).unwrap_or(0);
    without_trailing_zeros(&format!("{value:.decimals$}")).to_owned()
}

fn without_trailing_zeros(text: &str) -> &str {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        text
    }
}

#[test]
fn numbers_are_written_for_reading() {
    for (value, digits, text) in [
        (0.0, 3, "0"),
        (8.0, 4, "8"),
        (999.967_234, 7, "999.9672"),
        (0.030_883_01, 5, "0.030883"),
        (1e-3, 2, "0.001"),
        (1e-9, 2, "1e-9"),
        (2.64e-6, 2, "2.6e-6"),
        (97_716.66, 7, "97716.66"),
        (3_708.347_885_1, 8, "3708.3479"),
        (-0.5, 2, "-0.5"),
    ] {
        assert_eq!(number(value, digits), text);
    }
    assert_eq!(significant_digits("0.00415138"), 6);
    assert_eq!(significant_digits("421"), 3);
    assert_eq!(significant_digits("1.20e-3"), 3);
}
