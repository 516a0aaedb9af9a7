//! Pump and motor as read.

use super::value;
use crate::file::fields::{Fields, Found, Variant};
use crate::file::problem::Spot;
use crate::parts::{MotorSpec, PumpCurve, PumpPlacement, PumpPoint, PumpSpec};
use crate::site::ranges;
use crate::units::{
    CubicMeters, CubicMetersPerSecond, Hertz, KilogramSquareMeters, Meters, RadiansPerSecond,
    Seconds, Volts, Watts,
};

/// Fields of `pump`.
pub(super) const PUMP_FIELDS: &[&str] = &[
    "placement",
    "depth",
    "height",
    "rated_speed",
    "curve",
    "bowl_volume",
    "rotor_inertia",
    "vent",
];
/// Fields of `motor`.
pub(super) const MOTOR_FIELDS: &[&str] = &[
    "rated_power",
    "rated_voltage",
    "poles",
    "full_load_speed",
    "breakdown_torque_ratio",
];

pub(super) const PLACEMENTS: &[Variant] = &[("Submersible", &[]), ("SuctionLift", &[])];
pub(super) const POINT_FIELDS: &[&str] = &["flow", "head", "power", "npsh"];

/// The pump as read.
#[derive(Debug)]
pub(in crate::site) struct PumpDraft {
    pub(in crate::site) spot: Spot,
    pub(in crate::site) placement: Option<PumpPlacement>,
    pub(in crate::site) elevation: Found<Meters>,
    pub(in crate::site) rated_speed: Found<RadiansPerSecond>,
    pub(in crate::site) curve: Vec<PointDraft>,
    pub(in crate::site) bowl_volume: Found<CubicMeters>,
    pub(in crate::site) rotor_inertia: Found<KilogramSquareMeters>,
    pub(in crate::site) vent: Option<Found<Seconds>>,
}

/// A point of the pump's curve as read.
#[derive(Debug)]
pub(in crate::site) struct PointDraft {
    pub(in crate::site) flow: Found<CubicMetersPerSecond>,
    pub(in crate::site) head: Found<Meters>,
    pub(in crate::site) power: Found<Watts>,
    pub(in crate::site) npsh: Found<Meters>,
}

impl PumpDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            spot: fields.spot(),
            placement: fields
                .variant("placement", PLACEMENTS)
                .map(|(name, _)| match name {
                    "Submersible" => PumpPlacement::Submersible,
                    _ => PumpPlacement::SuctionLift,
                }),
            elevation: fields.elevation(("depth", ranges::DEPTH), ("height", ranges::HEIGHT)),
            rated_speed: fields.quantity("rated_speed", ranges::PUMP_SPEED),
            curve: fields
                .groups("curve", (3, ranges::MAX_CURVE_POINTS), POINT_FIELDS)
                .iter()
                .map(PointDraft::read)
                .collect(),
            bowl_volume: fields.quantity_or("bowl_volume", ranges::BOWL_VOLUME, "0.5 L"),
            rotor_inertia: fields.quantity_or("rotor_inertia", ranges::ROTOR_INERTIA, "8e-4 kg m2"),
            vent: fields.optional_quantity("vent", ranges::VENT_TIME),
        }
    }

    pub(super) fn finish(self) -> Option<PumpSpec> {
        Some(PumpSpec {
            placement: self.placement?,
            elevation: value(self.elevation)?,
            rated_speed: value(self.rated_speed)?,
            curve: PumpCurve::Points(
                self.curve
                    .into_iter()
                    .map(PointDraft::finish)
                    .collect::<Option<Vec<_>>>()?,
            ),
            bowl_volume: value(self.bowl_volume)?,
            rotor_inertia: value(self.rotor_inertia)?,
            vent_time: super::finish_optional(self.vent, value)?,
        })
    }
}

impl PointDraft {
    fn read(fields: &Fields<'_>) -> Self {
        Self {
            flow: fields.quantity("flow", ranges::PUMP_FLOW),
            head: fields.quantity("head", ranges::PUMP_HEAD),
            power: fields.quantity("power", ranges::PUMP_POWER),
            npsh: fields.quantity("npsh", ranges::PUMP_NPSH),
        }
    }

    fn finish(self) -> Option<PumpPoint> {
        Some(PumpPoint {
            flow: value(self.flow)?,
            head: value(self.head)?,
            power: value(self.power)?,
            npsh_required: value(self.npsh)?,
        })
    }
}

/// The motor as read.
#[derive(Debug)]
pub(in crate::site) struct MotorDraft {
    pub(in crate::site) rated_power: Found<Watts>,
    pub(in crate::site) rated_voltage: Found<Volts>,
    pub(in crate::site) poles: Found<f64>,
    pub(in crate::site) full_load_speed: Found<RadiansPerSecond>,
    pub(in crate::site) breakdown_torque_ratio: Found<f64>,
}

impl MotorDraft {
    pub(super) fn read(fields: &Fields<'_>) -> Self {
        Self {
            rated_power: fields.quantity("rated_power", ranges::MOTOR_POWER),
            rated_voltage: fields.quantity("rated_voltage", ranges::VOLTAGE),
            poles: fields.number_or("poles", ranges::POLES, 2.0),
            full_load_speed: fields.quantity("full_load_speed", ranges::PUMP_SPEED),
            breakdown_torque_ratio: fields.number_or(
                "breakdown_torque_ratio",
                ranges::BREAKDOWN_RATIO,
                2.5,
            ),
        }
    }

    /// Speed of the rotating field at the supply's frequency: 4·π·f / poles [rad/s].
    pub(in crate::site) fn synchronous_rad_per_s(&self, frequency: Hertz) -> Option<f64> {
        let poles = self.poles.as_ref()?.value;
        Some(4.0 * core::f64::consts::PI * frequency.si() / poles)
    }

    pub(super) fn finish(self, frequency: Hertz) -> Option<MotorSpec> {
        Some(MotorSpec {
            synchronous_speed: RadiansPerSecond(self.synchronous_rad_per_s(frequency)?),
            rated_power: value(self.rated_power)?,
            rated_voltage: value(self.rated_voltage)?,
            full_load_speed: value(self.full_load_speed)?,
            breakdown_torque_ratio: value(self.breakdown_torque_ratio)?,
        })
    }
}
