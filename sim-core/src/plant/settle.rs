//! Moving the water of a plant that is only thought of, so that it agrees with what was
//! read at a real one: nobody knows beforehand how full the tank is.
//!
//! This keeps no account of the water: never for a plant whose balance matters.

use super::engine::Plant;
use super::modes::Bladder;
use super::state::{NEEDLE_PRESSURE, TANK_WATER};

/// Least room for air that is left in a tank, as a share of its shell.
const LEAST_ROOM: f64 = 1e-3;

impl Plant {
    /// Takes water out of the tank or puts some in, so that its pressure changes by so much
    /// [Pa] at the same air; the gauge's movement goes with it.  Says whether it could.
    pub(crate) fn shift_tank_pressure(&mut self, difference_pa: f64) -> bool {
        if self.state.modes.bladder != Bladder::Free || !difference_pa.is_finite() {
            return false;
        }
        let (now_s, mut y) = (self.state.now.seconds(), self.state_now());
        let pressure = self.flows_at(&y).tank_pressure;
        let wanted = pressure + difference_pa;
        let shell = self.model.tank_shell;
        if wanted <= 0.5 * self.model.atmosphere_pa {
            return false;
        }
        // Isothermal: p V of the air stays.
        let room = ((shell - y[TANK_WATER]) * pressure / wanted).max(LEAST_ROOM * shell);
        if room >= shell {
            return false;
        }
        self.state.needle_pa = self.needle_after(self.state.needle_pa, &y) + difference_pa;
        y[TANK_WATER] = shell - room;
        y[NEEDLE_PRESSURE] += difference_pa;
        self.start_afresh(now_s, y);
        true
    }
}
