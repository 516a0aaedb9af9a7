//! Faults of what switches the pump: pressure switch, how it was left set, float switch.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use super::{Leak, LeakPlace, hole};
use crate::plant::Device;
use crate::units::convert::{PSI, US_GPM};
use crate::units::{Pascals, Seconds};

/// Least differential that the springs leave between cut-in and cut-out [Pa].
const LEAST_DIFFERENTIAL_PA: f64 = 2.0 * PSI;

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::SwitchPortPlugged,
        name: "pressure_switch.plugged_port",
        mechanism: "sediment plugs the switch's sensing port; severity is the lag",
        unit: "s",
        si_per_unit: 1.0,
        default: 20.0,
        range: (0.05, 3_600.0),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            site.wall.pressure_switch.port_lag = Seconds(severity)
        }),
    },
    KindInfo {
        kind: FaultKind::ContactsBurnt,
        name: "pressure_switch.burnt_contacts",
        mechanism: "the pressure switch's contacts are burnt; severity is the resistance of one pole",
        unit: "ohm",
        si_per_unit: 1.0,
        default: 2.0,
        range: (0.01, 1e6),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, severity| defects.wiring.contact_ohm[0] = severity),
    },
    KindInfo {
        kind: FaultKind::ContactsWelded,
        name: "pressure_switch.welded_contacts",
        mechanism: "the pressure switch's contacts are welded together",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.contacts_welded = true),
    },
    KindInfo {
        kind: FaultKind::FloatStuckOpen,
        name: "float_switch.stuck_open",
        mechanism: "the float switch hangs open though the water is high",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::FloatSwitch],
        effect: Effect::Defect(|defects, _, _| defects.float_stuck = Some(Device::Open)),
    },
    KindInfo {
        kind: FaultKind::FloatStuckClosed,
        name: "float_switch.stuck_closed",
        mechanism: "the float switch stays closed though the water is low",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::FloatSwitch],
        effect: Effect::Defect(|defects, _, _| defects.float_stuck = Some(Device::Closed)),
    },
    KindInfo {
        kind: FaultKind::CutOutHigh,
        name: "pressure_switch.cut_out_high",
        mechanism: "somebody has left cut-out too high; severity is the gauge pressure",
        unit: "psi",
        si_per_unit: PSI,
        default: 90.0,
        range: (20.0, 200.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, severity| {
            let least = controls.cut_in.si() + LEAST_DIFFERENTIAL_PA;
            controls.cut_out = Pascals(severity.max(least));
        }),
    },
    KindInfo {
        kind: FaultKind::DifferentialSmall,
        name: "pressure_switch.small_differential",
        mechanism: "somebody has turned cut-out down to near cut-in; severity is the differential",
        unit: "psi",
        si_per_unit: PSI,
        default: 6.0,
        range: (2.0, 20.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, severity| {
            controls.cut_out = Pascals(controls.cut_in.si() + severity);
        }),
    },
    KindInfo {
        kind: FaultKind::SwitchRaised,
        name: "pressure_switch.raised",
        mechanism: "somebody has raised cut-in and cut-out and left the tank as it was; severity is by how much",
        unit: "psi",
        si_per_unit: PSI,
        default: 15.0,
        range: (1.0, 60.0),
        needs: &[],
        effect: Effect::Setting(|controls, _, severity| {
            controls.cut_in = Pascals(controls.cut_in.si() + severity);
            controls.cut_out = Pascals(controls.cut_out.si() + severity);
        }),
    },
    KindInfo {
        kind: FaultKind::DiaphragmLeaking,
        name: "pressure_switch.leaking_diaphragm",
        mechanism: "the pressure switch's diaphragm lets water into the cover; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.01,
        range: (0.000_1, 1.0),
        needs: &[],
        effect: Effect::Defect(|defects, site, severity| {
            defects.leaks.push(Leak {
                place: LeakPlace::Tee,
                rating: hole(severity),
                elevation: site.wall.elevation,
            });
        }),
    },
    KindInfo {
        kind: FaultKind::PortFrozen,
        name: "pressure_switch.frozen_port",
        mechanism: "ice in the sensing port shuts in the pressure at which it froze",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, _| defects.port_frozen = true),
    },
    KindInfo {
        kind: FaultKind::CutOffTripped,
        name: "pressure_switch.cut_off_tripped",
        mechanism: "the low-pressure cut-off has dropped and waits for a hand on its lever",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::LowPressureCutOff],
        effect: Effect::Defect(|defects, _, _| defects.cut_off_tripped = true),
    },
];
