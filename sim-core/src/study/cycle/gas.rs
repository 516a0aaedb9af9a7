//! The tank's water and air while everything quick is settled.
//!
//! p = m·R·T/G with G the gas volume; T' = (γ−1)·T·V'/G + (T_amb − T)/τ, V' = −G' the flow
//! into the tank.  So p' = p·(γ·V'/G + c) with c = (T_amb − T)/(T·τ), and the lag of what
//! is quick (see `manifold`) gives V' = (N − B·p·c)/(1 + B·p·γ/G).
//!
//! Where τ is too short to be stepped over, the air is taken as isothermal but for its
//! own lag: T = T_amb·(1 + τ·(γ−1)·V'/G).

use super::sheet::{
    B, LANES, Lanes, N, PUMPED, PUMPED_LAG, SHAFT, SHAFT_LAG, SUPPLY, SUPPLY_LAG, USED,
};
use crate::air::gas::AIR;
use crate::plant::model::Model;

/// Time constant of the air below which it is not stepped over [s].
const QUICK_GAS_S: f64 = 1.5;
/// Longest step over the air's time constant, and over the time in which the pressure
/// would change by itself.
const PER_GAS_TIME: f64 = 0.3;
const PER_PRESSURE_TIME: f64 = 0.18;

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
    pub(super) speeds: Speeds,
    pub(super) lanes: [f64; LANES],
}

/// How fast the pose changes, and the tank's pressure with it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Speeds {
    pub(super) water: f64,
    pub(super) gas: f64,
    pub(super) source: f64,
    pub(super) pressure_pa: f64,
    pub(super) pressure_rate: f64,
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

impl SourceNow {
    #[inline(always)]
    pub(super) fn surface_at(&self, content: f64) -> f64 {
        self.surface + (content - self.at) * self.per_volume
    }
}

/// Constants of the tank's air.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gas {
    charge: f64,
    shell: f64,
    pub(super) ambient_k: f64,
    pub(super) time_s: f64,
    per_time: f64,
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
            per_time: 1.0 / model.gas_time_constant,
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

    /// Rates with all settled quantities.
    #[inline(always)]
    pub(super) fn rates(&self, pose: &Pose, source: &SourceNow, lanes: &impl Lanes) -> Rates {
        let at = |pa, surface| lanes.all(pa, surface);
        let (speeds, lanes) = self.speeds(pose, source, at);
        Rates { speeds, lanes }
    }

    /// Speeds with the settled quantities that `at` gives for a pressure and a surface, the
    /// driving ones first.
    #[inline(always)]
    fn speeds<const L: usize>(
        &self,
        pose: &Pose,
        source: &SourceNow,
        at: impl Fn(f64, f64) -> [f64; L],
    ) -> (Speeds, [f64; L]) {
        let surface = source.surface_at(pose.source);
        let per_volume = 1.0 / (self.shell - pose.water);
        let (pressure_pa, values, water, gas, pressure_rate);
        if self.is_quick {
            let rest_pa = self.charge * self.ambient_k * per_volume;
            let lag = self.time_s * (GAMMA - 1.0) * per_volume;
            let first = at(rest_pa, surface)[N];
            pressure_pa = rest_pa * (1.0 + lag * first);
            values = at(pressure_pa, surface);
            water = values[N] / (1.0 + values[B] * pressure_pa * per_volume);
            gas = 0.0;
            pressure_rate = pressure_pa * water * per_volume;
        } else {
            let per_kelvin = self.charge * per_volume;
            pressure_pa = per_kelvin * pose.gas_k;
            values = at(pressure_pa, surface);
            let exchange = (self.ambient_k - pose.gas_k) * self.per_time;
            let pull = per_kelvin * exchange;
            let stiff = pressure_pa * GAMMA * per_volume;
            water = (values[N] - values[B] * pull) / (1.0 + values[B] * stiff);
            gas = (GAMMA - 1.0) * pose.gas_k * per_volume * water + exchange;
            pressure_rate = stiff * water + pull;
        }
        let speeds = Speeds {
            water,
            gas,
            source: source.inflow + (pose.source - source.at) * source.inflow_slope
                - values[PUMPED]
                - values[PUMPED_LAG] * pressure_rate,
            pressure_pa,
            pressure_rate,
        };
        (speeds, values)
    }

    /// Longest step from a place with these rates, up to a limit [s].
    #[inline]
    pub(super) fn longest_step(&self, speeds: &Speeds, limit_s: f64) -> f64 {
        let mut h = limit_s;
        if !self.is_quick {
            h = h.min(PER_GAS_TIME * self.time_s);
        }
        let change = speeds.pressure_rate.abs();
        if change * h > PER_PRESSURE_TIME * speeds.pressure_pa {
            h = PER_PRESSURE_TIME * speeds.pressure_pa / change;
        }
        h
    }

    /// One step of the classical fourth-order method from a pose with its speeds; returns
    /// the end and the rates there.
    #[inline(always)]
    pub(super) fn step(
        &self,
        pose: &Pose,
        k1: &Speeds,
        h: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> (Pose, Rates) {
        let at = |pa, surface| lanes.drive(pa, surface);
        let k2 = self.speeds(&pose.ahead(k1, 0.5 * h), source, at).0;
        let k3 = self.speeds(&pose.ahead(&k2, 0.5 * h), source, at).0;
        let k4 = self.speeds(&pose.ahead(&k3, h), source, at).0;
        let mean = |a: f64, b: f64, c: f64, d: f64| h / 6.0 * (a + 2.0 * (b + c) + d);
        let end = Pose {
            water: pose.water + mean(k1.water, k2.water, k3.water, k4.water),
            gas_k: pose.gas_k + mean(k1.gas, k2.gas, k3.gas, k4.gas),
            source: pose.source + mean(k1.source, k2.source, k3.source, k4.source),
        };
        (end, self.rates(&end, source, lanes))
    }
}

impl Pose {
    /// After a time at constant speeds.
    #[inline(always)]
    pub(super) fn ahead(&self, speeds: &Speeds, seconds: f64) -> Self {
        Self {
            water: self.water + seconds * speeds.water,
            gas_k: self.gas_k + seconds * speeds.gas,
            source: self.source + seconds * speeds.source,
        }
    }
}

/// One step of the settled course, both ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leg {
    pub(super) from: Pose,
    pub(super) to: Pose,
    pub(super) first: Rates,
    pub(super) last: Rates,
    pub(super) seconds: f64,
}

impl Leg {
    /// All quantities half way, by the cubic through both ends.
    #[inline(always)]
    pub(super) fn middle(&self, source: &SourceNow, lanes: &impl Lanes) -> [f64; LANES] {
        let (a, b) = (&self.first.speeds, &self.last.speeds);
        let pressure_pa = 0.5 * (a.pressure_pa + b.pressure_pa)
            + 0.125 * self.seconds * (a.pressure_rate - b.pressure_rate);
        let content = 0.5 * (self.from.source + self.to.source)
            + 0.125 * self.seconds * (a.source - b.source);
        lanes.all(pressure_pa, source.surface_at(content))
    }

    /// A pose on the way, by the cubic through both ends, at a share of the time.
    #[inline]
    pub(super) fn pose_at(&self, share: f64) -> Pose {
        let rest = 1.0 - share;
        let (h, a, b) = (self.seconds, &self.first.speeds, &self.last.speeds);
        let cubic = |y0: f64, y1: f64, v0: f64, v1: f64| {
            let rise = y1 - y0;
            let bow = rest * (h * v0 - rise) - share * (h * v1 - rise);
            y0 + share * rise + share * rest * bow
        };
        Pose {
            water: cubic(self.from.water, self.to.water, a.water, b.water),
            gas_k: cubic(self.from.gas_k, self.to.gas_k, a.gas, b.gas),
            source: cubic(self.from.source, self.to.source, a.source, b.source),
        }
    }

    /// What it adds to the sums, by Simpson's rule; the lags' coefficients hardly change,
    /// so that their integrals are those of the pressure's rate.
    #[inline(always)]
    pub(super) fn sums(&self, middle: &[f64; LANES]) -> Sums {
        let sixth = self.seconds / 6.0;
        let (a, b) = (&self.first.lanes, &self.last.lanes);
        let lane = |i: usize| sixth * (a[i] + 4.0 * middle[i] + b[i]);
        let rise = self.last.speeds.pressure_pa - self.first.speeds.pressure_pa;
        Sums {
            supply_j: lane(SUPPLY) + middle[SUPPLY_LAG] * rise,
            shaft_j: lane(SHAFT) + middle[SHAFT_LAG] * rise,
            pumped: lane(PUMPED) + middle[PUMPED_LAG] * rise,
            used: lane(USED),
        }
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
