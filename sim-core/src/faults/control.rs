//! Faults of what switches the pump: pressure switch and float switch.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use crate::plant::Device;
use crate::units::Seconds;

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
];
