//! Friction of a full pipe: Darcy–Weisbach with one friction law for every flow.
//!
//! Models: Δp = f·(L/D)·ρV²/2 + ΣK·ρV²/2, either direction of flow, with
//!
//! - laminar, Re ≤ 2000: f = 64/Re (Hagen–Poiseuille);
//! - turbulent, Re ≥ 4000: 1/√f = −2·log₁₀(ε/(3.7·D) + 2.51/(Re·√f)) (C. F. Colebrook,
//!   J. Inst. Civ. Eng. 11, 1939, p. 133), started from the explicit form of
//!   T. K. Serghides (Chem. Eng. 91, 1984, p. 63: within 3·10⁻⁵ by itself) and
//!   sharpened by one Newton step to 10⁻⁹ or better;
//! - between: a cubic Hermite blend of the friction number below.
//!
//! The law is carried by the *friction number* N = f·Re², which is what pressure is
//! proportional to: Δp = N·μ²·L/(2·ρ·D³).  N is 64·Re in laminar flow, so nothing
//! divides by zero at rest, and blending N itself (value and slope at both ends)
//! makes Δp once continuously differentiable and rising with flow everywhere.  The
//! real transition is neither unique nor steady; the blend is a convention, and no
//! reading in a house system hangs on it.
//!
//! Leaves out: entrance length, ageing of the wall, unsteady friction.
//!
//! Invariants: loss(−Q) = −loss(Q); loss rises strictly with flow; loss and slope agree
//! at Re = 2000 and 4000 from both sides.

use core::f64::consts::{LN_10, PI};

use crate::math;
use crate::parts::PipeSpec;
use crate::units::convert::STANDARD_GRAVITY;

/// Highest Reynolds number of the laminar branch.
pub const LAMINAR_LIMIT: f64 = 2_000.0;
/// Lowest Reynolds number of the turbulent branch.
pub const TURBULENT_LIMIT: f64 = 4_000.0;

/// What friction needs to know of a fluid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluid {
    /// Density ρ [kg/m³] -- constant, above zero.
    pub density_kg_per_m3: f64,
    /// Dynamic viscosity μ [Pa·s] -- constant, above zero.
    pub viscosity_pa_s: f64,
}

/// A quantity and how fast it rises with what it depends on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ValueAndSlope {
    /// The quantity itself.
    pub value: f64,
    /// Its derivative.
    pub slope: f64,
}

/// Reynolds number Re = 4·ρ·|Q|/(π·D·μ) of a flow in a round pipe.
#[must_use]
pub fn reynolds_number(flow_m3_per_s: f64, diameter_m: f64, fluid: Fluid) -> f64 {
    4.0 * fluid.density_kg_per_m3 * flow_m3_per_s.abs() / (PI * diameter_m * fluid.viscosity_pa_s)
}

/// Turbulent Darcy friction factor of Colebrook and White.
///
/// Valid for Re ≥ 4000 and relative roughness ε/D from 0 to 0.05.
///
/// ```
/// use sim_core::water::friction::colebrook_friction_factor;
///
/// assert!((colebrook_friction_factor(1e5, 0.0) - 0.0179898).abs() < 1e-7);
/// ```
#[must_use]
pub fn colebrook_friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    let x = colebrook_root(reynolds, relative_roughness);
    1.0 / (x * x)
}

/// Darcy friction factor at any Reynolds number above zero: laminar, blend or turbulent.
///
/// It grows without bound as the flow stops; use [`friction_number`] where the flow may
/// be zero.
#[must_use]
pub fn darcy_friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds >= TURBULENT_LIMIT {
        return colebrook_friction_factor(reynolds, relative_roughness);
    }
    friction_number(reynolds, relative_roughness).value / (reynolds * reynolds)
}

/// Friction number N = f·Re² and dN/dRe, for Re ≥ 0.
#[must_use]
pub fn friction_number(reynolds: f64, relative_roughness: f64) -> ValueAndSlope {
    if reynolds <= LAMINAR_LIMIT {
        return ValueAndSlope {
            value: 64.0 * reynolds,
            slope: 64.0,
        };
    }
    if reynolds >= TURBULENT_LIMIT {
        return turbulent_friction_number(reynolds, relative_roughness);
    }
    let width = TURBULENT_LIMIT - LAMINAR_LIMIT;
    let end = turbulent_friction_number(TURBULENT_LIMIT, relative_roughness);
    let (start_value, start_rise) = (64.0 * LAMINAR_LIMIT, 64.0 * width);
    let end_rise = end.slope * width;
    let s = (reynolds - LAMINAR_LIMIT) / width;
    // Cubic Hermite as a polynomial in s: start, start_rise·s, then c2·s² + c3·s³.
    let gain = end.value - start_value;
    let c2 = 3.0 * gain - 2.0 * start_rise - end_rise;
    let c3 = start_rise + end_rise - 2.0 * gain;
    ValueAndSlope {
        value: start_value + s * (start_rise + s * (c2 + s * c3)),
        slope: (start_rise + s * (2.0 * c2 + 3.0 * c3 * s)) / width,
    }
}

/// Pressure that friction and fittings take from a flow along `pipe` [Pa], negative for
/// backward flow, with its slope [Pa·s/m³].
#[must_use]
pub fn pipe_pressure_loss_and_slope(
    pipe: &PipeSpec,
    flow_m3_per_s: f64,
    fluid: Fluid,
) -> ValueAndSlope {
    let diameter_m = pipe.inside_diameter.si();
    let density = fluid.density_kg_per_m3;
    let viscosity = fluid.viscosity_pa_s;
    let number = friction_number(
        reynolds_number(flow_m3_per_s, diameter_m, fluid),
        pipe.roughness.si() / diameter_m,
    );
    let reynolds_per_flow = 4.0 * density / (PI * diameter_m * viscosity);
    let pa_per_number = viscosity * viscosity * pipe.length.si()
        / (2.0 * density * diameter_m * diameter_m * diameter_m);
    let area_m2 = PI * diameter_m * diameter_m / 4.0;
    let fittings = pipe.fittings_k * density / (2.0 * area_m2 * area_m2);
    let magnitude = flow_m3_per_s.abs();
    let loss_pa = pa_per_number * number.value + fittings * magnitude * magnitude;
    ValueAndSlope {
        value: if flow_m3_per_s < 0.0 {
            -loss_pa
        } else {
            loss_pa
        },
        slope: pa_per_number * number.slope * reynolds_per_flow + 2.0 * fittings * magnitude,
    }
}

/// Pressure that friction and fittings take from a flow along `pipe` [Pa], negative for
/// backward flow.  The rise of the pipe is not in it.
///
/// ```
/// use sim_core::parts::PipeSpec;
/// use sim_core::units::{Kelvins, Meters, Pascals};
/// use sim_core::water::{WaterProperties, friction::pipe_pressure_loss_pa};
///
/// let pipe = PipeSpec {
///     length: Meters(60.0),
///     rise: Meters(0.0),
///     inside_diameter: Meters(0.0266),
///     wall_thickness: Meters(0.0034),
///     roughness: Meters(1.5e-6),
///     wall_modulus: Pascals(2.8e9),
///     fittings_k: 6.0,
/// };
/// let water = WaterProperties::at(Kelvins(285.15)).fluid();
/// let loss_pa = pipe_pressure_loss_pa(&pipe, 6.0e-4, water);
/// assert!(loss_pa > 3.0e4 && loss_pa < 6.0e4);
/// ```
#[must_use]
pub fn pipe_pressure_loss_pa(pipe: &PipeSpec, flow_m3_per_s: f64, fluid: Fluid) -> f64 {
    pipe_pressure_loss_and_slope(pipe, flow_m3_per_s, fluid).value
}

/// The same loss as a height of the fluid [m].
#[must_use]
pub fn pipe_head_loss_m(pipe: &PipeSpec, flow_m3_per_s: f64, fluid: Fluid) -> f64 {
    pipe_pressure_loss_pa(pipe, flow_m3_per_s, fluid) / (fluid.density_kg_per_m3 * STANDARD_GRAVITY)
}

/// Flow at which friction and fittings of `pipe` take `loss_pa` [m³/s]: the inverse of
/// [`pipe_pressure_loss_pa`], by Newton inside a bracket that only shrinks.
#[must_use]
pub fn pipe_flow_m3_per_s(pipe: &PipeSpec, loss_pa: f64, fluid: Fluid) -> f64 {
    let target_pa = loss_pa.abs();
    if target_pa == 0.0 {
        return 0.0;
    }
    let laminar = pipe_pressure_loss_and_slope(pipe, 0.0, fluid).slope;
    // Every other regime resists more than laminar flow does, so this flow is too large;
    // a pipe of no length has no laminar slope, and its fittings alone set the flow.
    let diameter_m = pipe.inside_diameter.si();
    let area_m2 = PI * diameter_m * diameter_m / 4.0;
    let by_friction = if laminar > 0.0 {
        target_pa / laminar
    } else {
        f64::INFINITY
    };
    let by_fittings = if pipe.fittings_k > 0.0 {
        area_m2 * (2.0 * target_pa / (pipe.fittings_k * fluid.density_kg_per_m3)).sqrt()
    } else {
        f64::INFINITY
    };
    let (mut low, mut high) = (0.0, by_friction.min(by_fittings));
    let mut flow = high;
    // 200 halvings exhaust an f64; Newton usually needs fewer than ten steps.
    for _ in 0..200 {
        let at = pipe_pressure_loss_and_slope(pipe, flow, fluid);
        let excess_pa = at.value - target_pa;
        if excess_pa > 0.0 {
            high = flow;
        } else {
            low = flow;
        }
        let newton = flow - excess_pa / at.slope;
        let next = if newton > low && newton < high {
            newton
        } else {
            0.5 * (low + high)
        };
        let step = (next - flow).abs();
        flow = next;
        if step <= 4.0 * f64::EPSILON * flow {
            break;
        }
    }
    if loss_pa < 0.0 { -flow } else { flow }
}

/// x = 1/√f of the Colebrook–White equation.
fn colebrook_root(reynolds: f64, relative_roughness: f64) -> f64 {
    let rough = relative_roughness / 3.7;
    let a = -2.0 * math::log10(rough + 12.0 / reynolds);
    let b = -2.0 * math::log10(rough + 2.51 * a / reynolds);
    let c = -2.0 * math::log10(rough + 2.51 * b / reynolds);
    // Serghides: Steffensen's acceleration of the three passes.  On a fully rough wall
    // the passes agree to the last bit and there is nothing left to accelerate.
    let curvature = c - 2.0 * b + a;
    let start = if curvature == 0.0 {
        c
    } else {
        a - (b - a) * (b - a) / curvature
    };
    let argument = rough + 2.51 * start / reynolds;
    let residual = start + 2.0 * math::log10(argument);
    let slope = 1.0 + 2.0 * 2.51 / (LN_10 * argument * reynolds);
    start - residual / slope
}

/// N = f·Re² and dN/dRe on the turbulent branch, the slope by implicit differentiation.
fn turbulent_friction_number(reynolds: f64, relative_roughness: f64) -> ValueAndSlope {
    let x = colebrook_root(reynolds, relative_roughness);
    let argument = relative_roughness / 3.7 + 2.51 * x / reynolds;
    let weight = 2.0 * 2.51 / (LN_10 * argument * reynolds);
    let x_slope = weight * x / (reynolds * (1.0 + weight));
    let value = reynolds * reynolds / (x * x);
    ValueAndSlope {
        value,
        slope: 2.0 * value * (1.0 / reynolds - x_slope / x),
    }
}

#[cfg(test)]
mod tests;
