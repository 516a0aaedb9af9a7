//! Things that happen at an instant: the plant's own mode changes.

use serde::{Deserialize, Serialize};

/// Something that happened in the plant, and when.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Event {
    /// When, from the plant's start [s].
    pub time_s: f64,
    /// What.
    pub kind: EventKind,
    /// Pressure at the tee at that instant [Pa, gauge].
    pub tee_pressure_pa: f64,
    /// Flow from the pump at that instant [m³/s].
    pub pump_flow_m3_per_s: f64,
}

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[non_exhaustive]
pub enum EventKind {
    /// The pressure switch's contacts closed.
    ContactsClosed,
    /// The pressure switch's contacts opened.
    ContactsOpened,
    /// The motor was given power.
    PumpStarted,
    /// The motor lost power.
    PumpStopped,
    /// The pump's shaft came to rest.
    ShaftStopped,
    /// The check valve between pump and wall opened.
    CheckOpened,
    /// The check valve between pump and wall shut.
    CheckShut,
    /// The last water left the tank; the bladder lies flat.
    BladderFlat,
    /// Water began to enter the flat bladder.
    BladderFilling,
    /// The bladder holds all it can.
    BladderFull,
    /// The full bladder began to give water.
    BladderGiving,
    /// The water front reached the wall; air and water leave together.
    WaterArrived,
    /// The last air that could leave has left; the line runs solid.
    LineSolid,
    /// Air began to enter the pipes.
    AirEntering,
    /// A void in the run has filled with water, whose flow meets the standing column: the
    /// bang is its speed times density times wave speed (Joukowsky).
    VoidClosed,
    /// The breaker tripped.
    BreakerTripped,
    /// Ground-fault protection tripped.
    GroundFaultTripped,
    /// The motor's thermal protector opened.
    ProtectorTripped,
    /// The motor's thermal protector closed again by itself.
    ProtectorReset,
    /// The float switch opened: the water is low.
    FloatDown,
    /// The float switch closed again.
    FloatUp,
    /// The low-pressure lever dropped.
    LowPressureTripped,
    /// The rotor came up to speed and the start winding was switched off.
    StartSwitchOpened,
    /// A joint burnt itself worse.
    JointBurnt,
    /// The pump's seal and bearings were spoilt by running dry.
    SealFailed,
    /// The motor's insulation was spoilt by heat.
    WindingFailed,
    /// The pump's impellers were spoilt by hot water.
    ImpellersWarped,
}
