//! Section 2: the standard atmosphere and what it can lift.

use sim_core::air::atmosphere::{standard_pressure_at_geopotential_pa, standard_pressure_pa};
use sim_core::units::Kelvins;
use sim_core::units::convert::{FOOT, PSI, kelvins_from_celsius};
use sim_core::water::WaterProperties;
use sim_core::water::pumping::suction_lift_limit_m;

use super::check::Check;

/// Suction limit for water of 10 °C, with our own properties of water and air.
fn suction_limit_m(altitude_m: f64) -> f64 {
    let water = WaterProperties::at(Kelvins(kelvins_from_celsius(10.0)));
    suction_lift_limit_m(
        standard_pressure_pa(altitude_m),
        water.vapor_pressure_pa,
        water.density_kg_per_m3,
    )
}

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::new("ATM-01", || standard_pressure_pa(304.8)),
        Check::new("ATM-02", || standard_pressure_pa(1_524.0)),
        Check::new("ATM-03", || standard_pressure_pa(2_000.0)),
        Check::new("ATM-05", || {
            standard_pressure_at_geopotential_pa(5_000.0 * FOOT) / PSI
        }),
        Check::new("ATM-09", || suction_limit_m(1_524.0)),
        Check::new("ATM-10", || suction_limit_m(3_048.0)),
    ]
}
