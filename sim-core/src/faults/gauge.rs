//! Faults of the gauge at the wall.
//!
//! The plant goes on as ever; only what the dial shows is another thing.
//! Default severities are training values, common practice, no source.

use super::kind::{Effect, FaultKind, KindInfo};
use crate::units::convert::PSI;
use crate::units::{Pascals, Seconds};

/// The kinds of this family.
pub(super) const KINDS: &[KindInfo] = &[
    KindInfo {
        kind: FaultKind::GaugeStuck,
        name: "gauge.stuck",
        mechanism: "the gauge's needle hangs where it is; severity is the pressure that it takes to move it",
        unit: "psi",
        si_per_unit: PSI,
        default: 100.0,
        range: (1.0, 1_000.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.wall.gauge.stiction = Pascals(severity)),
    },
    KindInfo {
        kind: FaultKind::GaugeOffset,
        name: "gauge.offset",
        mechanism: "the gauge's needle sits wrong on its shaft; severity is what it shows without pressure",
        unit: "psi",
        si_per_unit: PSI,
        default: 8.0,
        range: (-50.0, 50.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.wall.gauge.offset = Pascals(severity)),
    },
    KindInfo {
        kind: FaultKind::GaugeSnubberPlugged,
        name: "gauge.plugged_snubber",
        mechanism: "sediment plugs the gauge's snubber; severity is the lag",
        unit: "s",
        si_per_unit: 1.0,
        default: 120.0,
        range: (0.5, 36_000.0),
        needs: &[],
        effect: Effect::Number(|site, severity| site.wall.gauge.lag = Seconds(severity)),
    },
];
