//! What hand calculation says: Boyle's law for the tank, the orifice law for holes.

use sim_core::air::atmosphere::standard_pressure_pa;
use sim_core::site::SiteSpec;
use sim_core::units::convert::{LITER, PSI};

/// Liters that a US gallon a minute comes to in a minute.
pub(super) const L_PER_GAL: f64 = 3.785_411_784;
/// Pressure of a metre of water [psi].
pub(super) const PSI_PER_M: f64 = 1.42;

/// A tank by its plate, with the charge that was read on it.
pub(super) struct Tank {
    shell_l: f64,
    charge_psi: f64,
    atmosphere_psi: f64,
}

impl Tank {
    pub(super) fn of(site: &SiteSpec, charge_psi: f64) -> Self {
        Self {
            shell_l: site.tank.shell_volume.si() / LITER,
            charge_psi,
            atmosphere_psi: standard_pressure_pa(site.altitude.si()) / PSI,
        }
    }

    /// Water in the tank at a gauge pressure [L].
    pub(super) fn water_l(&self, psi: f64) -> f64 {
        let share = (self.charge_psi + self.atmosphere_psi) / (psi + self.atmosphere_psi);
        self.shell_l * (1.0 - share).max(0.0)
    }

    /// Gauge pressure with so much water [psi]; nothing once it is empty.
    pub(super) fn psi(&self, water_l: f64) -> f64 {
        if water_l <= 0.0 {
            return 0.0;
        }
        let share = 1.0 - water_l / self.shell_l;
        (self.charge_psi + self.atmosphere_psi) / share - self.atmosphere_psi
    }

    /// Gauge pressure after a time with a hole that passes `gpm` at 50 psi and lies
    /// `below_m` metres under the gauge [psi].
    pub(super) fn leaked_psi(&self, from_psi: f64, gpm: f64, below_m: f64, seconds: f64) -> f64 {
        let mut water = self.water_l(from_psi);
        let mut psi = from_psi;
        for _ in 0..seconds as usize {
            let drop = (psi + PSI_PER_M * below_m).max(0.0);
            water -= gpm * L_PER_GAL / 60.0 * (drop / 50.0).sqrt();
            psi = self.psi(water);
        }
        psi
    }
}
