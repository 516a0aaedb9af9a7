//! Numbers for people: display units, digits, times.

use clap::ValueEnum;

use crate::math;
use crate::trace::Quantity;
use crate::units::convert::{FOOT, LITER, PSI, RPM, US_GALLON, US_GPM, ZERO_CELSIUS};

/// Pounds [kg] (exact).
const POUND: f64 = 0.453_592_37;
const HOUR_S: f64 = 3_600.0;
const DAY_S: f64 = 86_400.0;

/// A system of display units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// psi, gallons, feet
    Us,
    /// kPa, liters, meters
    Si,
}

impl Units {
    /// The other system.
    pub(super) fn other(self) -> Self {
        match self {
            Self::Us => Self::Si,
            Self::Si => Self::Us,
        }
    }
}

/// A unit to show a quantity in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DisplayUnit {
    /// As written behind a number.
    pub(super) symbol: &'static str,
    /// SI value of one unit.
    size: f64,
    /// SI value that shows as zero.
    zero: f64,
    /// Decimals that are worth showing to people.
    pub(super) decimals: usize,
}

impl DisplayUnit {
    /// The unit for a quantity.
    pub(super) fn of(quantity: Quantity, units: Units) -> Self {
        let unit = |symbol, size, decimals| Self {
            symbol,
            size,
            zero: 0.0,
            decimals,
        };
        match (quantity, units) {
            (Quantity::GaugePressure, Units::Us) => unit("psi", PSI, 1),
            (Quantity::GaugePressure, Units::Si) => unit("kPa", 1_000.0, 0),
            (Quantity::Flow, Units::Us) => unit("gpm", US_GPM, 1),
            (Quantity::Flow, Units::Si) => unit("L/min", LITER / 60.0, 1),
            (Quantity::Volume, Units::Us) => unit("gal", US_GALLON, 1),
            (Quantity::Volume, Units::Si) => unit("L", LITER, 1),
            (Quantity::Length, Units::Us) => unit("ft", FOOT, 2),
            (Quantity::Length, Units::Si) => unit("m", 1.0, 2),
            (Quantity::Temperature, Units::Us) => Self {
                symbol: "°F",
                size: 5.0 / 9.0,
                zero: 459.67 * 5.0 / 9.0,
                decimals: 1,
            },
            (Quantity::Temperature, Units::Si) => Self {
                symbol: "°C",
                size: 1.0,
                zero: ZERO_CELSIUS,
                decimals: 1,
            },
            (Quantity::MassFlow, Units::Us) => unit("lb/h", POUND / HOUR_S, 2),
            (Quantity::MassFlow, Units::Si) => unit("g/s", 0.001, 3),
            (Quantity::ShaftSpeed, _) => unit("rpm", RPM, 0),
            (Quantity::Power, _) => unit("W", 1.0, 0),
            (Quantity::Voltage, _) => unit("V", 1.0, 1),
            (Quantity::Current, _) => unit("A", 1.0, 2),
            (Quantity::Energy, _) => unit("kWh", 3.6e6, 3),
            (Quantity::Fraction | Quantity::Switch, _) => unit("1", 1.0, 3),
        }
    }

    /// An SI value in this unit.
    pub(super) fn convert(self, value: f64) -> f64 {
        (value - self.zero) / self.size
    }

    /// An SI value with its unit, for people.
    pub(super) fn show(self, value: f64) -> String {
        format!("{} {}", self.number(value), self.symbol)
    }

    /// An SI value without its unit, for people.
    pub(super) fn number(self, value: f64) -> String {
        let value = self.convert(value);
        if value.abs() < 9_999.5 {
            return fixed(value, self.decimals);
        }
        // Large numbers are read in groups of three, and their decimals not at all.
        let mut text = fixed(value, 0);
        let first_digit = usize::from(value < 0.0);
        let mut group = text.len();
        while group > first_digit + 3 {
            group -= 3;
            text.insert(group, ',');
        }
        text
    }
}

/// A number with so many decimals, never "-0".
pub(super) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.chars().all(|c| matches!(c, '0' | '.')) => digits.to_owned(),
        _ => text,
    }
}

/// A number with nine significant digits and no idle zeros; nothing for what is no number.
pub(super) fn significant(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = math::log10(value.abs()).floor();
    let decimals = (8.0 - magnitude).clamp(0.0, 15.0) as usize;
    let text = fixed(value, decimals);
    if text.contains('.') {
        let text = text.trim_end_matches('0').trim_end_matches('.');
        return text.to_owned();
    }
    text
}

/// A point of time in a run of so many seconds: `m:ss.s`, `h:mm:ss` or `d h:mm:ss`, the
/// same form for every time of the run.
pub(super) fn clock(time_s: f64, run_s: f64) -> String {
    if run_s < HOUR_S {
        let tenths = (time_s * 10.0).round() as u64;
        return format!("{}:{:02}.{}", tenths / 600, tenths / 10 % 60, tenths % 10);
    }
    let seconds = time_s.round() as u64;
    let (hours, minutes, seconds) = (seconds / 3_600, seconds / 60 % 60, seconds % 60);
    if run_s < 2.0 * DAY_S {
        format!("{hours}:{minutes:02}:{seconds:02}")
    } else {
        format!(
            "{} d {:02}:{minutes:02}:{seconds:02}",
            hours / 24,
            hours % 24
        )
    }
}

/// A length of time in the two units that fit it: `45.2 s`, `10 min 14 s`, `3 h 5 min`, `30 d`.
pub(super) fn span(seconds: f64) -> String {
    if seconds < 99.95 {
        let text = fixed(seconds, 1);
        let text = text.strip_suffix(".0").unwrap_or(&text);
        return format!("{text} s");
    }
    let whole = seconds.round() as u64;
    let (large, large_unit, small, small_unit) = if whole < 3_600 {
        (whole / 60, "min", whole % 60, "s")
    } else if whole < 86_400 {
        let minutes = (seconds / 60.0).round() as u64;
        (minutes / 60, "h", minutes % 60, "min")
    } else {
        let hours = (seconds / 3_600.0).round() as u64;
        (hours / 24, "d", hours % 24, "h")
    };
    if small == 0 {
        format!("{large} {large_unit}")
    } else {
        format!("{large} {large_unit} {small} {small_unit}")
    }
}

/// Time between samples, which may be as short as hundredths of a second.
pub(super) fn interval(seconds: f64) -> String {
    let text = fixed(seconds, 2);
    format!("{} s", text.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_value_reads_right_in_both_systems() {
        for (quantity, value, us, si) in [
            (Quantity::GaugePressure, 40.0 * PSI, "40.0 psi", "276 kPa"),
            (Quantity::Flow, 10.0 * US_GPM, "10.0 gpm", "37.9 L/min"),
            (Quantity::Temperature, 293.15, "68.0 °F", "20.0 °C"),
            (Quantity::Volume, 0.1, "26.4 gal", "100.0 L"),
            (Quantity::Volume, 259.2, "68,473 gal", "259,200 L"),
            (Quantity::GaugePressure, -1e-9, "0.0 psi", "0 kPa"),
        ] {
            assert_eq!(DisplayUnit::of(quantity, Units::Us).show(value), us);
            assert_eq!(DisplayUnit::of(quantity, Units::Si).show(value), si);
        }
    }

    #[test]
    fn nine_digits_are_kept_and_idle_zeros_dropped() {
        for (value, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (1.5, "1.5"),
            (123_456.789_123, "123456.789"),
            (1.0 / 3.0, "0.333333333"),
            (1e-7, "0.0000001"),
            (-2.25e9, "-2250000000"),
            (f64::NAN, ""),
        ] {
            assert_eq!(significant(value), text);
        }
    }

    #[test]
    fn times_keep_one_form_through_a_run() {
        assert_eq!(clock(61.26, 600.0), "1:01.3");
        assert_eq!(clock(61.26, 7_200.0), "0:01:01");
        assert_eq!(clock(93_784.0, 30.0 * DAY_S), "1 d 02:03:04");
        for (seconds, text) in [
            (45.0, "45 s"),
            (45.23, "45.2 s"),
            (614.0, "10 min 14 s"),
            (3_600.0, "1 h"),
            (3_599.6, "1 h"),
            (11_100.0, "3 h 5 min"),
            (30.0 * DAY_S, "30 d"),
        ] {
            assert_eq!(span(seconds), text);
        }
    }
}
