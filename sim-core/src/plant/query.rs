//! What instruments and marks ask of a plant beside its channels.

use super::engine::Plant;
use super::model::OutletClass;
use super::modes::{Air, Bladder};
use super::state::{TANK_CHARGE, TANK_TEMPERATURE};

impl Plant {
    /// Pressure of the atmosphere at the site [Pa, absolute].
    #[must_use]
    pub fn atmosphere_pa(&self) -> f64 {
        self.model.atmosphere_pa
    }

    /// What a tyre gauge would read if the tank were drained now: the air's charge over an
    /// empty bladder [Pa, gauge].
    #[must_use]
    pub fn precharge_pa(&self) -> f64 {
        let y = self.state_now();
        y[TANK_CHARGE] * self.model.gas_constant * y[TANK_TEMPERATURE] / self.model.tank_shell
            - self.model.atmosphere_pa
    }

    /// Pressure at the tank's own connection [Pa, gauge]: that of its air while water is in
    /// it, else that of the tee.
    #[must_use]
    pub fn tank_port_pressure_pa(&self) -> f64 {
        let flows = self.flows_at(&self.state_now());
        let absolute = match self.state.modes.bladder {
            Bladder::Flat => flows.tee.pressure,
            Bladder::Free | Bladder::Full => flows.tank_pressure,
        };
        absolute - self.model.atmosphere_pa
    }

    /// Water that runs from an outlet of the house now [m³/s]; nothing for a number that
    /// the site does not have.
    #[must_use]
    pub fn outlet_flow_m3_per_s(&self, fixture: usize) -> f64 {
        let flows = self.flows_at(&self.state_now());
        let opening = self
            .state
            .controls
            .fixture_openings
            .get(fixture)
            .copied()
            .unwrap_or(0.0);
        if opening <= 0.0 {
            return 0.0;
        }
        let is_it = |class: OutletClass| matches!(class, OutletClass::Fixture(i) if i == fixture);
        let outlet = self.model.outlets.iter().find(|o| is_it(o.class));
        let air: Air = self.state.modes.air;
        outlet.map_or(0.0, |outlet| {
            self.model.outlet(outlet, opening, &flows.house, air).water
        })
    }

    /// Pressure that stands before an outlet of the house at its own height [Pa, gauge];
    /// none for a number that the site does not have.
    #[must_use]
    pub fn outlet_pressure_pa(&self, fixture: usize) -> Option<f64> {
        let is_it = |class: OutletClass| matches!(class, OutletClass::Fixture(i) if i == fixture);
        let outlet = self.model.outlets.iter().find(|o| is_it(o.class))?;
        let flows = self.flows_at(&self.state_now());
        Some(flows.house.pressure - outlet.lift_pa - self.model.atmosphere_pa)
    }
}
