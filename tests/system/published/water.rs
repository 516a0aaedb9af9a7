//! Section 1: properties of water.

use sim_core::units::Kelvins;
use sim_core::units::convert::kelvins_from_celsius;
use sim_core::water::WaterProperties;
use sim_core::water::properties::viscosity_at_density_pa_s;

use super::check::Check;

fn water(celsius: f64) -> WaterProperties {
    WaterProperties::at(Kelvins(kelvins_from_celsius(celsius)))
}

pub(super) fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for (id, celsius) in [
        ("WAT-01", 5.0),
        ("WAT-02", 10.0),
        ("WAT-03", 20.0),
        ("WAT-05", 40.0),
    ] {
        checks.push(Check::new(id, move || water(celsius).density_kg_per_m3));
    }
    for (id, celsius) in [
        ("WAT-07", 5.0),
        ("WAT-08", 10.0),
        ("WAT-09", 20.0),
        ("WAT-11", 60.0),
    ] {
        checks.push(Check::new(id, move || 1e3 * water(celsius).viscosity_pa_s));
    }
    for (id, celsius) in [
        ("WAT-12", 5.0),
        ("WAT-15", 25.0),
        ("WAT-16", 40.0),
        ("WAT-17", 60.0),
    ] {
        checks.push(Check::new(id, move || {
            1e-3 * water(celsius).vapor_pressure_pa
        }));
    }
    checks.push(Check::new("WAT-19", || {
        1e6 * viscosity_at_density_pa_s(298.15, 998.0)
    }));
    checks
}
