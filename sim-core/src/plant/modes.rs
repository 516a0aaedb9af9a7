//! The discrete side of the plant: which modes are on, and what changes them.

use serde::{Deserialize, Serialize};

use super::event::EventKind;

/// Signature of the plant: fixed between two events.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Modes {
    /// Pressure-switch contacts.
    pub contacts: Contacts,
    /// Whether the shaft turns or may turn.
    pub shaft: Shaft,
    /// Water path through pump and check valves.
    pub trunk: Trunk,
    /// Where the bladder stands.
    pub bladder: Bladder,
    /// The bladder has come off its port once: one that stuck sticks no more.
    pub bladder_released: bool,
    /// Whether air moves in the pipes.
    pub air: Air,
    /// How far the first fill has come at the wall.
    pub front: Front,
    /// What else stands in the way of current.
    pub circuit: Circuit,
    /// What has been spoilt for good.
    pub damage: Damage,
    /// What draws a glassful in the house by the clock.
    pub small_draw: SmallDraw,
}

impl Modes {
    /// What the clock changes next, and when [s].
    #[must_use]
    pub fn next_timer(&self) -> Option<(f64, Guard)> {
        let contacts = match self.contacts {
            Contacts::Opening(at) | Contacts::Closing(at) => Some((at, Guard::ContactsArrive)),
            Contacts::Open | Contacts::Closed => None,
        };
        let draw = match self.small_draw {
            SmallDraw::Shut(until) | SmallDraw::Open(until) => Some((until, Guard::SmallDrawTurns)),
            SmallDraw::Never => None,
        };
        match (contacts, draw) {
            (Some(a), Some(b)) => Some(if a.0 <= b.0 { a } else { b }),
            (one, other) => one.or(other),
        }
    }
}

/// An outlet of the house that opens and shuts by the clock, at that time [s].
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum SmallDraw {
    /// There is none.
    Never,
    /// Shut until then.
    Shut(f64),
    /// Open until then.
    Open(f64),
}

/// Devices in the pump's circuit beside the pressure switch's contacts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Circuit {
    /// The breaker has tripped and waits to be switched off and on.
    pub breaker: Device,
    /// Ground-fault protection.
    pub ground_fault: Device,
    /// Thermal protector in the motor.
    pub protector: Device,
    /// Low-level float switch.
    pub float: Device,
    /// Low-pressure lever of the pressure switch.
    pub low_pressure: Device,
    /// Switch or relay of the start winding.
    pub start_switch: Device,
    /// How often the worst joint has burnt itself worse.
    pub joint_level: u8,
    /// First conductor of the drop cable.
    pub drop_cable: Device,
}

/// A device that lets current through or does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Device {
    /// Current can flow.
    Closed,
    /// It cannot.
    Open,
}

/// What has been spoilt for good.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Damage {
    /// The shaft seal and bearings have run dry: the shaft drags.
    pub seal: bool,
    /// The winding's insulation has gone: the motor is dead.
    pub winding: bool,
    /// The impellers have warped: the pump has lost head.
    pub impellers: bool,
}

impl Circuit {
    /// Everything as it should be, at rest.
    #[must_use]
    pub const fn ready() -> Self {
        Self {
            breaker: Device::Closed,
            ground_fault: Device::Closed,
            protector: Device::Closed,
            float: Device::Closed,
            low_pressure: Device::Closed,
            start_switch: Device::Closed,
            joint_level: 0,
            drop_cable: Device::Closed,
        }
    }

    /// Whether every device that can break the circuit lets current through.
    #[must_use]
    pub fn lets_current_through(&self) -> bool {
        [
            self.breaker,
            self.ground_fault,
            self.protector,
            self.float,
            self.low_pressure,
            self.drop_cable,
        ]
        .iter()
        .all(|device| *device == Device::Closed)
    }
}

/// Pressure-switch contacts.  The spring snaps over at the set pressure; the contacts
/// follow after their travel time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Contacts {
    /// No current can flow.
    Open,
    /// On their way from open to closed, arriving at that time [s].
    Closing(f64),
    /// Current can flow.
    Closed,
    /// On their way from closed to open, arriving at that time [s].
    Opening(f64),
}

/// Whether the shaft turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shaft {
    /// At rest without power.
    Resting,
    /// Turning, or held by a load with power on.
    Turning,
}

/// Water path through pump and check valves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Trunk {
    /// Shut but for what the seat lets weep.
    Shut,
    /// A column free to move.
    Open,
}

/// Where the bladder stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bladder {
    /// No water in it: it lies on the port.
    Flat,
    /// Between its stops.
    Free,
    /// It can take no more.
    Full,
}

/// Whether air moves in the pipes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Air {
    /// What little there is stays where it is.
    Settled,
    /// Air is carried, let out, drawn in.
    Moving,
}

/// How far the first fill has come at the wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Front {
    /// Water has not reached the wall.
    Coming,
    /// Air and water leave together.
    Spitting,
    /// Solid water.
    Solid,
}

/// A condition whose change of sign changes a mode.  The order decides between two
/// at the same instant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Guard {
    /// Contacts arrive at the end of their travel.
    ContactsArrive,
    /// Sensed pressure rises through cut-out.
    CutOut,
    /// Sensed pressure falls through cut-in.
    CutIn,
    /// Flow through the check valve turns round.
    CheckShuts,
    /// Pressure below the check valve lifts it.
    CheckOpens,
    /// Last water leaves the tank.
    BladderFlat,
    /// Pressure at the tee passes the precharge.
    BladderFilling,
    /// The bladder meets its stop.
    BladderFull,
    /// Pressure at the tee falls below that of the full tank.
    BladderGiving,
    /// The coasting shaft comes to rest.
    ShaftStops,
    /// Air finds a way in.
    AirEnters,
    /// The last air has gone.
    AirGone,
    /// The column hangs lower than the atmosphere can hold it, and parts from the wall.
    ColumnParts,
    /// The water front reaches the wall.
    WaterArrives,
    /// Less than one part in a hundred of air is left at the wall.
    LineSolid,
    /// The water front falls back from the wall.
    WaterRecedes,
    /// The breaker's magnet or bimetal lets go.
    BreakerTrips,
    /// Ground-fault protection sees a residual current.
    GroundFaultTrips,
    /// The winding is too hot.
    ProtectorTrips,
    /// The winding has cooled.
    ProtectorResets,
    /// The float hangs down.
    FloatOpens,
    /// The float is up again.
    FloatCloses,
    /// Pressure has fallen below the cut-off lever's.
    LowPressureTrips,
    /// The rotor has come up to speed.
    StartSwitchOpens,
    /// The rotor has slowed down.
    StartSwitchCloses,
    /// A joint has burnt itself worse.
    JointBurns,
    /// The seal has run dry for too long.
    SealFails,
    /// The winding's insulation is used up.
    WindingFails,
    /// The impellers have been boiled.
    ImpellersWarp,
    /// An outlet of the house opens or shuts by the clock.
    SmallDrawTurns,
}

impl Guard {
    /// What is told when it fires; none when it is the plant's own book-keeping.
    #[must_use]
    pub fn event(self) -> Option<EventKind> {
        match self {
            Self::ContactsArrive | Self::CutOut | Self::CutIn | Self::AirGone => None,
            Self::WaterRecedes | Self::ColumnParts | Self::SmallDrawTurns => None,
            Self::CheckShuts => Some(EventKind::CheckShut),
            Self::CheckOpens => Some(EventKind::CheckOpened),
            Self::BladderFlat => Some(EventKind::BladderFlat),
            Self::BladderFilling => Some(EventKind::BladderFilling),
            Self::BladderFull => Some(EventKind::BladderFull),
            Self::BladderGiving => Some(EventKind::BladderGiving),
            Self::ShaftStops => Some(EventKind::ShaftStopped),
            Self::AirEnters => Some(EventKind::AirEntering),
            Self::WaterArrives => Some(EventKind::WaterArrived),
            Self::LineSolid => Some(EventKind::LineSolid),
            Self::BreakerTrips => Some(EventKind::BreakerTripped),
            Self::GroundFaultTrips => Some(EventKind::GroundFaultTripped),
            Self::ProtectorTrips => Some(EventKind::ProtectorTripped),
            Self::ProtectorResets => Some(EventKind::ProtectorReset),
            Self::FloatOpens => Some(EventKind::FloatDown),
            Self::FloatCloses => Some(EventKind::FloatUp),
            Self::LowPressureTrips => Some(EventKind::LowPressureTripped),
            Self::StartSwitchOpens => Some(EventKind::StartSwitchOpened),
            Self::StartSwitchCloses => None,
            Self::JointBurns => Some(EventKind::JointBurnt),
            Self::SealFails => Some(EventKind::SealFailed),
            Self::WindingFails => Some(EventKind::WindingFailed),
            Self::ImpellersWarp => Some(EventKind::ImpellersWarped),
        }
    }

    /// The part whose mode it changes, for messages.
    #[must_use]
    pub fn part(self) -> &'static str {
        match self {
            Self::ContactsArrive | Self::CutOut | Self::CutIn => "pressure switch",
            Self::CheckShuts | Self::CheckOpens => "check valve",
            Self::BladderFlat | Self::BladderFilling | Self::BladderFull | Self::BladderGiving => {
                "tank"
            }
            Self::ShaftStops => "motor",
            Self::AirEnters
            | Self::AirGone
            | Self::ColumnParts
            | Self::WaterArrives
            | Self::LineSolid
            | Self::WaterRecedes => "pipes at the wall",
            Self::BreakerTrips | Self::GroundFaultTrips => "breaker",
            Self::ProtectorTrips
            | Self::ProtectorResets
            | Self::StartSwitchOpens
            | Self::StartSwitchCloses
            | Self::WindingFails => "motor",
            Self::FloatOpens | Self::FloatCloses => "float switch",
            Self::LowPressureTrips => "pressure switch",
            Self::JointBurns => "wiring",
            Self::SealFails | Self::ImpellersWarp => "pump",
            Self::SmallDrawTurns => "house",
        }
    }
}
