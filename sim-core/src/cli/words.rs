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
        EventKind::VoidClosed => "void in the run closes",
        EventKind::BreakerTripped => "breaker trips",
        EventKind::GroundFaultTripped => "ground-fault protection trips",
        EventKind::ProtectorTripped => "motor protector opens",
        EventKind::ProtectorReset => "motor protector closes again",
        EventKind::FloatDown => "float switch opens",
        EventKind::FloatUp => "float switch closes",
        EventKind::LowPressureTripped => "low-pressure lever drops",
        EventKind::StartSwitchOpened => "start winding switched off",
        EventKind::JointBurnt => "joint burns worse",
        EventKind::SealFailed => "pump seal spoilt, ran dry",
        EventKind::WindingFailed => "motor winding spoilt by heat",
        EventKind::ImpellersWarped => "impellers spoilt, hot water",
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
        EventKind::VoidClosed => "void_closed",
        EventKind::BreakerTripped => "breaker_tripped",
        EventKind::GroundFaultTripped => "ground_fault_tripped",
        EventKind::ProtectorTripped => "protector_tripped",
        EventKind::ProtectorReset => "protector_reset",
        EventKind::FloatDown => "float_down",
        EventKind::FloatUp => "float_up",
        EventKind::LowPressureTripped => "low_pressure_tripped",
        EventKind::StartSwitchOpened => "start_switch_opened",
        EventKind::JointBurnt => "joint_burnt",
        EventKind::SealFailed => "seal_failed",
        EventKind::WindingFailed => "winding_failed",
        EventKind::ImpellersWarped => "impellers_warped",
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
        | EventKind::StartSwitchOpened
        | EventKind::ShaftStopped
        | EventKind::CheckOpened
        | EventKind::CheckShut => true,
        EventKind::BladderFlat
        | EventKind::BladderFilling
        | EventKind::BladderFull
        | EventKind::BladderGiving
        | EventKind::WaterArrived
        | EventKind::LineSolid
        | EventKind::AirEntering
        | EventKind::VoidClosed
        | EventKind::BreakerTripped
        | EventKind::GroundFaultTripped
        | EventKind::ProtectorTripped
        | EventKind::ProtectorReset
        | EventKind::FloatDown
        | EventKind::FloatUp
        | EventKind::LowPressureTripped
        | EventKind::JointBurnt
        | EventKind::SealFailed
        | EventKind::WindingFailed
        | EventKind::ImpellersWarped => false,
    }
}
