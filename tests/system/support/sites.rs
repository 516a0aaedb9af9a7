//! Sites to test on: the shipped ones, one with a check valve at the wall, a softened
//! one, and random relatives of them all.

use proptest::prelude::*;
use sim_core::parts::{CheckValveSpec, FlowRating, IntakeMount, SourceSpec};
use sim_core::site::{SiteSpec, parse};
use sim_core::units::{CubicMetersPerSecond, Meters, Pascals};

/// Names and texts of the shipped sites.
pub(crate) const SHIPPED: [(&str, &str); 3] = [
    (
        "orchard-cottage",
        include_str!("../../../scenarios/sites/orchard-cottage.ron"),
    ),
    (
        "hill-farm",
        include_str!("../../../scenarios/sites/hill-farm.ron"),
    ),
    (
        "garden-shed",
        include_str!("../../../scenarios/sites/garden-shed.ron"),
    ),
];

/// Reads a site that must be sound.
pub(crate) fn site_of(name: &str, text: &str) -> SiteSpec {
    parse(&format!("{name}.ron"), text).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// A shipped site by name.
pub(crate) fn shipped(name: &str) -> SiteSpec {
    let (name, text) = SHIPPED
        .iter()
        .find(|(n, _)| *n == name)
        .expect("a shipped site");
    site_of(name, text)
}

/// The hill farm with a second check valve where the run meets the tee.
pub(crate) fn farm_with_wall_check() -> SiteSpec {
    let mut site = shipped("hill-farm");
    site.name = "farm-with-wall-check".into();
    site.wall.check = Some(CheckValveSpec {
        cracking_pressure: Pascals(2_000.0),
        forward: FlowRating {
            flow: CubicMetersPerSecond(8e-4),
            drop: Pascals(4_000.0),
        },
    });
    site
}

/// Every site that fixed tests run on.
pub(crate) fn all() -> Vec<SiteSpec> {
    let mut sites: Vec<SiteSpec> = SHIPPED.iter().map(|(n, t)| site_of(n, t)).collect();
    sites.push(farm_with_wall_check());
    sites
}

/// Opening of every outlet as a share of the site's height, volume and so on: factors
/// that make a random relative of a site.
pub(crate) fn relative(site: SiteSpec, f: &[f64; 14]) -> SiteSpec {
    // `share` runs from -1 to 1; a factor of `ratio` either way.
    let factor = |i: usize, ratio: f64| sim_core::math::pow(ratio, f[i]);
    let mut site = site;
    for pipe in &mut site.run {
        pipe.length.0 *= 1.0 + f[0].abs();
        pipe.inside_diameter.0 *= factor(1, 1.4);
        pipe.wall_modulus.0 *= factor(2, 3.0);
    }
    site.house.pipe.length.0 *= factor(3, 3.0);
    let size = factor(4, 4.0);
    site.tank.shell_volume.0 *= size;
    site.tank.acceptance_volume.0 *= size;
    site.tank.precharge.0 *= factor(5, 1.3);
    site.tank.gas_time_constant.0 *= factor(6, 5.0);
    site.altitude = Meters(1_200.0 * (1.0 + f[7]));
    site.water_temperature.0 += 6.0 * f[8];
    site.air_temperature.0 += 12.0 * f[9];
    site.wall.pressure_switch.port_lag.0 *= factor(10, 6.0);
    site.pump.rotor_inertia.0 *= factor(11, 3.0);
    site.supply.voltage.0 *= factor(12, 1.12);
    match &mut site.source {
        SourceSpec::Cistern { initial_depth, .. } => initial_depth.0 *= factor(13, 1.2),
        SourceSpec::Well {
            specific_capacity, ..
        } => specific_capacity.0 *= factor(13, 10.0),
    }
    site
}

/// A random relative of a random site.
pub(crate) fn any_site() -> impl Strategy<Value = SiteSpec> {
    let factors = prop::array::uniform14(-1.0..1.0_f64);
    (0..all().len(), factors, any::<bool>(), any::<bool>()).prop_map(
        |(base, factors, has_filter, has_relief)| {
            let mut site = relative(all().swap_remove(base), &factors);
            site.name = format!("{} {factors:?} {has_filter} {has_relief}", site.name);
            if !has_filter {
                site.house.filter = None;
            }
            if !has_relief {
                site.wall.relief_valve = None;
            }
            site
        },
    )
}

/// Height of the intake's opening over the source's floor at its lowest [m].
pub(crate) fn lowest_intake_m(site: &SiteSpec) -> f64 {
    match site.intake.mount {
        IntakeMount::Floating {
            lowest_above_floor, ..
        } => lowest_above_floor.si(),
        IntakeMount::Fixed { elevation } => elevation.si() - site.source.bottom_elevation_m(),
    }
}

/// The same site with walls of rubber, so that its fastest rate is some hundred a second
/// and an explicit method can follow whole cycles with the house open.
pub(crate) fn softened(mut site: SiteSpec) -> SiteSpec {
    for pipe in &mut site.run {
        pipe.wall_modulus.0 /= 100.0;
    }
    site.house.pipe.wall_modulus.0 /= 3e5;
    site
}
