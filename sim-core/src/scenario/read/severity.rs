//! How bad a hidden fault is: one severity, or a range to draw from.
//!
//! A severity is written in the fault's own unit, or in another unit of the same dimension;
//! a share, a ratio or a leg is a plain number.

use super::hidden::RANGE_FIELDS;
use crate::faults::KindInfo;
use crate::file::ValueKind;
use crate::file::fields::Fields;
use crate::file::problem::{Problems, Spot, quoted};
use crate::file::quantity::{find_unit, four_digits, take_number};

/// Units of severities that are numbers of nothing.
const PLAIN: [&str; 3] = ["share", "leg", "ratio"];

/// Mildest and worst [SI] of a fault whose severity is left out: the usual one.
pub(super) fn usual(info: &KindInfo) -> (f64, f64) {
    let si = info.default * info.si_per_unit;
    (si, si)
}

/// Mildest and worst [SI], the same where one severity is given; none after a problem.
pub(super) fn read_severity(
    group: &Fields<'_>,
    info: &KindInfo,
    problems: &Problems,
) -> Option<(f64, f64)> {
    let is_range = matches!(
        group.raw("severity").map(|value| &value.kind),
        Some(ValueKind::Struct { .. })
    );
    if !is_range {
        let si = one(group, "severity", info, problems)?;
        return Some((si, si));
    }
    let range = group.section("severity", RANGE_FIELDS);
    let from = one(&range, "from", info, problems);
    let to = one(&range, "to", info, problems);
    let (from, to) = (from?, to?);
    if from > to {
        problems.report_spot(
            &range.spot(),
            "the range ends below its beginning",
            "(from: the least, to: the greatest)",
        );
        return None;
    }
    Some((from, to))
}

fn one(group: &Fields<'_>, field: &str, info: &KindInfo, problems: &Problems) -> Option<f64> {
    let Some(value) = group.raw(field) else {
        // Reports that it is missing.
        group.text(field, &accepted(info));
        return None;
    };
    let spot = group.spot_of(field)?;
    match &value.kind {
        ValueKind::Damaged => None,
        ValueKind::Text(text) => from_text(text, &spot, info, problems),
        ValueKind::Number { written, number } if PLAIN.contains(&info.unit) => {
            in_range(*number, written, &spot, info, problems)
        }
        _ => {
            problems.report_spot(
                &spot,
                format!("{} is no severity of {}", value.describe(), info.name),
                accepted(info),
            );
            None
        }
    }
}

fn from_text(text: &str, spot: &Spot, info: &KindInfo, problems: &Problems) -> Option<f64> {
    let read = take_number(text.trim()).and_then(|(number, rest)| {
        let unit = rest.split_whitespace().collect::<Vec<_>>().join(" ");
        if unit == info.unit || (unit.is_empty() && PLAIN.contains(&info.unit)) {
            return Some(number);
        }
        // Another unit of the same dimension, without an offset of its zero.
        let (written, own) = (find_unit(&unit)?, find_unit(info.unit)?);
        (written.dimension == own.dimension && written.offset == own.offset)
            .then(|| number * written.factor / info.si_per_unit)
    });
    match read {
        Some(number) => in_range(number, &quoted(text), spot, info, problems),
        None => {
            problems.report_spot(
                spot,
                format!("{} is no severity of {}", quoted(text), info.name),
                accepted(info),
            );
            None
        }
    }
}

fn in_range(
    number: f64,
    written: &str,
    spot: &Spot,
    info: &KindInfo,
    problems: &Problems,
) -> Option<f64> {
    let (low, high) = info.range;
    // A bound written in another unit may miss by a rounding.
    let rounding = 1e-12 * (low.abs() + high.abs());
    if number >= low - rounding && number <= high + rounding {
        return Some(number.clamp(low, high) * info.si_per_unit);
    }
    problems.report_spot(
        spot,
        format!("{written} is out of range for {}", info.name),
        accepted(info),
    );
    None
}

fn accepted(info: &KindInfo) -> String {
    let (low, high) = info.range;
    let (low, high) = (four_digits(low), four_digits(high));
    if PLAIN.contains(&info.unit) {
        return format!("a number from {low} to {high}, the {}", info.unit);
    }
    format!(
        "{low} to {high} {unit}, such as \"{} {unit}\"",
        four_digits(info.default),
        unit = info.unit
    )
}
