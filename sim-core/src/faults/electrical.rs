//! Faults of supply, wiring and motor windings.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use crate::motor::{CapacitorState, WindingState};
use crate::units::{Ohms, Volts};

/// Resistance of a joint that water has got into [Ω].
const WET_JOINT_OHM: f64 = 0.3;
/// Insulation of a chafed drop cable to earth [Ω]: too good to trip anything, too bad to
/// pass a test at 500 V.
const CHAFED_INSULATION_OHM: f64 = 300_000.0;

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
        needs: &[Need::Capacitor],
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
    KindInfo {
        kind: FaultKind::SupplyDead,
        name: "supply.dead",
        mechanism: "no voltage comes to the panel on any leg",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.wiring.dead_supply = true),
    },
    KindInfo {
        kind: FaultKind::SupplyWeak,
        name: "supply.weak",
        mechanism: "transformer or service is weak; severity is its resistance per line conductor",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 1.5,
        range: (0.01, 100.0),
        needs: &[Need::Wiring],
        effect: Effect::Number(|site, severity| {
            if let Some(wiring) = &mut site.wiring {
                wiring.source_resistance = Ohms(severity);
            }
        }),
    },
    KindInfo {
        kind: FaultKind::BreakerTripped,
        name: "breaker.tripped",
        mechanism: "the breaker has tripped and waits to be switched off and on",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.breaker_tripped = true),
    },
    KindInfo {
        kind: FaultKind::BreakerResistive,
        name: "breaker.high_resistance",
        mechanism: "the joint at the breaker's load lug has a resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 2.0,
        range: (0.01, 1e6),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.breaker_lug_ohm = Some(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::SwitchTerminalResistive,
        name: "switch_terminal.high_resistance",
        mechanism: "the joint at the pressure switch's line terminal has a resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 2.0,
        range: (0.01, 1e6),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.switch_terminal_ohm = Some(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::CableUndersized,
        name: "cable.undersized",
        mechanism: "the longest cable is too thin; severity is its resistance over that of the specified one",
        unit: "ratio",
        si_per_unit: 1.0,
        default: 4.0,
        range: (1.0, 100.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| defects.wiring.long_cable_ratio = severity),
    },
    KindInfo {
        kind: FaultKind::CableGroundFault,
        name: "cable.ground_fault",
        mechanism: "the cable leaks to earth on the house side of the splice box; severity is the resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 2_000.0,
        range: (1.0, 2e8),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.cable_leak_ohm = Some(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::SpliceWet,
        name: "splice.wet",
        mechanism: "the splice is not waterproof; severity is its leakage to earth",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 20_000.0,
        range: (10.0, 2e8),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.splice_leak_ohm = Some(severity);
            defects.wiring.splice_ohm[0] = Some(WET_JOINT_OHM);
        }),
    },
    KindInfo {
        kind: FaultKind::SwitchDamp,
        name: "pressure_switch.damp",
        mechanism: "damp bridges the pressure switch's load terminal to its case; severity is the resistance",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 12_000.0,
        range: (10.0, 2e8),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.wiring.switch_leak_ohm = Some(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::ContactsBlocked,
        name: "pressure_switch.blocked_contacts",
        mechanism: "an insect or dirt keeps the pressure switch's contacts apart though its lever has moved",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.wiring.blocked_contacts = true),
    },
    KindInfo {
        kind: FaultKind::MotorShortedTurns,
        name: "motor.shorted_turns",
        mechanism: "turns of the motor's main winding are shorted on themselves; severity is their share",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.15,
        range: (0.005, 0.5),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| defects.motor.shorted_turns = severity),
    },
    KindInfo {
        kind: FaultKind::StartCapacitorWeak,
        name: "motor.weak_start_capacitor",
        mechanism: "the start capacitor has lost capacitance; severity is the share left",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.3,
        range: (0.01, 1.0),
        needs: &[Need::StartCapacitor],
        effect: Effect::Defect(|defects, _, severity| {
            defects.motor.start_capacitor = CapacitorState::Share(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::RunCapacitorWeak,
        name: "motor.weak_run_capacitor",
        mechanism: "the run capacitor has lost capacitance; severity is the share left",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.5,
        range: (0.01, 1.0),
        needs: &[Need::PermanentCapacitor],
        effect: Effect::Defect(|defects, _, severity| {
            defects.motor.run_capacitor = CapacitorState::Share(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::StartSwitchWelded,
        name: "motor.welded_start_switch",
        mechanism: "the start switch or relay does not open: the start winding stays in",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::StartSwitch],
        effect: Effect::Defect(|defects, _, _| defects.start_switch_welded = true),
    },
    KindInfo {
        kind: FaultKind::ProtectorWeak,
        name: "motor.weak_protector",
        mechanism: "the motor's thermal protector opens too early; severity is by how much",
        unit: "K",
        si_per_unit: 1.0,
        default: 94.0,
        range: (0.0, 110.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| defects.protector_early_k = severity),
    },
    KindInfo {
        kind: FaultKind::DropCableChafed,
        name: "drop_cable.chafed",
        mechanism: "a conductor of the drop cable is chafed through and moves with the starting torque; severity is the share of starts at which it is open",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.4,
        range: (0.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| {
            defects.chafed_open_share = Some(severity);
            defects.wiring.chafed_leak_ohm = Some(CHAFED_INSULATION_OHM);
        }),
    },
];
