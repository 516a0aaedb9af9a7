//! What stands, flows and glows at the present tick: the physical quantities that ears,
//! eyes, hands and noses go by, worked out once for all of them.
//!
//! Nothing here says which fault there is; holes and joints are known by what passes
//! them.

use super::engine::Plant;
use super::flows::{Flows, JET_EASING_PA, NodeState, eased};
use super::model::{Outlet, OutletClass, OutletNode};
use super::modes::Shaft;
use super::state::{
    JOINT_TEMPERATURE, LEAKED, LINE_AIR, N_STATES, NEEDLE_PRESSURE, PUMP_WATER_TEMPERATURE,
    SHAFT_SPEED, TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER, TRUNK_FLOW, WINDING_TEMPERATURE,
};
use crate::faults::LeakPlace;
use crate::parts::{PumpMap, PumpPlacement};
use crate::water::hammer::wave_speed_m_per_s;
use crate::water::losses::circle_area_m2;

/// Where the joint is that heats most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum HotJoint {
    /// In the splice box.
    Splice,
    /// The pressure switch's contacts.
    Contacts,
}

/// Physical quantities at the present tick; SI units, pressures over the atmosphere.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Conditions {
    pub(crate) is_powered: bool,
    pub(crate) is_turning: bool,
    /// Shaft speed over the speed at rated power [-].
    pub(crate) speed_share: f64,
    /// Change of that in a second [1/s].
    pub(crate) speed_rate: f64,
    /// Line current over that of the nameplate, at an efficiency times power factor of
    /// 0.5 (training value) [-]; nought where the site has no wiring.
    pub(crate) current_share: f64,
    pub(crate) line_current_a: f64,
    /// Shaft power over the greatest of the pump's curve [-].
    pub(crate) load_share: f64,
    /// Shaft power beyond what the water asks, over rated power [-].
    pub(crate) drag_share: f64,
    /// NPSH available over required; large when no water moves.
    pub(crate) npsh_ratio: f64,
    pub(crate) bowl_air_share: f64,
    /// Flow from the pump [m³/s], negative when it runs back.
    pub(crate) pump_flow: f64,
    /// Water that runs back into the source [m³/s].
    pub(crate) running_back: f64,
    /// Inside section of the run's last pipe [m²].
    pub(crate) run_area_m2: f64,
    /// Surge per metre a second stopped in that pipe, ρ·c [Pa·s/m].
    pub(crate) surge_pa_s_per_m: f64,
    pub(crate) tee_pa: f64,
    /// How fast the gauge's movement goes [Pa/s].
    pub(crate) needle_rate: f64,
    pub(crate) tee_air_share: f64,
    pub(crate) house_air_share: f64,
    /// Water [m³/s] and air [kg/s] from the outlets; air is negative when drawn in.
    pub(crate) used_water: f64,
    pub(crate) used_air: f64,
    pub(crate) drained_water: f64,
    pub(crate) drained_air: f64,
    pub(crate) relieved: f64,
    /// From holes in the part of the run that hangs in the source [m³/s].
    pub(crate) leaked_into_source: f64,
    /// What has gone into the ground from holes in the buried run [m³].
    pub(crate) lost_in_ground_m3: f64,
    pub(crate) leaked_at_wall: f64,
    /// All that leaks behind the house valve, and what of it runs into a toilet's bowl
    /// [m³/s].
    pub(crate) leaked_in_house: f64,
    pub(crate) leaked_into_bowl: f64,
    /// Air in the run beyond a trace, as share of its volume at air pressure [-].
    pub(crate) run_air_share: f64,
    /// Depth of water in the source, of its surface under the ground, over the intake [m].
    pub(crate) depth_m: f64,
    pub(crate) surface_m: f64,
    pub(crate) submergence_m: f64,
    /// Air share of what the intake draws [-]: 0 unless the pump draws.
    pub(crate) intake_air_share: f64,
    pub(crate) overflow: f64,
    /// Resistance of the worse of the closed contacts [Ω].
    pub(crate) contact_ohm: f64,
    pub(crate) hot_joint: HotJoint,
    pub(crate) joint_k: f64,
    pub(crate) joint_burns: u8,
    pub(crate) winding_k: f64,
    pub(crate) pump_water_k: f64,
    /// Water in the tank over its shell [-].
    pub(crate) tank_water_share: f64,
    /// Pressure of the tank's air [Pa, gauge].
    pub(crate) tank_air_pa: f64,
}

/// Efficiency times power factor of a small single-phase motor (training value).
const NAMEPLATE_FACTOR: f64 = 0.5;

impl Plant {
    /// Works out what there is to be perceived.
    pub(crate) fn conditions(&self) -> Conditions {
        let y = self.state_now();
        let f = self.flows_at(&y);
        let model = &self.model;
        let site = &model.site;
        let modes = &self.state.modes;
        let atmosphere = model.atmosphere_pa;
        let is_turning = modes.shaft == Shaft::Turning;
        let speed = if is_turning { y[SHAFT_SPEED] } else { 0.0 };
        let flow = f.trunk_water.max(0.0);
        let rated_speed = site.motor.full_load_speed.si();
        let rated_w = site.motor.rated_power.si();
        let nameplate_a = rated_w / (NAMEPLATE_FACTOR * site.motor.rated_voltage.si());
        let density = model.density;
        let suction_loss = flow * flow * model.suction_quadratic
            + model
                .suction_friction
                .as_ref()
                .map_or(0.0, |table| table.loss_pa(flow));
        let available = model.npsh_available_m(f.surface, suction_loss);
        let required = model.pump.npsh_required_m(flow, speed);
        let head_share = PumpMap::head_share_with_air(f.bowl_share)
            * PumpMap::head_share_at_npsh(available, required);
        let hydraulic_w = model.pump.torque_nm(y[TRUNK_FLOW].max(0.0), speed)
            * PumpMap::torque_share(head_share)
            * speed;
        let most_w = most_shaft_power_w(&model.pump);
        let pipe = site.run.last();
        let sound =
            crate::water::WaterProperties::at(site.water_temperature).speed_of_sound_m_per_s;
        let holes = self.holes(&y, &f);
        let contact_ohm = model.circuit.as_ref().map_or(0.0, |circuit| {
            let [a, b] = circuit
                .reduction
                .defects_at(usize::from(modes.circuit.joint_level))
                .contact_ohm;
            a.max(b)
        });
        let charge_pa = y[TANK_CHARGE] * y[TANK_TEMPERATURE] * model.gas_constant
            / (model.tank_shell - y[TANK_WATER]).max(1e-9);
        Conditions {
            is_powered: self.is_powered(),
            is_turning,
            speed_share: speed / rated_speed,
            speed_rate: f.shaft_acceleration / rated_speed,
            current_share: f.line_current / nameplate_a,
            line_current_a: f.line_current,
            load_share: f.shaft_power / most_w,
            drag_share: (f.shaft_power - hydraulic_w) / rated_w,
            npsh_ratio: if is_turning && flow > 0.0 {
                available / required.max(1e-3)
            } else {
                f64::MAX
            },
            bowl_air_share: f.bowl_share,
            pump_flow: f.trunk_water,
            running_back: (-f.trunk_water).max(0.0),
            run_area_m2: pipe.map_or(1.0, |p| circle_area_m2(p.inside_diameter.si())),
            surge_pa_s_per_m: pipe.map_or(0.0, |p| density * wave_speed_m_per_s(p, sound, density)),
            tee_pa: f.tee.pressure - atmosphere,
            needle_rate: model.needle_rate * (f.tee.pressure - y[NEEDLE_PRESSURE]),
            tee_air_share: f.tee.air_share,
            house_air_share: f.house.air_share,
            used_water: f.used.water,
            used_air: f.used.air,
            drained_water: f.drained.water,
            drained_air: f.drained.air,
            relieved: f.relieved,
            leaked_into_source: holes.into_source,
            lost_in_ground_m3: y[LEAKED].max(0.0) * holes.ground_share,
            leaked_at_wall: holes.at_wall,
            leaked_in_house: f.leaked_house.water.max(0.0),
            leaked_into_bowl: holes.into_bowl,
            run_air_share: y[LINE_AIR] * model.pipe_air_rt / atmosphere / model.run_volume,
            depth_m: f.surface - model.source.floor_m(),
            surface_m: f.surface,
            submergence_m: f.submergence,
            intake_air_share: if f.trunk_water > 0.0 || f.intake_air > 0.0 {
                model.intake.air_share(f.submergence)
            } else {
                0.0
            },
            overflow: f.overflow,
            contact_ohm,
            hot_joint: self.hot_joint(),
            joint_k: y[JOINT_TEMPERATURE],
            joint_burns: modes.circuit.joint_level,
            winding_k: y[WINDING_TEMPERATURE],
            pump_water_k: y[PUMP_WATER_TEMPERATURE],
            tank_water_share: y[TANK_WATER] / model.tank_shell,
            tank_air_pa: charge_pa - atmosphere,
        }
    }

    /// Where the joint is whose temperature is followed.
    fn hot_joint(&self) -> HotJoint {
        let Some(circuit) = &self.model.circuit else {
            return HotJoint::Contacts;
        };
        let defects = circuit.reduction.defects_at(0);
        let contact = defects.contact_ohm[0].max(defects.contact_ohm[1]);
        let splice = defects
            .splice_ohm
            .iter()
            .fold(0.0_f64, |worst, ohm| worst.max(ohm.unwrap_or(0.0)));
        if splice > contact {
            HotJoint::Splice
        } else {
            HotJoint::Contacts
        }
    }

    /// What runs out of holes in front of the house valve, by where they open.
    fn holes(&self, y: &[f64; N_STATES], f: &Flows<f64>) -> Holes {
        let model = &self.model;
        let mut holes = Holes::default();
        let (mut in_ground, mut all) = (0.0, 0.0);
        // The model has an outlet for each leak, in the same order.
        let outlets = model.outlets.iter();
        let leaks = outlets.filter(|hole| hole.class == OutletClass::Leak);
        for (hole, leak) in leaks.zip(&model.defects.leaks) {
            let size = hole.jet.flow(1e5, 1.0);
            all += size;
            match hole.node {
                OutletNode::House if leak.place == LeakPlace::Toilet => {
                    holes.into_bowl += jet_m3_per_s(hole, &f.house, model.atmosphere_pa);
                }
                OutletNode::House => {}
                OutletNode::Tee => holes.at_wall += jet_m3_per_s(hole, &f.tee, model.atmosphere_pa),
                OutletNode::Run => {
                    let end = if model.line.is_some() {
                        &f.line
                    } else {
                        &f.tee
                    };
                    if self.opens_into_source(hole) {
                        holes.into_source += jet_m3_per_s(hole, end, model.atmosphere_pa);
                    } else {
                        in_ground += size;
                    }
                }
            }
        }
        if all > 0.0 && y[LEAKED] > 0.0 {
            holes.ground_share = in_ground / all;
        }
        holes
    }

    /// Whether a hole of the run is in its first pipe, which hangs in the source: the run
    /// rises all the way, so a hole below that pipe's upper end is in it.
    fn opens_into_source(&self, hole: &Outlet) -> bool {
        let site = &self.model.site;
        let elevation = site.wall.elevation.si() + hole.lift_pa / self.model.weight;
        site.pump.placement == PumpPlacement::Submersible
            && site.run.len() > 1
            && elevation < site.pump.elevation.si() + site.run[0].rise.si()
    }
}

/// What runs out of holes [m³/s].
#[derive(Debug, Clone, Copy, Default)]
struct Holes {
    into_source: f64,
    into_bowl: f64,
    at_wall: f64,
    /// Share of the holes' size that is in the ground, of all that have leaked.
    ground_share: f64,
}

/// Water out of a hole at a node's pressure.
fn jet_m3_per_s(hole: &Outlet, node: &NodeState<f64>, atmosphere_pa: f64) -> f64 {
    let wet = 1.0 - node.air_share;
    let drop = node.pressure - wet * hole.lift_pa - atmosphere_pa;
    if drop > 0.0 {
        wet * hole.jet.flow(eased(drop, JET_EASING_PA), 1.0)
    } else {
        0.0
    }
}

/// Greatest shaft power of a pump's curve at rated speed [W], looked for in twelfths.
fn most_shaft_power_w(pump: &PumpMap) -> f64 {
    let (speed, most) = (pump.rated_speed_rad_per_s(), pump.max_flow_m3_per_s());
    (0..=12)
        .map(|i| pump.torque_nm(most * f64::from(i) / 12.0, speed) * speed)
        .fold(1.0, f64::max)
}
