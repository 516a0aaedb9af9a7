//! A validated site: every number in range, every reference resolved.
//!
//! Only [`crate::site`] makes one from text; the plant takes it as it is.

use serde::{Deserialize, Serialize};

use crate::parts::{
    BladderTankSpec, CheckValveSpec, FixtureSpec, FlowRating, GaugeSpec, IntakeSpec, MotorSpec,
    PipeSpec, PressureSwitchSpec, PumpSpec, ReliefValveSpec, SourceSpec, WiringSpec,
};
use crate::units::{CubicMeters, Hertz, Kelvins, Meters, Volts};

/// What is installed at one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SiteSpec {
    /// File name without its ending, kebab-case -- constant.
    pub name: String,
    /// One line for people -- constant.
    pub title: String,
    /// Height above sea level [m] -- constant.
    pub altitude: Meters,
    /// Water temperature [K] -- constant.
    pub water_temperature: Kelvins,
    /// Air temperature around tank and switch [K] -- constant.
    pub air_temperature: Kelvins,
    /// Where the water comes from -- constant.
    pub source: SourceSpec,
    /// The pump's intake -- constant.
    pub intake: IntakeSpec,
    /// Suction pipe from intake to pump; none when the pump stands in the water -- constant.
    pub suction: Option<PipeSpec>,
    /// Foot valve or check valve below the pump -- constant.
    pub foot_valve: Option<CheckValveSpec>,
    /// The pump -- constant.
    pub pump: PumpSpec,
    /// Its motor -- constant.
    pub motor: MotorSpec,
    /// Check valve at the pump's outlet -- constant.
    pub pump_check: Option<CheckValveSpec>,
    /// Pipe from pump to wall, in the order the water passes -- constant, one or more.
    pub run: Vec<PipeSpec>,
    /// What hangs on the wall -- constant.
    pub wall: WallSpec,
    /// The bladder tank -- constant.
    pub tank: BladderTankSpec,
    /// Pipes and outlets behind the house valve -- constant.
    pub house: HouseSpec,
    /// Electrical supply -- constant.
    pub supply: SupplySpec,
    /// The pump's circuit; without one the motor is taken by its nameplate and has the
    /// supply's voltage whenever it is switched on -- constant.
    pub wiring: Option<WiringSpec>,
}

/// The station at the wall: tee, switch, gauge, drain, relief valve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WallSpec {
    /// Height of the tee above ground level [m] -- constant.
    pub elevation: Meters,
    /// Volume of the pipework about the tee [m³] -- constant.
    pub manifold_volume: CubicMeters,
    /// Second check valve, where the run meets the tee -- constant.
    pub check: Option<CheckValveSpec>,
    /// Pressure switch -- constant.
    pub pressure_switch: PressureSwitchSpec,
    /// Gauge -- constant.
    pub gauge: GaugeSpec,
    /// Drain cock, fully open -- constant.
    pub drain_cock: FlowRating,
    /// Relief valve -- constant.
    pub relief_valve: Option<ReliefValveSpec>,
}

/// Everything behind the house valve.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HouseSpec {
    /// House valve, fully open -- constant.
    pub valve: FlowRating,
    /// Filter with a clean cartridge -- constant.
    pub filter: Option<FlowRating>,
    /// The pipe that feeds the outlets -- constant.
    pub pipe: PipeSpec,
    /// Outlets, in order of name -- constant.
    pub fixtures: Vec<FixtureSpec>,
}

/// Electrical supply at the panel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SupplySpec {
    /// Voltage between the motor's supply conductors [V] -- constant.
    pub voltage: Volts,
    /// Frequency [Hz] -- constant.
    pub frequency: Hertz,
}
