//! The values that a parameter takes, as read: lists, ranges, ties and distributions.

use super::vary::{MAX_VALUES, Varied};
use crate::file::ValueKind;
use crate::file::fields::Fields;
use crate::file::problem::{Position, Problems};
use crate::file::quantity::{Dimension, Unit};
use crate::file::range::Range;
use crate::study::parameter::{Amount, Spread};

pub(super) fn read_list(inside: &Fields<'_>, problems: &Problems) -> Option<Vec<Amount>> {
    const ACCEPTED: &str = "a list of values: [\"30 psi\", \"40 psi\"] or [1, 2, 3]";
    let Some(value) = inside.raw("values") else {
        // Reports that it is missing.
        inside.texts("values", (1, MAX_VALUES));
        return None;
    };
    let spot = inside.spot_of("values")?;
    let ValueKind::List { items, damaged } = &value.kind else {
        if value.kind != ValueKind::Damaged {
            let message = format!("{} is not a list", value.describe());
            problems.report_spot(&spot, message, ACCEPTED);
        }
        return None;
    };
    if items.is_empty() || items.len() > MAX_VALUES {
        if !damaged {
            let message = format!("the list has {} items", items.len());
            problems.report_spot(&spot, message, format!("1 to {MAX_VALUES} values"));
        }
        return None;
    }
    let mut values = Vec::new();
    for item in items {
        match Amount::read(item) {
            Some(amount) => values.push(amount),
            None => {
                if item.kind != ValueKind::Damaged {
                    let message = format!("{} is not a value", item.describe());
                    problems.report(item.at, &spot.part, message, ACCEPTED);
                }
                return None;
            }
        }
    }
    Some(values)
}

pub(super) fn read_range(inside: &Fields<'_>, problems: &Problems) -> Option<Vec<Amount>> {
    let from = amount(inside, "from", problems);
    let to = amount(inside, "to", problems);
    let count = inside.number("count", Range::new(2.0, MAX_VALUES as f64));
    let (from, to, count) = (from?, to?, count?);
    same_dimension(&from, &to, problems)?;
    if count.value.fract() != 0.0 {
        problems.report_spot(
            &count.spot,
            format!("{} is not a whole number", count.written),
            "how many values, both ends counted",
        );
        return None;
    }
    let (least, most) = (from.si?, to.si?);
    let last = count.value as usize - 1;
    let step = (most - least) / last as f64;
    let values = (0..=last)
        .map(|i| {
            if i == last {
                Amount::computed(most, from.unit, to.at)
            } else {
                Amount::computed(least + step * i as f64, from.unit, from.at)
            }
        })
        .collect();
    Some(values)
}

pub(super) fn read_tied(
    inside: &Fields<'_>,
    before: &Varied,
    problems: &Problems,
) -> Option<(Spread, Vec<Amount>)> {
    let to = inside.text("to", "a parameter that stands before this one")?;
    let names: Vec<&str> = before.parameters.iter().map(|p| p.path.as_str()).collect();
    let Some(other) = names.iter().position(|name| *name == to.value) else {
        let message = format!("{} is not varied before this", to.written);
        let accepted = if names.is_empty() {
            "a parameter that stands before this one".to_owned()
        } else {
            names.join(", ")
        };
        problems.report_spot(&to.spot, message, accepted);
        return None;
    };
    let optional = |name: &str| -> Option<Option<Amount>> {
        if inside.is_given(name) {
            amount(inside, name, problems).map(Some)
        } else {
            Some(None)
        }
    };
    let (times, plus) = (optional("times"), optional("plus"));
    let (times, plus) = (times?, plus?);
    let other_unit = crate::file::quantity::find_unit(&before.parameters[other].unit);
    let is_choice = before
        .axes
        .iter()
        .find(|axis| axis.parameter == other)
        .is_some_and(|axis| axis.values.iter().any(|value| value.si.is_none()));
    let times_unit = times.as_ref().and_then(|times| times.unit);
    let plus_unit = plus.as_ref().and_then(|plus| plus.unit);
    // Multiplying by a number keeps the other's dimension, by a quantity gives the
    // quantity's; a sum needs one dimension.
    let product = times_unit.or(other_unit);
    let sum = if plus.is_some() { plus_unit } else { product };
    let dimension = |unit: Option<&Unit>| unit.map(|unit| unit.dimension);
    let is_unsound = is_choice
        || (times_unit.is_some() && other_unit.is_some())
        || dimension(product) != dimension(sum)
        || dimension(other_unit) == Some(Dimension::Temperature);
    if is_unsound {
        problems.report_spot(
            &inside.spot(),
            format!("{} times that plus that has no unit of its own", to.written),
            "a number for times, and for plus a quantity like the other's; or a quantity for \
             times where the other is a plain number; no temperatures",
        );
        return None;
    }
    let slope = |amount: &Amount| {
        // Without the offset of its zero: so much for each one of the other.
        let si = amount.si.unwrap_or(0.0);
        si - amount.unit.map_or(0.0, |unit| unit.offset)
    };
    let spread = Spread::Tied {
        to: other,
        times: times.as_ref().map_or(1.0, slope),
        plus: plus.as_ref().and_then(|plus| plus.si).unwrap_or(0.0),
    };
    let at = inside.spot().at;
    let example = Amount::computed(0.0, plus_unit.or(product), at);
    Some((spread, vec![example]))
}

pub(super) fn read_distribution(
    kind: &str,
    inside: &Fields<'_>,
    problems: &Problems,
) -> Option<(Spread, Vec<Amount>)> {
    let names: &[&str] = match kind {
        "Uniform" => &["least", "most"],
        "Normal" => &["mean", "deviation"],
        _ => &["least", "likely", "most"],
    };
    let read: Vec<Option<Amount>> = names
        .iter()
        .map(|name| amount(inside, name, problems))
        .collect();
    let read: Option<Vec<Amount>> = read.into_iter().collect();
    let read = read?;
    let first = read.first()?;
    for other in &read {
        same_dimension(first, other, problems)?;
    }
    let si: Vec<f64> = read.iter().filter_map(|amount| amount.si).collect();
    let (spread, is_sound) = match (kind, si.as_slice()) {
        ("Uniform", &[least, most]) => (Spread::Uniform { least, most }, least <= most),
        ("Normal", &[mean, deviation]) => {
            let offset = read[1].unit.map_or(0.0, |unit| unit.offset);
            let deviation = deviation - offset;
            (Spread::Normal { mean, deviation }, deviation >= 0.0)
        }
        ("Triangular", &[least, likely, most]) => (
            Spread::Triangular {
                least,
                likely,
                most,
            },
            least <= likely && likely <= most,
        ),
        _ => return None,
    };
    if !is_sound {
        problems.report_spot(
            &inside.spot(),
            "the values of the distribution are not in order",
            format!(
                "{kind}({}: .., ..), rising; a deviation not below zero",
                names.join(": .., ")
            ),
        );
        return None;
    }
    Some((spread, read))
}

/// A number, or a number with a unit, that must be there.
fn amount(inside: &Fields<'_>, name: &str, problems: &Problems) -> Option<Amount> {
    const ACCEPTED: &str = "a number, or a number with a unit in quotes";
    let Some(value) = inside.raw(name) else {
        // Reports that it is missing.
        inside.text(name, ACCEPTED);
        return None;
    };
    let read = Amount::read(value).filter(|amount| amount.si.is_some());
    if read.is_none() && value.kind != ValueKind::Damaged {
        let spot = inside.spot_of(name)?;
        problems.report_spot(
            &spot,
            format!("{} is not a number with a unit", value.describe()),
            ACCEPTED,
        );
    }
    read
}

fn same_dimension(a: &Amount, b: &Amount, problems: &Problems) -> Option<()> {
    let dimension = |amount: &Amount| amount.unit.map(|unit| unit.dimension);
    if dimension(a) == dimension(b) {
        return Some(());
    }
    problems.report(
        file_position(b.at),
        "vary",
        format!("\"{}\" does not go with \"{}\"", b.text, a.text),
        "values that measure the same",
    );
    None
}

pub(super) fn file_position(mut at: Position) -> Position {
    at.in_overlay = false;
    at
}
