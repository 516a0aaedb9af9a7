//! Fits a motor's equivalent circuit to what its kind is known to do.
//!
//! The unknown impedances are few more than the published figures, so each unknown has a
//! weak expectation (a typical share of rated voltage over rated current) and each figure a
//! strong one; the fit minimizes
//! ```text
//! Σ ((figure/target − 1)/σ)² + Σ ((ln p − ln p_typical)/σ_p)²
//! ```
//! over ln p by the Levenberg–Marquardt method with central differences: a fixed number of
//! steps, the same bits everywhere.
//!
//! Source: K. Levenberg (1944), D. Marquardt (1963), damping by the diagonal (from
//! memory).  Running figures hold with windings at 75 °C, locked-rotor ones at 25 °C.

use super::targets::{Kind, Target};
use super::{
    Capacitor, Circuit, Complex, InductionMotor, REFERENCE_CELSIUS, StartSwitch, Starting,
};
use crate::math::{Dual, exp};
use crate::units::convert::HORSEPOWER;

/// Winding temperature at which running figures hold [°C].
pub const RUNNING_CELSIUS: f64 = 75.0;
/// Series resistance of a start capacitor over its reactance (electrolytic; training value).
const START_CAPACITOR_LOSS: f64 = 0.08;
/// Series resistance of a run capacitor over its reactance (film; training value).
const RUN_CAPACITOR_LOSS: f64 = 0.005;
/// Steps of the fit; it settles in half as many.
const STEPS: usize = 120;
/// Half-width of the central differences in ln p.
const PROBE: f64 = 1e-5;

/// What a motor does that is published or known of its kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// Power at rated speed over rated power.
    pub power_ratio: f64,
    /// Line current at rated speed [A].
    pub full_load_a: f64,
    /// Efficiency at rated speed.
    pub efficiency: f64,
    /// Power factor at rated speed.
    pub power_factor: f64,
    /// Largest shaft torque with the start switch open over rated torque.
    pub breakdown_ratio: f64,
    /// Line current at standstill [A].
    pub locked_rotor_a: f64,
    /// kVA at standstill per rated horsepower.
    pub locked_kva_per_hp: f64,
    /// Power factor at standstill.
    pub locked_power_factor: f64,
    /// Shaft torque at standstill over rated torque.
    pub starting_ratio: f64,
    /// Line current without load over that at rated speed.
    pub no_load_ratio: f64,
}

/// The figures of a motor at rated voltage, wired for its lower voltage.
#[must_use]
pub fn figures(motor: &InductionMotor) -> Figures {
    let v = Complex::new(motor.rated_voltage_v, 0.0);
    let running = motor.circuit(&motor.condition(StartSwitch::Open, RUNNING_CELSIUS));
    let locked = motor
        .circuit(&motor.condition(StartSwitch::Closed, REFERENCE_CELSIUS))
        .at(0.0, v);
    let rated_torque_nm = motor.rated_power_w / motor.rated_speed_rad_per_s;
    let load = running.at(motor.rated_speed_rad_per_s, v);
    // Friction alone holds the rotor a hair below synchronous speed.
    let idle = running.at(0.998 * running.synchronous_rad_per_s, v);
    let locked_rotor_a = locked.line_a.magnitude();
    Figures {
        power_ratio: load.shaft_w / motor.rated_power_w,
        full_load_a: load.line_a.magnitude(),
        efficiency: load.efficiency(),
        power_factor: load.power_factor(),
        breakdown_ratio: running.at(breakdown_speed(&running, v), v).shaft_torque_nm
            / rated_torque_nm,
        locked_rotor_a,
        locked_kva_per_hp: locked_rotor_a * motor.rated_voltage_v
            / 1_000.0
            / (motor.rated_power_w / HORSEPOWER),
        locked_power_factor: locked.power_factor(),
        starting_ratio: locked.shaft_torque_nm / rated_torque_nm,
        no_load_ratio: idle.line_a.magnitude() / load.line_a.magnitude(),
    }
}

/// Speed of the largest shaft torque above half of synchronous speed [rad/s].
#[must_use]
pub fn breakdown_speed(circuit: &Circuit, terminal_v: Complex) -> f64 {
    let v2 = terminal_v.norm_squared();
    let rises = |speed: f64| {
        let w = Dual::<1>::variable(speed, 0);
        circuit.per_volt(w).torque_nm().d[0] * v2 > circuit.drag_torque_nm(w).d[0]
    };
    let (mut low, mut high) = (
        0.4 * circuit.synchronous_rad_per_s,
        circuit.synchronous_rad_per_s,
    );
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if rises(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Typical values of the unknowns over V/I at full load, and how far each may stray
/// (σ of its logarithm).  Training values, from memory of textbook examples.
const TYPICAL: [(f64, f64); N_UNKNOWNS] = [
    (0.10, 0.5), // main winding
    (0.13, 0.5), // leakage, main and rotor alike
    (1.6, 0.5),  // magnetizing
    (0.12, 0.5), // rotor
    (0.05, 0.4), // core loss over rated input
    (0.03, 0.4), // friction over rated shaft power
    (0.30, 0.5), // auxiliary winding
    (1.4, 0.2),  // turns ratio
    (0.6, 0.35), // reactance of the start capacitor
    (1.3, 0.7),  // reactance of the run capacitor
];
const N_UNKNOWNS: usize = 10;
const N_FIGURES: usize = 6;
const N_RESIDUALS: usize = N_FIGURES + N_UNKNOWNS;

/// The motor of a target with unknowns as factors of the typical values.
fn build(target: &Target, logs: &[f64; N_UNKNOWNS]) -> InductionMotor {
    let base_ohm = target.voltage_v / target.full_load_a;
    let mut p = [0.0; N_UNKNOWNS];
    for ((p, log), typical) in p.iter_mut().zip(logs).zip(expectations(target)) {
        *p = exp(*log) * typical.0;
    }
    let omega = core::f64::consts::TAU * target.frequency_hz;
    let capacitor = |share: f64, loss: f64| Capacitor {
        farad: 1.0 / (omega * share * base_ohm),
        series_ohm: loss * share * base_ohm,
    };
    let start = capacitor(p[8], START_CAPACITOR_LOSS);
    let run = capacitor(p[9], RUN_CAPACITOR_LOSS);
    let synchronous = omega / target.pole_pairs;
    let leakage_ohm = p[1] * base_ohm;
    InductionMotor {
        rated_power_w: target.power_w,
        rated_voltage_v: target.voltage_v,
        rated_frequency_hz: target.frequency_hz,
        pole_pairs: target.pole_pairs,
        rated_speed_rad_per_s: target.speed_rad_per_s,
        main_ohm: p[0] * base_ohm,
        main_leakage_ohm: leakage_ohm,
        magnetizing_ohm: p[2] * base_ohm,
        rotor_ohm: p[3] * base_ohm,
        rotor_leakage_ohm: leakage_ohm,
        auxiliary_ohm: p[6] * base_ohm,
        // Leakage goes with the square of turns.
        auxiliary_leakage_ohm: p[7] * p[7] * leakage_ohm,
        turns_ratio: p[7],
        core_conductance_s: p[4] * target.power_w
            / target.efficiency
            / (target.voltage_v * target.voltage_v),
        drag_nm: p[5] * target.power_w / synchronous,
        starting: match target.kind {
            Kind::SplitPhase => Starting::SplitPhase,
            Kind::CapacitorStart => Starting::CapacitorStart(start),
            Kind::PermanentCapacitor => Starting::PermanentCapacitor(run),
            Kind::CapacitorStartRun => Starting::CapacitorStartRun { start, run },
        },
        switch_opens_at: 0.75,
    }
}

fn expectations(target: &Target) -> [(f64, f64); N_UNKNOWNS] {
    let mut typical = TYPICAL;
    if let Some(ohm) = target.main_ohm {
        typical[0] = (ohm * target.full_load_a / target.voltage_v, 0.02);
    }
    if let Some(ratio) = target.turns_ratio {
        typical[7].0 = ratio;
    }
    typical
}

fn residuals(target: &Target, logs: &[f64; N_UNKNOWNS]) -> [f64; N_RESIDUALS] {
    let f = figures(&build(target, logs));
    let mut r = [0.0; N_RESIDUALS];
    let aims = [
        (f.power_ratio, 1.0, 1e-4),
        (f.full_load_a, target.full_load_a, 0.01),
        (f.efficiency, target.efficiency, 0.03),
        (f.breakdown_ratio, target.breakdown_ratio, 0.02),
        (f.locked_rotor_a, target.locked_rotor_a, 0.01),
        (f.starting_ratio, target.starting_ratio, 0.03),
    ];
    for (r, (ours, aim, sigma)) in r.iter_mut().zip(aims) {
        *r = (ours / aim - 1.0) / sigma;
    }
    for ((r, log), typical) in r[N_FIGURES..]
        .iter_mut()
        .zip(logs)
        .zip(expectations(target))
    {
        *r = log / typical.1;
    }
    r
}

fn cost(r: &[f64; N_RESIDUALS]) -> f64 {
    r.iter().map(|x| x * x).sum()
}

/// The motor that comes closest to a target.
#[must_use]
pub fn fit(target: &Target) -> InductionMotor {
    let mut logs = [0.0; N_UNKNOWNS];
    let mut here = residuals(target, &logs);
    let mut damping = 1.0;
    for _ in 0..STEPS {
        let (normal, gradient) = normal_equations(target, &logs, &here);
        let mut damped = normal;
        for (i, row) in damped.iter_mut().enumerate() {
            row[i] *= 1.0 + damping;
        }
        let step = solve(damped, gradient);
        let mut ahead = logs;
        for (log, step) in ahead.iter_mut().zip(step) {
            // A long step leaves the region where the slopes mean anything.
            *log -= step.clamp(-0.3, 0.3);
        }
        let there = residuals(target, &ahead);
        if cost(&there) < cost(&here) {
            (logs, here) = (ahead, there);
            damping *= 0.3;
        } else {
            damping *= 4.0;
        }
    }
    rounded(build(target, &logs))
}

type Normal = [[f64; N_UNKNOWNS]; N_UNKNOWNS];

/// JᵀJ and Jᵀr.
fn normal_equations(
    target: &Target,
    logs: &[f64; N_UNKNOWNS],
    here: &[f64; N_RESIDUALS],
) -> (Normal, [f64; N_UNKNOWNS]) {
    let mut columns = [[0.0; N_RESIDUALS]; N_UNKNOWNS];
    for (i, column) in columns.iter_mut().enumerate() {
        let (mut ahead, mut behind) = (*logs, *logs);
        ahead[i] += PROBE;
        behind[i] -= PROBE;
        let (ahead, behind) = (residuals(target, &ahead), residuals(target, &behind));
        for (c, (a, b)) in column.iter_mut().zip(ahead.iter().zip(behind)) {
            *c = (a - b) / (2.0 * PROBE);
        }
    }
    let dot = |a: &[f64; N_RESIDUALS], b: &[f64; N_RESIDUALS]| {
        a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>()
    };
    let mut normal = [[0.0; N_UNKNOWNS]; N_UNKNOWNS];
    let mut gradient = [0.0; N_UNKNOWNS];
    for i in 0..N_UNKNOWNS {
        gradient[i] = dot(&columns[i], here);
        for j in 0..N_UNKNOWNS {
            normal[i][j] = dot(&columns[i], &columns[j]);
        }
    }
    (normal, gradient)
}

/// Gauss elimination; the matrix is positive definite, so no pivot vanishes.
fn solve(mut m: Normal, mut b: [f64; N_UNKNOWNS]) -> [f64; N_UNKNOWNS] {
    for k in 0..N_UNKNOWNS {
        let pivot_row = m[k];
        for i in k + 1..N_UNKNOWNS {
            let factor = m[i][k] / pivot_row[k];
            for (x, p) in m[i].iter_mut().zip(pivot_row) {
                *x -= factor * p;
            }
            b[i] -= factor * b[k];
        }
    }
    for k in (0..N_UNKNOWNS).rev() {
        let known: f64 = (k + 1..N_UNKNOWNS).map(|j| m[k][j] * b[j]).sum();
        b[k] = (b[k] - known) / m[k][k];
    }
    b
}

/// To five digits, which is what the generated file prints.
fn rounded(mut motor: InductionMotor) -> InductionMotor {
    for x in [
        &mut motor.main_ohm,
        &mut motor.main_leakage_ohm,
        &mut motor.magnetizing_ohm,
        &mut motor.rotor_ohm,
        &mut motor.rotor_leakage_ohm,
        &mut motor.auxiliary_ohm,
        &mut motor.auxiliary_leakage_ohm,
        &mut motor.turns_ratio,
        &mut motor.core_conductance_s,
        &mut motor.drag_nm,
    ] {
        *x = five_digits(*x);
    }
    let round = |c: Capacitor| Capacitor {
        farad: five_digits(c.farad),
        series_ohm: five_digits(c.series_ohm),
    };
    motor.starting = match motor.starting {
        Starting::SplitPhase => Starting::SplitPhase,
        Starting::CapacitorStart(c) => Starting::CapacitorStart(round(c)),
        Starting::PermanentCapacitor(c) => Starting::PermanentCapacitor(round(c)),
        Starting::CapacitorStartRun { start, run } => Starting::CapacitorStartRun {
            start: round(start),
            run: round(run),
        },
    };
    motor
}

/// The decimal of five digits nearest to a positive number.
fn five_digits(x: f64) -> f64 {
    format!("{x:.4e}").parse().unwrap_or(x)
}

#[cfg(test)]
mod tests;
