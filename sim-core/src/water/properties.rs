//! Density, viscosity, vapor pressure and stiffness of liquid water by temperature.
//!
//! Models: pure, air-free liquid water near one atmosphere, 0 to 100 °C.
//!
//! Leaves out: dissolved gas and salts, the effect of a few bars on density
//! (5·10⁻⁵ per bar) except through the bulk modulus, and the critical enhancement of
//! viscosity (below 10⁻⁶ of the value in liquid water).
//!
//! | Quantity | Formula | Source |
//! |---|---|---|
//! | ρ(T) [kg/m³] | ratio of polynomials in °C, 0–150 °C, 1 atm | G. S. Kell, J. Chem. Eng. Data 20 (1975), p. 97 |
//! | κ_T(T) [1/Pa] | ratio of polynomials in °C, 0–100 °C, 1 atm | the same paper |
//! | μ(T, ρ) [Pa·s] | μ₀(T)·μ₁(T, ρ), no critical term | IAPWS R12-08 (2008), eq. 10–12 |
//! | p_v(T) [Pa] | saturation line, region 4, 273.15–647.096 K | IAPWS R7-97(2012), eq. 30 |
//! | a(T) [m/s] | polynomial of degree 5 in °C, 0–95 °C, 1 atm | W. Marczak, J. Acoust. Soc. Am. 102 (1997), p. 2776 |
//!
//! The coefficients were written down from memory of these papers.  They are pinned
//! by the verification values of the two IAPWS releases and by independently computed
//! densities and speeds of sound (tests below and in the published checks).
//!
//! Outside its range a formula is evaluated as it stands; a site with water below
//! freezing or above boiling is refused before it gets here.

use crate::math;
use crate::units::Kelvins;
use crate::units::convert::ZERO_CELSIUS;

use super::friction::Fluid;

/// Everything about the water that the laws of flow ask for, at one temperature.
///
/// ```
/// use sim_core::units::Kelvins;
/// use sim_core::water::WaterProperties;
///
/// let water = WaterProperties::at(Kelvins(293.15));
/// assert!((water.density_kg_per_m3 - 998.2).abs() < 0.1);
/// assert!((water.viscosity_pa_s - 1.002e-3).abs() < 2e-6);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterProperties {
    /// Temperature at which the others hold [K] -- constant.
    pub temperature_k: f64,
    /// Density [kg/m³] -- derived.
    pub density_kg_per_m3: f64,
    /// Dynamic viscosity [Pa·s] -- derived.
    pub viscosity_pa_s: f64,
    /// Vapor pressure, absolute [Pa] -- derived.
    pub vapor_pressure_pa: f64,
    /// Isothermal bulk modulus [Pa] -- derived.
    pub bulk_modulus_pa: f64,
    /// Speed of sound in unbounded water [m/s] -- derived.
    pub speed_of_sound_m_per_s: f64,
}

impl WaterProperties {
    /// Properties at `temperature`, valid from 0 to 95 °C.
    #[must_use]
    pub fn at(temperature: Kelvins) -> Self {
        let temperature_k = temperature.si();
        Self {
            temperature_k,
            density_kg_per_m3: density_kg_per_m3(temperature_k),
            viscosity_pa_s: viscosity_pa_s(temperature_k),
            vapor_pressure_pa: vapor_pressure_pa(temperature_k),
            bulk_modulus_pa: isothermal_bulk_modulus_pa(temperature_k),
            speed_of_sound_m_per_s: speed_of_sound_m_per_s(temperature_k),
        }
    }

    /// The two of them that friction needs.
    #[must_use]
    pub const fn fluid(&self) -> Fluid {
        Fluid {
            density_kg_per_m3: self.density_kg_per_m3,
            viscosity_pa_s: self.viscosity_pa_s,
        }
    }
}

/// Density of water at one atmosphere [kg/m³], 0–150 °C (Kell 1975).
#[must_use]
pub fn density_kg_per_m3(temperature_k: f64) -> f64 {
    const NUMERATOR: [f64; 6] = [
        999.839_52,
        16.945_176,
        -7.987_040_1e-3,
        -46.170_461e-6,
        105.563_02e-9,
        -280.542_53e-12,
    ];
    let celsius = temperature_k - ZERO_CELSIUS;
    polynomial(&NUMERATOR, celsius) / (1.0 + 16.879_850e-3 * celsius)
}

/// Isothermal bulk modulus K = 1/κ_T of water at one atmosphere [Pa], 0–100 °C (Kell 1975).
///
/// This is the stiffness of a line that is slowly filled or bled.  A pressure wave is
/// adiabatic and a little stiffer (0.7 % at 20 °C); use [`speed_of_sound_m_per_s`] for it.
#[must_use]
pub fn isothermal_bulk_modulus_pa(temperature_k: f64) -> f64 {
    /// Numerator of κ_T in 10⁻⁶ per bar.
    const NUMERATOR: [f64; 6] = [
        50.884_96,
        0.616_381_3,
        1.459_187e-3,
        20.084_38e-6,
        -58.477_27e-9,
        410.411_0e-12,
    ];
    let celsius = temperature_k - ZERO_CELSIUS;
    let per_megabar = polynomial(&NUMERATOR, celsius) / (1.0 + 19.673_48e-3 * celsius);
    1.0e11 / per_megabar
}

/// Speed of sound in unbounded water at one atmosphere [m/s], 0–95 °C (Marczak 1997).
#[must_use]
pub fn speed_of_sound_m_per_s(temperature_k: f64) -> f64 {
    const COEFFICIENTS: [f64; 6] = [
        1_402.385,
        5.038_813,
        -5.799_136e-2,
        3.287_156e-4,
        -1.398_845e-6,
        2.787_860e-9,
    ];
    polynomial(&COEFFICIENTS, temperature_k - ZERO_CELSIUS)
}

/// Dynamic viscosity of water at one atmosphere [Pa·s], 0–100 °C.
#[must_use]
pub fn viscosity_pa_s(temperature_k: f64) -> f64 {
    viscosity_at_density_pa_s(temperature_k, density_kg_per_m3(temperature_k))
}

/// Dynamic viscosity of water or steam by temperature and density [Pa·s], IAPWS R12-08
/// without the critical enhancement.
///
/// ```
/// use sim_core::water::properties::viscosity_at_density_pa_s;
///
/// // Verification table of the release: 298.15 K and 998 kg/m³ give 889.7351 µPa·s.
/// let viscosity = viscosity_at_density_pa_s(298.15, 998.0);
/// assert!((viscosity * 1e6 - 889.7351).abs() < 1e-4);
/// ```
#[must_use]
pub fn viscosity_at_density_pa_s(temperature_k: f64, density_kg_per_m3: f64) -> f64 {
    /// Reference temperature, density [K, kg/m³] and viscosity [Pa·s] of the release.
    const REFERENCE_TEMPERATURE_K: f64 = 647.096;
    const REFERENCE_DENSITY_KG_PER_M3: f64 = 322.0;
    const REFERENCE_VISCOSITY_PA_S: f64 = 1.0e-6;
    /// Dilute-gas term, table 1: coefficients of 1/T̄ⁱ.
    const H0: [f64; 4] = [1.677_52, 2.204_62, 0.636_656_4, -0.241_605];
    /// Finite-density term, table 2: row i is the power of 1/T̄ − 1, column j of ρ̄ − 1.
    const H1: [[f64; 7]; 6] = [
        [
            5.200_94e-1,
            2.225_31e-1,
            -2.813_78e-1,
            1.619_13e-1,
            -3.253_72e-2,
            0.0,
            0.0,
        ],
        [
            8.508_95e-2,
            9.991_15e-1,
            -9.068_51e-1,
            2.573_99e-1,
            0.0,
            0.0,
            0.0,
        ],
        [-1.083_74, 1.887_97, -7.724_79e-1, 0.0, 0.0, 0.0, 0.0],
        [
            -2.895_55e-1,
            1.266_13,
            -4.898_37e-1,
            0.0,
            6.984_52e-2,
            0.0,
            -4.356_73e-3,
        ],
        [0.0, 0.0, -2.570_40e-1, 0.0, 0.0, 8.721_02e-3, 0.0],
        [0.0, 1.205_73e-1, 0.0, 0.0, 0.0, 0.0, -5.932_64e-4],
    ];

    let reduced_temperature = temperature_k / REFERENCE_TEMPERATURE_K;
    let reduced_density = density_kg_per_m3 / REFERENCE_DENSITY_KG_PER_M3;
    let inverse = 1.0 / reduced_temperature;
    let dilute = 100.0 * reduced_temperature.sqrt() / polynomial(&H0, inverse);

    let mut by_temperature = [0.0; 6];
    for (value, row) in by_temperature.iter_mut().zip(&H1) {
        *value = polynomial(row, reduced_density - 1.0);
    }
    let exponent = reduced_density * polynomial(&by_temperature, inverse - 1.0);
    dilute * math::exp(exponent) * REFERENCE_VISCOSITY_PA_S
}

/// Vapor (saturation) pressure of water, absolute [Pa], 273.15–647.096 K (IAPWS-IF97
/// region 4).
#[must_use]
pub fn vapor_pressure_pa(temperature_k: f64) -> f64 {
    /// Table 34, n₁ to n₁₀.
    const N: [f64; 10] = [
        0.116_705_214_527_67e4,
        -0.724_213_167_032_06e6,
        -0.170_738_469_400_92e2,
        0.120_208_247_024_70e5,
        -0.323_255_503_223_33e7,
        0.149_151_086_135_30e2,
        -0.482_326_573_615_91e4,
        0.405_113_405_420_57e6,
        -0.238_555_575_678_49,
        0.650_175_348_447_98e3,
    ];
    let theta = temperature_k + N[8] / (temperature_k - N[9]);
    let a = theta * theta + N[0] * theta + N[1];
    let b = N[2] * theta * theta + N[3] * theta + N[4];
    let c = N[5] * theta * theta + N[6] * theta + N[7];
    let quotient = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
    let squared = quotient * quotient;
    squared * squared * 1.0e6
}

/// c₀ + c₁·x + c₂·x² + … by Horner's rule.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn viscosity_meets_the_verification_table_of_the_release() {
        // IAPWS R12-08, table 4 [K, kg/m³, µPa·s], from memory.
        for (temperature_k, density, published) in [
            (298.15, 998.0, 889.735_100),
            (298.15, 1_200.0, 1_437.649_467),
            (373.15, 1_000.0, 307.883_622),
            (433.15, 1.0, 14.538_324),
            (873.15, 1.0, 32.619_287),
        ] {
            let ours = 1e6 * viscosity_at_density_pa_s(temperature_k, density);
            // Half a unit of the last printed digit.
            assert_relative_eq!(ours, published, epsilon = 5.01e-7, max_relative = 0.0);
        }
    }

    #[test]
    fn vapor_pressure_meets_the_verification_table_of_the_release() {
        // IAPWS R7-97, table 35 [K, MPa], from memory.
        for (temperature_k, published) in [
            (300.0, 0.353_658_941e-2),
            (500.0, 0.263_889_776e1),
            (600.0, 0.123_443_146e2),
        ] {
            let ours = 1e-6 * vapor_pressure_pa(temperature_k);
            assert_relative_eq!(ours, published, max_relative = 1e-8);
        }
    }

    #[test]
    fn density_agrees_with_the_reference_formulation_to_one_part_in_a_hundred_thousand() {
        // IAPWS-95 at 101.325 kPa, computed values.
        for (celsius, reference) in [
            (5.0, 999.967),
            (10.0, 999.702),
            (20.0, 998.207),
            (40.0, 992.216),
        ] {
            let ours = density_kg_per_m3(celsius + ZERO_CELSIUS);
            assert_relative_eq!(ours, reference, max_relative = 1e-5);
        }
    }

    #[test]
    fn water_is_densest_at_four_degrees() {
        let at = |celsius: f64| density_kg_per_m3(celsius + ZERO_CELSIUS);
        assert!(at(4.0) > at(3.0) && at(4.0) > at(5.0));
    }

    #[test]
    fn compressibility_at_twenty_degrees_is_the_handbook_value() {
        // 45.9 × 10⁻⁶ per bar at 20 °C, handbook value, from memory.
        let compressibility = 1.0 / isothermal_bulk_modulus_pa(293.15);
        assert_relative_eq!(compressibility, 45.9e-11, max_relative = 1e-3);
    }

    #[test]
    fn sound_in_water_at_twenty_degrees_runs_at_1482_m_per_s() {
        // 1482.3 m/s, computed with a property library.
        assert_relative_eq!(speed_of_sound_m_per_s(293.15), 1_482.3, max_relative = 1e-4);
    }

    #[test]
    fn adiabatic_water_is_stiffer_than_isothermal_water() {
        for celsius in [10.0, 20.0, 40.0] {
            let water = WaterProperties::at(Kelvins(celsius + ZERO_CELSIUS));
            let adiabatic = water.density_kg_per_m3
                * water.speed_of_sound_m_per_s
                * water.speed_of_sound_m_per_s;
            let ratio = adiabatic / water.bulk_modulus_pa;
            // Ratio of heat capacities of liquid water: 1.001 at 10 °C to 1.03 at 40 °C.
            assert!((1.0..1.04).contains(&ratio), "{celsius} °C: {ratio}");
        }
    }
}
