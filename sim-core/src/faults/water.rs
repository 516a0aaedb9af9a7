//! Faults of the water's way to the wall: source, intake, check valves, buried pipe.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use super::{Leak, LeakPlace, Seat, hole, pump_seat};
use crate::parts::SourceSpec;
use crate::units::convert::US_GPM;
use crate::units::{Meters, Pascals};

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::RunLeak,
        name: "run.leak",
        mechanism: "the buried run leaks between the pump and the wall; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.5,
        range: (0.000_1, 20.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| {
            defects.leaks.push(Leak {
                place: LeakPlace::Run,
                rating: hole(severity),
                // Below the frost, as a buried run lies.
                elevation: Meters(-0.9),
            });
        }),
    },
    KindInfo {
        kind: FaultKind::CheckValveWeeping,
        name: "check_valve.weeping",
        mechanism: "the shut check valve lets water back; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.13,
        range: (0.000_1, 20.0),
        needs: &[Need::CheckValve],
        effect: Effect::Defect(|defects, site, severity| {
            *pump_seat(defects, site) = Seat::Weeping(hole(severity));
        }),
    },
    KindInfo {
        kind: FaultKind::CheckValveStuckOpen,
        name: "check_valve.stuck_open",
        mechanism: "the check valve is held off its seat; severity is the share of its area open to water coming back",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (0.001, 1.0),
        needs: &[Need::CheckValve],
        effect: Effect::Defect(|defects, site, severity| {
            *pump_seat(defects, site) = Seat::StuckOpen(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::CheckValveStuckShut,
        name: "check_valve.stuck_shut",
        mechanism: "the check valve does not lift",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::CheckValve],
        effect: Effect::Defect(|defects, site, _| *pump_seat(defects, site) = Seat::StuckShut),
    },
    KindInfo {
        kind: FaultKind::ScreenClogged,
        name: "intake.clogged_screen",
        mechanism: "the intake screen is clogged; severity is the share of its area blocked",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.9,
        range: (0.0, 0.999_5),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            // Loss of an opening goes with the inverse square of its free area.
            let free = 1.0 - severity;
            site.intake.screen.drop = Pascals(site.intake.screen.drop.si() / (free * free));
        }),
    },
    KindInfo {
        kind: FaultKind::PumpAirLock,
        name: "pump.air_lock",
        mechanism: "air is caught in the pump below its check valve; severity is the share of the bowl",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (0.0, 1.0),
        needs: &[],
        effect: Effect::Both(
            |site, _| site.pump.vent_time = None,
            |defects, _, severity| defects.trapped_air_share = Some(severity),
        ),
    },
    KindInfo {
        kind: FaultKind::SourceLow,
        name: "source.low",
        mechanism: "the source has little water; severity is the depth",
        unit: "m",
        si_per_unit: 1.0,
        default: 0.1,
        range: (0.0, 100.0),
        needs: &[],
        effect: Effect::Number(|site, severity| lower_source(&mut site.source, Meters(severity))),
    },
];

/// Takes water away until no more than `depth` is left at rest.
fn lower_source(source: &mut SourceSpec, depth: Meters) {
    match source {
        SourceSpec::Cistern { initial_depth, .. } => {
            initial_depth.0 = initial_depth.0.min(depth.0);
        }
        SourceSpec::Well {
            static_level,
            bottom,
            ..
        } => {
            static_level.0 = static_level.0.min(bottom.0 + depth.0);
        }
    }
}
