//! Heat of a motor and the thermal protector in it.
//!
//! Winding at T_w with heat capacity C and resistance R to the water or air around it,
//! and the protector's disc at θ, which feels the winding and a heater that carries the
//! motor's current:
//! ```text
//! C·dT_w/dt = P − (T_w − T_out)/R          P: heat of stator copper and core
//! τ·dθ/dt   = T_w − θ + ΔT_h·(I/I_n)²
//! ```
//! It opens when θ rises to the trip temperature and closes by itself when θ has fallen
//! to the reset temperature: the pump that stops and comes back ten minutes later.
//!
//! Training values, from memory of what such motors do: the winding with the iron around
//! it settles 25 K above its surroundings at full load with a time constant of 15 min, the
//! disc's heater adds 35 K, the disc follows with 80 s.  The trip temperature follows from
//! the ultimate trip current, 145 % of full load at 25 °C around (NEC 430.32(A)(2) allows at
//! most 170 % up to 9 A, 156 % to 20 A, 140 % above; a motor above 20 A would need another).
//! With them a locked rotor opens the protector after 9 to 29 s and it closes again after
//! some 2½ min; after an overload of the hot motor that takes 8 min.
//!
//! Left out: the copper by itself, which is hotter than the iron while the rotor is
//! locked; heat stored in rotor and shell; water that no longer flows past, ageing.

use serde::{Deserialize, Serialize};

use super::fit::RUNNING_CELSIUS;
use super::{Complex, InductionMotor, OperatingPoint, StartSwitch};

/// Rise of the winding above its surroundings at full load [K].
const WINDING_RISE_K: f64 = 25.0;
/// Time constant of the winding [s].
const WINDING_TIME_S: f64 = 900.0;
/// Rise of the disc above the winding at full load [K].
const HEATER_RISE_K: f64 = 35.0;
/// Time constant of the disc [s].
const DISC_TIME_S: f64 = 80.0;
/// Surroundings at which the protector is set [°C].
const SETTING_CELSIUS: f64 = 25.0;
/// Ultimate trip current over full-load current.
const ULTIMATE_TRIP_RATIO: f64 = 1.45;
/// Temperature at which the disc closes again [°C].
const RESET_CELSIUS: f64 = 50.0;

/// Thermal constants of a motor and its protector.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ThermalSpec {
    /// Heat capacity of the winding [J/K] -- constant.
    pub heat_capacity_j_per_k: f64,
    /// Thermal resistance of the winding to its surroundings [K/W] -- constant.
    pub resistance_k_per_w: f64,
    /// Protector -- constant.
    pub protector: Protector,
}

/// A thermal protector that closes again by itself.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Protector {
    /// Full-load current at which the heater adds its rated rise [A] -- constant.
    pub rated_current_a: f64,
    /// Rise of the disc above the winding at that current [K] -- constant.
    pub heater_rise_k: f64,
    /// Time constant of the disc [s] -- constant.
    pub time_constant_s: f64,
    /// Temperature at which it opens [°C] -- constant.
    pub trip_celsius: f64,
    /// Temperature at which it closes again [°C] -- constant, below the trip temperature.
    pub reset_celsius: f64,
}

impl ThermalSpec {
    /// Training values for a motor, protector set to its full-load current.
    #[must_use]
    pub fn training(motor: &InductionMotor) -> Self {
        let full_load = motor
            .circuit(&motor.condition(StartSwitch::Open, RUNNING_CELSIUS))
            .at(
                motor.rated_speed_rad_per_s,
                Complex::new(motor.rated_voltage_v, 0.0),
            );
        let resistance_k_per_w = WINDING_RISE_K / winding_heat_w(&full_load);
        let rise_k = WINDING_RISE_K + HEATER_RISE_K;
        Self {
            heat_capacity_j_per_k: WINDING_TIME_S / resistance_k_per_w,
            resistance_k_per_w,
            protector: Protector {
                rated_current_a: full_load.line_a.magnitude(),
                heater_rise_k: HEATER_RISE_K,
                time_constant_s: DISC_TIME_S,
                trip_celsius: SETTING_CELSIUS + rise_k * ULTIMATE_TRIP_RATIO * ULTIMATE_TRIP_RATIO,
                reset_celsius: RESET_CELSIUS,
            },
        }
    }

    /// Rate of the winding's temperature [K/s].
    #[inline]
    #[must_use]
    pub fn winding_rate_k_per_s(
        &self,
        winding_celsius: f64,
        outside_celsius: f64,
        heat_w: f64,
    ) -> f64 {
        (heat_w - (winding_celsius - outside_celsius) / self.resistance_k_per_w)
            / self.heat_capacity_j_per_k
    }
}

impl Protector {
    /// Rate of the disc's temperature [K/s].
    #[inline]
    #[must_use]
    pub fn disc_rate_k_per_s(
        &self,
        disc_celsius: f64,
        winding_celsius: f64,
        current_a: f64,
    ) -> f64 {
        let load = current_a / self.rated_current_a;
        (winding_celsius - disc_celsius + self.heater_rise_k * load * load) / self.time_constant_s
    }

    /// Falls through zero when a closed protector opens [K].
    #[inline]
    #[must_use]
    pub fn trip_guard_k(&self, disc_celsius: f64) -> f64 {
        self.trip_celsius - disc_celsius
    }

    /// Falls through zero when an open protector closes [K].
    #[inline]
    #[must_use]
    pub fn reset_guard_k(&self, disc_celsius: f64) -> f64 {
        disc_celsius - self.reset_celsius
    }
}

/// Heat that warms the windings at an operating point [W].
#[must_use]
pub fn winding_heat_w(point: &OperatingPoint) -> f64 {
    point.losses.stator_copper_w() + point.losses.core_w
}

#[cfg(test)]
mod tests {
    use super::super::{rules, sets};
    use super::*;

    /// Steps of the test's own integration [s].
    const STEP_S: f64 = 0.02;

    struct Run {
        spec: ThermalSpec,
        winding_celsius: f64,
        disc_celsius: f64,
        outside_celsius: f64,
    }

    impl Run {
        fn cold(motor: &InductionMotor) -> Self {
            Self {
                spec: ThermalSpec::training(motor),
                winding_celsius: 25.0,
                disc_celsius: 25.0,
                outside_celsius: 25.0,
            }
        }

        fn step(&mut self, heat_w: f64, current_a: f64) {
            let w =
                self.spec
                    .winding_rate_k_per_s(self.winding_celsius, self.outside_celsius, heat_w);
            let d = self.spec.protector.disc_rate_k_per_s(
                self.disc_celsius,
                self.winding_celsius,
                current_a,
            );
            self.winding_celsius += STEP_S * w;
            self.disc_celsius += STEP_S * d;
        }

        /// Seconds until it opens with the shaft held or turning at a speed.
        fn trips_after_s(
            &mut self,
            motor: &InductionMotor,
            switch: StartSwitch,
            speed: f64,
        ) -> f64 {
            let mut t = 0.0;
            while self.spec.protector.trip_guard_k(self.disc_celsius) > 0.0 && t < 20_000.0 {
                let circuit = motor.circuit(&motor.condition(switch, self.winding_celsius));
                let point = circuit.at(speed, Complex::new(motor.rated_voltage_v, 0.0));
                self.step(winding_heat_w(&point), point.line_a.magnitude());
                t += STEP_S;
            }
            t
        }

        fn resets_after_s(&mut self) -> f64 {
            let mut t = 0.0;
            while self.spec.protector.reset_guard_k(self.disc_celsius) > 0.0 {
                self.step(0.0, 0.0);
                t += STEP_S;
            }
            t
        }

        /// Heat and current as at full load times a ratio.
        fn hold(&mut self, ratio: f64, seconds: f64) -> bool {
            let heat_w = WINDING_RISE_K / self.spec.resistance_k_per_w * ratio * ratio;
            let current_a = self.spec.protector.rated_current_a * ratio;
            let mut t = 0.0;
            while t < seconds {
                self.step(heat_w, current_a);
                if self.spec.protector.trip_guard_k(self.disc_celsius) <= 0.0 {
                    return false;
                }
                t += STEP_S;
            }
            true
        }
    }

    #[test]
    fn a_locked_rotor_trips_within_five_to_thirty_seconds_and_resets_within_minutes() {
        for (name, motor) in sets::ALL {
            let mut run = Run::cold(&motor);
            let t = run.trips_after_s(&motor, StartSwitch::Closed, 0.0);
            assert!((5.0..=30.0).contains(&t), "{name}: trips after {t} s");
            let t = run.resets_after_s();
            assert!((120.0..=1_200.0).contains(&t), "{name}: resets after {t} s");
        }
    }

    #[test]
    fn a_hot_motor_that_trips_on_overload_takes_about_ten_minutes_to_come_back() {
        let mut run = Run::cold(&sets::TWO_WIRE_055_KW);
        assert!(!run.hold(1.6, 7_200.0), "160 % must trip");
        let t = run.resets_after_s();
        assert!((400.0..=900.0).contains(&t), "{t}");
    }

    #[test]
    fn full_load_and_service_load_never_trip() {
        for (name, motor) in sets::ALL {
            assert!(Run::cold(&motor).hold(1.25, 7_200.0), "{name}");
        }
    }

    #[test]
    fn the_ultimate_trip_current_is_within_the_code() {
        for (name, motor) in sets::ALL {
            let mut run = Run::cold(&motor);
            let full_load_a = run.spec.protector.rated_current_a;
            // A dual-voltage motor's protector is one part, met at either voltage.
            let ratio = rules::protector_trip_ratio(full_load_a);
            if full_load_a <= 20.0 {
                assert!(!run.hold(ratio, 7_200.0), "{name}: {ratio}");
            }
        }
    }
}
