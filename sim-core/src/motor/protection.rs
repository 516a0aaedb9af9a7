//! Breaker, overload relay and ground-fault device, as laws without state of their own.
//!
//! Breaker: a thermal element x' = ((I/I_n)² − x)/τ that opens at x = k², and a magnetic
//! one that opens at once above a multiple of I_n.  From cold at constant current it opens
//! after τ·ln(m²/(m² − k²)), m = I/I_n > k.
//!
//! Ground-fault device: opens when a current above its threshold has lasted.
//!
//! Sources: UL 489 calibration (must open at 135 % within an hour and at 200 % within
//! 2 min up to 30 A; read in a quotation; 31–50 A 4 min, 51–100 A 6 min and 2 h at 135 %
//! above 50 A from memory); IEC 60947-4-1 (trip classes; 7.2× row read in a quotation,
//! the others from memory); UL 943 (Class A: 4 to 6 mA, t ≤ (20/I)^1.43 s with I in mA;
//! from memory).  Left out: ambient compensation, tolerance between breakers, arcs.

use serde::{Deserialize, Serialize};

use crate::math::{ln, pow};

/// Longest time a moulded-case breaker may take from cold at a multiple of its rating;
/// none where the standard is not known here.
#[must_use]
pub fn breaker_must_trip_within_s(multiple: f64, rated_a: f64) -> Option<f64> {
    if multiple >= 2.0 {
        match rated_a {
            r if r <= 30.0 => Some(120.0),
            r if r <= 50.0 => Some(240.0),
            r if r <= 100.0 => Some(360.0),
            _ => None,
        }
    } else if multiple >= 1.35 {
        Some(if rated_a <= 50.0 { 3_600.0 } else { 7_200.0 })
    } else {
        None
    }
}

/// An inverse-time breaker.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Breaker {
    /// Rating [A] -- constant.
    pub rated_a: f64,
    /// Largest current held for ever over the rating -- constant, above 1.
    pub hold_ratio: f64,
    /// Time constant of the thermal element [s] -- constant.
    pub time_constant_s: f64,
    /// Current that opens it at once over the rating -- constant.
    pub magnetic_ratio: f64,
}

impl Breaker {
    /// Training values: holds 115 %, opens at 200 % after 80 s, at once from 10×.
    #[must_use]
    pub const fn training(rated_a: f64) -> Self {
        Self {
            rated_a,
            hold_ratio: 1.15,
            time_constant_s: 200.0,
            magnetic_ratio: 10.0,
        }
    }

    /// Rate of the thermal element's state, 1 when long at the rating [1/s].
    #[inline]
    #[must_use]
    pub fn heat_rate_per_s(&self, heat: f64, current_a: f64) -> f64 {
        let load = current_a / self.rated_a;
        (load * load - heat) / self.time_constant_s
    }

    /// Falls through zero when the thermal element opens.
    #[inline]
    #[must_use]
    pub fn thermal_guard(&self, heat: f64) -> f64 {
        self.hold_ratio * self.hold_ratio - heat
    }

    /// Falls through zero when the magnetic element opens [A].
    #[inline]
    #[must_use]
    pub fn magnetic_guard_a(&self, current_a: f64) -> f64 {
        self.magnetic_ratio * self.rated_a - current_a
    }

    /// Time from cold at constant current [s]: zero for the magnetic element, none when
    /// it never opens.
    #[must_use]
    pub fn trip_time_s(&self, current_a: f64) -> Option<f64> {
        if self.magnetic_guard_a(current_a) <= 0.0 {
            return Some(0.0);
        }
        let m2 = current_a * current_a / (self.rated_a * self.rated_a);
        let k2 = self.hold_ratio * self.hold_ratio;
        (m2 > k2).then(|| self.time_constant_s * ln(m2 / (m2 - k2)))
    }
}

/// Trip class of an overload relay.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TripClass {
    /// 10A.
    TenA,
    /// 10.
    Ten,
    /// 20.
    Twenty,
}

/// Multiple of its setting that every relay must hold for two hours.
pub const RELAY_HOLDS_RATIO: f64 = 1.05;
/// Multiple of its setting at which every relay must open within two hours.
pub const RELAY_OPENS_RATIO: f64 = 1.2;
/// The two hours [s].
pub const RELAY_LONG_S: f64 = 7_200.0;

impl TripClass {
    /// Times at 7.2 × setting from cold: longer than the first, at most the second [s].
    #[must_use]
    pub const fn locked_limits_s(self) -> (f64, f64) {
        match self {
            Self::TenA => (2.0, 10.0),
            Self::Ten => (4.0, 10.0),
            Self::Twenty => (6.0, 20.0),
        }
    }

    /// Longest time at 1.5 × setting after a balanced load [s] (from memory).
    #[must_use]
    pub const fn warm_limit_s(self) -> f64 {
        match self {
            Self::TenA => 120.0,
            Self::Ten => 240.0,
            Self::Twenty => 480.0,
        }
    }

    /// Whether a time at 7.2 × setting from cold is within the class.
    #[must_use]
    pub fn accepts_locked(self, seconds: f64) -> bool {
        let (above, most) = self.locked_limits_s();
        above < seconds && seconds <= most
    }
}

/// A Class A ground-fault device, 4 to 6 mA.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct GroundFaultDevice {
    /// Threshold [A] -- constant, 0.004 to 0.006.
    pub threshold_a: f64,
}

/// Largest current that a Class A device must bear [A].
pub const GROUND_FAULT_BEARS_A: f64 = 0.004;
/// Least current at which it must open [A].
pub const GROUND_FAULT_OPENS_A: f64 = 0.006;
/// Current above which the limit curve goes on level: 240 V across 500 Ω and more [A].
const GROUND_FAULT_CURVE_END_A: f64 = 0.264;
/// Share of the permitted time that a device takes (training value).
const GROUND_FAULT_SPEED: f64 = 0.1;

impl GroundFaultDevice {
    /// Middle of the band.
    #[must_use]
    pub const fn training() -> Self {
        Self { threshold_a: 0.005 }
    }

    /// Longest time that the standard permits at a current [s].
    #[must_use]
    pub fn time_limit_s(current_a: f64) -> f64 {
        pow(0.020 / current_a.min(GROUND_FAULT_CURVE_END_A), 1.43)
    }

    /// Rate of the device's count toward opening, which it does at 1; below the threshold
    /// none (the count is then set back to 0) [1/s].
    #[must_use]
    pub fn rate_per_s(&self, leakage_a: f64) -> f64 {
        if leakage_a >= self.threshold_a {
            1.0 / (GROUND_FAULT_SPEED * Self::time_limit_s(leakage_a))
        } else {
            0.0
        }
    }

    /// Time to open at constant leakage [s]; none when it never does.
    #[must_use]
    pub fn trip_time_s(&self, leakage_a: f64) -> Option<f64> {
        (leakage_a >= self.threshold_a).then(|| GROUND_FAULT_SPEED * Self::time_limit_s(leakage_a))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_breaker_meets_its_calibration_limits_and_holds_its_rating() {
        for rated_a in [15.0, 20.0, 30.0] {
            let breaker = Breaker::training(rated_a);
            for multiple in [1.35, 2.0] {
                let limit = breaker_must_trip_within_s(multiple, rated_a).unwrap();
                let ours = breaker.trip_time_s(multiple * rated_a).unwrap();
                assert!(ours <= limit, "{multiple}: {ours} {limit}");
            }
            assert_eq!(breaker.trip_time_s(rated_a), None);
            assert_eq!(breaker.trip_time_s(1.14 * rated_a), None);
            assert!(breaker.trip_time_s(9.9 * rated_a).unwrap() > 1.0);
            assert_eq!(breaker.trip_time_s(10.0 * rated_a), Some(0.0));
        }
        assert_eq!(breaker_must_trip_within_s(1.2, 20.0), None);
    }

    #[test]
    fn the_closed_form_is_the_integral_of_the_rate() {
        let breaker = Breaker::training(20.0);
        let (mut heat, mut t) = (0.0, 0.0);
        while breaker.thermal_guard(heat) > 0.0 {
            heat += 1e-3 * breaker.heat_rate_per_s(heat, 60.0);
            t += 1e-3;
        }
        assert!((t - breaker.trip_time_s(60.0).unwrap()).abs() < 0.01);
    }

    #[test]
    fn a_start_of_a_few_tenths_of_a_second_does_not_open_the_breaker() {
        let breaker = Breaker::training(15.0);
        assert!(breaker.magnetic_guard_a(41.0) > 0.0);
        assert!(breaker.trip_time_s(41.0).unwrap() > 10.0);
    }

    #[test]
    fn ground_fault_device_bears_four_milliamperes_and_opens_in_time_at_six() {
        let device = GroundFaultDevice::training();
        assert_eq!(device.trip_time_s(GROUND_FAULT_BEARS_A), None);
        assert_eq!(device.rate_per_s(GROUND_FAULT_BEARS_A), 0.0);
        for leakage_a in [GROUND_FAULT_OPENS_A, 0.03, 0.264, 5.0] {
            let ours = device.trip_time_s(leakage_a).unwrap();
            assert!(ours <= GroundFaultDevice::time_limit_s(leakage_a));
            assert!((ours * device.rate_per_s(leakage_a) - 1.0).abs() < 1e-12);
        }
        // 6 mA within 5.6 s, a hard fault within 25 ms.
        assert!((GroundFaultDevice::time_limit_s(0.006) - 5.59).abs() < 0.01);
        assert!((GroundFaultDevice::time_limit_s(1.0) - 0.025).abs() < 0.001);
    }

    #[test]
    fn trip_classes_are_strict_below_and_inclusive_above() {
        assert!(!TripClass::Ten.accepts_locked(4.0));
        assert!(TripClass::Ten.accepts_locked(10.0));
        assert!(TripClass::TenA.accepts_locked(3.0));
        assert!(!TripClass::Twenty.accepts_locked(20.1));
    }
}
