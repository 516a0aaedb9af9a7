//! Which conductor the jaws of a clamp close around at a place.
//!
//! A name says the terminal that the conductor hangs on; the current counts towards the
//! pump.  The second name of a row is the terminal of the other conductor at that place,
//! between which and the first a power meter takes its volts.

/// (terminal, element of the network, terminal of the other conductor).
const CONDUCTORS: &[(&str, &str, Option<&str>)] = &[
    ("panel.line1", "service line 1", None),
    ("panel.line2", "service line 2", None),
    ("panel.neutral", "service neutral", None),
    ("panel.earth", "earth conductor 1", None),
    ("breaker.load1", "feeder 1", Some("breaker.load2")),
    ("breaker.load2", "feeder 2", Some("breaker.load1")),
    ("switch.line1", "feeder 1", Some("switch.line2")),
    ("switch.line2", "feeder 2", Some("switch.line1")),
    ("switch.load1", "pump cable 1", Some("switch.load2")),
    ("switch.load2", "pump cable 2", Some("switch.load1")),
    ("switch.frame", "earth conductor 1", None),
    ("splice.line1", "pump cable 1", Some("splice.line2")),
    ("splice.line2", "pump cable 2", Some("splice.line1")),
    ("splice.earth", "earth conductor 2", None),
    ("splice.pump1", "joint 1", Some("splice.pump2")),
    ("splice.pump2", "joint 2", Some("splice.pump1")),
    ("float.load1", "drop cable 1", Some("splice.pump2")),
    ("pump.lead1", "drop cable 1", Some("pump.lead2")),
    ("pump.lead2", "drop cable 2", Some("pump.lead1")),
    ("pump.frame", "earth conductor 3", None),
];

/// The element whose current passes through jaws closed at a terminal.
pub(super) fn element_at(point: &str) -> Option<&'static str> {
    let row = CONDUCTORS.iter().find(|row| row.0 == point);
    row.map(|row| row.1)
}

/// The terminal of the other conductor at the same place.
pub(super) fn other_terminal(point: &str) -> Option<&'static str> {
    let row = CONDUCTORS.iter().find(|row| row.0 == point);
    row.and_then(|row| row.2)
}
