//! Section 3: pipe flow, losses, discharge.

use sim_core::air::gas::{AIR, IdealGas};
use sim_core::air::nozzle::{
    GasSide, critical_pressure_ratio, nozzle_mass_flow_kg_per_s, stagnation_pressure_pa,
    stagnation_temperature_k,
};
use sim_core::parts::{NominalSize, PipeSpec, Schedule, average_inside_diameter};
use sim_core::units::convert::{
    FOOT, INCH, LITER, PSI, STANDARD_GRAVITY, US_GPM, kelvins_from_celsius, kelvins_from_fahrenheit,
};
use sim_core::units::{Kelvins, Meters, Pascals};
use sim_core::water::friction::{
    colebrook_friction_factor, darcy_friction_factor, pipe_flow_m3_per_s, pipe_head_loss_m,
    pipe_pressure_loss_pa, reynolds_number,
};
use sim_core::water::hammer::joukowsky_rise_pa;
use sim_core::water::losses::{
    EXIT_K, FLUSH_ENTRANCE_K, circle_area_m2, k_from_equivalent_length, k_restated,
    local_pressure_loss_pa, pressure_after_expansion_pa, sharp_expansion_k, sudden_contraction_k,
    velocity_m_per_s,
};
use sim_core::water::orifice::{
    DrainHole, OrificePlate, free_jet_speed_m_per_s, hazen_williams_pa_per_m,
    orifice_flow_m3_per_s, siphon_crest_pressure_pa,
};
use sim_core::water::pumping::head_m_from_pressure;
use sim_core::water::{Fitting, Fluid, WaterProperties};

use super::bracket::root_between;
use super::check::Check;

/// Gravity as the textbook examples take it [m/s²].
const BOOK_GRAVITY: f64 = 9.81;
/// Density of water as the US formulas take it, 62.37 lb/ft³ [kg/m³].
pub(super) const US_WATER: f64 = 62.37 * POUNDS_PER_CUBIC_FOOT;
/// One lb/ft³ [kg/m³].
pub(super) const POUNDS_PER_CUBIC_FOOT: f64 = 0.453_592_37 / (FOOT * FOOT * FOOT);

/// Water of 15 °C as the rows give it.
const WATER_15C: Fluid = Fluid {
    density_kg_per_m3: 999.10,
    viscosity_pa_s: 1.137_6e-3,
};

/// A run of pipe whose wall plays no part.
pub(super) fn run(length_m: f64, diameter_m: f64, roughness_m: f64, fittings_k: f64) -> PipeSpec {
    PipeSpec {
        length: Meters(length_m),
        rise: Meters(0.0),
        inside_diameter: Meters(diameter_m),
        wall_thickness: Meters(0.003),
        roughness: Meters(roughness_m),
        wall_modulus: Pascals(200e9),
        fittings_k,
    }
}

/// Head loss of 10 US gpm over 100 ft [ft].
fn ft_per_100_ft(diameter_in: f64, roughness_m: f64) -> f64 {
    let pipe = run(100.0 * FOOT, diameter_in * INCH, roughness_m, 0.0);
    pipe_head_loss_m(&pipe, 10.0 * US_GPM, WATER_15C) / FOOT
}

/// The plastic pipe of HYD-24.
pub(super) fn plastic_ft_per_100_ft() -> f64 {
    ft_per_100_ft(1.049, 1.5e-6)
}

/// The same pipe by the empirical formula.
pub(super) fn hazen_williams_ft_per_100_ft() -> f64 {
    let pa_per_m = hazen_williams_pa_per_m(10.0 * US_GPM, 1.049 * INCH, 150.0);
    100.0 * head_m_from_pressure(pa_per_m, US_WATER)
}

/// Duct of example 8-5: only the kinematic viscosity is given, so the density is one.
fn duct_flow_m3_per_s() -> f64 {
    let air = Fluid {
        density_kg_per_m3: 1.0,
        viscosity_pa_s: 1.655e-5,
    };
    pipe_flow_m3_per_s(&run(300.0, 0.267, 0.0, 0.0), BOOK_GRAVITY * 20.0, air)
}

/// Flows of example 8-7 in the narrow and the wide pipe [m³/s].
fn parallel_pipes_m3_per_s() -> [f64; 2] {
    let water = Fluid {
        density_kg_per_m3: 998.0,
        viscosity_pa_s: 1.002e-3,
    };
    let power_w = 8_000.0 * 0.70;
    let lift_pa = water.density_kg_per_m3 * BOOK_GRAVITY * 8.0;
    let flows = |loss_pa: f64| {
        [0.04, 0.08]
            .map(|diameter| pipe_flow_m3_per_s(&run(36.0, diameter, 0.045e-3, 0.0), loss_pa, water))
    };
    let loss_pa = root_between(1.0, 1e6, |loss_pa| {
        flows(loss_pa).iter().sum::<f64>() * (lift_pa + loss_pa) - power_w
    });
    flows(loss_pa)
}

/// House of example 8-9: shower flow [L/s] with the toilet shut or refilling.
fn shower_l_per_s(toilet: Toilet) -> f64 {
    const DIAMETER_M: f64 = 0.015;
    const ROUGHNESS_M: f64 = 1.5e-6;
    const INLET_PA: f64 = 200e3;
    let water = Fluid {
        density_kg_per_m3: 998.0,
        viscosity_pa_s: 998.0 * 1.004e-6,
    };
    let height_pa = |height_m: f64| water.density_kg_per_m3 * BOOK_GRAVITY * height_m;
    let part = |length_m, k| run(length_m, DIAMETER_M, ROUGHNESS_M, k);
    let common = part(5.0, 0.0);
    let shower = part(6.0, 0.9 + 2.0 * 0.9 + 10.0 + 12.0);
    let filling = part(1.0, 0.9 + 10.0 + 0.9 + 14.0);
    let shower_flow =
        |junction_pa: f64| pipe_flow_m3_per_s(&shower, junction_pa - height_pa(2.0), water);
    let toilet_flow = |junction_pa: f64| match toilet {
        Toilet::Shut => 0.0,
        Toilet::Refilling => pipe_flow_m3_per_s(&filling, junction_pa - height_pa(1.0), water),
    };
    let junction_pa = root_between(height_pa(2.0), INLET_PA, |junction_pa| {
        shower_flow(junction_pa) + toilet_flow(junction_pa)
            - pipe_flow_m3_per_s(&common, INLET_PA - junction_pa, water)
    });
    shower_flow(junction_pa) / LITER
}

#[derive(Clone, Copy)]
enum Toilet {
    Shut,
    Refilling,
}

/// Wall of the gravity line of TP-410 example 7.19 [m].
const LINE_ROUGHNESS_M: f64 = 0.001_8 * INCH;

fn line_water() -> Fluid {
    WaterProperties::at(Kelvins(kelvins_from_fahrenheit(60.0))).fluid()
}

/// Bores of its wide and its narrow pipe [m].
fn line_bores_m() -> [f64; 2] {
    [NominalSize::Three, NominalSize::Two].map(|size| size.inside_diameter(Schedule::Forty).si())
}

/// K of what sits in its wide pipe.
fn line_wide_fittings_k(wide_m: f64) -> f64 {
    let rough = LINE_ROUGHNESS_M / wide_m;
    FLUSH_ENTRANCE_K + Fitting::MitreBend90.k(rough) + Fitting::GateValve.k(rough)
}

/// Flow at which its losses take the head of 11.5 ft [US gpm].
fn line_flow_gpm(loss_pa: impl Fn(f64) -> f64) -> f64 {
    let head_pa = line_water().density_kg_per_m3 * STANDARD_GRAVITY * 11.5 * FOOT;
    root_between(1e-4, 0.1, |flow| loss_pa(flow) - head_pa) / US_GPM
}

/// The gravity line as the example reckons it [US gpm]: the losses of the narrow pipe
/// stated on the velocity in the wide one, through a ratio of diameters.
fn gravity_line_gpm(ratio: f64) -> f64 {
    let water = line_water();
    let [wide_m, narrow_m] = line_bores_m();
    let friction_k = |length_m: f64, diameter_m: f64, velocity: f64| {
        let flow = velocity * circle_area_m2(diameter_m);
        let factor = darcy_friction_factor(
            reynolds_number(flow, diameter_m, water),
            LINE_ROUGHNESS_M / diameter_m,
        );
        k_from_equivalent_length(length_m / diameter_m, factor)
    };
    line_flow_gpm(|flow| {
        let wide_velocity = velocity_m_per_s(flow, wide_m);
        let narrow_velocity = wide_velocity / (ratio * ratio);
        let wide_k = line_wide_fittings_k(wide_m) + friction_k(10.0 * FOOT, wide_m, wide_velocity);
        let narrow_k = sudden_contraction_k(1.0, ratio)
            + friction_k(20.0 * FOOT, narrow_m, narrow_velocity)
            + EXIT_K;
        let k = wide_k + k_restated(narrow_k, ratio, 1.0);
        local_pressure_loss_pa(k, wide_velocity, water.density_kg_per_m3)
    })
}

/// The same line as the plant reckons it [US gpm]: two pipes with their true bores.
fn gravity_line_with_true_bores_gpm() -> f64 {
    let water = line_water();
    let [wide_m, narrow_m] = line_bores_m();
    let narrow_k = sudden_contraction_k(wide_m, narrow_m) + EXIT_K;
    let pipes = [
        run(
            10.0 * FOOT,
            wide_m,
            LINE_ROUGHNESS_M,
            line_wide_fittings_k(wide_m),
        ),
        run(20.0 * FOOT, narrow_m, LINE_ROUGHNESS_M, narrow_k),
    ];
    line_flow_gpm(|flow| {
        pipes
            .iter()
            .map(|pipe| pipe_pressure_loss_pa(pipe, flow, water))
            .sum()
    })
}

/// Plate of TP-410M example 7.29 [L/min].
fn orifice_plate_l_per_min() -> f64 {
    let plate = OrificePlate {
        bore_m: 0.050,
        pipe_diameter_m: 0.073_66,
    };
    let water = WaterProperties::at(Kelvins(kelvins_from_celsius(15.0)));
    plate.flow_m3_per_s(17_000.0, water.fluid()) / LITER * 60.0
}

/// Leaking valve core [g/s].
fn valve_core_g_per_s() -> f64 {
    let temperature_k = kelvins_from_celsius(20.0);
    let side = |pressure_pa| GasSide {
        pressure_pa,
        temperature_k,
    };
    1e3 * nozzle_mass_flow_kg_per_s(
        AIR,
        0.65 * circle_area_m2(1e-3),
        side(101_325.0 + 5.0 * PSI),
        side(101_325.0),
    )
}

/// Choked nozzle with a moving inlet, example 12-5(b) [kg/s].
fn choked_nozzle_kg_per_s() -> f64 {
    const GAS: IdealGas = IdealGas {
        gas_constant_j_per_kg_k: 287.0,
        heat_capacity_ratio: 1.4,
    };
    const STATIC_K: f64 = 873.0;
    let rest_k = stagnation_temperature_k(STATIC_K, 150.0, 1_005.0);
    let rest_pa = stagnation_pressure_pa(1e6, STATIC_K, rest_k, GAS.heat_capacity_ratio);
    nozzle_mass_flow_kg_per_s(
        GAS,
        50e-4,
        GasSide {
            pressure_pa: rest_pa,
            temperature_k: rest_k,
        },
        GasSide {
            pressure_pa: 0.4e6,
            temperature_k: STATIC_K,
        },
    )
}

fn drain(area_m2: f64, discharge_coefficient: f64, gravity_m_per_s2: f64) -> DrainHole {
    DrainHole {
        area_m2,
        discharge_coefficient,
        gravity_m_per_s2,
    }
}

pub(super) fn checks() -> Vec<Check> {
    let mut checks = sizes();
    checks.extend(friction());
    checks.extend(discharge());
    checks
}

fn sizes() -> Vec<Check> {
    vec![
        Check::new("HYD-02", || {
            NominalSize::One.inside_diameter(Schedule::Forty).si() / INCH
        }),
        Check::new("HYD-03", || {
            NominalSize::OneAndQuarter
                .inside_diameter(Schedule::Forty)
                .si()
                / INCH
        }),
        Check::noted(
            "HYD-04",
            "The list value follows from a wall tolerance of 12 %. The standard's own rule, \
             the larger of 0.020 in and 12 % (`pvc_wall_tolerance`), gives 1.029 in, which \
             other tables print; the rule itself is quoted from memory.",
            || {
                let wall = NominalSize::One.wall(Schedule::Forty);
                average_inside_diameter(
                    NominalSize::One.outside_diameter(),
                    wall,
                    Meters(0.12 * wall.si()),
                )
                .si()
                    / INCH
            },
        ),
        Check::noted(
            "HYD-05",
            "Both sides from memory: this row pins a number, it does not confirm it.",
            || NominalSize::One.controlled_inside_diameter().si() / INCH,
        ),
    ]
}

fn friction() -> Vec<Check> {
    vec![
        Check::new("HYD-07", || colebrook_friction_factor(1e4, 0.0)),
        Check::new("HYD-08", || colebrook_friction_factor(1e5, 0.0)),
        Check::new("HYD-10", || colebrook_friction_factor(1e6, 1e-4)),
        Check::new("HYD-16", duct_flow_m3_per_s),
        Check::new("HYD-17", || {
            1e-3 * pressure_after_expansion_pa(150e3, 7.0, 6.0 / 9.0, 0.07, 1.06, 1_000.0)
        }),
        Check::new("HYD-18", || parallel_pipes_m3_per_s().iter().sum::<f64>()),
        Check::new("HYD-19", || parallel_pipes_m3_per_s()[0]),
        Check::new("HYD-21", || shower_l_per_s(Toilet::Shut)),
        Check::new("HYD-22", || shower_l_per_s(Toilet::Refilling)),
        Check::new("HYD-24", plastic_ft_per_100_ft),
        Check::new("HYD-25", || ft_per_100_ft(1.38, 1.5e-6)),
        Check::noted(
            "HYD-27",
            "A formula of the trade kept as a cross-check; the plant does not use it. \
             A test holds it within 10 % of HYD-24.",
            hazen_williams_ft_per_100_ft,
        ),
        Check::new("HYD-28", || ft_per_100_ft(1.049, 0.15e-3)),
        Check::new("HYD-29", || Fitting::GateValve.equivalent_diameters()),
        Check::new("HYD-30", || Fitting::AngleValve.equivalent_diameters()),
        Check::new("HYD-31", || sharp_expansion_k(0.5, 1.0)),
        Check::noted(
            "HYD-34",
            "The example restates the narrow pipe's losses on the wide pipe through the ratio \
             of the nominal sizes, 2/3 (so in the secondary copy, which gets 136.7); ours \
             does the same here. With the true bores, 2.067 in and 3.068 in, the same line \
             passes 139.3 US gal/min, 1.7 % more: the plant reckons that way, and a test \
             holds both.",
            || gravity_line_gpm(2.0 / 3.0),
        ),
        Check::noted(
            "HYD-35",
            "Ours is the equation of ISO 5167-2 for a liquid; the handbook reads its \
             coefficient from a graph. The secondary copy's own solution of 462.7 L/min \
             applies the expansibility of a gas to water.",
            orifice_plate_l_per_min,
        ),
    ]
}

fn discharge() -> Vec<Check> {
    vec![
        Check::new("HYD-37", || {
            orifice_flow_m3_per_s(circle_area_m2(0.25 * INCH), 0.62, 50.0 * PSI, 999.1) / US_GPM
        }),
        Check::new("HYD-39", || {
            drain(circle_area_m2(0.05), 0.6, BOOK_GRAVITY).upright_drain_time_s(
                circle_area_m2(1.2),
                3.0,
                0.0,
            )
        }),
        Check::new("HYD-40", || {
            drain(10e-4, 0.6, BOOK_GRAVITY).upright_drain_time_s(3.2, 5.0, 0.0)
        }),
        Check::new("HYD-41", || {
            drain(5.0 * INCH * INCH, 1.0, 32.2 * FOOT).upright_drain_time_s(
                circle_area_m2(4.0 * FOOT),
                6.0 * FOOT,
                2.0 * FOOT,
            )
        }),
        Check::new("HYD-42", || {
            4.0 * LITER / (circle_area_m2(0.004) * free_jet_speed_m_per_s(0.75, BOOK_GRAVITY))
        }),
        Check::new("HYD-43", || {
            1e-3 * siphon_crest_pressure_pa(101.3e3, 2.75, 750.0, BOOK_GRAVITY)
        }),
        Check::new("HYD-44", || critical_pressure_ratio(1.4)),
        Check::new("HYD-46", valve_core_g_per_s),
        Check::new("HYD-47", choked_nozzle_kg_per_s),
        Check::new("HYD-48", || joukowsky_rise_pa(998.2, 1_482.3, 1.0) / PSI),
    ]
}

#[test]
fn true_bores_pass_a_little_more_than_the_nominal_ratio_of_the_example() {
    let [wide_m, narrow_m] = line_bores_m();
    let plant = gravity_line_with_true_bores_gpm();
    // One velocity or two: the same losses.
    assert!((gravity_line_gpm(narrow_m / wide_m) / plant - 1.0).abs() < 1e-9);
    assert!((plant - 139.3).abs() < 0.05, "{plant}");
}
