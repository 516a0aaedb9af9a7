//! Faults of the water's way to the wall: source, intake, check valves, buried pipe.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use super::{Leak, LeakPlace, Seat, hole, pump_seat, through_less_area};
use crate::parts::{IntakeMount, SourceSpec};
use crate::units::convert::{LITER, PSI, US_GPM};
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
            site.intake.screen.drop = through_less_area(site.intake.screen.drop, severity);
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
    KindInfo {
        kind: FaultKind::SuctionAirLeak,
        name: "suction.air_leak",
        mechanism: "a joint of the suction side draws air; severity is the flow of free air at 20 kPa of vacuum",
        unit: "L/min",
        si_per_unit: LITER / 60.0,
        default: 5.0,
        range: (0.001, 100.0),
        needs: &[Need::Suction],
        effect: Effect::Defect(|defects, _, severity| {
            defects.suction_leak_m3_per_s_pa = severity / 20_000.0;
        }),
    },
    KindInfo {
        kind: FaultKind::CheckValveMissing,
        name: "check_valve.missing",
        mechanism: "no check valve was fitted, or it was taken out",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::CheckValve],
        effect: Effect::Defect(|defects, site, _| *pump_seat(defects, site) = Seat::StuckOpen(1.0)),
    },
    KindInfo {
        kind: FaultKind::CheckValveSlamming,
        name: "check_valve.slamming",
        mechanism: "the check valve shuts late; severity is the speed of the water that comes back by then",
        unit: "m/s",
        si_per_unit: 1.0,
        default: 0.5,
        range: (0.01, 3.0),
        needs: &[Need::CheckValve],
        effect: Effect::Defect(|defects, _, severity| defects.slam_m_per_s = severity),
    },
    KindInfo {
        kind: FaultKind::FilterClogged,
        name: "filter.clogged",
        mechanism: "the filter is clogged; severity is the share of its area blocked",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.9,
        range: (0.0, 0.999_5),
        needs: &[Need::Filter],
        effect: Effect::Number(|site, severity| {
            if let Some(filter) = &mut site.house.filter {
                filter.drop = through_less_area(filter.drop, severity);
            }
        }),
    },
    KindInfo {
        kind: FaultKind::IntakeBeached,
        name: "intake.beached",
        mechanism: "the floating intake hangs caught; severity is its height above the floor",
        unit: "m",
        si_per_unit: 1.0,
        default: 1.0,
        range: (0.0, 10.0),
        needs: &[Need::FloatingIntake],
        effect: Effect::Number(|site, severity| {
            let elevation = Meters(site.source.bottom_elevation_m() + severity);
            site.intake.mount = IntakeMount::Fixed { elevation };
        }),
    },
    KindInfo {
        kind: FaultKind::IntakeVortex,
        name: "intake.vortex",
        mechanism: "a vortex forms over the intake; severity is the submergence that keeps air out at full flow",
        unit: "m",
        si_per_unit: 1.0,
        default: 0.6,
        range: (0.01, 5.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.vortex_full_flow_m = Some(severity)),
    },
    KindInfo {
        kind: FaultKind::RiserSplit,
        name: "riser.split",
        mechanism: "the riser inside the source is split above the check valve; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 5.0,
        range: (0.001, 50.0),
        needs: &[Need::Riser],
        effect: Effect::Defect(|defects, _, severity| defects.riser_split = Some(hole(severity))),
    },
    KindInfo {
        kind: FaultKind::ReliefValveLowSet,
        name: "relief_valve.low_set",
        mechanism: "the relief valve opens too low; severity is the pressure",
        unit: "psi",
        si_per_unit: PSI,
        default: 45.0,
        range: (5.0, 150.0),
        needs: &[Need::ReliefValve],
        effect: Effect::Number(|site, severity| {
            if let Some(relief) = &mut site.wall.relief_valve {
                relief.set_pressure = Pascals(severity);
            }
        }),
    },
    KindInfo {
        kind: FaultKind::RunFrozen,
        name: "run.frozen",
        mechanism: "ice blocks the run",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, _| defects.run_frozen = true),
    },
    KindInfo {
        kind: FaultKind::SourceValveLeftShut,
        name: "source_valve.left_shut",
        mechanism: "somebody has left the valve at the source shut",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, _| controls.source_valve_opening = 0.0),
    },
    KindInfo {
        kind: FaultKind::TankValveLeftShut,
        name: "tank_valve.left_shut",
        mechanism: "somebody has left the tank's valve shut",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, _| controls.tank_valve_opening = 0.0),
    },
    KindInfo {
        kind: FaultKind::HouseValveLeftShut,
        name: "house_valve.left_shut",
        mechanism: "somebody has left the house valve shut",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, _| controls.house_valve_opening = 0.0),
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
