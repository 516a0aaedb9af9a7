//! The conditions that end a mode, as numbers that turn positive when they are met.

use super::circuit;
use super::controls::Controls;
use super::flows::{Flows, N_CORE};
use super::model::{Model, OutletNode};
use super::modes::{Air, Bladder, Contacts, Front, Guard, Modes, Shaft, Trunk};
use super::state::{
    N_STATES, SENSED_PRESSURE, SHAFT_SPEED, TANK_AIR, TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER,
    TRUNK_FLOW,
};

/// Speed at which a coasting shaft is caught by friction [rad/s].
const STOP_SPEED: f64 = 1.0;
/// Pressure that lifts a flat bladder off its port [Pa].
const BLADDER_LIFT_PA: f64 = 20.0;
/// Volume by which a step may carry the bladder past its stop [m³].
const STOP_SLACK_M3: f64 = 1e-6;
/// Suction at an opening from which air enters [Pa].
const SUCTION_PA: f64 = 100.0;
/// Outward pressure at every open outlet from which no air is about to enter [Pa]: well
/// above the suction that lets it in, or a pipe that drains at atmospheric pressure would
/// change its mind without end.
const OUTWARD_PA: f64 = 500.0;
/// Air in the pipes that no longer matters [m³].
const SETTLED_AIR_M3: f64 = 2e-7;
/// Cavity at the top of the run from which the column counts as parted [m³]: far above
/// [`SETTLED_AIR_M3`], and nothing beside what the run holds.
const PARTED_M3: f64 = 1e-5;
/// Share of air at the wall that still counts as spitting.
const SPITTING_SHARE: f64 = 0.01;

/// Guards of the present modes, in order.
#[derive(Debug, Clone, Copy)]
pub(crate) struct GuardValues {
    values: [(Guard, f64); 24],
    len: usize,
}

impl GuardValues {
    fn push(&mut self, guard: Guard, value: f64) {
        self.values[self.len] = (guard, value);
        self.len += 1;
    }

    pub(crate) fn as_slice(&self) -> &[(Guard, f64)] {
        &self.values[..self.len]
    }

    pub(crate) fn value_of(&self, guard: Guard) -> f64 {
        self.as_slice()
            .iter()
            .find(|(g, _)| *g == guard)
            .map_or(-1.0, |(_, v)| *v)
    }
}

impl Model {
    /// Values of all guards that can fire in these modes; positive means met.
    pub(crate) fn guards(
        &self,
        y: &[f64; N_STATES],
        modes: &Modes,
        controls: &Controls,
    ) -> GuardValues {
        let mut core = [0.0; N_CORE];
        core.copy_from_slice(&y[..N_CORE]);
        let f = self.flows(&core, modes, controls);
        let mut list = GuardValues {
            values: [(Guard::CutOut, -1.0); 24],
            len: 0,
        };

        let sensed = y[SENSED_PRESSURE] - self.atmosphere_pa;
        match modes.contacts {
            Contacts::Closed if self.circuit.as_ref().is_some_and(|c| c.contacts_welded) => {}
            Contacts::Closed => list.push(Guard::CutOut, sensed - controls.cut_out.si()),
            Contacts::Open => list.push(Guard::CutIn, controls.cut_in.si() - sensed),
            Contacts::Opening(_) | Contacts::Closing(_) => {}
        }
        match modes.trunk {
            Trunk::Open if self.checks.can_shut => {
                list.push(Guard::CheckShuts, -y[TRUNK_FLOW] - self.slam_flow);
            }
            Trunk::Open => {}
            Trunk::Shut if self.checks.stuck_shut || controls.source_valve_opening <= 0.0 => {}
            Trunk::Shut => {
                list.push(Guard::CheckOpens, self.opening_pressure(&f, y, modes));
            }
        }
        self.bladder_guards(&mut list, y, &f, modes);
        if modes.shaft == Shaft::Turning && !self.is_powered(modes, controls) {
            list.push(Guard::ShaftStops, STOP_SPEED - y[SHAFT_SPEED]);
        }
        self.air_guards(&mut list, y, &f, modes, controls);
        if let Some(circuit) = &self.circuit {
            let depth_m = f.surface - self.source.floor_m();
            let situation = circuit::Situation {
                depth_m,
                sensed_pa: sensed,
                line_current_a: f.line_current,
                is_powered: self.is_powered(modes, controls),
                is_fed: self.is_fed(modes, controls),
                lever_held: controls.lever_held,
            };
            circuit.guards(y, &situation, modes, &mut |guard, value| {
                list.push(guard, value)
            });
        }
        list
    }

    /// Whether a step has carried the bladder through its stop and out of sight of the
    /// guards: with no water left the equations go on, but mean nothing, and pressures may
    /// be back where no guard is met by the end of a long step.
    pub(crate) fn overruns_bladder(
        &self,
        start: &[f64; N_STATES],
        end: &[f64; N_STATES],
        modes: &Modes,
    ) -> bool {
        let past = |y: &[f64; N_STATES]| {
            let gas_volume = self.tank_shell - y[TANK_WATER];
            let charge = y[TANK_CHARGE] * y[TANK_TEMPERATURE] * self.gas_constant;
            let pocket = y[TANK_AIR] * self.pipe_air_rt;
            let displaced = y[TANK_WATER] + pocket * gas_volume / (charge + pocket);
            (-displaced).max(displaced - self.tank_acceptance)
        };
        modes.bladder == Bladder::Free && past(end) > past(start).max(0.0) + STOP_SLACK_M3
    }

    fn bladder_guards(
        &self,
        list: &mut GuardValues,
        y: &[f64; N_STATES],
        f: &Flows<f64>,
        modes: &Modes,
    ) {
        let displaced = y[TANK_WATER] + y[TANK_AIR] * self.pipe_air_rt / f.tank_pressure;
        let inward_pa = f.tee.pressure - f.tank_pressure;
        // Scaled so that both conditions weigh alike near their zero.
        match modes.bladder {
            Bladder::Flat => {
                let sticks = if modes.bladder_released {
                    0.0
                } else {
                    self.defects.bladder_sticks_pa
                };
                list.push(Guard::BladderFilling, inward_pa - BLADDER_LIFT_PA - sticks);
            }
            Bladder::Full => list.push(Guard::BladderGiving, -inward_pa - BLADDER_LIFT_PA),
            Bladder::Free => {
                list.push(Guard::BladderFlat, (-displaced * 1e8).min(-inward_pa));
                list.push(
                    Guard::BladderFull,
                    ((displaced - self.tank_acceptance) * 1e8).min(inward_pa),
                );
            }
        }
    }

    fn air_guards(
        &self,
        list: &mut GuardValues,
        y: &[f64; N_STATES],
        f: &Flows<f64>,
        modes: &Modes,
        controls: &Controls,
    ) {
        // By the volume that the pump moves, be it water or air: an intake that sucks
        // nothing but air takes no water out of the source, and yet draws.
        let draws = modes.trunk == Trunk::Open && y[TRUNK_FLOW] > 0.0;
        let shallow_m = self.vortex_free_m(y[TRUNK_FLOW].max(0.0)) - f.submergence;
        let leaks_air = draws && self.defects.suction_leak_m3_per_s_pa > 0.0;
        let end = if self.line.is_some() { &f.line } else { &f.tee };
        // Strongest suction at any opening [Pa].
        let mut suction_pa = f64::NEG_INFINITY;
        for outlet in &self.outlets {
            if Self::opening(outlet, modes, controls) <= 0.0 {
                continue;
            }
            let node = match outlet.node {
                OutletNode::Run => end,
                OutletNode::Tee => &f.tee,
                OutletNode::House => &f.house,
            };
            let inside = node.pressure - (1.0 - node.air_share) * outlet.lift_pa;
            suction_pa = suction_pa.max(self.atmosphere_pa - inside);
        }
        match modes.air {
            Air::Settled => {
                let mut value = suction_pa - SUCTION_PA;
                if draws {
                    value = value.max(shallow_m * self.weight);
                }
                if leaks_air {
                    value = value.max(f.suction_vacuum - SUCTION_PA);
                }
                list.push(Guard::AirEnters, value.max(-1e9));
                // At the vapour pressure a cavity opens at the top of the column, which
                // then stands on the atmosphere alone and falls no further.
                list.push(Guard::ColumnParts, (end.air_volume - PARTED_M3) / PARTED_M3);
            }
            Air::Moving => {
                let line_air = if self.line.is_some() {
                    f.line.air_volume
                } else {
                    0.0
                };
                let left = f.tee.air_volume + f.house.air_volume + line_air;
                let mut value = (SETTLED_AIR_M3 - left) / SETTLED_AIR_M3;
                value = value
                    .min((1e-6 - f.bowl_share) * 1e6)
                    .min(-suction_pa - OUTWARD_PA);
                if draws {
                    value = value.min(-shallow_m);
                }
                if leaks_air {
                    value = value.min(-f.suction_vacuum);
                }
                list.push(Guard::AirGone, value.max(-1e9));
                let wall_volume = if self.line.is_some() {
                    0.02 * self.run_volume
                } else {
                    self.tee.mixing_volume
                };
                match modes.front {
                    Front::Coming => list.push(Guard::WaterArrives, wall_volume - end.air_volume),
                    Front::Spitting => {
                        list.push(Guard::LineSolid, SPITTING_SHARE - f.tee.air_share);
                        list.push(Guard::WaterRecedes, end.air_volume - 1.5 * wall_volume);
                    }
                    Front::Solid => {
                        list.push(Guard::WaterRecedes, end.air_volume - 1.5 * wall_volume);
                    }
                }
            }
        }
    }
}
