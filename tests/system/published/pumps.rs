//! Section 4: pumps.

use sim_core::parts::{NominalSize, Schedule};
use sim_core::units::convert::{FOOT, HORSEPOWER, INCH, LITER, PSI, US_GPM};
use sim_core::water::friction::pipe_pressure_loss_pa;
use sim_core::water::losses::{EXIT_K, reduced_valve_k};
use sim_core::water::pumping::{
    QuadraticHead, affinity_flow, affinity_head, affinity_power, head_m_from_pressure,
    pressure_pa_from_head, shaft_power_w, total_head_m, water_power_w,
};
use sim_core::water::{Fitting, Fluid};

use super::check::Check;
use super::pipes::{POUNDS_PER_CUBIC_FOOT, US_WATER, run};

/// Water of the reference system, so that ρ·g = 9806.65 N/m³ [kg/m³].
pub(super) const REFERENCE_DENSITY: f64 = 1_000.0;
/// Lift of the reference system [m].
const REFERENCE_LIFT_M: f64 = 12.0;

/// Pump of the reference system: H = 70 − 8000·Q − 2.2·10⁷·Q².
pub(super) const REFERENCE_PUMP: QuadraticHead = QuadraticHead {
    at_rest_m: 70.0,
    linear: -8_000.0,
    quadratic: -2.2e7,
};

/// The reference system with a gauge pressure at its end: lift, pressure, 4.0·10⁶·Q².
pub(super) fn reference_system(gauge_pa: f64) -> QuadraticHead {
    QuadraticHead {
        at_rest_m: total_head_m(REFERENCE_LIFT_M, gauge_pa, 0.0, REFERENCE_DENSITY),
        linear: 0.0,
        quadratic: 4.0e6,
    }
}

/// Flow of the reference pump against a gauge pressure [m³/s], none when it is too high.
pub(super) fn reference_flow_m3_per_s(pump: QuadraticHead, gauge_pa: f64) -> f64 {
    pump.operating_flow_m3_per_s(&reference_system(gauge_pa))
        .unwrap_or(0.0)
}

const SPEED_RATIO: f64 = 1_700.0 / 3_500.0;

/// Pumped system of TP-410 example 7.15 [ft].
fn pumped_system_ft() -> f64 {
    const ROUGHNESS_M: f64 = 0.002_2 * INCH;
    let water = Fluid {
        density_kg_per_m3: 62.298 * POUNDS_PER_CUBIC_FOOT,
        viscosity_pa_s: 0.95e-3,
    };
    let bore_m = NominalSize::Three.inside_diameter(Schedule::Forty).si();
    let valve_m = NominalSize::TwoAndHalf
        .inside_diameter(Schedule::Forty)
        .si();
    let rough = ROUGHNESS_M / bore_m;
    let check_k = reduced_valve_k(Fitting::LiftCheck.k(rough), valve_m, bore_m);
    let fittings_k =
        Fitting::GateValve.k(rough) + 4.0 * Fitting::Elbow90.k(rough) + check_k + EXIT_K;
    let pipe = run(500.0 * FOOT, bore_m, ROUGHNESS_M, fittings_k);
    let loss_pa = pipe_pressure_loss_pa(&pipe, 100.0 * US_GPM, water);
    total_head_m(400.0 * FOOT, 0.0, loss_pa, water.density_kg_per_m3) / FOOT
}

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::new("PMP-01", || head_m_from_pressure(PSI, US_WATER) / FOOT),
        Check::new("PMP-02", || {
            water_power_w(10.0 * US_GPM, pressure_pa_from_head(100.0 * FOOT, US_WATER))
        }),
        Check::new("PMP-03", || affinity_flow(400.0, SPEED_RATIO)),
        Check::new("PMP-04", || affinity_head(126.0, SPEED_RATIO)),
        Check::new("PMP-05", || affinity_power(17.5, SPEED_RATIO)),
        Check::noted(
            "PMP-08",
            "Check valve 600 f_T between two reducers, from memory of the same table; gate \
             valve 8 f_T, elbows 30 f_T, exit K 1.",
            pumped_system_ft,
        ),
        Check::new("PMP-09", || {
            let rise_pa = pressure_pa_from_head(421.0 * FOOT, 62.298 * POUNDS_PER_CUBIC_FOOT);
            shaft_power_w(100.0 * US_GPM, rise_pa, 0.70) / HORSEPOWER
        }),
        Check::new("PMP-14", || {
            reference_flow_m3_per_s(REFERENCE_PUMP, 40.0 * PSI) / LITER * 60.0
        }),
        Check::new("PMP-15", || {
            REFERENCE_PUMP.at(reference_flow_m3_per_s(REFERENCE_PUMP, 40.0 * PSI))
        }),
        Check::new("PMP-16", || {
            let slower = REFERENCE_PUMP.at_speed_ratio(50.0 / 60.0);
            reference_flow_m3_per_s(slower, 20.0 * PSI) / LITER * 60.0
        }),
        Check::new("PMP-17", || {
            pressure_pa_from_head(REFERENCE_PUMP.at(0.0) - REFERENCE_LIFT_M, REFERENCE_DENSITY)
                / PSI
        }),
    ]
}
