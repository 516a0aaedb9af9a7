//! The pump's circuit as the plant sees it: what the motor draws and gives at each speed,
//! and the devices that break the circuit.
//!
//! The wiring is reduced once per signature (start winding in or out, how far a joint has
//! burnt) to a source with an impedance at the motor's terminals; motor and source
//! together are tables over speed.  So the network is solved when a signature is first
//! met, never in a step.

use std::sync::OnceLock;

use super::modes::{Device, Guard, Modes, Shaft};
use super::state::{
    BREAKER_HEAT, IMPELLER_WEAR, JOINT_TEMPERATURE, N_STATES, PROTECTOR_TEMPERATURE, SEAL_WEAR,
    SHAFT_SPEED,
};
use crate::math::Scalar;
use crate::motor::MotorTables;
use crate::motor::thermal::Protector;
use crate::parts::{FloatSwitchSpec, PumpMap};
use crate::units::convert::ZERO_CELSIUS;

/// Levels to which a joint can burn; at the last it is open.
pub(crate) const JOINT_LEVELS: usize = 9;

/// Each time a joint burns, its resistance grows by this factor (training value).
pub(crate) const JOINT_GROWTH: f64 = 1.25;

/// Resistance of a burnt joint over that of the unburnt one.
pub(crate) fn joint_growth(level: u8) -> f64 {
    let mut growth = 1.0;
    for _ in 0..level {
        growth *= JOINT_GROWTH;
    }
    growth
}

/// Motor and source over speed, for one joint level: start winding in, start winding out.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DrivePair {
    pub(crate) starting: Option<MotorTables>,
    pub(crate) running: Option<MotorTables>,
}

/// The worst joint of the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct JointModel {
    /// Resistance when cold and unburnt [Ω].
    pub(crate) ohms: f64,
    /// Temperature rise per watt [K/W].
    pub(crate) k_per_w: f64,
    /// Time constant [s].
    pub(crate) time_constant_s: f64,
    /// Temperature at which it first burns [K].
    pub(crate) burn_k: f64,
}

/// Constants of the circuit, and the drives met so far.
#[derive(Debug)]
pub(crate) struct CircuitModel {
    /// Makes the drives of a joint level.
    pub(crate) reduction: super::reduction::Reduction,
    pub(crate) pairs: [OnceLock<DrivePair>; JOINT_LEVELS],
    pub(crate) has_start_switch: bool,
    pub(crate) start_switch_opens: f64,
    pub(crate) start_switch_closes: f64,
    pub(crate) breaker_a: f64,
    pub(crate) breaker_rate: f64,
    pub(crate) breaker_trip_heat: f64,
    pub(crate) breaker_magnetic_a: f64,
    /// Residual current while the motor has power [A], and the current that trips.
    pub(crate) residual_a: f64,
    /// The same while only the cables have power, up to float switch and protector [A].
    pub(crate) fed_residual_a: f64,
    pub(crate) ground_fault_trip_a: Option<f64>,
    pub(crate) winding_heat_capacity: f64,
    pub(crate) winding_rate: f64,
    pub(crate) protector: Protector,
    pub(crate) float: Option<FloatSwitchSpec>,
    pub(crate) float_stuck: Option<Device>,
    pub(crate) low_pressure_pa: Option<f64>,
    pub(crate) joint: Option<JointModel>,
    /// Terminal at which the worst joint can be touched.
    pub(crate) worst_joint: &'static str,
    /// Share of starts at which the chafed drop cable is open.
    pub(crate) chafed_open_share: Option<f64>,
    pub(crate) contacts_welded: bool,
    pub(crate) jammed: bool,
}

impl Clone for CircuitModel {
    fn clone(&self) -> Self {
        Self {
            reduction: self.reduction.clone(),
            pairs: self.pairs.clone(),
            ..*self
        }
    }
}

impl PartialEq for CircuitModel {
    fn eq(&self, other: &Self) -> bool {
        // The drives follow from the reduction; which of them have been met does not count.
        self.reduction == other.reduction
    }
}

impl CircuitModel {
    /// Takes over the drives that another circuit has met, where they are the same.
    pub(crate) fn share_drives(&mut self, other: &Self) {
        if self.reduction == other.reduction {
            self.pairs = other.pairs.clone();
        }
    }

    /// The drive in force, none when no current can flow whatever the switches do.
    pub(crate) fn drive(&self, modes: &Modes) -> Option<&MotorTables> {
        if modes.damage.winding {
            return None;
        }
        let level = usize::from(modes.circuit.joint_level).min(JOINT_LEVELS - 1);
        let pair = self.pairs[level].get_or_init(|| self.reduction.drives(level));
        if self.has_start_switch && modes.circuit.start_switch == Device::Open {
            pair.running.as_ref()
        } else {
            pair.starting.as_ref()
        }
    }
}

/// Whether the chafed drop cable conducts at the n-th start: each start shakes it into
/// another place.  The start's number is mixed (SplitMix64, Steele, Lea and Flood 2014) to
/// a share between 0 and 1.
pub(crate) fn is_open_at_start(share: f64, start: u64) -> bool {
    let mut z = start.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^= z >> 31;
    ((z >> 11) as f64 / (1_u64 << 53) as f64) < share
}

/// Seal life used up per second of turning air-bound, with nothing flowing to cool and
/// wet it: spoilt in a quarter of an hour (training value, common practice, no source).
const SEAL_WEAR_PER_S: f64 = 1.0 / 900.0;
/// Water temperature from which plastic impellers suffer [K], and life used up per second
/// and kelvin above it (training values).
const HOT_WATER_K: f64 = 355.0;
const IMPELLER_WEAR_PER_S_K: f64 = 1.0 / 6_000.0;

/// Seal wear [1/s].
pub(crate) fn seal_wear<S: Scalar>(modes: &Modes, bowl_share: S) -> S {
    if modes.shaft == Shaft::Turning && !modes.damage.seal {
        (-PumpMap::head_share_with_air(bowl_share) + 1.0) * SEAL_WEAR_PER_S
    } else {
        S::constant(0.0)
    }
}

/// Impeller wear [1/s].
pub(crate) fn impeller_wear<S: Scalar>(modes: &Modes, water_k: S) -> S {
    if modes.shaft == Shaft::Turning && !modes.damage.impellers {
        (water_k - HOT_WATER_K).max_of(S::constant(0.0)) * IMPELLER_WEAR_PER_S_K
    } else {
        S::constant(0.0)
    }
}

/// Temperature of the insulation class [K] (class B, 130 °C) and its life there [s]
/// (20,000 h), halving with every 10 K (all from memory: IEEE 101, IEC 60085).
const CLASS_K: f64 = 403.15;
const CLASS_LIFE_S: f64 = 20_000.0 * 3_600.0;

/// Winding insulation wear [1/s] at a temperature.
pub(crate) fn winding_wear_per_s(winding_k: f64) -> f64 {
    let halvings = ((winding_k - CLASS_K) / 10.0).clamp(-30.0, 30.0);
    crate::math::pow(2.0, halvings) / CLASS_LIFE_S
}

/// What the devices of the circuit see.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Situation {
    pub(crate) depth_m: f64,
    /// Pressure at the pressure switch [Pa, gauge].
    pub(crate) sensed_pa: f64,
    pub(crate) line_current_a: f64,
    pub(crate) is_powered: bool,
    /// The cables have power up to float switch and protector.
    pub(crate) is_fed: bool,
    pub(crate) lever_held: bool,
}

/// A burnt joint bears this much more before it burns again [K] (training value).
const JOINT_BURN_STEP_K: f64 = 40.0;

/// A guard list grows by one.
pub(crate) type Push<'a> = &'a mut dyn FnMut(Guard, f64);

impl CircuitModel {
    /// Guards of the devices in these modes.
    pub(crate) fn guards(
        &self,
        y: &[f64; N_STATES],
        at: &Situation,
        modes: &Modes,
        push: Push<'_>,
    ) {
        let circuit = &modes.circuit;
        if at.is_powered {
            push(
                Guard::BreakerTrips,
                (y[BREAKER_HEAT] - self.breaker_trip_heat)
                    .max((at.line_current_a - self.breaker_magnetic_a) / self.breaker_a),
            );
            if let Some(joint) = &self.joint
                && usize::from(circuit.joint_level) < JOINT_LEVELS - 1
            {
                let burn = joint.burn_k + JOINT_BURN_STEP_K * f64::from(circuit.joint_level);
                push(Guard::JointBurns, y[JOINT_TEMPERATURE] - burn);
            }
        }
        if let (true, Some(trip)) = (at.is_fed || at.is_powered, self.ground_fault_trip_a) {
            let residual_a = if at.is_powered {
                self.residual_a
            } else {
                self.fed_residual_a
            };
            push(Guard::GroundFaultTrips, residual_a - trip);
        }
        let disc_celsius = y[PROTECTOR_TEMPERATURE] - ZERO_CELSIUS;
        match circuit.protector {
            Device::Closed => {
                push(
                    Guard::ProtectorTrips,
                    -self.protector.trip_guard_k(disc_celsius),
                );
            }
            Device::Open => {
                push(
                    Guard::ProtectorResets,
                    -self.protector.reset_guard_k(disc_celsius),
                );
            }
        }
        if let (Some(float), None) = (&self.float, self.float_stuck) {
            match circuit.float {
                Device::Closed => push(Guard::FloatOpens, float.stops_at.si() - at.depth_m),
                Device::Open => push(Guard::FloatCloses, at.depth_m - float.starts_at.si()),
            }
        }
        if let Some(cut_off) = self.low_pressure_pa
            && circuit.low_pressure == Device::Closed
            && !at.lever_held
        {
            push(Guard::LowPressureTrips, cut_off - at.sensed_pa);
        }
        if self.has_start_switch {
            let speed = if modes.shaft == Shaft::Turning {
                y[SHAFT_SPEED]
            } else {
                0.0
            };
            match circuit.start_switch {
                Device::Closed => {
                    push(Guard::StartSwitchOpens, speed - self.start_switch_opens);
                }
                Device::Open => {
                    push(Guard::StartSwitchCloses, self.start_switch_closes - speed);
                }
            }
        }
        if !modes.damage.seal {
            push(Guard::SealFails, y[SEAL_WEAR] - 1.0);
        }
        if !modes.damage.impellers {
            push(Guard::ImpellersWarp, y[IMPELLER_WEAR] - 1.0);
        }
    }
}
