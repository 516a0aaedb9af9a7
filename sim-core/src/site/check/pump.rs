//! Pump, its curve, its suction and its motor.

use crate::file::problem::Problems;
use crate::parts::PumpPlacement;
use crate::site::draft::SiteDraft;
use crate::units::convert::STANDARD_GRAVITY;

/// Best share of shaft power that a small pump could turn into head; real ones
/// reach 0.35 to 0.55 (training value, common practice).
const MAX_EFFICIENCY: f64 = 0.85;
/// Density of water for that check [kg/m³].
const WATER_KG_PER_M3: f64 = 1000.0;
/// Lowest full-load speed as a share of synchronous speed (training value: small
/// motors slip by 3 to 10 %).
const LEAST_SPEED_SHARE: f64 = 0.75;

/// A pump above the water has a suction pipe and a foot valve; one in it has no suction.
pub(super) fn check_suction_parts(site: &SiteDraft, problems: &Problems) {
    match site.pump.placement {
        Some(PumpPlacement::SuctionLift) => {
            for (part, is_there) in [
                ("suction", site.suction.is_some()),
                ("foot_valve", site.foot_valve.is_some()),
            ] {
                if !is_there {
                    problems.report(
                        site.pump.spot.at,
                        part,
                        "is missing: a SuctionLift pump cannot do without",
                        if part == "suction" {
                            "suction: (length: .., rise: .., diameter: .., fittings: ..)"
                        } else {
                            "foot_valve: (cracking_pressure: .., rating: ..)"
                        },
                    );
                }
            }
        }
        Some(PumpPlacement::Submersible) => {
            if let Some(spot) = &site.suction_spot {
                problems.report_spot(
                    spot,
                    "a Submersible pump has no suction pipe",
                    "no suction, or placement: SuctionLift",
                );
            }
        }
        None => {}
    }
}

/// Points stand in order of rising flow from no flow, and head falls along them.
pub(super) fn check_curve_order(site: &SiteDraft, problems: &Problems) {
    if let Some(flow) = site
        .pump
        .curve
        .first()
        .and_then(|point| point.flow.as_ref())
        && flow.value.si() != 0.0
    {
        problems.report_spot(
            &flow.spot,
            format!("the first point is at {}, not at no flow", flow.written),
            format!("a first point at {}", flow.show_si(0.0)),
        );
    }
    for pair in site.pump.curve.windows(2) {
        let [before, after] = pair else { continue };
        if let (Some(low), Some(high)) = (&before.flow, &after.flow)
            && high.value.si() <= low.value.si()
        {
            problems.report_spot(
                &high.spot,
                format!(
                    "{} is not above {} of the point before",
                    high.written, low.written
                ),
                format!("more than {}", high.show_si(low.value.si())),
            );
        }
        if let (Some(high), Some(low)) = (&before.head, &after.head)
            && low.value.si() >= high.value.si()
        {
            problems.report_spot(
                &low.spot,
                format!(
                    "{} is not below {} of the point before",
                    low.written, high.written
                ),
                format!("less than {}", low.show_si(high.value.si())),
            );
        }
    }
}

/// No point gives out more water power than goes in at the shaft.
pub(super) fn check_curve_efficiency(site: &SiteDraft, problems: &Problems) {
    for point in &site.pump.curve {
        if let (Some(flow), Some(head), Some(power)) = (&point.flow, &point.head, &point.power) {
            let water_power_w =
                WATER_KG_PER_M3 * STANDARD_GRAVITY * flow.value.si() * head.value.si();
            let least_w = water_power_w / MAX_EFFICIENCY;
            if power.value.si() < least_w {
                problems.report_spot(
                    &power.spot,
                    format!(
                        "{} at the shaft is too little to lift {} by {}",
                        power.written, flow.written, head.written
                    ),
                    format!("at least {}", power.show_at_least(least_w)),
                );
            }
        }
    }
}

/// Numbers of poles that motors are built with.
const POLES: [f64; 4] = [2.0, 4.0, 6.0, 8.0];

/// Poles come in pairs.
pub(super) fn check_poles(site: &SiteDraft, problems: &Problems) {
    if let Some(poles) = &site.motor.poles
        && !POLES.contains(&poles.value)
    {
        problems.report_spot(
            &poles.spot,
            format!("a motor cannot have {} poles", poles.written),
            "2, 4, 6 or 8",
        );
    }
}

/// An induction motor runs a little below its rotating field.
pub(super) fn check_full_load_speed(site: &SiteDraft, problems: &Problems) {
    let (Some(speed), Some(frequency), Some(poles)) = (
        &site.motor.full_load_speed,
        &site.supply.frequency,
        &site.motor.poles,
    ) else {
        return;
    };
    if !POLES.contains(&poles.value) {
        return;
    }
    let Some(synchronous) = site.motor.synchronous_rad_per_s(frequency.value) else {
        return;
    };
    let share = speed.value.si() / synchronous;
    if !(LEAST_SPEED_SHARE..1.0).contains(&share) {
        problems.report_spot(
            &speed.spot,
            format!(
                "{} does not go with a field of {} ({} poles at {})",
                speed.written,
                speed.show_si(synchronous),
                poles.written,
                frequency.written
            ),
            format!(
                "{} or more, and less than {}",
                speed.show_at_least(LEAST_SPEED_SHARE * synchronous),
                speed.show_si(synchronous)
            ),
        );
    }
}
