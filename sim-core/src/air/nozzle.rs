//! Air leaving (or entering) through a hole.
//!
//! Models: isentropic flow of an ideal gas from rest to the throat, times a discharge
//! coefficient.  With r = p_down/p_up,
//! ṁ = C_d·A·p_up/√(R·T_up)·Ψ(r),
//! Ψ(r) = √(2γ/(γ − 1)·(r^(2/γ) − r^((γ+1)/γ))),
//! and r held at the critical ratio r* = (2/(γ + 1))^(γ/(γ − 1)) = 0.528282 for air below
//! it: the throat is then at the speed of sound and hears nothing of what is downstream.
//! Ψ has zero slope at r*, so choking sets in smoothly.
//!
//! Source: A. H. Shapiro, Dynamics and Thermodynamics of Compressible Fluid Flow (1953),
//! chapter 4 (equations from memory; they follow from energy and entropy alone).
//!
//! Near zero pressure difference Ψ behaves as √(2·(1 − r)): its slope is infinite at r = 1.
//! There the flow changes sign, and an integrator would stumble; so within 0.1 % of equal
//! pressures (about one millibar, [`SOFT_RATIO_GAP`]) Ψ is replaced by the odd cubic of
//! [`crate::water::orifice::softened_root`]'s kind that meets Ψ in value and slope.
//! [`nozzle_mass_flow_kg_per_s`] uses it; [`flow_function`] is the bare Ψ.
//!
//! Leaves out: the speed of approach, friction, condensation, a C_d that grows with
//! choking.

use crate::math;

use super::gas::IdealGas;

/// 1 − p_down/p_up below which the flow law is softened.
pub const SOFT_RATIO_GAP: f64 = 1.0e-3;

/// Pressure ratio at and below which the throat is at the speed of sound.
#[must_use]
pub fn critical_pressure_ratio(heat_capacity_ratio: f64) -> f64 {
    math::pow(
        2.0 / (heat_capacity_ratio + 1.0),
        heat_capacity_ratio / (heat_capacity_ratio - 1.0),
    )
}

/// Ψ(r), with r from 0 to 1, choked below the critical ratio.
#[must_use]
pub fn flow_function(pressure_ratio: f64, heat_capacity_ratio: f64) -> f64 {
    let gamma = heat_capacity_ratio;
    let r = pressure_ratio.max(critical_pressure_ratio(gamma)).min(1.0);
    // r^(2/γ)·(1 − r^((γ−1)/γ)); the difference cancels near r = 1 no worse than 1 − r does.
    let power = math::pow(r, 2.0 / gamma);
    let drop = 1.0 - math::pow(r, (gamma - 1.0) / gamma);
    (2.0 * gamma / (gamma - 1.0) * power * drop).sqrt()
}

/// What stands on one side of a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasSide {
    /// Absolute pressure at rest [Pa] -- input, above zero.
    pub pressure_pa: f64,
    /// Temperature at rest [K] -- input, above zero.
    pub temperature_k: f64,
}

/// Mass flow of gas through a hole from `from` to `to` [kg/s], negative when it runs the
/// other way.
///
/// `effective_area_m2` is discharge coefficient times area.
///
/// ```
/// use sim_core::air::gas::AIR;
/// use sim_core::air::nozzle::{GasSide, nozzle_mass_flow_kg_per_s};
///
/// let tank = GasSide { pressure_pa: 4.0e5, temperature_k: 288.15 };
/// let room = GasSide { pressure_pa: 1.0e5, temperature_k: 293.15 };
/// let vacuum = GasSide { pressure_pa: 1.0, temperature_k: 293.15 };
/// // Choked: the room might as well be empty space.
/// let leak = nozzle_mass_flow_kg_per_s(AIR, 1.0e-6, tank, room);
/// assert_eq!(leak, nozzle_mass_flow_kg_per_s(AIR, 1.0e-6, tank, vacuum));
/// ```
#[must_use]
pub fn nozzle_mass_flow_kg_per_s(
    gas: IdealGas,
    effective_area_m2: f64,
    from: GasSide,
    to: GasSide,
) -> f64 {
    if to.pressure_pa > from.pressure_pa {
        return -one_way_mass_flow_kg_per_s(gas, effective_area_m2, to, from.pressure_pa);
    }
    one_way_mass_flow_kg_per_s(gas, effective_area_m2, from, to.pressure_pa)
}

/// Temperature of a moving gas brought to rest [K]: T + V²/(2·c_p).
#[must_use]
pub fn stagnation_temperature_k(
    temperature_k: f64,
    velocity_m_per_s: f64,
    heat_capacity_j_per_kg_k: f64,
) -> f64 {
    temperature_k + velocity_m_per_s * velocity_m_per_s / (2.0 * heat_capacity_j_per_kg_k)
}

/// Pressure of a moving gas brought to rest without loss [Pa]: p·(T₀/T)^(γ/(γ−1)).
#[must_use]
pub fn stagnation_pressure_pa(
    pressure_pa: f64,
    temperature_k: f64,
    stagnation_temperature_k: f64,
    heat_capacity_ratio: f64,
) -> f64 {
    pressure_pa
        * math::pow(
            stagnation_temperature_k / temperature_k,
            heat_capacity_ratio / (heat_capacity_ratio - 1.0),
        )
}

/// Flow out of `up` against a pressure that is not higher [kg/s].
fn one_way_mass_flow_kg_per_s(
    gas: IdealGas,
    effective_area_m2: f64,
    up: GasSide,
    down_pressure_pa: f64,
) -> f64 {
    let gap = 1.0 - down_pressure_pa / up.pressure_pa;
    let gamma = gas.heat_capacity_ratio;
    let psi = if gap >= SOFT_RATIO_GAP {
        flow_function(1.0 - gap, gamma)
    } else {
        softened_flow_function(gap, gamma)
    };
    effective_area_m2 * up.pressure_pa * psi
        / (gas.gas_constant_j_per_kg_k * up.temperature_k).sqrt()
}

/// Ψ for 0 ≤ 1 − r ≤ SOFT_RATIO_GAP: odd cubic in the gap that meets Ψ and its slope.
fn softened_flow_function(gap: f64, gamma: f64) -> f64 {
    let edge = 1.0 - SOFT_RATIO_GAP;
    let psi = flow_function(edge, gamma);
    // dΨ/d(gap) = −dΨ/dr, by differentiating Ψ².
    let slope = -gamma / (gamma - 1.0)
        * (2.0 / gamma * math::pow(edge, 2.0 / gamma - 1.0)
            - (gamma + 1.0) / gamma * math::pow(edge, 1.0 / gamma))
        / psi;
    let x = gap / SOFT_RATIO_GAP;
    let rise = slope * SOFT_RATIO_GAP;
    x * (1.5 * psi - 0.5 * rise + x * x * 0.5 * (rise - psi))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::super::gas::AIR;
    use super::*;

    fn side(pressure_pa: f64) -> GasSide {
        GasSide {
            pressure_pa,
            temperature_k: 293.15,
        }
    }

    fn flow(from_pa: f64, to_pa: f64) -> f64 {
        nozzle_mass_flow_kg_per_s(AIR, 1e-6, side(from_pa), side(to_pa))
    }

    #[test]
    fn softened_law_meets_the_bare_law_in_value_and_slope() {
        let step = 1e-7;
        let at = |gap: f64| softened_flow_function(gap, 1.4);
        let bare = |gap: f64| flow_function(1.0 - gap, 1.4);
        assert_relative_eq!(
            at(SOFT_RATIO_GAP),
            bare(SOFT_RATIO_GAP),
            max_relative = 1e-10
        );
        let inside = (at(SOFT_RATIO_GAP) - at(SOFT_RATIO_GAP - step)) / step;
        let outside = (bare(SOFT_RATIO_GAP + step) - bare(SOFT_RATIO_GAP)) / step;
        assert_relative_eq!(inside, outside, max_relative = 1e-3);
    }

    #[test]
    fn flow_changes_sign_with_the_pressure_difference_and_passes_through_zero() {
        assert_relative_eq!(flow(2e5, 2e5), 0.0);
        for difference in [1.0, 50.0, 500.0, 5e4, 1.5e5] {
            let out = flow(2e5, 2e5 - difference);
            let back = flow(2e5 - difference, 2e5);
            assert!(out > 0.0);
            assert_relative_eq!(out, -back, max_relative = 1e-14);
        }
    }

    #[test]
    fn flow_never_falls_as_the_back_pressure_falls() {
        let mut last = -1.0;
        for step in 0..=4_000 {
            let now = flow(4e5, 4e5 - 100.0 * f64::from(step));
            assert!(now >= last, "at {step}");
            last = now;
        }
    }

    #[test]
    fn a_small_pressure_difference_flows_as_an_incompressible_gas_does() {
        let (up, difference) = (2e5, 1_000.0);
        let density = AIR.density_kg_per_m3(up, 293.15);
        let incompressible = 1e-6 * (2.0 * density * difference).sqrt();
        assert_relative_eq!(
            flow(up, up - difference),
            incompressible,
            max_relative = 5e-3
        );
    }
}
