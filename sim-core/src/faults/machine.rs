//! Faults of the pump as a machine: wheels, shaft, seal, nozzle, and the wrong pump.
//!
//! Default severities and the shares below are training values, common practice, no
//! source.

use super::kind::{Effect, FaultKind, KindInfo, Need};
use super::{Leak, LeakPlace, hole};
use crate::units::convert::US_GPM;

/// Head, flow and shaft power of a pump that runs the wrong way round, over those it was
/// made for.  Its vanes still throw water outwards, but badly: trade texts speak of half
/// the head and a fifth to a half of the flow.
const REVERSED_HEAD: f64 = 0.5;
const REVERSED_FLOW: f64 = 0.4;
const REVERSED_POWER: f64 = 0.6;

/// Share of a shallow-well pump's head that is owed to its jet: what a nozzle with no
/// opening left would take.
const HEAD_OF_JET: f64 = 0.8;

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::PumpJammed,
        name: "pump.jammed",
        mechanism: "grit or scale holds the shaft fast",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[Need::Wiring],
        effect: Effect::Defect(|defects, _, _| defects.jammed = true),
    },
    KindInfo {
        kind: FaultKind::ImpellersWorn,
        name: "pump.worn_impellers",
        mechanism: "sand has worn impellers and seats, and water slips back between them; severity is the share of head left",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.7,
        range: (0.2, 1.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.pump.curve = site.pump.worn_curve(severity)),
    },
    KindInfo {
        kind: FaultKind::CouplingSheared,
        name: "pump.sheared_coupling",
        mechanism: "the coupling has sheared and the motor turns without the pump",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, _| defects.coupling_sheared = true),
    },
    KindInfo {
        kind: FaultKind::PumpReversed,
        name: "pump.reversed",
        mechanism: "the pump runs the wrong way round",
        unit: "share",
        si_per_unit: 1.0,
        default: 1.0,
        range: (1.0, 1.0),
        needs: &[],
        effect: Effect::Number(|site, _| {
            let curve = &site.pump.curve;
            site.pump.curve = curve.stretched(REVERSED_FLOW, REVERSED_HEAD, REVERSED_POWER);
        }),
    },
    KindInfo {
        kind: FaultKind::NozzleClogged,
        name: "pump.clogged_nozzle",
        mechanism: "grit clogs the jet pump's nozzle; severity is the share of it blocked",
        unit: "share",
        si_per_unit: 1.0,
        default: 0.5,
        range: (0.05, 0.95),
        needs: &[Need::SuctionLift],
        effect: Effect::Number(|site, severity| {
            // What the jet drives along goes with its opening.
            let (flow, head) = (1.0 - severity, 1.0 - HEAD_OF_JET * severity);
            site.pump.curve = site.pump.curve.stretched(flow, head, head);
        }),
    },
    KindInfo {
        kind: FaultKind::SealLeak,
        name: "pump.seal_leak",
        mechanism: "the pump's shaft seal drips; severity is the flow at 50 psi",
        unit: "gpm",
        si_per_unit: US_GPM,
        default: 0.02,
        range: (0.000_1, 2.0),
        needs: &[Need::SuctionLift],
        effect: Effect::Defect(|defects, site, severity| {
            // Above its foot valve a pump has the pressure of the run, standing or turning.
            defects.leaks.push(Leak {
                place: LeakPlace::Run,
                rating: hole(severity),
                elevation: site.pump.elevation,
            });
        }),
    },
    KindInfo {
        kind: FaultKind::PumpOversized,
        name: "pump.oversized",
        mechanism: "a bigger pump with its motor and breaker was fitted than tank and house ask for; severity is its flow over that of the right one",
        unit: "times",
        si_per_unit: 1.0,
        default: 1.6,
        range: (1.05, 4.0),
        needs: &[],
        effect: Effect::Number(|site, severity| {
            site.pump.curve = site.pump.curve.stretched(severity, 1.0, severity);
            site.pump.rotor_inertia.0 *= severity;
            site.motor.rated_power.0 *= severity;
            if let Some(wiring) = &mut site.wiring {
                wiring.breaker_rating.0 *= severity;
            }
        }),
    },
    KindInfo {
        kind: FaultKind::BearingDrag,
        name: "motor.bearing_drag",
        mechanism: "worn bearings drag; severity is the torque that they ask",
        unit: "N m",
        si_per_unit: 1.0,
        default: 0.9,
        range: (0.01, 10.0),
        needs: &[],
        effect: Effect::Defect(|defects, _, severity| defects.bearing_drag_nm += severity),
    },
];
