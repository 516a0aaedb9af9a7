//! Quantities with units: SI inside, newtypes at every public boundary.
//!
//! Inner loops use `f64` with the unit in the name (`flow_m3_per_s`); these
//! newtypes keep a length from being passed as a pressure wherever a person or
//! a file supplies the number.

use serde::{Deserialize, Serialize};

pub mod convert;

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident, $unit:literal;)*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
            #[serde(transparent)]
            pub struct $name(pub f64);

            impl $name {
                /// SI unit that the number is in.
                pub const UNIT: &'static str = $unit;

                /// The number, in [`Self::UNIT`].
                #[inline]
                #[must_use]
                pub const fn si(self) -> f64 {
                    self.0
                }
            }
        )*
    };
}

quantities! {
    /// Length or height above a datum [m].
    Meters, "m";
    /// Area [m²].
    SquareMeters, "m²";
    /// Volume [m³].
    CubicMeters, "m³";
    /// Volume flow [m³/s].
    CubicMetersPerSecond, "m³/s";
    /// Pressure, absolute unless the field says gauge [Pa].
    Pascals, "Pa";
    /// Thermodynamic temperature [K].
    Kelvins, "K";
    /// Duration [s].
    Seconds, "s";
    /// Power [W].
    Watts, "W";
    /// Electrical potential, RMS [V].
    Volts, "V";
    /// Electrical current, RMS [A].
    Amperes, "A";
    /// Electrical resistance or reactance [Ω].
    Ohms, "Ω";
    /// Frequency [Hz].
    Hertz, "Hz";
    /// Angular speed [rad/s].
    RadiansPerSecond, "rad/s";
    /// Moment of inertia [kg·m²].
    KilogramSquareMeters, "kg·m²";
    /// Specific capacity of a well: yield per metre of drawdown [m³/s per m].
    SquareMetersPerSecond, "m²/s";
}
