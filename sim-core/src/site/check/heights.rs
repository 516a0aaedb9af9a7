//! Levels, depths and rises: does it all fit together in height?

use crate::file::fields::Located;
use crate::file::problem::Problems;
use crate::parts::PumpPlacement;
use crate::site::draft::{MountDraft, PipeDraft, ShapeDraft, SiteDraft, SourceDraft};
use crate::units::Meters;

/// How far heights that should be equal may differ [m]: what a tape gives.
const HEIGHT_TOLERANCE_M: f64 = 0.05;
/// Room for rounding where a bound itself is allowed [m].
const ROUNDING_M: f64 = 1e-9;

/// A cistern holds no more than it can.
pub(super) fn check_water_depth(site: &SiteDraft, problems: &Problems) {
    if let Some(SourceDraft::Cistern {
        shape, water_depth, ..
    }) = &site.source
        && let (Some(depth), Some(height)) =
            (water_depth, shape.as_ref().and_then(ShapeDraft::height))
        && depth.value.si() > height.si() + ROUNDING_M
    {
        problems.report_spot(
            &depth.spot,
            format!("{} is more than the cistern is high", depth.written),
            format!("{} to {}", depth.show_si(0.0), depth.show_si(height.si())),
        );
    }
}

/// The water in a well stands above its bottom.
pub(super) fn check_well_levels(site: &SiteDraft, problems: &Problems) {
    if let Some(SourceDraft::Well {
        static_level: Some(level),
        bottom: Some(bottom),
        ..
    }) = &site.source
        && level.value.si() <= bottom.value.si()
    {
        problems.report_spot(
            &level.spot,
            format!(
                "a static level {} deep is not above the bottom, {} deep",
                level.written, bottom.written
            ),
            format!("less than {}", level.show_si(-bottom.value.si())),
        );
    }
}

/// A floating intake needs room to float, and its lowest place is inside.
pub(super) fn check_floating_intake(site: &SiteDraft, problems: &Problems) {
    let (
        Some(source),
        Some(MountDraft::Floating {
            lowest_above_floor, ..
        }),
    ) = (&site.source, &site.intake.mount)
    else {
        return;
    };
    if let (SourceDraft::Well { .. }, Some(lowest)) = (source, lowest_above_floor) {
        problems.report_spot(
            &lowest.spot,
            "a floating intake does not fit down a well",
            "mount: Fixed(depth: ..)",
        );
        return;
    }
    if let (Some(lowest), Some(floor_m), Some(top_m)) =
        (lowest_above_floor, source.floor_m(), source.top_m())
        && lowest.value.si() >= top_m - floor_m
    {
        problems.report_spot(
            &lowest.spot,
            format!(
                "{} above the floor is above the cistern's top",
                lowest.written
            ),
            format!("less than {}", lowest.show_si(top_m - floor_m)),
        );
    }
}

/// A fixed intake opens inside the source.
pub(super) fn check_fixed_intake(site: &SiteDraft, problems: &Problems) {
    if let Some(source) = &site.source
        && let Some(intake) = site.intake.fixed_elevation(source)
        && let (Some(floor_m), Some(top_m)) = (source.floor_m(), source.top_m())
    {
        check_inside(&intake, (floor_m, top_m), "the intake's opening", problems);
    }
}

/// A submersible pump hangs in the source: under the resting water of a well,
/// between floor and top of a cistern (a cistern may well be empty).
pub(super) fn check_pump_in_source(site: &SiteDraft, problems: &Problems) {
    if site.pump.placement == Some(PumpPlacement::Submersible)
        && let (Some(source), Some(pump)) = (&site.source, &site.pump.elevation)
        && let (Some(floor_m), Some(top_m)) = (source.floor_m(), source.top_m())
    {
        check_inside(pump, (floor_m, top_m), "a submersible pump", problems);
    }
}

fn check_inside(
    found: &Located<Meters>,
    (floor_m, top_m): (f64, f64),
    what: &str,
    problems: &Problems,
) {
    let height_m = found.value.si();
    if height_m < floor_m - ROUNDING_M || height_m > top_m + ROUNDING_M {
        problems.report_spot(
            &found.spot,
            format!(
                "{} puts {what} {} outside the source",
                found.written,
                level(found, height_m),
            ),
            format!(
                "between {} and {}",
                level(found, top_m),
                level(found, floor_m)
            ),
        );
    }
}

/// A height above ground in words and in the unit that the file uses there.
fn level(like: &Located<Meters>, height_m: f64) -> String {
    if height_m < 0.0 {
        format!("{} below ground", like.show_si(-height_m))
    } else {
        format!("{} above ground", like.show_si(height_m))
    }
}

/// No pipe rises or falls by more than its length.
pub(super) fn check_pipe_rises(site: &SiteDraft, problems: &Problems) {
    let pipes = site
        .suction
        .iter()
        .chain(&site.run)
        .chain([&site.house.pipe]);
    for pipe in pipes {
        if let (Some(length), Some(rise)) = (&pipe.length, &pipe.rise)
            && rise.value.si().abs() > length.value.si() + ROUNDING_M
        {
            problems.report_spot(
                &rise.spot,
                format!(
                    "a rise of {} is more than the length {}",
                    rise.written, length.written
                ),
                format!(
                    "{} to {}",
                    rise.show_si(-length.value.si()),
                    rise.show_si(length.value.si())
                ),
            );
        }
    }
}

/// A suction pipe from a fixed intake rises as far as the pump stands above it.
pub(super) fn check_suction_rise(site: &SiteDraft, problems: &Problems) {
    if let (Some(suction), Some(source), Some(pump)) =
        (&site.suction, &site.source, &site.pump.elevation)
        && let (Some(rise), Some(intake)) = (&suction.rise, site.intake.fixed_elevation(source))
    {
        let expected_m = pump.value.si() - intake.value.si();
        if (rise.value.si() - expected_m).abs() > HEIGHT_TOLERANCE_M {
            problems.report_spot(
                &rise.spot,
                format!(
                    "the suction rises {}, but the pump stands {} above the intake",
                    rise.written,
                    rise.show_si(expected_m)
                ),
                format!(
                    "{}, within {}",
                    rise.show_si(expected_m),
                    rise.show_si(HEIGHT_TOLERANCE_M)
                ),
            );
        }
    }
}

/// The run rises in all as far as the wall stands above the pump.
pub(super) fn check_run_rise(site: &SiteDraft, problems: &Problems) {
    let rises: Option<Vec<&Located<Meters>>> = site
        .run
        .iter()
        .map(|pipe: &PipeDraft| pipe.rise.as_ref())
        .collect();
    let (Some(rises), Some(pump), Some(wall)) = (rises, &site.pump.elevation, &site.wall.height)
    else {
        return;
    };
    let Some(last) = rises.last() else { return };
    let sum_m: f64 = rises.iter().map(|rise| rise.value.si()).sum();
    let expected_m = wall.value.si() - pump.value.si();
    if (sum_m - expected_m).abs() > HEIGHT_TOLERANCE_M {
        problems.report_spot(
            &last.spot,
            format!(
                "the rises of the run add up to {}, but from the pump ({}) to the wall ({}) it is {}",
                wall.show_si(sum_m),
                level(wall, pump.value.si()),
                level(wall, wall.value.si()),
                wall.show_si(expected_m)
            ),
            format!(
                "rises that add up to {}, within {}",
                wall.show_si(expected_m),
                wall.show_si(HEIGHT_TOLERANCE_M)
            ),
        );
    }
}
