//! Section 9: the reference system, integrated by the library's own integrator.
//!
//! Closed forms stand only where the row itself is one.

use sim_core::air::gas::{AIR, polytropic_pressure_pa, polytropic_volume_m3};
use sim_core::parts::{CisternShape, FlowRating};
use sim_core::units::convert::{LITER, PSI, STANDARD_GRAVITY};
use sim_core::units::{CubicMetersPerSecond, Meters, Pascals};
use sim_core::water::losses::circle_area_m2;
use sim_core::water::orifice::DrainHole;

use super::check::Check;
use super::integrate::{Lag, Scalar, state_after, time_to_reach};
use super::pumps::{REFERENCE_PUMP, reference_flow_m3_per_s};
use super::tanks::{ATMOSPHERE_PA, ISOTHERMAL, drawdown, gauge_psi, squeeze};

/// Gas volume of the reference tank at its precharge of 38 psig [m³].
const GAS_M3: f64 = 0.080;
const PRECHARGE_PSI: f64 = 38.0;

/// The reference tank under a given atmosphere, isothermal.
#[derive(Clone, Copy)]
struct Tank {
    atmosphere_pa: f64,
}

impl Tank {
    fn precharge_pa(self) -> f64 {
        self.atmosphere_pa + PRECHARGE_PSI * PSI
    }

    /// Gauge pressure at a gas volume [Pa].
    fn gauge_pa(self, gas_m3: f64) -> f64 {
        polytropic_pressure_pa(self.precharge_pa(), GAS_M3, gas_m3, ISOTHERMAL) - self.atmosphere_pa
    }

    /// Gas volume at a gauge pressure [m³].
    fn gas_m3(self, gauge_psi: f64) -> f64 {
        let pressure_pa = self.atmosphere_pa + gauge_psi * PSI;
        polytropic_volume_m3(GAS_M3, self.precharge_pa(), pressure_pa, ISOTHERMAL)
    }
}

const SEA_LEVEL: Tank = Tank {
    atmosphere_pa: ATMOSPHERE_PA,
};

fn drawdown_m3() -> f64 {
    GAS_M3 * drawdown(PRECHARGE_PSI, 40.0, 60.0, ISOTHERMAL)
}

/// Time in which the pump lifts the tank from 40 to 60 psig [s].
fn pump_up_s(tank: Tank) -> f64 {
    let system = Scalar::new(GAS_M3, move |gas_m3| {
        -reference_flow_m3_per_s(REFERENCE_PUMP, tank.gauge_pa(gas_m3))
    });
    time_to_reach(&system, [tank.gas_m3(40.0)], tank.gas_m3(60.0))
}

/// The tank emptying through the square-root fixture, in gas volume.
fn fixture_draw() -> Scalar<impl Fn(f64) -> f64> {
    let fixture = FlowRating {
        flow: CubicMetersPerSecond(3.0e-7),
        drop: Pascals(1.0),
    };
    Scalar::new(GAS_M3, move |gas_m3| {
        fixture.discharge_coefficient() * SEA_LEVEL.gauge_pa(gas_m3).sqrt()
    })
}

/// The hole of the draining cisterns.
fn hole() -> DrainHole {
    DrainHole {
        area_m2: circle_area_m2(0.025),
        discharge_coefficient: 0.62,
        gravity_m_per_s2: STANDARD_GRAVITY,
    }
}

const UPRIGHT: CisternShape = CisternShape::UprightCylinder {
    diameter: Meters(1.5),
    height: Meters(2.0),
};
const LYING: CisternShape = CisternShape::LyingCylinder {
    diameter: Meters(1.2),
    length: Meters(2.5),
};

/// A cistern emptying through the hole, in volume of water.
fn draining(shape: CisternShape) -> Scalar<impl Fn(f64) -> f64> {
    Scalar::new(shape.capacity_m3(), move |volume_m3| {
        -hole().flow_m3_per_s(shape.depth_m(volume_m3))
    })
}

/// Level after a time [m].
fn level_after_m(shape: CisternShape, from_m: f64, time_s: f64) -> f64 {
    let [volume_m3] = state_after(&draining(shape), [shape.volume_m3(from_m)], time_s);
    shape.depth_m(volume_m3)
}

/// Pressure of the squeezed air after it has cooled for a minute [psig].
fn cooled_psig() -> f64 {
    const TIME_CONSTANT_S: f64 = 60.0;
    let air = squeeze();
    let mass_kg = AIR.mass_kg(air.pressure_pa, air.volume_m3, air.temperature_k);
    let (volume_m3, ambient_k) = (air.volume_m3, air.ambient_k);
    let cooling = Scalar::new(air.temperature_k, move |temperature_k| {
        AIR.temperature_rate_k_per_s(temperature_k, volume_m3, 0.0, ambient_k, TIME_CONSTANT_S)
    });
    let [temperature_k] = state_after(&cooling, [air.temperature_k], 60.0);
    gauge_psi(AIR.pressure_pa(mass_kg, volume_m3, temperature_k))
}

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::noted("NUM-04", "Closed form.", || drawdown_m3() / LITER),
        Check::noted("NUM-05", "Closed form.", || drawdown_m3() / 2.0e-4),
        Check::new("NUM-09", || {
            pump_up_s(Tank {
                atmosphere_pa: 84_311.06,
            })
        }),
        Check::new("NUM-10", || {
            let [gas_m3] = state_after(&fixture_draw(), [SEA_LEVEL.gas_m3(60.0)], 60.0);
            SEA_LEVEL.gauge_pa(gas_m3) / PSI
        }),
        Check::new("NUM-11", || {
            time_to_reach(
                &fixture_draw(),
                [SEA_LEVEL.gas_m3(60.0)],
                SEA_LEVEL.gas_m3(40.0),
            )
        }),
        Check::new("NUM-12", || level_after_m(UPRIGHT, 2.0, 1_200.0)),
        Check::noted("NUM-13", "Closed form.", || {
            hole().upright_drain_time_s(UPRIGHT.surface_m2(2.0), 2.0, 0.0)
        }),
        Check::new("NUM-14", || {
            time_to_reach(
                &draining(LYING),
                [LYING.volume_m3(1.1)],
                LYING.volume_m3(0.1),
            )
        }),
        Check::new("NUM-15", || level_after_m(LYING, 1.1, 900.0)),
        Check::new("NUM-16", || {
            state_after(&Lag::new(0.0, 3.0), [1.0, 0.0], 3.0)[1]
        }),
        Check::new("NUM-17", || {
            state_after(&Lag::new(0.0, 3.0), [1.0, 0.0], 9.0)[1]
        }),
        Check::new("NUM-18", || {
            state_after(&Lag::new(5.0, 2.0), [0.0, 0.0], 4.0)[1]
        }),
        Check::new("NUM-20", cooled_psig),
    ]
}
