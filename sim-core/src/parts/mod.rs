//! The parts of a site, one file each: what is installed (`…Spec`, immutable and
//! validated once, at the edge) and the laws that the part obeys.
//!
//! Elevations are heights above ground level, positive up.  Pressures are
//! absolute inside the laws; a field that holds a gauge pressure says so.

mod bladder_tank;
mod check_valve;
mod fixture;
mod gauge;
mod intake;
mod loss;
mod motor;
mod pipe;
mod pipe_size;
mod pressure_switch;
mod pump;
mod relief_valve;
mod source;
mod wiring;

pub use bladder_tank::BladderTankSpec;
pub use check_valve::CheckValveSpec;
pub use fixture::FixtureSpec;
pub use gauge::GaugeSpec;
pub use intake::{IntakeMount, IntakeSpec};
pub use loss::{FlowRating, flow_through};
pub use motor::{MotorSpec, TorqueCurve};
pub use pipe::PipeSpec;
pub use pipe_size::{
    NominalSize, Schedule, average_inside_diameter, pvc_wall_tolerance, sdr_inside_diameter,
};
pub use pressure_switch::PressureSwitchSpec;
pub use pump::{PumpCurve, PumpMap, PumpPlacement, PumpPoint, PumpSpec};
pub use relief_valve::ReliefValveSpec;
pub use source::{CisternShape, SourceSpec};
pub use wiring::{
    CableSpec, ConductorSize, FloatSwitchSpec, SupplySystem, WindingKind, WiringSpec,
};
