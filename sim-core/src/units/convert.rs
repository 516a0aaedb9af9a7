//! Exact conversion factors between US customary and SI units.

/// Standard gravity [m/s²] (exact by definition, 3rd CGPM 1901).
pub const STANDARD_GRAVITY: f64 = 9.806_65;
/// One pound-force per square inch [Pa] (lb = 0.45359237 kg, in = 0.0254 m, exact).
pub const PSI: f64 = 6_894.757_293_168_361;
/// One US gallon [m³] (231 cubic inches, exact).
pub const US_GALLON: f64 = 0.003_785_411_784;
/// One US gallon a minute [m³/s].
pub const US_GPM: f64 = US_GALLON / 60.0;
/// One foot [m] (exact).
pub const FOOT: f64 = 0.304_8;
/// One inch [m] (exact).
pub const INCH: f64 = 0.025_4;
/// One litre [m³] (exact).
pub const LITER: f64 = 0.001;
/// One mechanical horsepower [W] (550 ft·lbf/s).
pub const HORSEPOWER: f64 = 745.699_871_582_270_2;
/// One bar [Pa] (exact).
pub const BAR: f64 = 100_000.0;
/// 0 °C in kelvins (exact).
pub const ZERO_CELSIUS: f64 = 273.15;
/// One revolution a minute [rad/s].
pub const RPM: f64 = core::f64::consts::PI / 30.0;

/// Degrees Celsius to kelvins.
#[must_use]
pub fn kelvins_from_celsius(celsius: f64) -> f64 {
    celsius + ZERO_CELSIUS
}

/// Degrees Fahrenheit to kelvins.
#[must_use]
pub fn kelvins_from_fahrenheit(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) * 5.0 / 9.0
}
