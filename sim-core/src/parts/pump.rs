//! Centrifugal pump: head and shaft power against flow, affinity laws, suction limit, air.

mod curve;

use serde::{Deserialize, Serialize};

use crate::math::{MonotoneTable, Scalar};

use crate::units::{
    CubicMeters, CubicMetersPerSecond, KilogramSquareMeters, Meters, RadiansPerSecond, Seconds,
    Watts,
};

/// A pump's published curve and what the plant needs beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PumpSpec {
    /// In the water or above it -- constant.
    pub placement: PumpPlacement,
    /// Height of the impeller above ground level (negative when sunk) [m] -- constant.
    pub elevation: Meters,
    /// Speed at which the points were taken [rad/s] -- constant.
    pub rated_speed: RadiansPerSecond,
    /// Head, power and suction need against flow at rated speed -- constant.
    pub curve: PumpCurve,
    /// Volume inside the pump where air can gather [m³] -- constant.
    pub bowl_volume: CubicMeters,
    /// Inertia of rotor, shaft and impellers [kg·m²] -- constant.
    pub rotor_inertia: KilogramSquareMeters,
    /// Time constant at which trapped air weeps out of the resting pump, if it has a
    /// vent [s] -- constant.
    pub vent_time: Option<Seconds>,
}

/// A pump curve at rated speed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PumpCurve {
    /// Points in order of rising flow, the first at no flow; three or more, head
    /// falling from point to point.  A monotone cubic is laid through them.
    Points(Vec<PumpPoint>),
    /// Quadratics c₀ + c₁·Q + c₂·Q² with Q in m³/s, good from no flow to `max_flow`.
    Quadratic {
        /// Head [m].
        head: [f64; 3],
        /// Shaft power [W].
        power: [f64; 3],
        /// Net positive suction head required [m].
        npsh_required: [f64; 3],
        /// Largest flow at which the quadratics hold [m³/s].
        max_flow: CubicMetersPerSecond,
    },
}

/// One point of a pump curve at rated speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PumpPoint {
    /// Flow [m³/s].
    pub flow: CubicMetersPerSecond,
    /// Head [m of water].
    pub head: Meters,
    /// Shaft power [W].
    pub power: Watts,
    /// Net positive suction head required, above vapour pressure [m].
    pub npsh_required: Meters,
}

/// Where the pump sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum PumpPlacement {
    /// In the source, below the water.
    Submersible,
    /// Above the source, lifting by suction through a foot valve.
    SuctionLift,
}

/// Head lost by water forced through the pump at rest, over shut-off head, at the
/// largest flow of its curve (training value, common practice, no source).
const STOPPED_LOSS_SHARE: f64 = 0.8;

/// Air share of the bowl at which no head is left (from memory: published figures
/// for multiphase pumps vary).
const AIR_BOUND_SHARE: f64 = 0.10;

/// Share of the torque that an air-bound pump still needs: bearings, seals, and the
/// water that swirls in the bowl (training value, common practice, no source).
const AIR_BOUND_TORQUE: f64 = 0.15;

/// A pump's curve as the inner loop uses it: any flow, any speed, both signs.
///
/// Everything is homogeneous of second degree in flow and speed (the affinity laws),
/// so that nothing is singular at rest: with r = ω/ω_rated and q = Q/r,
/// H = r²·h(q) inside the published range, a quadratic with the same end slope
/// beyond it, and −c·Q² at rest.  Turbining (water driving the rotor) is left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PumpMap {
    rated_rad_per_s: f64,
    max_flow: f64,
    head: MonotoneTable,
    torque: MonotoneTable,
    npsh: MonotoneTable,
    stopped_loss: f64,
}

impl PumpMap {
    /// The map of a pump's curve.
    #[must_use]
    pub fn new(spec: &PumpSpec) -> Self {
        let rated = spec.rated_speed.si();
        let table = |values: &dyn Fn(f64) -> (f64, f64), max: f64| {
            // Twenty-four cells; the cubic cell reproduces a quadratic exactly.
            let x: Vec<f64> = (0..=24).map(|i| max * f64::from(i) / 24.0).collect();
            let (y, slope) = x.iter().map(|&q| values(q)).unzip();
            MonotoneTable::with_slopes(x, y, slope)
        };
        let (head, torque, npsh) = match &spec.curve {
            PumpCurve::Points(points) => {
                let column = |value: &dyn Fn(&PumpPoint) -> f64| {
                    MonotoneTable::through(
                        points.iter().map(|p| p.flow.si()).collect(),
                        points.iter().map(value).collect(),
                    )
                };
                (
                    column(&|p| p.head.si()),
                    column(&|p| p.power.si() / rated),
                    column(&|p| p.npsh_required.si()),
                )
            }
            PumpCurve::Quadratic {
                head,
                power,
                npsh_required,
                max_flow,
            } => {
                let quadratic = |c: &[f64; 3], unit: f64| {
                    let c = [c[0] / unit, c[1] / unit, c[2] / unit];
                    table(
                        &|q| (c[0] + (c[1] + c[2] * q) * q, c[1] + 2.0 * c[2] * q),
                        max_flow.si(),
                    )
                };
                (
                    quadratic(head, 1.0),
                    quadratic(power, rated),
                    quadratic(npsh_required, 1.0),
                )
            }
        };
        let max_flow = head.last_x();
        Self {
            rated_rad_per_s: rated,
            max_flow,
            stopped_loss: STOPPED_LOSS_SHARE * head.start().0 / (max_flow * max_flow),
            head,
            torque,
            npsh,
        }
    }

    /// Rated speed [rad/s].
    #[must_use]
    pub fn rated_speed_rad_per_s(&self) -> f64 {
        self.rated_rad_per_s
    }

    /// Largest flow of the published curve at rated speed [m³/s].
    #[must_use]
    pub fn max_flow_m3_per_s(&self) -> f64 {
        self.max_flow
    }

    /// Head at no flow and rated speed [m].
    #[must_use]
    pub fn shut_off_head_m(&self) -> f64 {
        self.head.start().0
    }

    /// Head [m] at a flow [m³/s] and speed [rad/s], pump full of cold water.
    #[inline]
    #[must_use]
    pub fn head_m<S: Scalar>(&self, flow: S, speed: S) -> S {
        let r = speed / self.rated_rad_per_s;
        self.homogeneous(&self.head, flow, r, self.stopped_loss)
    }

    /// Torque that the impellers ask of the shaft [N·m], pump full of water.
    #[inline]
    #[must_use]
    pub fn torque_nm<S: Scalar>(&self, flow: S, speed: S) -> S {
        let r = speed / self.rated_rad_per_s;
        self.homogeneous(&self.torque, flow, r, 0.0)
            .max_of(S::constant(0.0))
    }

    /// Net positive suction head that the pump needs [m].
    #[inline]
    #[must_use]
    pub fn npsh_required_m<S: Scalar>(&self, flow: S, speed: S) -> S {
        let r = speed / self.rated_rad_per_s;
        self.homogeneous(&self.npsh, flow, r, 0.0)
    }

    #[inline]
    fn homogeneous<S: Scalar>(&self, table: &MonotoneTable, flow: S, r: S, loss: f64) -> S {
        let edge = r * self.max_flow;
        if flow.value() < 0.0 {
            let (y, slope) = table.start();
            r * r * y + r * flow * slope + flow * flow * loss
        } else if flow.value() < edge.value() {
            r * r * table.at(flow / r)
        } else {
            let (y, slope) = table.end();
            let beyond = flow - edge;
            r * r * y + r * beyond * slope - beyond * beyond * loss
        }
    }

    /// Share of its head that a pump keeps with air in the bowl: falls smoothly from 1
    /// to 0 at [10 %].
    #[inline]
    #[must_use]
    pub fn head_share_with_air<S: Scalar>(air_share: S) -> S {
        let x = (air_share / AIR_BOUND_SHARE).clamped(0.0, 1.0);
        let rest = -x + 1.0;
        rest * rest * (x * 2.0 + 1.0)
    }

    /// Share of its torque that a pump keeps with that share of its head.
    #[inline]
    #[must_use]
    pub fn torque_share<S: Scalar>(head_share: S) -> S {
        head_share * (1.0 - AIR_BOUND_TORQUE) + AIR_BOUND_TORQUE
    }

    /// Share of its head that a pump keeps when `available` falls to `required` NPSH
    /// and below: 0.97 where they are equal (the usual definition of required NPSH is
    /// 3 % head drop), nothing at 0.7 of it (training value), all at 1.3.
    #[inline]
    #[must_use]
    pub fn head_share_at_npsh<S: Scalar>(available_m: S, required_m: S) -> S {
        let ratio = available_m / required_m.max_of(S::constant(1e-3));
        let r = ratio.value();
        if r >= 1.3 {
            S::constant(1.0)
        } else if r >= 1.0 {
            let d = (-ratio + 1.3) / 0.3;
            -(d * d * 0.03) + 1.0
        } else {
            let e = -ratio + 1.0;
            (-(e * 0.2) + 0.97 - e * e * ((0.97 - 0.06) / 0.09)).max_of(S::constant(0.0))
        }
    }
}

#[cfg(test)]
mod tests;
