//! What a person carries.

use serde::{Deserialize, Serialize};

/// A tool or instrument.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tool {
    /// Meter: volts, low-impedance volts, ohms, capacitance.
    Meter,
    /// Clamp with inrush.
    Clamp,
    /// Insulation tester.
    InsulationTester,
    /// Power meter.
    PowerMeter,
    /// Lock, tag and a tester to prove dead with.
    LockoutSet,
    /// Gloves, glasses, rated leads for work on live parts.
    LiveWorkSet,
    /// Tyre gauge.
    TyreGauge,
    /// Compressor or hand pump for the tank's air.
    AirPump,
    /// Second pressure gauge with fittings.
    SecondGauge,
    /// Vacuum gauge.
    VacuumGauge,
    /// Bucket and stopwatch.
    Bucket,
    /// Level tape.
    LevelTape,
    /// Thermometer.
    Thermometer,
    /// Torch.
    Torch,
    /// Spanners, screwdrivers, brushes, sealing and jointing material.
    HandTools,
    /// Rope, hoist and torque arrester for the pump.
    Hoist,
    /// Disinfectant and sample bottles.
    DisinfectionSet,
    /// Spare parts on the van.
    Spares,
}

impl Tool {
    /// Every tool.
    pub const ALL: [Self; 18] = [
        Self::Meter,
        Self::Clamp,
        Self::InsulationTester,
        Self::PowerMeter,
        Self::LockoutSet,
        Self::LiveWorkSet,
        Self::TyreGauge,
        Self::AirPump,
        Self::SecondGauge,
        Self::VacuumGauge,
        Self::Bucket,
        Self::LevelTape,
        Self::Thermometer,
        Self::Torch,
        Self::HandTools,
        Self::Hoist,
        Self::DisinfectionSet,
        Self::Spares,
    ];

    /// Name in files and commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Meter => "meter",
            Self::Clamp => "clamp",
            Self::InsulationTester => "insulation_tester",
            Self::PowerMeter => "power_meter",
            Self::LockoutSet => "lockout_set",
            Self::LiveWorkSet => "live_work_set",
            Self::TyreGauge => "tyre_gauge",
            Self::AirPump => "air_pump",
            Self::SecondGauge => "second_gauge",
            Self::VacuumGauge => "vacuum_gauge",
            Self::Bucket => "bucket",
            Self::LevelTape => "level_tape",
            Self::Thermometer => "thermometer",
            Self::Torch => "torch",
            Self::HandTools => "hand_tools",
            Self::Hoist => "hoist",
            Self::DisinfectionSet => "disinfection_set",
            Self::Spares => "spares",
        }
    }

    /// Name for people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Meter => "multimeter",
            Self::Clamp => "clamp meter",
            Self::InsulationTester => "insulation tester",
            Self::PowerMeter => "power meter",
            Self::LockoutSet => "lockout set",
            Self::LiveWorkSet => "live-work set",
            Self::TyreGauge => "tyre gauge",
            Self::AirPump => "air pump",
            Self::SecondGauge => "second gauge",
            Self::VacuumGauge => "vacuum gauge",
            Self::Bucket => "bucket and stopwatch",
            Self::LevelTape => "level tape",
            Self::Thermometer => "thermometer",
            Self::Torch => "torch",
            Self::HandTools => "hand tools",
            Self::Hoist => "hoist and rope",
            Self::DisinfectionSet => "disinfection set",
            Self::Spares => "spare parts",
        }
    }

    /// The tool of a name.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|tool| tool.name() == name)
    }
}
