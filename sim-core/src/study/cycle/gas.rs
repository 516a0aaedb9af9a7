//! The tank's water and air while everything quick is settled.
//!
//! p = m·R·T/G with G the gas volume; T' = (γ−1)·T·V'/G + (T_amb − T)/τ, V' = −G' the flow
//! into the tank.  So p' = p·(γ·V'/G + c) with c = (T_amb − T)/(T·τ), and the lag of what
//! is quick (see `manifold`) gives V' = (N − B·p·c)/(1 + B·p·γ/G).
//!
//! Where τ is too short to be stepped over, the air is taken as isothermal but for its
//! own lag: T = T_amb·(1 + τ·(γ−1)·V'/G).

use super::sheet::{B, LANES, N, PUMPED, PUMPED_LAG, SHAFT, SHAFT_LAG, SUPPLY, SUPPLY_LAG, USED};
use crate::air::gas::AIR;
use crate::plant::model::Model;

/// Time constant of the air below which it is not stepped over [s].
const QUICK_GAS_S: f64 = 1.5;
/// Longest step over the air's time constant, and over the time in which the pressure
/// would change by itself.
const PER_GAS_TIME: f64 = 0.8;
const PER_PRESSURE_TIME: f64 = 0.4;

/// What changes slowly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pose {
    /// Water in the tank [m³].
    pub(super) water: f64,
    /// Temperature of its air [K].
    pub(super) gas_k: f64,
    /// Water in the source [m³].
    pub(super) source: f64,
}

/// What is added up.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Sums {
    pub(super) supply_j: f64,
    pub(super) shaft_j: f64,
    pub(super) pumped: f64,
    pub(super) used: f64,
}

/// Rates at a pose.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rates {
    pub(super) water: f64,
    pub(super) gas: f64,
    pub(super) source: f64,
    pub(super) pressure_pa: f64,
    pub(super) pressure_rate: f64,
    pub(super) lanes: [f64; LANES],
}

/// Where the water comes from, straightened about the place of a step.
#[derive(Debug, Clone, Copy)]
pub(super) struct SourceNow {
    /// Content at which the rest holds [m³].
    pub(super) at: f64,
    /// Surface there [m].
    pub(super) surface: f64,
    /// Rise of the surface per content [1/m²].
    pub(super) per_volume: f64,
    /// What comes in there [m³/s], and how it changes with the content [1/s].
    pub(super) inflow: f64,
    pub(super) inflow_slope: f64,
}

/// Constants of the tank's air.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gas {
    charge: f64,
    shell: f64,
    pub(super) ambient_k: f64,
    pub(super) time_s: f64,
    pub(super) is_quick: bool,
}

const GAMMA: f64 = AIR.heat_capacity_ratio;

impl Gas {
    pub(super) fn new(model: &Model, charge_kg: f64) -> Self {
        Self {
            charge: charge_kg * model.gas_constant,
            shell: model.tank_shell,
            ambient_k: model.ambient_k,
            time_s: model.gas_time_constant,
            is_quick: model.gas_time_constant < QUICK_GAS_S,
        }
    }

    #[inline]
    pub(super) fn pressure(&self, pose: &Pose) -> f64 {
        self.charge * pose.gas_k / (self.shell - pose.water)
    }

    /// Water that comes into the tank at once.
    #[inline]
    pub(super) fn take(&self, pose: &mut Pose, water: f64) {
        if !self.is_quick {
            pose.gas_k += (GAMMA - 1.0) * pose.gas_k / (self.shell - pose.water) * water;
        }
        pose.water += water;
    }

    /// Water in the tank at a pressure and temperature.
    pub(super) fn water_at(&self, pressure_pa: f64, gas_k: f64) -> f64 {
        self.shell - self.charge * gas_k / pressure_pa
    }

    /// Pressure of the empty tank.
    pub(super) fn empty_pa(&self, gas_k: f64) -> f64 {
        self.charge * gas_k / self.shell
    }

    /// Rates with the settled quantities that `lanes` gives for a pressure and a surface.
    #[inline]
    pub(super) fn rates(
        &self,
        pose: &Pose,
        source: &SourceNow,
        lanes: &impl Fn(f64, f64) -> [f64; LANES],
    ) -> Rates {
        let shift = pose.source - source.at;
        let surface = source.surface + shift * source.per_volume;
        let volume = self.shell - pose.water;
        let per_volume = 1.0 / volume;
        let (pressure_pa, values, water, gas, pressure_rate);
        if self.is_quick {
            let rest_pa = self.charge * self.ambient_k * per_volume;
            let lag = self.time_s * (GAMMA - 1.0) * per_volume;
            let first = lanes(rest_pa, surface)[N];
            pressure_pa = rest_pa * (1.0 + lag * first);
            values = lanes(pressure_pa, surface);
            water = values[N] / (1.0 + values[B] * pressure_pa * per_volume);
            gas = 0.0;
            pressure_rate = pressure_pa * water * per_volume;
        } else {
            pressure_pa = self.charge * pose.gas_k * per_volume;
            values = lanes(pressure_pa, surface);
            let exchange = (self.ambient_k - pose.gas_k) / self.time_s;
            let pull = pressure_pa * exchange / pose.gas_k;
            let stiff = pressure_pa * GAMMA * per_volume;
            water = (values[N] - values[B] * pull) / (1.0 + values[B] * stiff);
            gas = (GAMMA - 1.0) * pose.gas_k * per_volume * water + exchange;
            pressure_rate = stiff * water + pull;
        }
        Rates {
            water,
            gas,
            source: source.inflow + shift * source.inflow_slope
                - values[PUMPED]
                - values[PUMPED_LAG] * pressure_rate,
            pressure_pa,
            pressure_rate,
            lanes: values,
        }
    }

    /// Longest step from a place with these rates, up to a limit [s].
    #[inline]
    pub(super) fn longest_step(&self, rates: &Rates, limit_s: f64) -> f64 {
        let mut h = limit_s;
        if !self.is_quick {
            h = h.min(PER_GAS_TIME * self.time_s);
        }
        let change = rates.pressure_rate.abs();
        if change * h > PER_PRESSURE_TIME * rates.pressure_pa {
            h = PER_PRESSURE_TIME * rates.pressure_pa / change;
        }
        h
    }

    /// One step of the classical fourth-order method from a pose with its rates; returns
    /// the end, the rates there, the rates half way, and what the step adds to the sums.
    #[inline]
    pub(super) fn step(
        &self,
        pose: &Pose,
        k1: &Rates,
        h: f64,
        source: &SourceNow,
        lanes: &impl Fn(f64, f64) -> [f64; LANES],
    ) -> (Pose, Rates, Rates, Sums) {
        let ahead = |k: &Rates, h: f64| Pose {
            water: pose.water + h * k.water,
            gas_k: pose.gas_k + h * k.gas,
            source: pose.source + h * k.source,
        };
        let k2 = self.rates(&ahead(k1, 0.5 * h), source, lanes);
        let k3 = self.rates(&ahead(&k2, 0.5 * h), source, lanes);
        let k4 = self.rates(&ahead(&k3, h), source, lanes);
        let mean = |a: f64, b: f64, c: f64, d: f64| h / 6.0 * (a + 2.0 * (b + c) + d);
        let end = Pose {
            water: pose.water + mean(k1.water, k2.water, k3.water, k4.water),
            gas_k: pose.gas_k + mean(k1.gas, k2.gas, k3.gas, k4.gas),
            source: pose.source + mean(k1.source, k2.source, k3.source, k4.source),
        };
        let lane = |i: usize| mean(k1.lanes[i], k2.lanes[i], k3.lanes[i], k4.lanes[i]);
        // The lag's coefficient hardly changes: its integral is that of the pressure's rate.
        let last = self.rates(&end, source, lanes);
        let rise = last.pressure_pa - k1.pressure_pa;
        let sums = Sums {
            supply_j: lane(SUPPLY) + k2.lanes[SUPPLY_LAG] * rise,
            shaft_j: lane(SHAFT) + k2.lanes[SHAFT_LAG] * rise,
            pumped: lane(PUMPED) + k2.lanes[PUMPED_LAG] * rise,
            used: lane(USED),
        };
        (end, last, k3, sums)
    }
}

impl Sums {
    pub(super) fn add(&mut self, other: &Self) {
        self.supply_j += other.supply_j;
        self.shaft_j += other.shaft_j;
        self.pumped += other.pumped;
        self.used += other.used;
    }
}
