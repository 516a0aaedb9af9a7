//! Faults of the house and what it asks of the system.
//!
//! Draws without end are demand rather than defects of a part; they stand here because
//! they show as faults do.  Default severities are training values, common practice, no
//! source.

use super::kind::{Effect, FaultKind, KindInfo};
use super::{Defects, Draw, Leak, LeakPlace, SmallDraws, hole};
use crate::site::SiteSpec;
use crate::units::Meters;
use crate::units::convert::{LITER, US_GPM};

/// What an ice maker or humidifier takes at a time at 50 psi [m³], and how fast [m³/s]:
/// its valve stays open by the clock, nine seconds (training values).
const SMALL_DRAW_M3: f64 = 0.3 * LITER;
const SMALL_DRAW_M3_PER_S: f64 = 2.0 * LITER / 60.0;

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::HouseLeak,
        name: "house.leak",
        mechanism: "a pipe or fill valve behind the house valve leaks; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.1,
        range: (0.000_1, 20.0),
        needs: &[],
        effect: Effect::Defect(|defects, site, severity| {
            defects.leaks.push(Leak {
                place: LeakPlace::House,
                rating: hole(severity),
                elevation: site.wall.elevation,
            });
        }),
    },
    KindInfo {
        kind: FaultKind::ToiletRunning,
        name: "toilet.running",
        mechanism: "a toilet's fill valve does not shut; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.5,
        range: (0.001, 20.0),
        needs: &[],
        effect: Effect::Defect(|defects, site, severity| {
            defects.leaks.push(Leak {
                place: LeakPlace::Toilet,
                rating: hole(severity),
                elevation: toilet_elevation(site),
            });
        }),
    },
    KindInfo {
        kind: FaultKind::SteadyDraw,
        name: "house.steady_draw",
        mechanism: "something is in use all the time, as a garden zone; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 3.0,
        range: (0.01, 50.0),
        needs: &[],
        effect: Effect::Defect(draw_without_end),
    },
    KindInfo {
        kind: FaultKind::HeavyDraw,
        name: "house.heavy_draw",
        mechanism: "as much is in use as the pump can give, or more; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 15.0,
        range: (0.01, 100.0),
        needs: &[],
        effect: Effect::Defect(draw_without_end),
    },
    KindInfo {
        kind: FaultKind::SmallDraws,
        name: "house.small_draws",
        mechanism: "an ice maker or humidifier takes a glassful again and again; severity is how often",
        unit: "per hour",
        si_per_unit: 1.0 / 3_600.0,
        default: 12.0,
        range: (0.1, 120.0),
        needs: &[],
        effect: Effect::Defect(|defects, site, severity| {
            defects.small_draws = Some(SmallDraws {
                draw: draw(site, SMALL_DRAW_M3_PER_S),
                every_s: 1.0 / severity,
                open_s: SMALL_DRAW_M3 / SMALL_DRAW_M3_PER_S,
            });
        }),
    },
    KindInfo {
        kind: FaultKind::FixtureTooHigh,
        name: "fixture.too_high",
        mechanism: "the highest outlet stands higher than the pressure is good for; severity is by how much",
        unit: "m",
        si_per_unit: 1.0,
        default: 6.0,
        range: (0.1, 50.0),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            if let Some(highest) = highest_fixture(site) {
                site.house.fixtures[highest].elevation.0 += severity;
            }
        }),
    },
    KindInfo {
        kind: FaultKind::HeaterExpansion,
        name: "heater.expansion",
        mechanism: "a water heater heats, and a check valve keeps its water from expanding back; severity is the expansion",
        unit: "L/h",
        si_per_unit: LITER / 3_600.0,
        default: 1.0,
        range: (0.01, 20.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.expansion_m3_per_s += severity),
    },
];

/// A draw at the height of the wall, by its flow at 50 psi.
fn draw(site: &SiteSpec, flow_m3_per_s: f64) -> Draw {
    Draw {
        rating: hole(flow_m3_per_s),
        elevation: site.wall.elevation,
    }
}

/// Puts a draw without end behind the house valve.
fn draw_without_end(defects: &mut Defects, site: &SiteSpec, flow_m3_per_s: f64) {
    defects.draws.push(draw(site, flow_m3_per_s));
}

/// Place of the highest fixture in the site's list, the first of equals; none without
/// fixtures.
fn highest_fixture(site: &SiteSpec) -> Option<usize> {
    let heights = site.house.fixtures.iter().map(|f| f.elevation.si());
    let mut highest: Option<(usize, f64)> = None;
    for (i, height) in heights.enumerate() {
        if highest.is_none_or(|(_, h)| height > h) {
            highest = Some((i, height));
        }
    }
    highest.map(|(i, _)| i)
}

/// Height of the toilet, where a fixture is named so, else of the highest fixture.
fn toilet_elevation(site: &SiteSpec) -> Meters {
    let fixtures = &site.house.fixtures;
    let toilet = fixtures.iter().find(|f| f.name.contains("toilet"));
    let any = || highest_fixture(site).map(|i| &fixtures[i]);
    toilet
        .or_else(any)
        .map_or(site.wall.elevation, |f| f.elevation)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::faults::Fault;

    const COTTAGE: &str = include_str!("../../../scenarios/sites/orchard-cottage.ron");

    fn cottage() -> SiteSpec {
        crate::site::parse("orchard-cottage.ron", COTTAGE).unwrap()
    }

    #[test]
    fn a_running_toilet_runs_at_the_toilet_or_else_at_the_highest_outlet() {
        let mut site = cottage();
        let defects = Defects::of(&site, &[Fault::usual(FaultKind::ToiletRunning)]);
        // 3 ft 6 in.
        assert!((defects.leaks[0].elevation.si() - 1.0668).abs() < 1e-9);
        site.house.fixtures.retain(|f| f.name != "toilet");
        let defects = Defects::of(&site, &[Fault::usual(FaultKind::ToiletRunning)]);
        // The shower, 9 ft 6 in.
        assert!((defects.leaks[0].elevation.si() - 2.8956).abs() < 1e-9);
        site.house.fixtures.clear();
        let defects = Defects::of(&site, &[Fault::usual(FaultKind::ToiletRunning)]);
        assert_eq!(defects.leaks[0].elevation, site.wall.elevation);
    }

    #[test]
    fn only_the_highest_outlet_is_raised() {
        let site = cottage();
        let raised =
            crate::faults::effective_site(&site, &[Fault::usual(FaultKind::FixtureTooHigh)]);
        for (before, after) in site.house.fixtures.iter().zip(&raised.house.fixtures) {
            let by = after.elevation.si() - before.elevation.si();
            let expected = if before.name == "shower" { 6.0 } else { 0.0 };
            assert!((by - expected).abs() < 1e-12, "{}: {by}", before.name);
        }
    }

    #[test]
    fn the_glass_is_shorter_than_the_time_between_two_at_any_severity() {
        let info = FaultKind::SmallDraws.info();
        for per_hour in [info.range.0, info.default, info.range.1] {
            let fault = Fault {
                kind: FaultKind::SmallDraws,
                severity: per_hour * info.si_per_unit,
            };
            let draws = Defects::of(&cottage(), &[fault]).small_draws.unwrap();
            assert!((draws.every_s - 3_600.0 / per_hour).abs() < 1e-6);
            assert!((draws.open_s - 9.0).abs() < 1e-9 && draws.open_s < draws.every_s);
        }
    }
}
