//! Faults of the pump as a machine.
//!
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo, Need};

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[KindInfo {
    kind: FaultKind::PumpJammed,
    name: "pump.jammed",
    mechanism: "grit or scale holds the shaft fast",
    unit: "share",
    si_per_unit: 1.0,
    default: 1.0,
    range: (1.0, 1.0),
    needs: &[Need::Wiring],
    effect: Effect::Defect(|defects, _, _| defects.jammed = true),
}];
