//! Every unit that a file may use, by what it measures.
//!
//! value in SI = number × factor + offset.  The first spelling of a unit is the
//! one that messages use.

use crate::units::convert::{
    BAR, FOOT, HORSEPOWER, INCH, LITER, PSI, RPM, US_GALLON, US_GPM, ZERO_CELSIUS,
};

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Dimension {
    /// Length or height.
    Length,
    /// Pressure (gauge) or pressure difference.
    Pressure,
    /// Volume flow.
    Flow,
    /// Volume.
    Volume,
    /// Temperature.
    Temperature,
    /// Power.
    Power,
    /// Speed of rotation.
    Rotation,
    /// Duration.
    Time,
    /// Voltage.
    Voltage,
    /// Current.
    Current,
    /// Resistance or reactance.
    Resistance,
    /// Frequency.
    Frequency,
    /// Moment of inertia.
    Inertia,
    /// Yield of a well per length of drawdown.
    SpecificCapacity,
}

/// A unit.
#[derive(Debug, PartialEq)]
pub(crate) struct Unit {
    /// What it measures.
    pub(crate) dimension: Dimension,
    /// Spellings; the first is shown.
    pub(crate) spellings: &'static [&'static str],
    /// SI units in one of it.
    pub(crate) factor: f64,
    /// SI value of its zero.
    pub(crate) offset: f64,
}

const fn unit(
    dimension: Dimension,
    spellings: &'static [&'static str],
    factor: f64,
    offset: f64,
) -> Unit {
    Unit {
        dimension,
        spellings,
        factor,
        offset,
    }
}

use Dimension::{
    Current, Flow, Frequency, Inertia, Length, Power, Pressure, Resistance, Rotation,
    SpecificCapacity, Temperature, Time, Voltage, Volume,
};

/// Kilograms in one pound (exact).
const POUND: f64 = 0.453_592_37;
/// Zero of the Fahrenheit scale [K].
const ZERO_FAHRENHEIT: f64 = 459.67 * 5.0 / 9.0;

/// Every unit, US customary before SI within a dimension.
pub(crate) const UNITS: &[Unit] = &[
    unit(Length, &["ft", "feet", "foot"], FOOT, 0.0),
    unit(Length, &["in", "inch", "inches"], INCH, 0.0),
    unit(Length, &["m"], 1.0, 0.0),
    unit(Length, &["cm"], 0.01, 0.0),
    unit(Length, &["mm"], 0.001, 0.0),
    unit(Pressure, &["psi", "psig", "PSI"], PSI, 0.0),
    unit(Pressure, &["bar", "barg"], BAR, 0.0),
    unit(Pressure, &["mbar"], BAR / 1000.0, 0.0),
    unit(Pressure, &["kPa"], 1.0e3, 0.0),
    unit(Pressure, &["MPa"], 1.0e6, 0.0),
    unit(Pressure, &["GPa"], 1.0e9, 0.0),
    unit(Pressure, &["Pa"], 1.0, 0.0),
    unit(Flow, &["gpm", "gal/min", "GPM"], US_GPM, 0.0),
    unit(Flow, &["gpd", "gal/day"], US_GALLON / 86_400.0, 0.0),
    unit(Flow, &["L/min", "l/min"], LITER / 60.0, 0.0),
    unit(Flow, &["L/s", "l/s"], LITER, 0.0),
    unit(Flow, &["m3/h", "m³/h"], 1.0 / 3600.0, 0.0),
    unit(Flow, &["m3/s", "m³/s"], 1.0, 0.0),
    unit(Volume, &["gal", "gallon", "gallons"], US_GALLON, 0.0),
    unit(Volume, &["L", "l"], LITER, 0.0),
    unit(Volume, &["m3", "m³"], 1.0, 0.0),
    unit(Temperature, &["degF", "°F"], 5.0 / 9.0, ZERO_FAHRENHEIT),
    unit(Temperature, &["degC", "°C"], 1.0, ZERO_CELSIUS),
    unit(Temperature, &["K"], 1.0, 0.0),
    unit(Power, &["hp", "HP"], HORSEPOWER, 0.0),
    unit(Power, &["W"], 1.0, 0.0),
    unit(Power, &["kW"], 1000.0, 0.0),
    unit(Rotation, &["rpm", "RPM"], RPM, 0.0),
    unit(Time, &["s", "sec"], 1.0, 0.0),
    unit(Time, &["ms"], 0.001, 0.0),
    unit(Time, &["min"], 60.0, 0.0),
    unit(Time, &["h"], 3600.0, 0.0),
    unit(Time, &["d", "day", "days"], 86_400.0, 0.0),
    unit(Voltage, &["V"], 1.0, 0.0),
    unit(Current, &["A", "amp", "amps"], 1.0, 0.0),
    unit(Current, &["mA"], 0.001, 0.0),
    unit(Resistance, &["ohm", "ohms", "Ω"], 1.0, 0.0),
    unit(Resistance, &["mohm", "mΩ"], 0.001, 0.0),
    unit(Frequency, &["Hz"], 1.0, 0.0),
    unit(Inertia, &["lb ft2", "lb ft²"], POUND * FOOT * FOOT, 0.0),
    unit(Inertia, &["kg m2", "kg m²"], 1.0, 0.0),
    unit(SpecificCapacity, &["gpm/ft"], US_GPM / FOOT, 0.0),
    unit(SpecificCapacity, &["L/s/m", "l/s/m"], LITER, 0.0),
    unit(SpecificCapacity, &["L/min/m", "l/min/m"], LITER / 60.0, 0.0),
];

impl Dimension {
    /// The dimension in words, with its article.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Pressure => "a pressure",
            Self::Flow => "a flow",
            Self::Volume => "a volume",
            Self::Temperature => "a temperature",
            Self::Power => "a power",
            Self::Rotation => "a speed of rotation",
            Self::Time => "a duration",
            Self::Voltage => "a voltage",
            Self::Current => "a current",
            Self::Resistance => "a resistance",
            Self::Frequency => "a frequency",
            Self::Inertia => "a moment of inertia",
            Self::SpecificCapacity => "a specific capacity",
        }
    }

    /// A quantity as it could stand in a file.
    pub(crate) fn example(self) -> &'static str {
        match self {
            Self::Length => "5 ft 6 in",
            Self::Pressure => "40 psi",
            Self::Flow => "10 gpm",
            Self::Volume => "25 gal",
            Self::Temperature => "52 degF",
            Self::Power => "0.75 kW",
            Self::Rotation => "3450 rpm",
            Self::Time => "50 ms",
            Self::Voltage => "230 V",
            Self::Current => "20 A",
            Self::Resistance => "0.05 ohm",
            Self::Frequency => "60 Hz",
            Self::Inertia => "8e-4 kg m2",
            Self::SpecificCapacity => "0.5 gpm/ft",
        }
    }

    /// Every unit of the dimension, as messages show it.
    pub(crate) fn unit_names(self) -> impl Iterator<Item = &'static str> {
        UNITS
            .iter()
            .filter(move |unit| unit.dimension == self)
            .map(|unit| unit.name())
    }
}

impl Unit {
    /// The unit as messages show it.
    pub(crate) fn name(&self) -> &'static str {
        self.spellings[0]
    }

    /// A value in SI shown in this unit, to four significant digits.
    pub(crate) fn show(&self, si: f64) -> String {
        self.show_number((si - self.offset) / self.factor)
    }

    /// Like [`Self::show`], but rounded up when rounding would fall below.
    pub(crate) fn show_at_least(&self, si: f64) -> String {
        let number = (si - self.offset) / self.factor;
        let falls_short = number - round_to_four(number) > 1e-9 * number.abs();
        let step = if falls_short { last_digit(number) } else { 0.0 };
        self.show_number(round_to_four(number) + step)
    }

    /// Like [`Self::show`], but rounded down when rounding would go beyond.
    pub(crate) fn show_at_most(&self, si: f64) -> String {
        let number = (si - self.offset) / self.factor;
        let goes_beyond = round_to_four(number) - number > 1e-9 * number.abs();
        let step = if goes_beyond { last_digit(number) } else { 0.0 };
        self.show_number(round_to_four(number) - step)
    }

    fn show_number(&self, number: f64) -> String {
        format!("{} {}", four_digits(number), self.name())
    }
}

fn round_to_four(number: f64) -> f64 {
    format!("{number:.3e}").parse().unwrap_or(number)
}

/// Least change of the last of four significant digits of a number.
fn last_digit(number: f64) -> f64 {
    let shown = format!("{number:.3e}");
    let exponent = shown
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse::<i32>().ok())
        .unwrap_or(0);
    format!("1e{}", exponent - 3).parse().unwrap_or(0.0)
}

/// A number to four significant digits, without trailing zeros.
pub(crate) fn four_digits(number: f64) -> String {
    let rounded = round_to_four(number);
    // Avoids "-0" for a bound that rounding has pushed just below zero.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// The unit with this spelling.
pub(crate) fn find_unit(spelling: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.spellings.contains(&spelling))
}
