//! Water hammer and the springiness of a filled pipe.
//!
//! - Pressure rise of a sudden stop: Δp = ρ·a·ΔV (N. E. Joukowsky, 1898), for stops
//!   quicker than the wave's return 2L/a.
//! - Wave speed in an elastic pipe: a = √(K/ρ)/√(1 + K·D/(E·e)) (D. J. Korteweg, 1878),
//!   thin wall, anchored with expansion joints (restraint factor 1).
//! - Elastic storage of a full pipe: dV/dp = V·(1/K + D/(E·e)).
//! - Inertance: Δp = I·dQ/dt with I = ρ·L/A.
//!
//! D is the inside diameter, e the wall thickness, E Young's modulus of the wall, K the
//! bulk modulus of the water.
//!
//! Leaves out: free air in the water (which softens everything and lowers a), creep of
//! plastic walls, wave travel itself (the plant moves each column as one body).
//!
//! Invariant: a = L/√(I·dV/dp), when dV/dp is taken with the adiabatic K.

use crate::parts::PipeSpec;

use super::losses::circle_area_m2;

/// Pressure rise when a column slows by `velocity_drop_m_per_s` at once [Pa].
///
/// ```
/// use sim_core::water::hammer::joukowsky_rise_pa;
///
/// // One metre a second stopped dead in a rigid pipe: 14.8 bar.
/// assert!((joukowsky_rise_pa(998.2, 1482.3, 1.0) / 1e5 - 14.8).abs() < 0.01);
/// ```
#[must_use]
pub fn joukowsky_rise_pa(
    density_kg_per_m3: f64,
    wave_speed_m_per_s: f64,
    velocity_drop_m_per_s: f64,
) -> f64 {
    density_kg_per_m3 * wave_speed_m_per_s * velocity_drop_m_per_s
}

/// Wave speed of water in an elastic pipe [m/s], from the speed of sound in unbounded
/// water.
#[must_use]
pub fn wave_speed_m_per_s(
    pipe: &PipeSpec,
    speed_of_sound_m_per_s: f64,
    density_kg_per_m3: f64,
) -> f64 {
    let adiabatic_modulus_pa = density_kg_per_m3 * speed_of_sound_m_per_s * speed_of_sound_m_per_s;
    speed_of_sound_m_per_s / (1.0 + adiabatic_modulus_pa * wall_compliance_per_pa(pipe)).sqrt()
}

/// Elastic storage dV/dp of the water-filled pipe: water and wall [m³/Pa].
#[must_use]
pub fn elastic_storage_m3_per_pa(pipe: &PipeSpec, bulk_modulus_pa: f64) -> f64 {
    pipe_volume_m3(pipe) * (1.0 / bulk_modulus_pa + wall_compliance_per_pa(pipe))
}

/// Inertance ρ·L/A of the water in the pipe [Pa·s²/m³].
#[must_use]
pub fn inertance_pa_s2_per_m3(pipe: &PipeSpec, density_kg_per_m3: f64) -> f64 {
    density_kg_per_m3 * pipe.length.si() / circle_area_m2(pipe.inside_diameter.si())
}

/// Volume of water in the full pipe [m³].
#[must_use]
pub fn pipe_volume_m3(pipe: &PipeSpec) -> f64 {
    circle_area_m2(pipe.inside_diameter.si()) * pipe.length.si()
}

/// Time in which a wave runs to the far end and back [s]: a stop quicker than this makes
/// the full Joukowsky rise.
#[must_use]
pub fn wave_return_time_s(pipe: &PipeSpec, wave_speed_m_per_s: f64) -> f64 {
    2.0 * pipe.length.si() / wave_speed_m_per_s
}

/// Relative growth of the pipe's section per pressure, D/(E·e) [1/Pa].
fn wall_compliance_per_pa(pipe: &PipeSpec) -> f64 {
    pipe.inside_diameter.si() / (pipe.wall_modulus.si() * pipe.wall_thickness.si())
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;
    use crate::units::{Meters, Pascals};

    const RHO: f64 = 998.2;
    const SOUND: f64 = 1_482.3;

    fn pipe(wall_modulus_pa: f64) -> PipeSpec {
        PipeSpec {
            length: Meters(100.0),
            rise: Meters(0.0),
            inside_diameter: Meters(0.0266),
            wall_thickness: Meters(0.0034),
            roughness: Meters(1.5e-6),
            wall_modulus: Pascals(wall_modulus_pa),
            fittings_k: 0.0,
        }
    }

    #[test]
    fn a_rigid_pipe_carries_sound_as_open_water_does() {
        assert_relative_eq!(
            wave_speed_m_per_s(&pipe(1e20), SOUND, RHO),
            SOUND,
            max_relative = 1e-6
        );
    }

    #[test]
    fn plastic_slows_the_wave_more_than_steel_does() {
        let steel = wave_speed_m_per_s(&pipe(200e9), SOUND, RHO);
        let plastic = wave_speed_m_per_s(&pipe(2.8e9), SOUND, RHO);
        assert!(steel > 1_400.0 && plastic < 600.0);
    }

    #[test]
    fn wave_speed_closes_with_inertance_and_storage() {
        let pipe = pipe(2.8e9);
        let storage = elastic_storage_m3_per_pa(&pipe, RHO * SOUND * SOUND);
        let inertance = inertance_pa_s2_per_m3(&pipe, RHO);
        let from_lumps = 100.0 / (storage * inertance).sqrt();
        assert_relative_eq!(
            from_lumps,
            wave_speed_m_per_s(&pipe, SOUND, RHO),
            max_relative = 1e-12
        );
    }

    #[test]
    fn a_hundred_metres_of_plastic_line_store_a_fifth_of_a_litre_in_four_bar() {
        let stored = elastic_storage_m3_per_pa(&pipe(2.8e9), 2.18e9) * 4.0e5;
        assert!((0.5e-4..3.0e-4).contains(&stored), "{stored}");
    }
}
