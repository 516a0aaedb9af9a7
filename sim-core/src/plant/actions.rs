//! What a person does to the plant beside setting a valve or a switch: filling, venting,
//! pumping up, putting in new parts.
//!
//! Every action keeps the accounts of water and air: what leaves or comes in is booked.

use super::controls::{Command, Controls, Renewed};
use super::engine::Plant;
use super::model::{Model, TRACE_AIR_KG};
use super::modes::{Air, Bladder, Device, Modes, Trunk};
use super::state::{
    AIR_IN, AIR_OUT, BOWL_AIR, BREAKER_HEAT, DRAINED, DRAWN, IMPELLER_WEAR, INFLOW,
    JOINT_TEMPERATURE, N_STATES, NEEDLE_PRESSURE, PROTECTOR_TEMPERATURE, PUMP_WATER_TEMPERATURE,
    SEAL_WEAR, SOURCE_WATER, TANK_AIR, TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER, TRUNK_FLOW,
    WINDING_TEMPERATURE,
};
use crate::units::convert::PSI;

/// Most that a tyre pump or a small compressor gives [Pa, gauge] (training value).
const AIR_PUMP_PA: f64 = 150.0 * PSI;

impl Plant {
    /// Carries out what a command changes beside the controls, which are about to be
    /// `controls`.
    pub(super) fn act(&mut self, command: Command, controls: &Controls, y: &mut [f64; N_STATES]) {
        self.state.needle_pa = self.needle_after(self.state.needle_pa, y);
        match command {
            Command::Prime => prime(&self.model, y),
            Command::Vent => vent(&self.model, y),
            Command::LowerPump { air_share } => {
                lower_pump(&self.model, &mut self.state.modes, air_share, y);
            }
            Command::TapGauge => {
                self.state.needle_pa = y[NEEDLE_PRESSURE] - self.model.atmosphere_pa;
            }
            Command::AddTankAir { kg } => add_tank_air(&self.model, kg, y),
            Command::SetSourceValve(_) => {
                self.model.mend_trunk(&mut self.state.modes, controls, y);
            }
            Command::FillSource { depth_m } => fill_source(&self.model, depth_m, y),
            Command::Renew(part) => self.renew(part, y),
            _ => {}
        }
    }

    fn renew(&mut self, part: Renewed, y: &mut [f64; N_STATES]) {
        let model = &self.model;
        let modes = &mut self.state.modes;
        let worst_is_contact = model
            .circuit
            .as_ref()
            .is_some_and(|c| c.reduction.worst_joint_is_contact());
        match part {
            Renewed::Pump => {
                modes.damage.seal = false;
                modes.damage.impellers = false;
                y[SEAL_WEAR] = 0.0;
                y[IMPELLER_WEAR] = 0.0;
                y[PUMP_WATER_TEMPERATURE] = model.water_k;
            }
            Renewed::Motor => {
                modes.damage.winding = false;
                modes.circuit.protector = Device::Closed;
                modes.circuit.start_switch = Device::Closed;
                self.state.winding_wear = 0.0;
                y[WINDING_TEMPERATURE] = model.water_k;
                y[PROTECTOR_TEMPERATURE] = model.water_k;
            }
            Renewed::Tank => renew_tank(model, modes, y),
            // Only the worst joint burns: what is renewed beside it makes no difference.
            Renewed::Contacts | Renewed::Joints => {
                if worst_is_contact == (part == Renewed::Contacts) {
                    modes.circuit.joint_level = 0;
                    y[JOINT_TEMPERATURE] = model.ambient_k;
                }
            }
            Renewed::Breaker => {
                modes.circuit.breaker = Device::Closed;
                modes.circuit.ground_fault = Device::Closed;
                y[BREAKER_HEAT] = 0.0;
            }
        }
    }

    /// Gauge pressure that a tyre gauge reads at the tank's air valve now [Pa]: the
    /// precharge only when no water is in the tank.
    #[must_use]
    pub fn tank_charge_pressure_pa(&self) -> f64 {
        self.flows_at(&self.state_now()).tank_pressure - self.model.atmosphere_pa
    }

    /// Air to put in (negative: to let out) by the tank's air valve, so that a tyre gauge
    /// reads that gauge pressure [kg], with the water that is in the tank now.
    #[must_use]
    pub fn tank_air_to_reach_kg(&self, gauge_pa: f64) -> f64 {
        let (y, model) = (self.state_now(), &self.model);
        let pocket = y[TANK_AIR] * model.pipe_air_rt;
        let room = model.tank_shell - y[TANK_WATER];
        let wanted = (gauge_pa + model.atmosphere_pa) * room - pocket;
        wanted / (model.gas_constant * y[TANK_TEMPERATURE]) - y[TANK_CHARGE]
    }

    /// Whether water comes out of the tank's air valve when its pin is pressed: the
    /// bladder is torn and water stands on the side of the air.
    #[must_use]
    pub fn air_valve_shows_water(&self) -> bool {
        self.model.defects.tank_air_left_m3.is_some() && self.state_now()[TANK_WATER] > 1e-4
    }

    /// Whether the pump's check valve, or the valve above it, lets nothing through but
    /// what a shut seat lets weep.
    #[must_use]
    pub fn check_closed(&self) -> bool {
        self.state.modes.trunk == Trunk::Shut
    }
}

impl Model {
    /// Puts the water's way through pump and run into a mode that is possible with these
    /// controls: shut where a valve or a stuck check valve bars it, open where nothing can
    /// shut.  A column that is barred stands at once; its bang is left out.
    pub(crate) fn mend_trunk(
        &self,
        modes: &mut Modes,
        controls: &Controls,
        y: &mut [f64; N_STATES],
    ) {
        if controls.source_valve_opening <= 0.0 || self.checks.stuck_shut {
            modes.trunk = Trunk::Shut;
            y[TRUNK_FLOW] = 0.0;
        } else if !self.checks.can_shut && modes.trunk == Trunk::Shut {
            modes.trunk = Trunk::Open;
            y[TRUNK_FLOW] = 0.0;
        }
    }
}

/// Brings water to the source; what is there already is not taken away.
fn fill_source(model: &Model, depth_m: f64, y: &mut [f64; N_STATES]) {
    let added = model.site.source.volume_m3(depth_m) - y[SOURCE_WATER];
    if added > 0.0 {
        y[SOURCE_WATER] += added;
        y[INFLOW] += added;
    }
}

/// Puts water from a can in the place of the air in the pump.
fn prime(model: &Model, y: &mut [f64; N_STATES]) {
    let air = y[BOWL_AIR];
    y[BOWL_AIR] = 0.0;
    y[AIR_OUT] += air;
    y[INFLOW] += model.bowl_volume * air / model.bowl_air_full;
}

/// Lets water of the source take the place of the air in a pump that stands in it.
fn vent(model: &Model, y: &mut [f64; N_STATES]) {
    let surface = model.source.surface_elevation_m(y[SOURCE_WATER]);
    let air = y[BOWL_AIR];
    let volume = model.bowl_volume * air / model.bowl_air_full;
    if surface <= model.pump_elevation || volume > y[SOURCE_WATER] {
        return;
    }
    y[BOWL_AIR] = 0.0;
    y[AIR_OUT] += air;
    y[SOURCE_WATER] -= volume;
    y[DRAWN] += volume;
}

/// Leaves the pump with a share of air in its bowl; the water that was there falls back
/// into the source, or comes from it.
fn lower_pump(model: &Model, modes: &mut Modes, air_share: f64, y: &mut [f64; N_STATES]) {
    let more = air_share * model.bowl_air_full - y[BOWL_AIR];
    let volume = model.bowl_volume * more / model.bowl_air_full;
    y[BOWL_AIR] += more;
    if more > 0.0 {
        y[AIR_IN] += more;
    } else {
        y[AIR_OUT] -= more;
    }
    y[SOURCE_WATER] += volume;
    y[DRAWN] -= volume;
    // The column stands on the check valve while the pump is away.
    y[TRUNK_FLOW] = 0.0;
    if model.checks.can_shut {
        modes.trunk = Trunk::Shut;
    }
    if y[BOWL_AIR] > 0.0 {
        modes.air = Air::Moving;
    }
}

/// Changes the tank's air charge.  Its temperature stays: the heat of pumping up is left
/// out.
fn add_tank_air(model: &Model, kg: f64, y: &mut [f64; N_STATES]) {
    let room = model.tank_shell - y[TANK_WATER];
    let pocket = y[TANK_AIR] * model.pipe_air_rt;
    let at = |gauge_pa: f64| {
        ((model.atmosphere_pa + gauge_pa) * room - pocket)
            / (model.gas_constant * y[TANK_TEMPERATURE])
    };
    // An open air valve lets no more out than stands above air pressure, and a pump gives
    // no more than it can.
    let least = at(0.0).min(y[TANK_CHARGE]).max(TRACE_AIR_KG);
    let most = at(AIR_PUMP_PA).max(y[TANK_CHARGE]);
    y[TANK_CHARGE] = (y[TANK_CHARGE] + kg).max(least).min(most);
}

/// A new tank, empty of water and charged; what was in the old one is poured away.
fn renew_tank(model: &Model, modes: &mut Modes, y: &mut [f64; N_STATES]) {
    let precharge = model.atmosphere_pa + model.site.tank.precharge.si();
    y[DRAINED] += y[TANK_WATER];
    y[TANK_WATER] = 0.0;
    y[AIR_OUT] += y[TANK_AIR];
    y[TANK_AIR] = 0.0;
    y[TANK_TEMPERATURE] = model.ambient_k;
    y[TANK_CHARGE] = precharge * model.tank_shell / (model.gas_constant * model.ambient_k);
    modes.bladder = Bladder::Flat;
    modes.bladder_released = false;
}

#[cfg(test)]
mod tests;
