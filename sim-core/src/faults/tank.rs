//! Faults of the bladder tank.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo};
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
        kind: FaultKind::TankWaterlogged,
        name: "tank.waterlogged",
        mechanism: "water has taken the place of the air; severity is the air left, as volume at precharge",
        unit: "L",
        si_per_unit: LITER,
        default: 2.0,
        range: (0.01, 1_000.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.tank_air_left_m3 = Some(severity)),
    },
];
