//! What a run of the plant looked like: channels sampled in time, events, totals.
//!
//! Plain data in SI units; faces convert and draw.

mod cycles;
mod record;
#[cfg(test)]
pub(crate) mod synthetic;

pub use cycles::{PumpRun, pump_runs};
pub use record::{Procedure, RecordError, RecordingPlan, record, record_on};

use serde::{Deserialize, Serialize};

use crate::plant::Event;

/// What a channel measures, which decides its display unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Quantity {
    /// Gauge pressure [Pa].
    GaugePressure,
    /// Volume flow [m³/s].
    Flow,
    /// Volume [m³].
    Volume,
    /// Height or depth [m].
    Length,
    /// Shaft speed [rad/s].
    ShaftSpeed,
    /// Temperature [K].
    Temperature,
    /// Power [W].
    Power,
    /// Energy [J].
    Energy,
    /// Air mass flow [kg/s].
    MassFlow,
    /// Share, 0 to 1 [-].
    Fraction,
    /// On (1) or off (0).
    Switch,
    /// Electrical potential difference, RMS [V].
    Voltage,
    /// Electrical current, RMS [A].
    Current,
}

/// One recorded channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Channel {
    /// Name used in files and on the command line, snake_case.
    pub name: &'static str,
    /// Name for people.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
}

/// Every channel there is, in the order of [`Sample::values`].
pub const CHANNELS: &[Channel] = &[
    channel(
        "tee_pressure",
        "pressure at the tee",
        Quantity::GaugePressure,
    ),
    channel("gauge_pressure", "gauge needle", Quantity::GaugePressure),
    channel(
        "switch_pressure",
        "pressure sensed by the switch",
        Quantity::GaugePressure,
    ),
    channel(
        "tank_pressure",
        "tank air pressure",
        Quantity::GaugePressure,
    ),
    channel(
        "house_pressure",
        "pressure behind the house valve",
        Quantity::GaugePressure,
    ),
    channel("pump_flow", "flow from the pump", Quantity::Flow),
    channel("house_flow", "flow to the house", Quantity::Flow),
    channel("drain_flow", "flow from the drain cock", Quantity::Flow),
    channel("leak_flow", "flow lost to leaks", Quantity::Flow),
    channel("tank_water", "water in the tank", Quantity::Volume),
    channel(
        "tank_air_temperature",
        "tank air temperature",
        Quantity::Temperature,
    ),
    channel(
        "line_air",
        "air in the pipes at line pressure",
        Quantity::Volume,
    ),
    channel(
        "front",
        "share of the run filled with water",
        Quantity::Fraction,
    ),
    channel("air_out", "air leaving", Quantity::MassFlow),
    channel("bowl_air", "air share in the pump", Quantity::Fraction),
    channel(
        "source_level",
        "depth of water in the source",
        Quantity::Length,
    ),
    channel("shaft_speed", "shaft speed", Quantity::ShaftSpeed),
    channel("shaft_power", "shaft power", Quantity::Power),
    channel("line_current", "current to the motor", Quantity::Current),
    channel(
        "motor_voltage",
        "voltage at the motor's leads",
        Quantity::Voltage,
    ),
    channel("supply_power", "power from the supply", Quantity::Power),
    channel(
        "winding_temperature",
        "motor winding",
        Quantity::Temperature,
    ),
    channel(
        "protector_temperature",
        "motor protector",
        Quantity::Temperature,
    ),
    channel("joint_temperature", "worst joint", Quantity::Temperature),
    channel(
        "pump_water_temperature",
        "water in the pump",
        Quantity::Temperature,
    ),
    channel("motor_on", "motor powered", Quantity::Switch),
    channel("contacts", "switch contacts closed", Quantity::Switch),
];

const fn channel(name: &'static str, label: &'static str, quantity: Quantity) -> Channel {
    Channel {
        name,
        label,
        quantity,
    }
}

/// All channels at one instant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sample {
    /// When, from the start of the run [s].
    pub time_s: f64,
    /// One value per entry of [`CHANNELS`], in SI units.
    pub values: Vec<f64>,
}

/// What the run came to.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Totals {
    /// Length of the run [s].
    pub duration_s: f64,
    /// Times that the motor was given power.
    pub pump_starts: u64,
    /// Time with the motor powered [s].
    pub pump_run_s: f64,
    /// Water that left by the house's outlets [m³].
    pub used_m3: f64,
    /// Water that left by the drain cock [m³].
    pub drained_m3: f64,
    /// Water that left by the relief valve [m³].
    pub relieved_m3: f64,
    /// Water that leaked from the pipes [m³].
    pub leaked_m3: f64,
    /// Water that flowed out of the source, net of what came back [m³].
    pub drawn_m3: f64,
    /// Work at the shaft [J].
    pub shaft_energy_j: f64,
    /// Energy from the supply [J]; nought where the site describes no wiring.
    pub supply_energy_j: f64,
    /// Lowest pressure behind the house valve while an outlet was open [Pa, gauge];
    /// none when nothing was drawn.
    pub lowest_house_pressure_pa: Option<f64>,
}

/// A recorded run.
#[derive(Debug, Clone, PartialEq)]
pub struct Recording {
    /// The site's name.
    pub site: String,
    /// The site's title.
    pub title: String,
    /// Cut-in as set [Pa, gauge].
    pub cut_in_pa: f64,
    /// Cut-out as set [Pa, gauge].
    pub cut_out_pa: f64,
    /// Samples in order of time.
    pub samples: Vec<Sample>,
    /// Events in order of time.
    pub events: Vec<Event>,
    /// What it came to.
    pub totals: Totals,
}

impl Recording {
    /// The values of one of [`CHANNELS`] in order of time; nothing for another name.
    pub fn values(&self, name: &str) -> impl Iterator<Item = f64> {
        let channel = CHANNELS.iter().position(|channel| channel.name == name);
        self.samples
            .iter()
            .filter_map(move |sample| sample.values.get(channel?).copied())
    }
}
