//! Faults of the bladder tank.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo};
use super::through_less_area;
use crate::units::Pascals;
use crate::units::convert::{LITER, PSI};

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::TankLowPrecharge,
        name: "tank.lost_precharge",
        mechanism: "the tank has lost air; severity is the gauge pressure left",
        unit: "psi",
        si_per_unit: PSI,
        default: 10.0,
        range: (0.0, 150.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.tank.precharge = Pascals(severity)),
    },
    KindInfo {
        kind: FaultKind::TankHighPrecharge,
        name: "tank.excess_precharge",
        mechanism: "the tank was given too much air; severity is the gauge pressure",
        unit: "psi",
        si_per_unit: PSI,
        default: 50.0,
        range: (0.0, 150.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.tank.precharge = Pascals(severity)),
    },
    KindInfo {
        kind: FaultKind::TankTornBladder,
        name: "tank.torn_bladder",
        mechanism: "the bladder is torn and water has taken the place of the air; severity is the air left, as volume at precharge",
        unit: "L",
        si_per_unit: LITER,
        default: 2.0,
        range: (0.01, 1_000.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.tank_air_left_m3 = Some(severity)),
    },
    KindInfo {
        kind: FaultKind::TankAirValveLeaking,
        name: "tank.leaking_air_valve",
        mechanism: "the tank's air valve leaks; severity is the pressure lost in a day at precharge",
        unit: "psi/day",
        si_per_unit: PSI / 86_400.0,
        default: 5.0,
        range: (0.01, 5_000.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.tank_air_leak_pa_per_s = severity),
    },
    KindInfo {
        kind: FaultKind::TankInletPlugged,
        name: "tank.plugged_inlet",
        mechanism: "sediment plugs the way into the tank; severity is the share of its area blocked",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.98,
        range: (0.0, 0.999_9),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            site.tank.connection.drop = through_less_area(site.tank.connection.drop, severity);
        }),
    },
    KindInfo {
        kind: FaultKind::TankBladderStuck,
        name: "tank.stuck_bladder",
        mechanism: "a new bladder sticks together; severity is the pressure above precharge that frees it",
        unit: "psi",
        si_per_unit: PSI,
        default: 15.0,
        range: (0.1, 100.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.bladder_sticks_pa = severity),
    },
    KindInfo {
        kind: FaultKind::TankUndersized,
        name: "tank.undersized",
        mechanism: "the tank is too small; severity is the volume of its shell",
        unit: "L",
        si_per_unit: LITER,
        default: 20.0,
        range: (2.0, 1_000.0),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            site.tank.acceptance_volume.0 *= severity / site.tank.shell_volume.si();
            site.tank.shell_volume.0 = severity;
        }),
    },
];
