//! Faults of supply, wiring and motor windings.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use crate::motor::{CapacitorState, WindingState};
use crate::units::Volts;

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::SpliceResistive,
        name: "splice.high_resistance",
        mechanism: "a joint in the splice box has a resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 2.0,
        range: (0.01, 1e6),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.splice_ohm[0] = Some(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::SpliceOpen,
        name: "splice.open",
        mechanism: "a joint in the splice box is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.wiring.splice_ohm[0] = None),
    },
    KindInfo {
        kind: FaultKind::SupplyLegOpen,
        name: "supply.open_leg",
        mechanism: "a line conductor of the service is open; severity says which, 1 or 2",
        unit: "leg",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 2.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.open_leg = Some(severity as u8)
        }),
    },
    KindInfo {
        kind: FaultKind::SupplyNeutralOpen,
        name: "supply.open_neutral",
        mechanism: "the service's neutral is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.wiring.open_neutral = true),
    },
    KindInfo {
        kind: FaultKind::SupplyVoltageWrong,
        name: "supply.wrong_voltage",
        mechanism: "the circuit has been given the wrong voltage",
        unit: "V",
        si_per_unit: 1.0,
        default: 115.0,
        range: (20.0, 500.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.supply.voltage = Volts(severity)),
    },
    KindInfo {
        kind: FaultKind::EarthOpen,
        name: "earth.open",
        mechanism: "the earth conductor to the pump is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.wiring.open_earth = true),
    },
    KindInfo {
        kind: FaultKind::MotorInsulation,
        name: "motor.insulation",
        mechanism: "the winding's insulation lets current through to the frame; severity is its resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 20_000.0,
        range: (10.0, 2e8),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| defects.wiring.insulation_ohm = severity),
    },
    KindInfo {
        kind: FaultKind::StartCapacitorOpen,
        name: "motor.open_start_capacitor",
        mechanism: "the capacitor or lead of the start winding is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| {
            defects.motor.start_capacitor = CapacitorState::Open;
            defects.motor.run_capacitor = CapacitorState::Open;
        }),
    },
    KindInfo {
        kind: FaultKind::MotorWindingOpen,
        name: "motor.open_winding",
        mechanism: "the motor's main winding is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.motor.main = WindingState::Open),
    },
];
