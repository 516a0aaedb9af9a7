//! What a tank gives between cut-out and cut-in, by the gas law, and what the pump could
//! reach: figures of a site that need no run.
//!
//! V·(p₀/p₁ − p₀/p₂) with absolute pressures, so that altitude counts; slow, so isothermal.
//! Left out: the connection's loss and the air's warmth, which a run has.

use crate::air::atmosphere::standard_pressure_pa;
use crate::air::gas::drawdown_fraction;
use crate::parts::PumpMap;
use crate::site::SiteSpec;
use crate::units::convert::STANDARD_GRAVITY;

/// Density of water for heads [kg/m³]; 0.2 % about the true one from 0 to 20 °C.
const WATER_KG_PER_M3: f64 = 1_000.0;

/// Water that the tank gives between cut-out and cut-in over its air at precharge [-].
#[must_use]
pub fn drawdown_fraction_of(site: &SiteSpec) -> f64 {
    let atmosphere_pa = standard_pressure_pa(site.altitude.si());
    let switch = &site.wall.pressure_switch;
    drawdown_fraction(
        atmosphere_pa + site.tank.precharge.si(),
        atmosphere_pa + switch.cut_in.si(),
        atmosphere_pa + switch.cut_out.si(),
        1.0,
    )
}

/// Water that the tank gives between cut-out and cut-in [m³]; a bladder that is full before
/// cut-out gives less.
#[must_use]
pub fn drawdown_m3(site: &SiteSpec) -> f64 {
    let shell = site.tank.shell_volume.si();
    let acceptance = site.tank.acceptance_volume.si();
    let atmosphere_pa = standard_pressure_pa(site.altitude.si());
    let charge = (atmosphere_pa + site.tank.precharge.si()) * shell;
    let switch = &site.wall.pressure_switch;
    let held = |gauge_pa: f64| {
        (shell - charge / (atmosphere_pa + gauge_pa))
            .max(0.0)
            .min(acceptance)
    };
    held(switch.cut_out.si()) - held(switch.cut_in.si())
}

/// Pressure at the tee that the pump makes against a shut valve, with the source as full as
/// at the start [Pa, gauge].
#[must_use]
pub fn shut_off_pa(site: &SiteSpec) -> f64 {
    let head_m = PumpMap::new(&site.pump).head_m(0.0, site.pump.rated_speed.si());
    let surface_m = site.source.bottom_elevation_m() + site.source.initial_depth_m();
    let lift_m = site.wall.elevation.si() - surface_m;
    WATER_KG_PER_M3 * STANDARD_GRAVITY * (head_m - lift_m)
}
