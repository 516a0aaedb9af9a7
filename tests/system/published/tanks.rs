//! Section 5: the bladder tank.

use sim_core::air::gas::{
    AIR, drawdown_fraction, polytropic_pressure_pa, polytropic_temperature_k,
    pressure_at_temperature_pa,
};
use sim_core::units::convert::{LITER, PSI, kelvins_from_celsius};

use super::check::Check;

/// Standard atmosphere of the rows [Pa].
pub(super) const ATMOSPHERE_PA: f64 = 101_325.0;
/// A slow change of volume.
pub(super) const ISOTHERMAL: f64 = 1.0;

/// Absolute pressure of a gauge reading [Pa].
pub(super) fn absolute(gauge_psi: f64) -> f64 {
    ATMOSPHERE_PA + gauge_psi * PSI
}

/// Gauge reading of an absolute pressure [psig].
pub(super) fn gauge_psi(absolute_pa: f64) -> f64 {
    (absolute_pa - ATMOSPHERE_PA) / PSI
}

/// Drawdown fraction by gauge readings.
pub(super) fn drawdown(
    precharge_psi: f64,
    cut_in_psi: f64,
    cut_out_psi: f64,
    exponent: f64,
) -> f64 {
    drawdown_fraction(
        absolute(precharge_psi),
        absolute(cut_in_psi),
        absolute(cut_out_psi),
        exponent,
    )
}

/// Air of TNK-14, TNK-15 and NUM-20 before it is squeezed, and after.
pub(super) struct Squeeze {
    pub(super) ambient_k: f64,
    pub(super) volume_m3: f64,
    pub(super) temperature_k: f64,
    pub(super) pressure_pa: f64,
}

/// 50 L of air at 40 psig and 15 °C squeezed by 10 L without losing heat.
pub(super) fn squeeze() -> Squeeze {
    let ambient_k = kelvins_from_celsius(15.0);
    let (before_m3, after_m3) = (50.0 * LITER, 40.0 * LITER);
    let gamma = AIR.heat_capacity_ratio;
    Squeeze {
        ambient_k,
        volume_m3: after_m3,
        temperature_k: polytropic_temperature_k(ambient_k, before_m3, after_m3, gamma),
        pressure_pa: polytropic_pressure_pa(absolute(40.0), before_m3, after_m3, gamma),
    }
}

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::new("TNK-02", || drawdown(18.0, 20.0, 40.0, ISOTHERMAL)),
        Check::new("TNK-04", || drawdown(28.0, 30.0, 50.0, ISOTHERMAL)),
        Check::new("TNK-06", || drawdown(38.0, 40.0, 60.0, ISOTHERMAL)),
        Check::new("TNK-07", || drawdown(20.0, 40.0, 60.0, ISOTHERMAL)),
        Check::new("TNK-08", || drawdown(50.0, 40.0, 60.0, ISOTHERMAL)),
        Check::new("TNK-10", || {
            drawdown(38.0, 40.0, 60.0, AIR.heat_capacity_ratio)
        }),
        Check::new("TNK-11", || {
            gauge_psi(pressure_at_temperature_pa(
                absolute(38.0),
                kelvins_from_celsius(20.0),
                kelvins_from_celsius(5.0),
            ))
        }),
        Check::noted(
            "TNK-13",
            "The page mixes gauge and absolute; its numbers are right as absolute ones.",
            || 10.0 * drawdown_fraction(1_000.0, 1_200.0, 3_000.0, ISOTHERMAL),
        ),
        Check::new("TNK-14", || gauge_psi(squeeze().pressure_pa)),
        Check::new("TNK-15", || {
            let air = squeeze();
            gauge_psi(pressure_at_temperature_pa(
                air.pressure_pa,
                air.temperature_k,
                air.ambient_k,
            ))
        }),
    ]
}
