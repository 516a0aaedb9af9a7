//! The parts that a person would point at.
//!
//! Coarser than the plant's parts: what gets a name on an invoice.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A part of the system as people name it.
///
/// Files and the command line use [`PartId::name`], people read [`PartId::label`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PartId {
    /// The water that the system lives on: cistern or well.
    Source,
    /// Screen, strainer or floating intake at the source.
    Intake,
    /// Check valve at the lower end of a suction pipe.
    FootValve,
    /// Pipe from the intake to a pump above the water.
    SuctionPipe,
    /// The wet end: impellers, nozzle, seal, coupling.
    Pump,
    /// Windings, bearings, start switch and built-in protector.
    Motor,
    /// Start or run capacitor.
    Capacitor,
    /// Cable from the splice down to the motor.
    DropCable,
    /// Joints in the splice box.
    Splice,
    /// Protective earth or bond to pump and metal parts.
    Earth,
    /// Check valve at the pump or on the line.
    CheckValve,
    /// Pipe from the pump up to the check valve or the top of the source.
    Riser,
    /// Isolation valve at the source end of the run.
    SourceValve,
    /// Pipe from the source to the wall.
    Run,
    /// Tee and short pipes that carry switch, gauge and tank.
    WallManifold,
    /// Pressure switch with its contacts and sensing port.
    PressureSwitch,
    /// Dial gauge at the wall.
    Gauge,
    /// Spring-loaded relief valve at the wall.
    ReliefValve,
    /// Bladder tank, its air valve and its inlet.
    Tank,
    /// Isolation valve of the tank.
    TankValve,
    /// Isolation valve between wall and house.
    HouseValve,
    /// Cartridge filter on the way into the house.
    Filter,
    /// Pipes and fittings behind the house valve.
    HousePipe,
    /// Fill and flush valve of a toilet.
    Toilet,
    /// Taps, showers, hoses and machines that draw water.
    Fixtures,
    /// Water heater with its cold-water connection.
    Heater,
    /// Service and feeder up to the panel.
    Supply,
    /// Breaker or ground-fault breaker of the pump's circuit.
    Breaker,
    /// Cable from the panel to the splice.
    Cable,
    /// Low-level float switch in the source.
    FloatSwitch,
    /// Nothing: what shows is how the system is used.
    None,
}

/// Where on the system a part belongs, for lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum PartGroup {
    /// Source, intake and suction.
    Source,
    /// Pump and motor.
    Pump,
    /// Pipes and valves up to the wall.
    Pipes,
    /// What hangs on the wall, and the float switch.
    Wall,
    /// Behind the house valve.
    House,
    /// Supply and wiring.
    Wiring,
}

impl PartGroup {
    /// Every group, in the order in which the water passes, wiring last.
    pub const ALL: &[Self] = &[
        Self::Source,
        Self::Pump,
        Self::Pipes,
        Self::Wall,
        Self::House,
        Self::Wiring,
    ];

    /// For people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Source => "source and suction",
            Self::Pump => "pump and motor",
            Self::Pipes => "pipes and valves",
            Self::Wall => "tank and controls",
            Self::House => "house and demand",
            Self::Wiring => "supply and wiring",
        }
    }
}

impl PartId {
    /// Every part.
    pub const ALL: &[Self] = &[
        Self::Source,
        Self::Intake,
        Self::FootValve,
        Self::SuctionPipe,
        Self::Pump,
        Self::Motor,
        Self::Capacitor,
        Self::DropCable,
        Self::Splice,
        Self::Earth,
        Self::CheckValve,
        Self::Riser,
        Self::SourceValve,
        Self::Run,
        Self::WallManifold,
        Self::PressureSwitch,
        Self::Gauge,
        Self::ReliefValve,
        Self::Tank,
        Self::TankValve,
        Self::HouseValve,
        Self::Filter,
        Self::HousePipe,
        Self::Toilet,
        Self::Fixtures,
        Self::Heater,
        Self::Supply,
        Self::Breaker,
        Self::Cable,
        Self::FloatSwitch,
        Self::None,
    ];

    /// Name in files and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Source => "source",
            Self::Intake => "intake",
            Self::FootValve => "foot_valve",
            Self::SuctionPipe => "suction_pipe",
            Self::Pump => "pump",
            Self::Motor => "motor",
            Self::Capacitor => "capacitor",
            Self::DropCable => "drop_cable",
            Self::Splice => "splice",
            Self::Earth => "earth",
            Self::CheckValve => "check_valve",
            Self::Riser => "riser",
            Self::SourceValve => "source_valve",
            Self::Run => "run",
            Self::WallManifold => "wall_manifold",
            Self::PressureSwitch => "pressure_switch",
            Self::Gauge => "gauge",
            Self::ReliefValve => "relief_valve",
            Self::Tank => "tank",
            Self::TankValve => "tank_valve",
            Self::HouseValve => "house_valve",
            Self::Filter => "filter",
            Self::HousePipe => "house_pipe",
            Self::Toilet => "toilet",
            Self::Fixtures => "fixtures",
            Self::Heater => "heater",
            Self::Supply => "supply",
            Self::Breaker => "breaker",
            Self::Cable => "cable",
            Self::FloatSwitch => "float_switch",
            Self::None => "none",
        }
    }

    /// For people, without article.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Source => "source",
            Self::Intake => "intake",
            Self::FootValve => "foot valve",
            Self::SuctionPipe => "suction pipe",
            Self::Pump => "pump",
            Self::Motor => "motor",
            Self::Capacitor => "capacitor",
            Self::DropCable => "drop cable",
            Self::Splice => "splice",
            Self::Earth => "earth conductor",
            Self::CheckValve => "check valve",
            Self::Riser => "riser",
            Self::SourceValve => "source valve",
            Self::Run => "buried run",
            Self::WallManifold => "wall manifold",
            Self::PressureSwitch => "pressure switch",
            Self::Gauge => "gauge",
            Self::ReliefValve => "relief valve",
            Self::Tank => "tank",
            Self::TankValve => "tank valve",
            Self::HouseValve => "house valve",
            Self::Filter => "filter",
            Self::HousePipe => "house pipe",
            Self::Toilet => "toilet valve",
            Self::Fixtures => "fixtures",
            Self::Heater => "water heater",
            Self::Supply => "supply",
            Self::Breaker => "breaker",
            Self::Cable => "cable",
            Self::FloatSwitch => "float switch",
            Self::None => "no part",
        }
    }

    /// Where it belongs.
    #[must_use]
    pub const fn group(self) -> PartGroup {
        match self {
            Self::Source | Self::Intake | Self::FootValve | Self::SuctionPipe => PartGroup::Source,
            Self::Pump | Self::Motor | Self::Capacitor => PartGroup::Pump,
            Self::CheckValve | Self::Riser | Self::SourceValve | Self::Run => PartGroup::Pipes,
            Self::WallManifold
            | Self::PressureSwitch
            | Self::Gauge
            | Self::ReliefValve
            | Self::Tank
            | Self::TankValve
            | Self::FloatSwitch => PartGroup::Wall,
            Self::HouseValve
            | Self::Filter
            | Self::HousePipe
            | Self::Toilet
            | Self::Fixtures
            | Self::Heater
            | Self::None => PartGroup::House,
            Self::DropCable
            | Self::Splice
            | Self::Earth
            | Self::Supply
            | Self::Breaker
            | Self::Cable => PartGroup::Wiring,
        }
    }

    /// The part of this name.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|part| part.name() == name)
    }
}

impl fmt::Display for PartId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.label())
    }
}
