//! Local losses: fittings, changes of section, entrances and exits.
//!
//! Models: Δp = K·ρV²/2, with K taken on the velocity in the pipe that the function's
//! name or words say.
//!
//! - Fitting: K = (L/D)·f_T, f_T the fully rough friction factor of its pipe
//!   (TP-410, Flow of Fluids, 2009 edition, appendix A: read through secondary copies).
//! - Sharp expansion: K = (1 − β²)², β = d₁/d₂ (Borda–Carnot, exact for uniform profiles).
//! - Sudden contraction: K = 0.5·(1 − β²), β = d₂/d₁ (TP-410).
//! - Gradual expansion with included angle θ ≤ 45°: K = 2.6·sin(θ/2)·(1 − β²)² (TP-410).
//! - Fully rough wall: f_T = 0.25/log₁₀(ε/(3.7·D))² (limit of Colebrook–White).
//!
//! Leaves out: interaction of fittings closer than some ten diameters, the rise of K at
//! low Reynolds numbers.

use core::f64::consts::PI;

use crate::math;

/// K of a sharp-edged entrance from a vessel, flush with its wall (handbook value).
pub const FLUSH_ENTRANCE_K: f64 = 0.5;
/// K of an entrance through a pipe that stands into the vessel (handbook value).
pub const PROJECTING_ENTRANCE_K: f64 = 0.78;
/// K of an exit into a vessel: the velocity head is lost (Borda–Carnot with d₂ → ∞).
pub const EXIT_K: f64 = 1.0;

/// A fitting whose loss is given as an equivalent length in pipe diameters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fitting {
    /// Gate valve, fully open.
    GateValve,
    /// Ball valve, fully open, full port.
    BallValve,
    /// Globe valve, fully open.
    GlobeValve,
    /// Angle valve, fully open, plug guided from above.
    AngleValve,
    /// Screwed elbow, 90°.
    Elbow90,
    /// Screwed elbow, 45°.
    Elbow45,
    /// Mitre bend of one cut, 90°.
    MitreBend90,
    /// Tee, straight through.
    TeeRun,
    /// Tee, through the branch.
    TeeBranch,
    /// Swing check valve, disc well open.
    SwingCheck,
    /// Lift check valve of globe pattern, disc well open.
    LiftCheck,
    /// Foot valve with strainer, poppet disc.
    FootValve,
}

impl Fitting {
    /// Equivalent length in pipe diameters, L/D.
    ///
    /// Gate valve, angle valve and the elbow family were read in secondary copies of the
    /// table; the others are from memory of the same table.
    #[must_use]
    pub const fn equivalent_diameters(self) -> f64 {
        match self {
            Self::GateValve => 8.0,
            Self::BallValve => 3.0,
            Self::GlobeValve => 340.0,
            Self::AngleValve => 150.0,
            Self::Elbow90 => 30.0,
            Self::Elbow45 => 16.0,
            Self::MitreBend90 => 60.0,
            Self::TeeRun => 20.0,
            Self::TeeBranch => 60.0,
            Self::SwingCheck => 100.0,
            Self::LiftCheck => 600.0,
            Self::FootValve => 420.0,
        }
    }

    /// K of the fitting in a pipe of the given relative roughness ε/D.
    #[must_use]
    pub fn k(self, relative_roughness: f64) -> f64 {
        k_from_equivalent_length(
            self.equivalent_diameters(),
            fully_rough_friction_factor(relative_roughness),
        )
    }
}

/// Area of a circle [m²].
#[must_use]
pub fn circle_area_m2(diameter_m: f64) -> f64 {
    PI * diameter_m * diameter_m / 4.0
}

/// Mean velocity of a flow in a round pipe [m/s].
#[must_use]
pub fn velocity_m_per_s(flow_m3_per_s: f64, diameter_m: f64) -> f64 {
    flow_m3_per_s / circle_area_m2(diameter_m)
}

/// Pressure taken by a local loss at a velocity [Pa], with the sign of the velocity.
#[must_use]
pub fn local_pressure_loss_pa(k: f64, velocity_m_per_s: f64, density_kg_per_m3: f64) -> f64 {
    0.5 * k * density_kg_per_m3 * velocity_m_per_s * velocity_m_per_s.abs()
}

/// Friction factor of a fully rough pipe, f_T, for a relative roughness above zero.
#[must_use]
pub fn fully_rough_friction_factor(relative_roughness: f64) -> f64 {
    let logarithm = math::log10(relative_roughness / 3.7);
    0.25 / (logarithm * logarithm)
}

/// K of a fitting from its equivalent length in diameters and a friction factor.
#[must_use]
pub fn k_from_equivalent_length(equivalent_diameters: f64, friction_factor: f64) -> f64 {
    equivalent_diameters * friction_factor
}

/// K taken on the velocity in a pipe of diameter `from_diameter_m`, restated on the
/// velocity in a pipe of diameter `to_diameter_m` that carries the same flow.
#[must_use]
pub fn k_restated(k: f64, from_diameter_m: f64, to_diameter_m: f64) -> f64 {
    let ratio = to_diameter_m / from_diameter_m;
    let squared = ratio * ratio;
    k * squared * squared
}

/// K of a sharp expansion from d₁ to a larger d₂, on the upstream velocity.
///
/// ```
/// use sim_core::water::losses::sharp_expansion_k;
///
/// assert_eq!(sharp_expansion_k(0.5, 1.0), 0.5625);
/// ```
#[must_use]
pub fn sharp_expansion_k(upstream_diameter_m: f64, downstream_diameter_m: f64) -> f64 {
    let beta = upstream_diameter_m / downstream_diameter_m;
    let gap = 1.0 - beta * beta;
    gap * gap
}

/// K of a sudden contraction from d₁ to a smaller d₂, on the downstream velocity.
#[must_use]
pub fn sudden_contraction_k(upstream_diameter_m: f64, downstream_diameter_m: f64) -> f64 {
    let beta = downstream_diameter_m / upstream_diameter_m;
    0.5 * (1.0 - beta * beta)
}

/// K of a conical expansion from d₁ to a larger d₂ with the given included angle, on the
/// upstream velocity.  Above 45° a cone is no better than a sharp step.
#[must_use]
pub fn gradual_expansion_k(
    upstream_diameter_m: f64,
    downstream_diameter_m: f64,
    included_angle_rad: f64,
) -> f64 {
    let cone = (2.6 * math::sin(0.5 * included_angle_rad)).min(1.0);
    cone * sharp_expansion_k(upstream_diameter_m, downstream_diameter_m)
}

/// K of a valve of bore d₁ between two reducers in a pipe of bore d₂, on the velocity in
/// the pipe (TP-410: contraction and expansion act gradually, hence the factor β).
#[must_use]
pub fn reduced_valve_k(valve_k: f64, valve_diameter_m: f64, pipe_diameter_m: f64) -> f64 {
    let beta = valve_diameter_m / pipe_diameter_m;
    let gap = 1.0 - beta * beta;
    k_restated(
        valve_k + beta * (0.5 * gap + gap * gap),
        valve_diameter_m,
        pipe_diameter_m,
    )
}

/// Pressure downstream of an expansion [Pa]: what the slower flow gives back, less K.
///
/// p₂ = p₁ + ρ·(α·(V₁² − V₂²) − K·V₁²)/2, α the kinetic energy factor of the profile (1
/// for a flat one, about 1.06 in turbulent pipe flow), K on the upstream velocity.
#[must_use]
pub fn pressure_after_expansion_pa(
    upstream_pressure_pa: f64,
    upstream_velocity_m_per_s: f64,
    diameter_ratio: f64,
    k: f64,
    kinetic_energy_factor: f64,
    density_kg_per_m3: f64,
) -> f64 {
    let squared = upstream_velocity_m_per_s * upstream_velocity_m_per_s;
    let beta_squared = diameter_ratio * diameter_ratio;
    let recovered = kinetic_energy_factor * (1.0 - beta_squared * beta_squared);
    upstream_pressure_pa + 0.5 * density_kg_per_m3 * squared * (recovered - k)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn an_expansion_into_a_lake_loses_the_whole_velocity_head() {
        assert_relative_eq!(sharp_expansion_k(0.05, 1e9), EXIT_K, max_relative = 1e-12);
    }

    #[test]
    fn a_contraction_from_a_lake_is_a_flush_entrance() {
        assert_relative_eq!(
            sudden_contraction_k(1e9, 0.05),
            FLUSH_ENTRANCE_K,
            max_relative = 1e-12
        );
    }

    #[test]
    fn fully_rough_factor_is_the_limit_of_colebrook() {
        let limit = super::super::friction::colebrook_friction_factor(1e12, 1e-3);
        assert_relative_eq!(
            fully_rough_friction_factor(1e-3),
            limit,
            max_relative = 1e-6
        );
    }

    #[test]
    fn a_sharp_expansion_returns_what_borda_carnot_leaves() {
        // Momentum balance across the step: p₂ − p₁ = ρ·V₂·(V₁ − V₂).
        let (velocity, beta, density) = (3.0, 0.6, 998.0);
        let slower = velocity * beta * beta;
        let risen = pressure_after_expansion_pa(
            2e5,
            velocity,
            beta,
            sharp_expansion_k(beta, 1.0),
            1.0,
            density,
        );
        assert_relative_eq!(
            risen,
            2e5 + density * slower * (velocity - slower),
            max_relative = 1e-12
        );
    }

    #[test]
    fn restating_k_leaves_the_pressure_loss_alone() {
        let flow = 1e-3;
        let on_small = local_pressure_loss_pa(2.0, velocity_m_per_s(flow, 0.02), 1000.0);
        let restated = k_restated(2.0, 0.02, 0.03);
        let on_large = local_pressure_loss_pa(restated, velocity_m_per_s(flow, 0.03), 1000.0);
        assert_relative_eq!(on_small, on_large, max_relative = 1e-12);
    }

    #[test]
    fn a_valve_of_line_size_needs_no_reducers() {
        assert_relative_eq!(reduced_valve_k(10.0, 0.05, 0.05), 10.0);
    }
}
