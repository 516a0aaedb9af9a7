//! Trade words and identifiers for what the plant reports.

use crate::plant::EventKind;

/// What happened, in the words of the trade.
pub(super) fn event_words(kind: EventKind) -> &'static str {
    match kind {
        EventKind::ContactsClosed => "switch contacts close",
        EventKind::ContactsOpened => "switch contacts open",
        EventKind::PumpStarted => "pump starts",
        EventKind::PumpStopped => "pump stops",
        EventKind::ShaftStopped => "pump shaft comes to rest",
        EventKind::CheckOpened => "check valve opens",
        EventKind::CheckShut => "check valve shuts",
        EventKind::BladderFlat => "tank gives its last water",
        EventKind::BladderFilling => "water enters the tank",
        EventKind::BladderFull => "tank can take no more",
        EventKind::BladderGiving => "full tank begins to give",
        EventKind::WaterArrived => "water reaches the wall",
        EventKind::LineSolid => "last air out, line runs solid",
        EventKind::AirEntering => "air enters the pipes",
    }
}

/// What happened, as named in JSON.
pub(super) fn event_id(kind: EventKind) -> &'static str {
    match kind {
        EventKind::ContactsClosed => "contacts_closed",
        EventKind::ContactsOpened => "contacts_opened",
        EventKind::PumpStarted => "pump_started",
        EventKind::PumpStopped => "pump_stopped",
        EventKind::ShaftStopped => "shaft_stopped",
        EventKind::CheckOpened => "check_opened",
        EventKind::CheckShut => "check_shut",
        EventKind::BladderFlat => "bladder_flat",
        EventKind::BladderFilling => "bladder_filling",
        EventKind::BladderFull => "bladder_full",
        EventKind::BladderGiving => "bladder_giving",
        EventKind::WaterArrived => "water_arrived",
        EventKind::LineSolid => "line_solid",
        EventKind::AirEntering => "air_entering",
    }
}

/// Whether the event belongs to every ordinary run of the pump, so that a table of runs
/// says as much.
pub(super) fn is_routine(kind: EventKind) -> bool {
    match kind {
        EventKind::ContactsClosed
        | EventKind::ContactsOpened
        | EventKind::PumpStarted
        | EventKind::PumpStopped
        | EventKind::ShaftStopped
        | EventKind::CheckOpened
        | EventKind::CheckShut => true,
        EventKind::BladderFlat
        | EventKind::BladderFilling
        | EventKind::BladderFull
        | EventKind::BladderGiving
        | EventKind::WaterArrived
        | EventKind::LineSolid
        | EventKind::AirEntering => false,
    }
}
