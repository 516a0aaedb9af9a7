//! Quantities as people write them: a number and a unit in one text.
//!
//! Numbers may be decimals (`12.5`, `8e-4`), fractions (`3/4`) or mixed
//! (`1-1/4`, `1 1/4`); a length may be in feet and inches (`5 ft 6 in`).

mod number;
mod units;

pub(crate) use number::take_number;
pub(crate) use units::{Dimension, UNITS, Unit, find_unit, four_digits};

use super::problem::{nearest, one_of, quoted};
use crate::units::{
    Amperes, CubicMeters, CubicMetersPerSecond, Hertz, Kelvins, KilogramSquareMeters, Meters, Ohms,
    Pascals, RadiansPerSecond, Seconds, SquareMetersPerSecond, Volts, Watts,
};

/// Longest text that is taken for a quantity [characters].
const MAX_QUANTITY_CHARS: usize = 64;

/// A newtype from [`crate::units`] that a file can give.
pub(crate) trait Quantity: Copy {
    /// What it measures.
    const DIMENSION: Dimension;
    /// From its SI number.
    fn from_si(si: f64) -> Self;
}

macro_rules! quantities {
    ($($name:ident => $dimension:ident,)*) => {
        $(
            impl Quantity for $name {
                const DIMENSION: Dimension = Dimension::$dimension;
                fn from_si(si: f64) -> Self {
                    Self(si)
                }
            }
        )*
    };
}

quantities! {
    Meters => Length,
    Pascals => Pressure,
    CubicMetersPerSecond => Flow,
    CubicMeters => Volume,
    Kelvins => Temperature,
    Watts => Power,
    RadiansPerSecond => Rotation,
    Seconds => Time,
    Volts => Voltage,
    Amperes => Current,
    Ohms => Resistance,
    Hertz => Frequency,
    KilogramSquareMeters => Inertia,
    SquareMetersPerSecond => SpecificCapacity,
}

/// A quantity as read: its SI value and the unit that it was written in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Measured {
    /// Value in SI units, finite.
    pub(crate) si: f64,
    /// Unit that it was written in.
    pub(crate) unit: &'static Unit,
}

/// Why a text is not the quantity asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Refusal {
    /// What is wrong.
    pub(crate) message: String,
    /// What would be accepted.
    pub(crate) accepted: String,
}

/// Reads `text` as a quantity of `dimension`.
///
/// # Errors
/// A [`Refusal`] when it is something else; the text is named in it.
pub(crate) fn parse_quantity(text: &str, dimension: Dimension) -> Result<Measured, Refusal> {
    let refuse = |message: String| Refusal {
        message,
        accepted: format!(
            "{} such as \"{}\", in {}",
            dimension.words(),
            dimension.example(),
            one_of(dimension.unit_names()),
        ),
    };
    if text.chars().count() > MAX_QUANTITY_CHARS {
        return Err(refuse(format!("{} is too long a text", quoted(text))));
    }
    let trimmed = text.trim();
    let Some((number, rest)) = take_number(trimmed) else {
        return Err(refuse(format!(
            "{} does not begin with a number",
            quoted(text)
        )));
    };
    let spelling = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    if spelling.is_empty() {
        return Err(refuse(format!("{} has no unit", quoted(text))));
    }
    let measured = match find_unit(&spelling) {
        Some(unit) if unit.dimension == dimension => Measured {
            si: number * unit.factor + unit.offset,
            unit,
        },
        Some(unit) => {
            return Err(refuse(format!(
                "{} is {}, not {}",
                quoted(text),
                unit.dimension.words(),
                dimension.words()
            )));
        }
        None => match feet_and_inches(number, rest) {
            Some(measured) if dimension == Dimension::Length => measured,
            _ => return Err(refuse(unknown_unit(text, &spelling, dimension))),
        },
    };
    if measured.si.is_finite() {
        Ok(measured)
    } else {
        Err(refuse(format!("{} is not a finite number", quoted(text))))
    }
}

/// Reads a gauge pressure [Pa] as a person says it.
///
/// # Errors
/// What is wrong with the text.
#[cfg(feature = "cli")]
pub(crate) fn pressure_from_text(text: &str) -> Result<f64, String> {
    parse_quantity(text, Dimension::Pressure)
        .map(|measured| measured.si)
        .map_err(|refusal| refusal.message)
}

/// Reads a volume [m³] as a person says it.
///
/// # Errors
/// What is wrong with the text.
#[cfg(feature = "cli")]
pub(crate) fn volume_from_text(text: &str) -> Result<f64, String> {
    parse_quantity(text, Dimension::Volume)
        .map(|measured| measured.si)
        .map_err(|refusal| refusal.message)
}

/// What to say of a unit that is in no table.
fn unknown_unit(text: &str, spelling: &str, dimension: Dimension) -> String {
    let shown = quoted(text);
    if matches!(
        spelling,
        "psia" | "bara" | "psi abs" | "bar abs" | "kPa abs" | "psi absolute" | "bar absolute"
    ) {
        return format!("{shown} is an absolute pressure; pressures in a site file are gauge");
    }
    if spelling.starts_with(',') {
        return format!("{shown} has a comma in its number; the decimal sign is a point");
    }
    let lower = spelling.to_lowercase();
    let spellings = || {
        UNITS
            .iter()
            .filter(|unit| unit.dimension == dimension)
            .flat_map(|unit| unit.spellings.iter().copied())
    };
    let suggestion = spellings()
        .find(|candidate| candidate.to_lowercase() == lower)
        .or_else(|| nearest(spelling, spellings()));
    match suggestion {
        Some(unit) => format!(
            "{shown} has the unknown unit {}, perhaps meant as {unit}",
            quoted(spelling)
        ),
        None => format!("{shown} has the unknown unit {}", quoted(spelling)),
    }
}

/// `5 ft 6 in`: `feet` has been taken, `rest` begins with `ft`.
fn feet_and_inches(feet: f64, rest: &str) -> Option<Measured> {
    let inches_text = rest.trim_start().strip_prefix("ft")?.trim_start();
    let (inches, after) = take_number(inches_text)?;
    let unit = find_unit(after.trim()).filter(|unit| unit.name() == "in")?;
    let foot = find_unit("ft")?;
    // "-5 ft 6 in" is five and a half feet below, not four and a half.
    let is_below = feet.is_sign_negative();
    let is_plain = (0.0..12.0).contains(&inches) && !inches_text.starts_with(['-', '+']);
    let inches_si = inches * unit.factor;
    is_plain.then_some(Measured {
        si: feet * foot.factor + if is_below { -inches_si } else { inches_si },
        unit: foot,
    })
}

#[cfg(test)]
mod tests;
