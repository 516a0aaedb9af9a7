//! Repairs and alterations: the plant goes on from where it stands with other constants.
//!
//! A repair takes a fault out of the list, a new setting or a bigger part changes the
//! site.  Everything that moves is kept: water, air, charge, temperatures, wear, needle,
//! controls, counts.  Only what has no place in the new plant is mended:
//!
//! - Pipes of other volume or stiffness keep their pressure, and as much of their air as
//!   fits.  A tank of another shell keeps its pressure and as much of its water as fits.
//!   What that takes in water or air is booked as brought in or poured out.
//! - A check valve that comes or goes between run and tee parts or joins their water.
//! - Modes that no longer make sense: a trunk held shut by nothing, a float that is free
//!   again, a device that is no longer there.
//!
//! Controls stay as a person has set them, whatever the faults' settings say.

use super::circuit::CircuitModel;
use super::engine::{Plant, PlantState};
use super::model::{Model, Node, TRACE_AIR_KG};
use super::modes::{Bladder, Circuit, Contacts, Device};
use super::observe::Balance;
use super::start::{BuildError, check_needs};
use super::state::{
    AIR_IN, AIR_OUT, BOWL_AIR, DRAINED, HOUSE_AIR, HOUSE_WATER, INFLOW, JOINT_TEMPERATURE,
    LINE_AIR, LINE_WATER, N_STATES, SOURCE_WATER, TANK_AIR, TANK_CHARGE, TANK_WATER, TEE_AIR,
    TEE_WATER,
};
use crate::faults::{Defects, Fault, effective_site};
use crate::site::SiteSpec;

impl Plant {
    /// Goes on at the present tick as the plant of that site with those faults; the site
    /// is the one without faults, as for [`Plant::build`].
    ///
    /// # Errors
    /// When a fault needs a part that the site does not have; nothing is changed then.
    pub fn refit(&mut self, site: &SiteSpec, faults: &[Fault]) -> Result<(), BuildError> {
        check_needs(site, faults)?;
        let model = Model::after(
            &self.model,
            effective_site(site, faults),
            Defects::of(site, faults),
        );
        self.exchange_model(model, |old, new, state, y| {
            let before = Balance::of(old, y);
            carry_bowl(old, new, y);
            carry_nodes(old, new, y);
            carry_tank(old, new, state, y);
            book(before, Balance::of(new, y), y);
            mend_modes(old, new, state, y);
        });
        Ok(())
    }
}

/// Books what the refit has brought in or poured out, so that the accounts stay level.
fn book(before: Balance, after: Balance, y: &mut [f64; N_STATES]) {
    let water = after.water_m3 - before.water_m3;
    if water > 0.0 {
        y[INFLOW] += water;
    } else {
        y[DRAINED] -= water;
    }
    let air = after.air_kg - before.air_kg;
    if air > 0.0 {
        y[AIR_IN] += air;
    } else {
        y[AIR_OUT] -= air;
    }
}

/// A bowl of another size holds the same share of air.
fn carry_bowl(old: &Model, new: &Model, y: &mut [f64; N_STATES]) {
    if old.bowl_air_full != new.bowl_air_full {
        y[BOWL_AIR] *= new.bowl_air_full / old.bowl_air_full;
    }
}

/// Gauge pressure [Pa] and volume of air [m³] in a node.
fn reading(model: &Model, node: &Node, water: f64, air: f64) -> (f64, f64) {
    let state = model.node(node, water, air);
    (state.pressure - model.atmosphere_pa, state.air_volume)
}

/// Excess water and air of a node at a gauge pressure with a volume of air.
fn contents(model: &Model, node: &Node, gauge_pa: f64, air_m3: f64) -> (f64, f64) {
    // Not below the vapour pressure, which a colder place may have had.
    let absolute = (gauge_pa + model.atmosphere_pa).max(model.vapor_pa + 1.0);
    let density = (absolute - model.vapor_pa) / model.pipe_air_rt;
    let air = (air_m3.min(node.volume) * density).max(TRACE_AIR_KG);
    let pocket = air / density;
    (
        node.capacity * (absolute - model.atmosphere_pa) - pocket,
        air,
    )
}

fn carry_nodes(old: &Model, new: &Model, y: &mut [f64; N_STATES]) {
    let same_fluids = old.vapor_pa == new.vapor_pa
        && old.pipe_air_rt == new.pipe_air_rt
        && old.atmosphere_pa == new.atmosphere_pa;
    if !(same_fluids && old.house == new.house) {
        let (gauge, air) = reading(old, &old.house, y[HOUSE_WATER], y[HOUSE_AIR]);
        (y[HOUSE_WATER], y[HOUSE_AIR]) = contents(new, &new.house, gauge, air);
    }
    if same_fluids && old.tee == new.tee && old.line == new.line {
        return;
    }
    let (tee_gauge, tee_air) = reading(old, &old.tee, y[TEE_WATER], y[TEE_AIR]);
    let set = |y: &mut [f64; N_STATES], (water, air): (f64, f64)| {
        (y[TEE_WATER], y[TEE_AIR]) = (water, air);
    };
    match (&old.line, &new.line) {
        (None, None) => set(y, contents(new, &new.tee, tee_gauge, tee_air)),
        (Some(was), Some(is)) => {
            let (gauge, air) = reading(old, was, y[LINE_WATER], y[LINE_AIR]);
            (y[LINE_WATER], y[LINE_AIR]) = contents(new, is, gauge, air);
            set(y, contents(new, &new.tee, tee_gauge, tee_air));
        }
        (None, Some(line)) => {
            // The wall's own pipework is the top of the run: air gathers there first.
            let at_wall = tee_air.min(new.tee.mixing_volume);
            (y[LINE_WATER], y[LINE_AIR]) = contents(new, line, tee_gauge, tee_air - at_wall);
            set(y, contents(new, &new.tee, tee_gauge, at_wall));
        }
        (Some(line), None) => {
            let same_pipes = same_fluids
                && line.volume + old.tee.volume == new.tee.volume
                && line.capacity + old.tee.capacity == new.tee.capacity;
            if same_pipes {
                // Two waters that flow together: the pressure finds its own level.
                y[TEE_WATER] += y[LINE_WATER];
                y[TEE_AIR] += y[LINE_AIR];
            } else {
                let (_, air) = reading(old, line, y[LINE_WATER], y[LINE_AIR]);
                set(y, contents(new, &new.tee, tee_gauge, tee_air + air));
            }
            (y[LINE_WATER], y[LINE_AIR]) = (0.0, 0.0);
        }
    }
}

fn carry_tank(old: &Model, new: &Model, state: &mut PlantState, y: &mut [f64; N_STATES]) {
    if old.tank_shell != new.tank_shell {
        // Another tank, at the same pressure: its charge goes with the room left to it.
        let room = old.tank_shell - y[TANK_WATER];
        y[TANK_WATER] = y[TANK_WATER].min(new.tank_acceptance);
        y[TANK_CHARGE] *= (new.tank_shell - y[TANK_WATER]) / room;
    }
    // Flat and free are ended by their guards.
    if state.modes.bladder == Bladder::Full {
        let charge = y[TANK_CHARGE] * y[super::state::TANK_TEMPERATURE] * new.gas_constant;
        let pocket = y[TANK_AIR] * new.pipe_air_rt;
        let gas = new.tank_shell - y[TANK_WATER];
        let displaced = y[TANK_WATER] + pocket * gas / (charge + pocket);
        if displaced < new.tank_acceptance * (1.0 - 1e-9) {
            state.modes.bladder = Bladder::Free;
        }
    }
}

fn mend_modes(old: &Model, new: &Model, state: &mut PlantState, y: &mut [f64; N_STATES]) {
    let n_fixtures = new.site.house.fixtures.len();
    state.controls.fixture_openings.resize(n_fixtures, 0.0);
    new.mend_trunk(&mut state.modes, &state.controls, y);
    let circuit = &mut state.modes.circuit;
    let Some(is) = &new.circuit else {
        *circuit = Circuit::ready();
        return;
    };
    let surface = new.source.surface_elevation_m(y[SOURCE_WATER]);
    let depth_m = surface - new.source.floor_m();
    circuit.float = match (is.float_stuck, &is.float) {
        (Some(stuck), _) => stuck,
        (None, None) => Device::Closed,
        (None, Some(float)) if depth_m <= float.stops_at.si() => Device::Open,
        (None, Some(float)) if depth_m >= float.starts_at.si() => Device::Closed,
        (None, Some(_)) => circuit.float,
    };
    if is.low_pressure_pa.is_none() {
        circuit.low_pressure = Device::Closed;
    }
    if is.ground_fault_trip_a.is_none() {
        circuit.ground_fault = Device::Closed;
    }
    if !is.has_start_switch {
        circuit.start_switch = Device::Closed;
    }
    let was_joint = old.circuit.as_ref().map(CircuitModel::worst_joint);
    if was_joint != Some(is.worst_joint()) {
        // Another joint is the worst now, and has not burnt.
        circuit.joint_level = 0;
        y[JOINT_TEMPERATURE] = new.ambient_k;
    }
    if is.contacts_welded && state.modes.contacts == Contacts::Open {
        state.modes.contacts = Contacts::Closed;
    }
}

#[cfg(test)]
mod tests;
