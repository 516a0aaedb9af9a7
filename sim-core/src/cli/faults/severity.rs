//! Severities in the units that people asked for.

use crate::cli::display::Units;
use crate::faults::KindInfo;
use crate::units::convert::{FOOT, LITER, PSI, US_GALLON, US_GPM};

/// A unit's name and how many of the kind's own unit are one of it.
fn shown_in(unit: &'static str, units: Units) -> (&'static str, f64) {
    match (unit, units) {
        ("psi", Units::Si) => ("kPa", 1_000.0 / PSI),
        ("psi/day", Units::Si) => ("kPa/day", 1_000.0 / PSI),
        ("gpm", Units::Si) => ("L/min", LITER / 60.0 / US_GPM),
        ("L", Units::Us) => ("gal", US_GALLON / LITER),
        ("L/h", Units::Us) => ("gal/h", US_GALLON / LITER),
        ("L/min", Units::Us) => ("gpm", US_GPM * 60.0 / LITER),
        ("m", Units::Us) => ("ft", FOOT),
        ("m/s", Units::Us) => ("ft/s", FOOT),
        // Kelvins are differences here.
        ("K", Units::Us) => ("°F", 5.0 / 9.0),
        _ => (unit, 1.0),
    }
}

/// A severity for people: three significant digits and a unit, if it has one.
pub(super) fn show(info: &KindInfo, severity: f64, units: Units) -> String {
    let (unit, size) = shown_in(info.unit, units);
    let number = plain(severity / size);
    match unit {
        "share" | "ratio" => number,
        _ => format!("{number} {unit}"),
    }
}

/// What a bare number stands for.
pub(super) fn kind_of_number(info: &KindInfo) -> &'static str {
    match info.unit {
        "share" => ", as a share of 1",
        "ratio" => ", as a ratio",
        _ => "",
    }
}

/// A number to three significant digits, plain, without trailing zeros.
fn plain(value: f64) -> String {
    let rounded: f64 = format!("{value:.2e}").parse().unwrap_or(value);
    format!("{rounded}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::faults::kinds;

    #[test]
    fn a_severity_is_shown_in_either_system() {
        let info = |name| kinds().find(|info| info.name == name).unwrap();
        for (name, severity, units, shown) in [
            ("house.leak", 0.1, Units::Us, "0.1 gpm"),
            ("house.leak", 0.1, Units::Si, "0.379 L/min"),
            ("tank.lost_precharge", 10.0, Units::Si, "68.9 kPa"),
            ("source.low", 0.1, Units::Us, "0.328 ft"),
            ("source.low", 0.1, Units::Si, "0.1 m"),
            ("motor.insulation", 20_000.0, Units::Si, "20000 ohm"),
            ("intake.clogged_screen", 0.9, Units::Us, "0.9"),
        ] {
            assert_eq!(show(info(name), severity, units), shown);
        }
    }
}
