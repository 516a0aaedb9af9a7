//! A closed charge of gas: the cushion of a bladder tank.
//!
//! Ideal gas, p·V = m·R·T.  Between isothermal (slow) and adiabatic (fast) lies
//! p·Vⁿ = const with 1 ≤ n ≤ γ; the plant follows the temperature itself:
//! dT/dt = −(γ − 1)·(T/V)·dV/dt + (T_amb − T)/τ.
//!
//! Drawdown of a tank between cut-out and cut-in, as a share of its gas volume at
//! precharge p₀ (all absolute): (p₀/p_in)^(1/n) − (p₀/p_out)^(1/n), the first term held at
//! 1 when the precharge is above cut-in (the bladder is flat before the pump starts).
//!
//! Sources: air R = 287.05 J/(kg·K) from 8314.46 J/(kmol·K) and 28.9655 kg/kmol (dry air,
//! CIPM-2007); γ = 1.4 for a gas of rigid diatomic molecules.
//!
//! Leaves out: humidity, real-gas effects (below 0.3 % at 10 bar), heat held by the shell.

use crate::math;

/// A gas by its two constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IdealGas {
    /// Specific gas constant R [J/(kg·K)] -- constant.
    pub gas_constant_j_per_kg_k: f64,
    /// Ratio of heat capacities γ = c_p/c_v -- constant.
    pub heat_capacity_ratio: f64,
}

/// Dry air.
pub const AIR: IdealGas = IdealGas {
    gas_constant_j_per_kg_k: 287.05,
    heat_capacity_ratio: 1.4,
};

impl IdealGas {
    /// Mass in a volume [kg], absolute pressure.
    #[must_use]
    pub fn mass_kg(&self, pressure_pa: f64, volume_m3: f64, temperature_k: f64) -> f64 {
        pressure_pa * volume_m3 / (self.gas_constant_j_per_kg_k * temperature_k)
    }

    /// Absolute pressure of a mass in a volume [Pa].
    #[must_use]
    pub fn pressure_pa(&self, mass_kg: f64, volume_m3: f64, temperature_k: f64) -> f64 {
        mass_kg * self.gas_constant_j_per_kg_k * temperature_k / volume_m3
    }

    /// Density [kg/m³].
    #[must_use]
    pub fn density_kg_per_m3(&self, pressure_pa: f64, temperature_k: f64) -> f64 {
        pressure_pa / (self.gas_constant_j_per_kg_k * temperature_k)
    }

    /// Heat capacity at constant pressure [J/(kg·K)].
    #[must_use]
    pub fn heat_capacity_j_per_kg_k(&self) -> f64 {
        self.gas_constant_j_per_kg_k * self.heat_capacity_ratio / (self.heat_capacity_ratio - 1.0)
    }

    /// Rate of change of temperature of a closed charge [K/s]: compression warms it, the
    /// shell takes it back to `ambient_k` with time constant `time_constant_s`.
    #[must_use]
    pub fn temperature_rate_k_per_s(
        &self,
        temperature_k: f64,
        volume_m3: f64,
        volume_rate_m3_per_s: f64,
        ambient_k: f64,
        time_constant_s: f64,
    ) -> f64 {
        (ambient_k - temperature_k) / time_constant_s
            - (self.heat_capacity_ratio - 1.0) * temperature_k / volume_m3 * volume_rate_m3_per_s
    }
}

/// Absolute pressure after a change of volume with p·Vⁿ constant [Pa]; n = 1 isothermal,
/// n = γ adiabatic.
#[must_use]
pub fn polytropic_pressure_pa(
    pressure_pa: f64,
    volume_m3: f64,
    new_volume_m3: f64,
    exponent: f64,
) -> f64 {
    pressure_pa * math::pow(volume_m3 / new_volume_m3, exponent)
}

/// Temperature after the same change [K].
#[must_use]
pub fn polytropic_temperature_k(
    temperature_k: f64,
    volume_m3: f64,
    new_volume_m3: f64,
    exponent: f64,
) -> f64 {
    temperature_k * math::pow(volume_m3 / new_volume_m3, exponent - 1.0)
}

/// Volume at another absolute pressure with p·Vⁿ constant [m³].
#[must_use]
pub fn polytropic_volume_m3(
    volume_m3: f64,
    pressure_pa: f64,
    new_pressure_pa: f64,
    exponent: f64,
) -> f64 {
    volume_m3 * math::pow(pressure_pa / new_pressure_pa, 1.0 / exponent)
}

/// Absolute pressure of a charge in a fixed volume at another temperature [Pa].
///
/// ```
/// use sim_core::air::gas::pressure_at_temperature_pa;
///
/// // A precharge set on a warm day is lower on a cold one.
/// assert!(pressure_at_temperature_pa(363_000.0, 293.15, 278.15) < 345_000.0);
/// ```
#[must_use]
pub fn pressure_at_temperature_pa(
    pressure_pa: f64,
    temperature_k: f64,
    new_temperature_k: f64,
) -> f64 {
    pressure_pa * new_temperature_k / temperature_k
}

/// Temperature of a charge at rest after it has lost heat for a time [K].
#[must_use]
pub fn relaxed_temperature_k(
    temperature_k: f64,
    ambient_k: f64,
    time_s: f64,
    time_constant_s: f64,
) -> f64 {
    ambient_k + (temperature_k - ambient_k) * math::exp(-time_s / time_constant_s)
}

/// Water that a bladder tank gives between cut-out and cut-in, as a share of its gas
/// volume at precharge.  Pressures absolute; exponent 1 slow, γ fast.
///
/// A precharge above cut-in empties the bladder early, and one above cut-out takes no
/// water at all; both come out.
///
/// ```
/// use sim_core::air::gas::drawdown_fraction;
///
/// let psi = 6894.757;
/// let absolute = |gauge_psi: f64| 101_325.0 + gauge_psi * psi;
/// let share = drawdown_fraction(absolute(38.0), absolute(40.0), absolute(60.0), 1.0);
/// assert!((share - 0.258).abs() < 1e-3);
/// ```
#[must_use]
pub fn drawdown_fraction(precharge_pa: f64, cut_in_pa: f64, cut_out_pa: f64, exponent: f64) -> f64 {
    let share_at =
        |pressure_pa: f64| polytropic_volume_m3(1.0, precharge_pa, pressure_pa, exponent).min(1.0);
    share_at(cut_in_pa) - share_at(cut_out_pa)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn mass_and_pressure_are_inverse() {
        let mass = AIR.mass_kg(3e5, 0.08, 288.0);
        assert_relative_eq!(
            AIR.pressure_pa(mass, 0.08, 288.0),
            3e5,
            max_relative = 1e-14
        );
    }

    #[test]
    fn heat_capacity_of_air_is_about_1005() {
        assert_relative_eq!(AIR.heat_capacity_j_per_kg_k(), 1_005.0, max_relative = 1e-3);
    }

    #[test]
    fn a_fast_squeeze_follows_the_adiabat() {
        let (mut volume, mut temperature) = (0.05, 288.15);
        let steps = 100_000;
        let rate = -0.01;
        for _ in 0..steps {
            let step = 1.0 / f64::from(steps);
            let middle_volume = volume + 0.5 * rate * step;
            let slope =
                AIR.temperature_rate_k_per_s(temperature, volume, rate, 288.15, f64::INFINITY);
            let middle = temperature + 0.5 * step * slope;
            temperature += step
                * AIR.temperature_rate_k_per_s(middle, middle_volume, rate, 288.15, f64::INFINITY);
            volume += rate * step;
        }
        assert_relative_eq!(
            temperature,
            polytropic_temperature_k(288.15, 0.05, 0.04, 1.4),
            max_relative = 1e-8
        );
    }

    #[test]
    fn a_fast_cycle_draws_less_than_a_slow_one() {
        let slow = drawdown_fraction(3.6e5, 3.8e5, 5.1e5, 1.0);
        let fast = drawdown_fraction(3.6e5, 3.8e5, 5.1e5, 1.4);
        assert!(fast < slow && fast > 0.0);
    }

    #[test]
    fn a_precharge_above_cut_out_leaves_nothing_to_draw() {
        assert_relative_eq!(drawdown_fraction(6e5, 3.8e5, 5.1e5, 1.0), 0.0);
    }
}
