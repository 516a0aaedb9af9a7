use approx::assert_relative_eq;
use proptest::prelude::*;

use super::*;
use crate::units::{Meters, Pascals};

const WATER: Fluid = Fluid {
    density_kg_per_m3: 999.1,
    viscosity_pa_s: 1.1376e-3,
};

fn pipe(diameter_m: f64, roughness_m: f64, fittings_k: f64) -> PipeSpec {
    PipeSpec {
        length: Meters(50.0),
        rise: Meters(0.0),
        inside_diameter: Meters(diameter_m),
        wall_thickness: Meters(0.003),
        roughness: Meters(roughness_m),
        wall_modulus: Pascals(2.8e9),
        fittings_k,
    }
}

#[test]
fn laminar_loss_is_hagen_poiseuille() {
    let pipe = pipe(0.02, 1.5e-6, 0.0);
    let flow = 2.0e-5;
    let poiseuille = 128.0 * WATER.viscosity_pa_s * 50.0 * flow / (PI * 0.02_f64 * 8.0e-6);
    assert_relative_eq!(
        pipe_pressure_loss_pa(&pipe, flow, WATER),
        poiseuille,
        max_relative = 1e-12
    );
}

#[test]
fn one_sharpened_pass_satisfies_colebrook_everywhere() {
    for exponent in 0..50 {
        let reynolds = 4_000.0 * math::pow(10.0, f64::from(exponent) * 0.09);
        for roughness in [0.0, 1e-6, 1e-4, 1e-3, 1e-2, 0.05] {
            let f = colebrook_friction_factor(reynolds, roughness);
            let x = 1.0 / f.sqrt();
            let right = -2.0 * math::log10(roughness / 3.7 + 2.51 * x / reynolds);
            assert_relative_eq!(x, right, max_relative = 1e-9);
        }
    }
}

#[test]
fn friction_number_and_its_slope_are_continuous_at_both_ends_of_the_blend() {
    for roughness in [0.0, 1e-3, 0.05] {
        for limit in [LAMINAR_LIMIT, TURBULENT_LIMIT] {
            let below = friction_number(limit * (1.0 - 1e-9), roughness);
            let above = friction_number(limit * (1.0 + 1e-9), roughness);
            assert_relative_eq!(below.value, above.value, max_relative = 1e-7);
            assert_relative_eq!(below.slope, above.slope, max_relative = 1e-6);
        }
    }
}

#[test]
fn a_resting_pipe_loses_nothing_and_still_has_a_slope() {
    let at_rest = pipe_pressure_loss_and_slope(&pipe(0.02, 0.0, 3.0), 0.0, WATER);
    assert_relative_eq!(at_rest.value, 0.0);
    assert!(at_rest.slope > 0.0);
}

#[test]
fn a_fitting_without_a_pipe_can_be_inverted() {
    let mut fitting = pipe(0.02, 0.0, 5.0);
    fitting.length = Meters(0.0);
    let flow = pipe_flow_m3_per_s(&fitting, 20_000.0, WATER);
    assert_relative_eq!(
        pipe_pressure_loss_pa(&fitting, flow, WATER),
        20_000.0,
        max_relative = 1e-12
    );
}

proptest! {
    #[test]
    fn loss_rises_with_flow_through_every_regime(
        diameter_m in 0.008..0.1_f64,
        relative_roughness in 0.0..0.05_f64,
        fittings_k in 0.0..50.0_f64,
        reynolds in 0.0..20_000.0_f64,
        growth in 1.000_1..2.0_f64,
    ) {
        let pipe = pipe(diameter_m, relative_roughness * diameter_m, fittings_k);
        let flow_per_reynolds = PI * diameter_m * WATER.viscosity_pa_s / (4.0 * WATER.density_kg_per_m3);
        let flow = (reynolds + 1.0) * flow_per_reynolds;
        let low = pipe_pressure_loss_and_slope(&pipe, flow, WATER);
        let high = pipe_pressure_loss_and_slope(&pipe, flow * growth, WATER);
        prop_assert!(high.value > low.value);
        prop_assert!(low.slope > 0.0);
    }

    #[test]
    fn slope_is_the_derivative_of_loss(
        relative_roughness in 0.0..0.05_f64,
        reynolds in 100.0..200_000.0_f64,
    ) {
        let step = 1e-5 * reynolds;
        // The third derivative jumps at the ends of the blend; keep the stencil on one side.
        prop_assume!((reynolds - LAMINAR_LIMIT).abs() > 2.0 * step);
        prop_assume!((reynolds - TURBULENT_LIMIT).abs() > 2.0 * step);
        let rise = friction_number(reynolds + step, relative_roughness).value
            - friction_number(reynolds - step, relative_roughness).value;
        let slope = friction_number(reynolds, relative_roughness).slope;
        prop_assert!((rise / (2.0 * step) / slope - 1.0).abs() < 1e-6);
    }

    #[test]
    fn backward_flow_loses_what_forward_flow_loses(flow in 0.0..0.01_f64) {
        let pipe = pipe(0.0266, 1.5e-6, 4.0);
        prop_assert_eq!(
            pipe_pressure_loss_pa(&pipe, -flow, WATER),
            -pipe_pressure_loss_pa(&pipe, flow, WATER)
        );
    }

    #[test]
    fn flow_from_loss_undoes_loss_from_flow(
        flow in -0.005..0.005_f64,
        fittings_k in 0.0..30.0_f64,
    ) {
        let pipe = pipe(0.0266, 1.5e-5, fittings_k);
        let loss = pipe_pressure_loss_pa(&pipe, flow, WATER);
        let back = pipe_flow_m3_per_s(&pipe, loss, WATER);
        prop_assert!((back - flow).abs() <= 1e-11 * flow.abs() + 1e-18);
    }
}
