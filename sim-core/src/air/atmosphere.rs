//! Standard air pressure and temperature by altitude.
//!
//! Models: the troposphere of the US Standard Atmosphere 1976 (NOAA-S/T 76-1562; the same
//! as ISO 2533:1975 here), from −5 km to 11 km:
//! T = T₀ − L·H, p = p₀·(T/T₀)^(g₀/(R·L)), with H the geopotential altitude,
//! H = r·z/(r + z) for geometric altitude z.
//!
//! Leaves out: weather (± 3 % about the standard pressure), humidity.

use crate::math;
use crate::units::convert::STANDARD_GRAVITY;

/// Standard pressure at sea level [Pa].
pub const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;
/// Standard temperature at sea level [K].
pub const SEA_LEVEL_TEMPERATURE_K: f64 = 288.15;
/// Fall of temperature with geopotential altitude [K/m].
pub const LAPSE_RATE_K_PER_M: f64 = 0.006_5;
/// Radius of the earth in the standard [m].
pub const EARTH_RADIUS_M: f64 = 6_356_766.0;
/// Specific gas constant of air in the standard [J/(kg·K)]: 8314.32/28.9644.
pub const STANDARD_AIR_GAS_CONSTANT: f64 = 8_314.32 / 28.964_4;

/// Geopotential altitude of a geometric altitude [m].
#[must_use]
pub fn geopotential_altitude_m(geometric_altitude_m: f64) -> f64 {
    EARTH_RADIUS_M * geometric_altitude_m / (EARTH_RADIUS_M + geometric_altitude_m)
}

/// Standard pressure at a geometric altitude [Pa], −5 to 11 km.
///
/// ```
/// use sim_core::air::atmosphere::standard_pressure_pa;
///
/// // At a mile up a sixth of the atmosphere is below you.
/// assert!((standard_pressure_pa(1524.0) - 84_311.0).abs() < 1.0);
/// ```
#[must_use]
pub fn standard_pressure_pa(geometric_altitude_m: f64) -> f64 {
    standard_pressure_at_geopotential_pa(geopotential_altitude_m(geometric_altitude_m))
}

/// Standard pressure at a geopotential altitude [Pa], −5 to 11 km.
#[must_use]
pub fn standard_pressure_at_geopotential_pa(geopotential_altitude_m: f64) -> f64 {
    let ratio = 1.0 - LAPSE_RATE_K_PER_M * geopotential_altitude_m / SEA_LEVEL_TEMPERATURE_K;
    let exponent = STANDARD_GRAVITY / (STANDARD_AIR_GAS_CONSTANT * LAPSE_RATE_K_PER_M);
    SEA_LEVEL_PRESSURE_PA * math::pow(ratio, exponent)
}

/// Standard temperature at a geometric altitude [K], −5 to 11 km.
#[must_use]
pub fn standard_temperature_k(geometric_altitude_m: f64) -> f64 {
    SEA_LEVEL_TEMPERATURE_K - LAPSE_RATE_K_PER_M * geopotential_altitude_m(geometric_altitude_m)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn sea_level_is_one_standard_atmosphere() {
        assert_relative_eq!(standard_pressure_pa(0.0), SEA_LEVEL_PRESSURE_PA);
        assert_relative_eq!(standard_temperature_k(0.0), SEA_LEVEL_TEMPERATURE_K);
    }

    #[test]
    fn eleven_geopotential_kilometres_are_the_tropopause() {
        // 226.32 hPa, US Standard Atmosphere 1976, table I, from memory.
        assert_relative_eq!(
            standard_pressure_at_geopotential_pa(11_000.0),
            22_632.0,
            max_relative = 1e-5
        );
    }
}
