//! Flow through holes: leaks, plates, emptying tanks; and the old pipe formula kept as a
//! cross-check.
//!
//! - Sharp-edged hole: Q = C_d·A·√(2·Δp/ρ).
//! - Free outflow under a head: V = √(2·g·h) (E. Torricelli, 1643).
//! - Orifice plate: Q = C·A·√(2·Δp/ρ)/√(1 − β⁴), C by Reader-Harris and Gallagher
//!   (ISO 5167-2:2003, clause 5.3.2.1; coefficients from memory, pinned by a published
//!   worked example).
//! - Emptying under gravity through a hole in the bottom:
//!   upright walls t = 2·A_t·(√h₀ − √h₁)/(C_d·A·√(2g)), and for a lying cylinder
//!   t = 4·L·((D − h₁)^1.5 − (D − h₀)^1.5)/(3·C_d·A·√(2g)), both by integrating
//!   A_t(h)·dh = −Q·dt.
//! - Hazen–Williams, US form: psi/ft = 4.52·Q^1.852/(C^1.852·d^4.8704), Q in US gpm, d in
//!   inches (NFPA 13; constant from memory).  Empirical, near 15 °C only: never used by
//!   the plant.
//!
//! Leaves out: holes so small that the flow is laminar, reattachment in thick walls,
//! vortices over an emptying hole.
//!
//! √Δp has an infinite slope at Δp = 0, which no Newton iteration likes;
//! [`softened_orifice_flow_m3_per_s`] replaces the last stretch by a cubic.

use core::f64::consts::PI;

use crate::math;
use crate::units::convert::{FOOT, INCH, PSI, US_GPM};

use super::friction::Fluid;
use super::losses::circle_area_m2;

/// Discharge coefficient of a sharp-edged round hole (handbooks give 0.60 to 0.63).
pub const SHARP_EDGE_DISCHARGE: f64 = 0.62;

/// Flow through a sharp-edged hole [m³/s], with the sign of the pressure difference.
///
/// ```
/// use sim_core::water::orifice::orifice_flow_m3_per_s;
///
/// // A hole of 1 mm² under 3 bar loses about 15 mL a second.
/// let flow = orifice_flow_m3_per_s(1e-6, 0.62, 3.0e5, 999.0);
/// assert!((flow - 1.52e-5).abs() < 1e-7);
/// ```
#[must_use]
pub fn orifice_flow_m3_per_s(
    area_m2: f64,
    discharge_coefficient: f64,
    pressure_difference_pa: f64,
    density_kg_per_m3: f64,
) -> f64 {
    let magnitude = discharge_coefficient
        * area_m2
        * (2.0 * pressure_difference_pa.abs() / density_kg_per_m3).sqrt();
    if pressure_difference_pa < 0.0 {
        -magnitude
    } else {
        magnitude
    }
}

/// The same flow, with √ replaced by an odd cubic within ±`soft_below_pa`.
///
/// Value and slope meet those of the square root at ±`soft_below_pa`, and the slope at
/// zero is finite.  Choose `soft_below_pa` below anything a gauge can show (1 Pa or less).
#[must_use]
pub fn softened_orifice_flow_m3_per_s(
    area_m2: f64,
    discharge_coefficient: f64,
    pressure_difference_pa: f64,
    density_kg_per_m3: f64,
    soft_below_pa: f64,
) -> f64 {
    let full = |difference_pa: f64| {
        orifice_flow_m3_per_s(
            area_m2,
            discharge_coefficient,
            difference_pa,
            density_kg_per_m3,
        )
    };
    let x = pressure_difference_pa / soft_below_pa;
    if x.abs() >= 1.0 {
        return full(pressure_difference_pa);
    }
    full(soft_below_pa) * softened_root(x)
}

/// √|x| with the sign of x, made smooth at zero: x·(5 − x²)/4 for |x| ≤ 1, which meets √
/// in value and slope at ±1.
#[must_use]
pub fn softened_root(x: f64) -> f64 {
    if x.abs() >= 1.0 {
        return x.signum() * x.abs().sqrt();
    }
    0.25 * x * (5.0 - x * x)
}

/// Speed of a free jet under a head [m/s] (Torricelli), for a head of zero or more.
#[must_use]
pub fn free_jet_speed_m_per_s(head_m: f64, gravity_m_per_s2: f64) -> f64 {
    (2.0 * gravity_m_per_s2 * head_m).sqrt()
}

/// Absolute pressure at the crest of a lossless siphon that runs full [Pa].
///
/// The speed is that at the outlet all along an even tube, so only the height of the
/// crest above the outlet counts.
#[must_use]
pub fn siphon_crest_pressure_pa(
    atmospheric_pressure_pa: f64,
    crest_above_outlet_m: f64,
    density_kg_per_m3: f64,
    gravity_m_per_s2: f64,
) -> f64 {
    atmospheric_pressure_pa - density_kg_per_m3 * gravity_m_per_s2 * crest_above_outlet_m
}

/// A hole through which a vessel empties under gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrainHole {
    /// Area of the hole [m²] -- constant.
    pub area_m2: f64,
    /// Discharge coefficient -- constant, 1 for a lossless nozzle.
    pub discharge_coefficient: f64,
    /// Local gravity [m/s²] -- constant.
    pub gravity_m_per_s2: f64,
}

impl DrainHole {
    /// Flow under a head [m³/s]; none when there is no water over the hole.
    #[must_use]
    pub fn flow_m3_per_s(&self, head_m: f64) -> f64 {
        if head_m <= 0.0 {
            return 0.0;
        }
        self.discharge_coefficient
            * self.area_m2
            * free_jet_speed_m_per_s(head_m, self.gravity_m_per_s2)
    }

    /// Time for the level over the hole in a vessel with upright walls to fall [s].
    ///
    /// `surface_m2` is the free surface; levels are heights over the hole, `from` ≥ `to` ≥ 0.
    #[must_use]
    pub fn upright_drain_time_s(&self, surface_m2: f64, from_m: f64, to_m: f64) -> f64 {
        2.0 * surface_m2 * (from_m.sqrt() - to_m.sqrt()) / self.flow_m3_per_s(1.0)
    }

    /// Level over the hole in a vessel with upright walls after a time [m].
    #[must_use]
    pub fn upright_level_after_m(&self, surface_m2: f64, from_m: f64, time_s: f64) -> f64 {
        let root = from_m.sqrt() - 0.5 * self.flow_m3_per_s(1.0) * time_s / surface_m2;
        if root <= 0.0 { 0.0 } else { root * root }
    }

    /// Time for the level in a lying cylinder with flat ends and the hole at its bottom to
    /// fall [s], `from` ≥ `to`, both from 0 to the diameter.
    #[must_use]
    pub fn lying_cylinder_drain_time_s(
        &self,
        diameter_m: f64,
        length_m: f64,
        from_m: f64,
        to_m: f64,
    ) -> f64 {
        let space_after = diameter_m - to_m;
        let space_before = diameter_m - from_m;
        let powers = space_after * space_after.sqrt() - space_before * space_before.sqrt();
        4.0 * length_m * powers / (3.0 * self.flow_m3_per_s(1.0))
    }
}

/// An orifice plate with pressure taps one diameter upstream and half a diameter
/// downstream (ISO 5167-2; bore of the pipe 50 mm to 1 m, β from 0.1 to 0.75, Re ≥ 5000).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrificePlate {
    /// Bore of the plate [m] -- constant.
    pub bore_m: f64,
    /// Inside diameter of the pipe [m] -- constant.
    pub pipe_diameter_m: f64,
}

impl OrificePlate {
    /// Discharge coefficient at a pipe Reynolds number (Reader-Harris and Gallagher).
    #[must_use]
    pub fn discharge_coefficient(&self, pipe_reynolds: f64) -> f64 {
        /// Tap distances over the pipe diameter, L₁ and L′₂, of D and D/2 taps.
        const UPSTREAM_TAP: f64 = 1.0;
        const DOWNSTREAM_TAP: f64 = 0.47;
        /// Below this pipe diameter the equation has one more term [m].
        const SMALL_PIPE_M: f64 = 0.071_12;

        let beta = self.bore_m / self.pipe_diameter_m;
        let beta2 = beta * beta;
        let beta4 = beta2 * beta2;
        let a = math::pow(19_000.0 * beta / pipe_reynolds, 0.8);
        let m2 = 2.0 * DOWNSTREAM_TAP / (1.0 - beta);
        let upstream = 0.043 + 0.080 * math::exp(-10.0 * UPSTREAM_TAP)
            - 0.123 * math::exp(-7.0 * UPSTREAM_TAP);
        let small_pipe = if self.pipe_diameter_m < SMALL_PIPE_M {
            0.011 * (0.75 - beta) * (2.8 - self.pipe_diameter_m / INCH)
        } else {
            0.0
        };
        0.5961 + 0.0261 * beta2 - 0.216 * beta4 * beta4
            + 0.000_521 * math::pow(1.0e6 * beta / pipe_reynolds, 0.7)
            + (0.0188 + 0.0063 * a) * math::pow(beta, 3.5) * math::pow(1.0e6 / pipe_reynolds, 0.3)
            + upstream * (1.0 - 0.11 * a) * beta4 / (1.0 - beta4)
            - 0.031 * (m2 - 0.8 * math::pow(m2, 1.1)) * math::pow(beta, 1.3)
            + small_pipe
    }

    /// Flow at a pressure difference between the taps [m³/s], liquid, difference above zero.
    ///
    /// C hangs weakly on the flow it gives; six passes settle it to the last digits.
    #[must_use]
    pub fn flow_m3_per_s(&self, pressure_difference_pa: f64, fluid: Fluid) -> f64 {
        let beta = self.bore_m / self.pipe_diameter_m;
        let beta2 = beta * beta;
        let ideal = orifice_flow_m3_per_s(
            circle_area_m2(self.bore_m),
            1.0 / (1.0 - beta2 * beta2).sqrt(),
            pressure_difference_pa,
            fluid.density_kg_per_m3,
        );
        let reynolds_per_flow =
            4.0 * fluid.density_kg_per_m3 / (PI * self.pipe_diameter_m * fluid.viscosity_pa_s);
        let mut flow = 0.6 * ideal;
        for _ in 0..6 {
            flow = self.discharge_coefficient(flow * reynolds_per_flow) * ideal;
        }
        flow
    }
}

/// Friction loss per length by Hazen and Williams [Pa/m], roughness coefficient C.
#[must_use]
pub fn hazen_williams_pa_per_m(
    flow_m3_per_s: f64,
    diameter_m: f64,
    roughness_coefficient: f64,
) -> f64 {
    let flow_gpm = flow_m3_per_s / US_GPM;
    let diameter_in = diameter_m / INCH;
    let psi_per_ft =
        4.52 * math::pow(flow_gpm / roughness_coefficient, 1.852) / math::pow(diameter_in, 4.8704);
    psi_per_ft * PSI / FOOT
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    const HOLE: DrainHole = DrainHole {
        area_m2: 5e-4,
        discharge_coefficient: 0.62,
        gravity_m_per_s2: 9.806_65,
    };

    #[test]
    fn softened_root_meets_the_square_root_in_value_and_slope() {
        let step = 1e-6;
        assert_relative_eq!(softened_root(1.0 - 1e-12), 1.0, max_relative = 1e-11);
        let inside = (softened_root(1.0) - softened_root(1.0 - step)) / step;
        assert_relative_eq!(inside, 0.5, max_relative = 1e-5);
        assert_relative_eq!(softened_root(-4.0), -2.0);
        assert_relative_eq!(softened_root(0.0), 0.0);
    }

    #[test]
    fn softened_orifice_is_the_orifice_outside_its_soft_stretch() {
        for difference in [-500.0, -1.0, 1.0, 2.5e5] {
            assert_relative_eq!(
                softened_orifice_flow_m3_per_s(1e-6, 0.62, difference, 998.0, 1.0),
                orifice_flow_m3_per_s(1e-6, 0.62, difference, 998.0),
                max_relative = 1e-14
            );
        }
    }

    #[test]
    fn drain_time_and_level_are_inverse() {
        let time = HOLE.upright_drain_time_s(1.7, 2.0, 0.7);
        assert_relative_eq!(
            HOLE.upright_level_after_m(1.7, 2.0, time),
            0.7,
            max_relative = 1e-12
        );
        let empty = HOLE.upright_drain_time_s(1.7, 2.0, 0.0);
        assert_relative_eq!(HOLE.upright_level_after_m(1.7, 2.0, 2.0 * empty), 0.0);
    }

    #[test]
    fn lying_cylinder_drain_time_is_the_sum_of_its_thin_slices() {
        let (diameter, length) = (1.2, 2.5);
        let slices = 20_000;
        let mut sum = 0.0;
        for slice in 0..slices {
            let height = 0.1 + (f64::from(slice) + 0.5) / f64::from(slices);
            let surface = 2.0 * length * (height * (diameter - height)).sqrt();
            sum += surface / f64::from(slices) / HOLE.flow_m3_per_s(height);
        }
        assert_relative_eq!(
            HOLE.lying_cylinder_drain_time_s(diameter, length, 1.1, 0.1),
            sum,
            max_relative = 1e-6
        );
    }

    #[test]
    fn an_orifice_plate_lets_more_through_than_a_hole_in_a_large_vessel() {
        let plate = OrificePlate {
            bore_m: 0.05,
            pipe_diameter_m: 0.073_66,
        };
        let water = Fluid {
            density_kg_per_m3: 999.1,
            viscosity_pa_s: 1.138e-3,
        };
        let free = orifice_flow_m3_per_s(circle_area_m2(0.05), 0.61, 17_000.0, 999.1);
        assert!(plate.flow_m3_per_s(17_000.0, water) > free);
    }
}
