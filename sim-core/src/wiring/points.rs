//! Places that a probe can touch, and from where.

/// A place that a probe can touch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Point {
    /// Name in commands and readings: station and terminal.
    pub name: &'static str,
    /// For people.
    pub label: &'static str,
    /// Where one must stand to touch it.
    pub station: &'static str,
}

const fn point(name: &'static str, label: &'static str, station: &'static str) -> Point {
    Point {
        name,
        label,
        station,
    }
}

/// Every place, in the order the current passes.  A site has those of its own circuit.
pub const POINTS: &[Point] = &[
    point("panel.line1", "panel, first line lug", "panel"),
    point("panel.line2", "panel, second line lug", "panel"),
    point("panel.neutral", "panel, neutral bar", "panel"),
    point("panel.earth", "panel, earth bar", "panel"),
    point("breaker.load1", "breaker, first load terminal", "panel"),
    point("breaker.load2", "breaker, second load terminal", "panel"),
    point(
        "switch.line1",
        "pressure switch, first line terminal",
        "wall",
    ),
    point(
        "switch.load1",
        "pressure switch, first load terminal",
        "wall",
    ),
    point(
        "switch.line2",
        "pressure switch, second line terminal",
        "wall",
    ),
    point(
        "switch.load2",
        "pressure switch, second load terminal",
        "wall",
    ),
    point("switch.frame", "pressure switch, earth screw", "wall"),
    point(
        "splice.line1",
        "splice box, first conductor, house side",
        "splice",
    ),
    point(
        "splice.pump1",
        "splice box, first conductor, pump side",
        "splice",
    ),
    point(
        "splice.line2",
        "splice box, second conductor, house side",
        "splice",
    ),
    point(
        "splice.pump2",
        "splice box, second conductor, pump side",
        "splice",
    ),
    point("splice.earth", "splice box, earth conductor", "splice"),
    point("float.load1", "float switch, pump side", "source"),
    point("pump.lead1", "motor, first lead", "source"),
    point("pump.lead2", "motor, second lead", "source"),
    point("pump.frame", "motor frame", "source"),
];
