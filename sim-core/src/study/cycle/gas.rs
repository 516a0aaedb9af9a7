//! The tank's water and air while everything quick is settled.
//!
//! p = m·R·T/G with G the gas volume; T' = (γ−1)·T·V'/G + (T_amb − T)/τ, V' = −G' the flow
//! into the tank.  So p' = p·(γ·V'/G + c) with c = (T_amb − T)/(T·τ), and the lag of what
//! is quick (see `manifold`) gives V' = (N − B·p·c)/(1 + B·p·γ/G).
//!
//! Where τ is too short to be stepped over, the air is taken as isothermal but for its
//! own lag: T = T_amb·(1 + τ·(γ−1)·V'/G).

use super::sheet::{
    B, DRIVE, LANES, Lanes, N, PUMPED, PUMPED_LAG, SHAFT, SHAFT_LAG, SUPPLY, SUPPLY_LAG, USED,
};
use crate::air::gas::AIR;
use crate::plant::model::Model;

/// Time constant of the air below which it is not stepped over [s].
const QUICK_GAS_S: f64 = 1.5;
/// Longest step over the air's time constant.
const PER_GAS_TIME: f64 = 1.0;

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
        let (speeds, lanes) = self.speeds::<LANES>(pose, source, lanes);
        Rates { speeds, lanes }
    }

    /// Speeds, with the first so many settled quantities.
    #[inline(always)]
    fn speeds<const L: usize>(
        &self,
        pose: &Pose,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> (Speeds, [f64; L]) {
        let surface = source.surface_at(pose.source);
        let per_volume = 1.0 / (self.shell - pose.water);
        let (pressure_pa, values, water, gas, pressure_rate);
        if self.is_quick {
            let rest_pa = self.charge * self.ambient_k * per_volume;
            let lag = self.time_s * (GAMMA - 1.0) * per_volume;
            let first = lanes.at::<1>(rest_pa, surface)[N];
            pressure_pa = rest_pa * (1.0 + lag * first);
            values = lanes.at::<L>(pressure_pa, surface);
            water = values[N] / (1.0 + values[B] * pressure_pa * per_volume);
            gas = 0.0;
            pressure_rate = pressure_pa * water * per_volume;
        } else {
            let per_kelvin = self.charge * per_volume;
            pressure_pa = per_kelvin * pose.gas_k;
            values = lanes.at::<L>(pressure_pa, surface);
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

    /// Longest step from a place with these rates, up to a limit [s], and up to a share of
    /// the time in which the pressure would change by itself.
    #[inline(always)]
    pub(super) fn longest_step(&self, speeds: &Speeds, limit_s: f64, share: f64) -> f64 {
        let mut h = limit_s;
        if !self.is_quick {
            h = h.min(PER_GAS_TIME * self.time_s);
        }
        let change = speeds.pressure_rate.abs();
        if change * h > share * speeds.pressure_pa {
            h = share * speeds.pressure_pa / change;
        }
        h
    }

    /// One step of fourth order from a pose with its speeds; returns the end and the rates
    /// there.
    ///
    /// The water goes by the classical method.  That the air takes the temperature around
    /// it is an exponential and is taken as one, so that a step may be as long as its time
    /// constant (an exponential method of Runge and Kutta's kind: S. Cox, P. Matthews,
    /// Journal of Computational Physics 176 (2002), written down from memory).
    #[inline(always)]
    pub(super) fn step(
        &self,
        pose: &Pose,
        k1: &Speeds,
        h: f64,
        source: &SourceNow,
        lanes: &impl Lanes,
    ) -> (Pose, Rates) {
        let per_time = if self.is_quick { 0.0 } else { self.per_time };
        let decay = Decay::over(h * per_time);
        // Warmth of the air above that around it, and what heats it beside the exchange.
        let warmth = |gas_k: f64| gas_k - self.ambient_k;
        let heating = |k: &Speeds, gas_k: f64| k.gas + warmth(gas_k) * per_time;
        let ahead = |k: &Speeds, seconds: f64, warmth: f64| Pose {
            water: pose.water + seconds * k.water,
            gas_k: self.ambient_k + warmth,
            source: pose.source + seconds * k.source,
        };
        let half_s = 0.5 * h;
        let w1 = warmth(pose.gas_k);
        let g1 = heating(k1, pose.gas_k);
        let rest = decay.half * w1;
        let lift_s = half_s * decay.half_mean;
        let second = ahead(k1, half_s, rest + lift_s * g1);
        let k2 = self.speeds::<DRIVE>(&second, source, lanes).0;
        let g2 = heating(&k2, second.gas_k);
        let third = ahead(&k2, half_s, rest + lift_s * g2);
        let k3 = self.speeds::<DRIVE>(&third, source, lanes).0;
        let g3 = heating(&k3, third.gas_k);
        let w4 = decay.half * warmth(second.gas_k) + lift_s * (2.0 * g3 - g1);
        let fourth = ahead(&k3, h, w4);
        let k4 = self.speeds::<DRIVE>(&fourth, source, lanes).0;
        let g4 = heating(&k4, fourth.gas_k);
        let mean = |a: f64, b: f64, c: f64, d: f64| h / 6.0 * (a + 2.0 * (b + c) + d);
        let [first, middle, last] = decay.weights;
        let end = Pose {
            water: pose.water + mean(k1.water, k2.water, k3.water, k4.water),
            gas_k: self.ambient_k
                + decay.half * rest
                + h * (first * g1 + middle * (g2 + g3) + last * g4),
            source: pose.source + mean(k1.source, k2.source, k3.source, k4.source),
        };
        (end, self.rates(&end, source, lanes))
    }
}

/// What an exponential leaves over a step, and how it weighs what comes in meanwhile.
struct Decay {
    /// Left after half the step.
    half: f64,
    /// Mean of it over half the step.
    half_mean: f64,
    /// Weights of the inflow at the beginning, twice half way, at the end; for no decay a
    /// sixth, a third, a sixth.
    weights: [f64; 3],
}

impl Decay {
    /// Over a step of so many time constants, one at most.
    #[inline(always)]
    fn over(times: f64) -> Self {
        let z = -0.5 * times;
        let half_mean = series(z, 1);
        let half = 1.0 + z * half_mean;
        let z = -times;
        let third = series(z, 3);
        let second = 0.5 + z * third;
        let first = 1.0 + z * second;
        Self {
            half,
            half_mean,
            weights: [
                first - 3.0 * second + 4.0 * third,
                2.0 * second - 4.0 * third,
                4.0 * third - second,
            ],
        }
    }
}

/// Σ z^k/(k+n)! for n of 1 or 3 and |z| of 1 at most, to 1e-10.
#[inline(always)]
fn series(z: f64, n: u32) -> f64 {
    const TERMS: u32 = 11;
    let mut sum = 1.0;
    let mut k = TERMS;
    while k > 0 {
        sum = 1.0 + sum * z * INVERSE[(k + n) as usize];
        k -= 1;
    }
    if n == 3 { sum / 6.0 } else { sum }
}

/// One over each whole number.
const INVERSE: [f64; 15] = {
    let mut inverse = [0.0; 15];
    let mut i = 1;
    while i < 15 {
        inverse[i] = 1.0 / i as f64;
        i += 1;
    }
    inverse
};

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
