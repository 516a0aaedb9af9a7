//! How a plant stands before anything is done to it.

use serde::{Deserialize, Serialize};

use super::controls::Controls;
use super::engine::{Plant, PlantState, Tick};
use super::model::{Model, Node, TRACE_AIR_KG};
use super::modes::{
    Air, Bladder, Circuit, Contacts, Damage, Device, Front, Modes, Shaft, SmallDraw, Trunk,
};
use super::repeats::Repeats;
use super::rosenbrock::Step;
use super::state::{
    BOWL_AIR, HOUSE_AIR, HOUSE_WATER, JOINT_TEMPERATURE, LINE_AIR, LINE_WATER, N_STATES,
    NEEDLE_PRESSURE, PROTECTOR_TEMPERATURE, PUMP_WATER_TEMPERATURE, SENSED_PRESSURE, SOURCE_WATER,
    TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER, TEE_AIR, TEE_WATER, WINDING_TEMPERATURE,
};
use crate::faults::{Defects, Fault, effective_site, leave_settings};
use crate::site::SiteSpec;

/// How the system stands at the start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Start {
    /// Never had water: pipes full of air, tank empty, breaker off, house valve shut.
    Dry,
    /// Pipes full of water without pressure, tank empty, breaker off.
    Primed,
    /// In service, just after the pump stopped and the tank's air has cooled.
    Charged,
}

/// Why a plant could not be built.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BuildError {
    /// A fault needs a part that the site does not have.
    #[error("{fault} needs a {part}, and {site} has none")]
    NoSuchPart {
        /// The fault's name.
        fault: &'static str,
        /// The part it needs.
        part: &'static str,
        /// The site's name.
        site: String,
    },
}

impl Plant {
    /// Builds the plant of a site with some faults.
    ///
    /// # Errors
    /// When a fault needs a part that the site does not have.
    pub fn build(site: &SiteSpec, faults: &[Fault], start: Start) -> Result<Self, BuildError> {
        check_needs(site, faults)?;
        let model = Model::new(effective_site(site, faults), Defects::of(site, faults));
        let state = initial(&model, start, faults);
        Ok(Self::assemble(model, state))
    }
}

/// Refuses faults of parts that the site does not have.
pub(crate) fn check_needs(site: &SiteSpec, faults: &[Fault]) -> Result<(), BuildError> {
    for fault in faults {
        let info = fault.info();
        if let Some(need) = info.needs.iter().find(|need| !need.is_met_by(site)) {
            return Err(BuildError::NoSuchPart {
                fault: info.name,
                part: need.part(),
                site: site.name.clone(),
            });
        }
    }
    Ok(())
}

fn initial(model: &Model, start: Start, faults: &[Fault]) -> PlantState {
    let site = &model.site;
    let mut controls = Controls::in_service(site);
    let mut y = [0.0; N_STATES];

    let precharge = model.atmosphere_pa + site.tank.precharge.si();
    let charge_volume = model.defects.tank_air_left_m3.unwrap_or(model.tank_shell);
    y[TANK_TEMPERATURE] = model.ambient_k;
    y[TANK_CHARGE] =
        precharge * charge_volume.min(model.tank_shell) / (model.gas_constant * model.ambient_k);
    y[SOURCE_WATER] = model.source.initial_volume_m3();

    let pressure = match start {
        Start::Charged => model.atmosphere_pa + controls.cut_out.si(),
        Start::Dry | Start::Primed => model.atmosphere_pa,
    };
    let mut bladder = Bladder::Flat;
    // What the air at that pressure leaves room for: nothing in a sound tank without
    // pressure, all but a glassful in a waterlogged one, whatever the pipes hold.
    let gas = y[TANK_CHARGE] * model.gas_constant * model.ambient_k / pressure;
    let water = model.tank_shell - gas;
    let lifts = pressure - precharge > model.defects.bladder_sticks_pa;
    if water > 0.0 && (lifts || model.defects.bladder_sticks_pa == 0.0) {
        bladder = if water < model.tank_acceptance {
            Bladder::Free
        } else {
            Bladder::Full
        };
        y[TANK_WATER] = water.min(model.tank_acceptance);
    }
    let nodes = [
        (Some(model.tee), TEE_WATER, TEE_AIR),
        (Some(model.house), HOUSE_WATER, HOUSE_AIR),
        (model.line, LINE_WATER, LINE_AIR),
    ];
    for (node, water, air) in nodes {
        if let Some(node) = node {
            (y[water], y[air]) = fill(model, &node, pressure, start == Start::Dry);
        }
    }
    y[SENSED_PRESSURE] = pressure;
    y[NEEDLE_PRESSURE] = pressure;
    // A pump in the water floods as it is lowered; one above it waits to be primed.
    let is_unprimed =
        start == Start::Dry && site.pump.placement == crate::parts::PumpPlacement::SuctionLift;
    let air_share = model.defects.trapped_air_share.unwrap_or(0.0);
    y[BOWL_AIR] = if is_unprimed { 1.0 } else { air_share } * model.bowl_air_full;

    y[PUMP_WATER_TEMPERATURE] = model.water_k;
    y[WINDING_TEMPERATURE] = model.water_k;
    y[PROTECTOR_TEMPERATURE] = model.water_k;
    y[JOINT_TEMPERATURE] = model.ambient_k;

    if start != Start::Charged {
        controls.breaker_on = false;
    }
    if start == Start::Dry {
        controls.house_valve_opening = 0.0;
    }
    leave_settings(&mut controls, site, faults);
    let has_air = start == Start::Dry || y[BOWL_AIR] > 0.0;
    let modes = Modes {
        contacts: if start == Start::Charged {
            Contacts::Open
        } else {
            Contacts::Closed
        },
        shaft: Shaft::Resting,
        trunk: if model.checks.can_shut || controls.source_valve_opening <= 0.0 {
            Trunk::Shut
        } else {
            Trunk::Open
        },
        bladder,
        bladder_released: bladder != Bladder::Flat,
        air: if has_air { Air::Moving } else { Air::Settled },
        front: if start == Start::Dry {
            Front::Coming
        } else {
            Front::Solid
        },
        circuit: Circuit {
            float: model.defects.float_stuck.unwrap_or(Device::Closed),
            low_pressure: if model.defects.cut_off_tripped {
                Device::Open
            } else {
                Device::Closed
            },
            breaker: if model.defects.breaker_tripped {
                Device::Open
            } else {
                Device::Closed
            },
            ..Circuit::ready()
        },
        damage: Damage::default(),
        small_draw: match &model.defects.small_draws {
            Some(draws) => SmallDraw::Shut(draws.every_s - draws.open_s),
            None => SmallDraw::Never,
        },
    };
    PlantState {
        now: Tick(0),
        step_start_s: 0.0,
        step: Step::resting(y),
        ending: None,
        next_length_s: 1e-3,
        modes,
        controls,
        powered_since_s: None,
        starts: 0,
        feeds: 0,
        run_s: 0.0,
        lowest_house_pa: None,
        needle_pa: pressure - model.atmosphere_pa,
        winding_wear: 0.0,
        changes: (0.0, 0),
        repeats: Repeats::default(),
    }
}

/// Excess water and air of a node at a pressure.
fn fill(model: &Model, node: &Node, pressure: f64, is_dry: bool) -> (f64, f64) {
    if is_dry {
        let air = (pressure - model.vapor_pa) * node.volume / model.pipe_air_rt;
        (
            node.capacity * (pressure - model.atmosphere_pa) - node.volume,
            air,
        )
    } else {
        let pocket = TRACE_AIR_KG * model.pipe_air_rt / (pressure - model.vapor_pa);
        (
            node.capacity * (pressure - model.atmosphere_pa) - pocket,
            TRACE_AIR_KG,
        )
    }
}
