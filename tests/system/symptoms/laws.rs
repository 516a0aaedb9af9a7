//! What closed forms say, worked out apart from the plant.

use sim_core::air::atmosphere::standard_pressure_pa;
use sim_core::math::pow;
use sim_core::site::SiteSpec;
use sim_core::units::convert::{LITER, PSI, STANDARD_GRAVITY, US_GPM};

/// Air pressure at the site [psi].
pub(super) fn atmosphere_psi(site: &SiteSpec) -> f64 {
    standard_pressure_pa(site.altitude.si()) / PSI
}

/// Cut-in and cut-out as they came [psi, gauge].
fn setting_psi(site: &SiteSpec) -> (f64, f64) {
    let switch = &site.wall.pressure_switch;
    (switch.cut_in.si() / PSI, switch.cut_out.si() / PSI)
}

/// Water that a tank gives between two gauge pressures at constant temperature [L]:
/// Boyle's law, V = p₀·V₀·(1/p₁ − 1/p₂) in absolute pressures, no more water in it
/// than its bladder takes and none below precharge.
pub(super) fn boyle_drawdown_l(
    site: &SiteSpec,
    air_l: f64,
    precharge_psi: f64,
    (from_psi, to_psi): (f64, f64),
) -> f64 {
    let atmosphere = atmosphere_psi(site);
    let water = |gauge: f64| {
        let gas = air_l * (precharge_psi + atmosphere) / (gauge.max(precharge_psi) + atmosphere);
        (air_l - gas).min(site.tank.acceptance_volume.si() / LITER)
    };
    water(from_psi) - water(to_psi)
}

/// The same for the tank at a precharge, between cut-out and cut-in.
pub(super) fn drawdown_at_l(site: &SiteSpec, precharge_psi: f64) -> f64 {
    let (cut_in, cut_out) = setting_psi(site);
    let shell = site.tank.shell_volume.si() / LITER;
    boyle_drawdown_l(site, shell, precharge_psi, (cut_out, cut_in))
}

/// The same for the tank as it came.
pub(super) fn drawdown_l(site: &SiteSpec) -> f64 {
    drawdown_at_l(site, site.tank.precharge.si() / PSI)
}

/// The same with no time for heat to pass [L]: p·V^1.4 constant from rest at cut-out.
pub(super) fn adiabatic_drawdown_l(site: &SiteSpec) -> f64 {
    let atmosphere = atmosphere_psi(site);
    let (cut_in, cut_out) = setting_psi(site);
    let shell = site.tank.shell_volume.si() / LITER;
    let gas = shell * (site.tank.precharge.si() / PSI + atmosphere) / (cut_out + atmosphere);
    gas * (pow((cut_out + atmosphere) / (cut_in + atmosphere), 1.0 / 1.4) - 1.0)
}

/// Time in which a hole lets a tank at air temperature fall from cut-out to cut-in [s]:
/// Boyle's law for the tank, q = q₅₀·√(p/50 psi) for the hole, which lies `below_psi`
/// of water under the gauge.
pub(super) fn leak_interval_s(site: &SiteSpec, leak_gpm: f64, below_psi: f64) -> f64 {
    let atmosphere = atmosphere_psi(site);
    let charge = (site.tank.precharge.si() / PSI + atmosphere) * site.tank.shell_volume.si();
    let (low, high) = setting_psi(site);
    let n = 1_000;
    let step = (high - low) / f64::from(n);
    (0..n)
        .map(|i| {
            let gauge = low + (f64::from(i) + 0.5) * step;
            let absolute = gauge + atmosphere;
            let flow = leak_gpm * US_GPM * ((gauge + below_psi) / 50.0).sqrt();
            charge / (absolute * absolute) * step / flow
        })
        .sum()
}

/// Pressure of a column of water [psi].
pub(super) fn column_psi(height_m: f64) -> f64 {
    1_000.0 * STANDARD_GRAVITY * height_m / PSI
}
