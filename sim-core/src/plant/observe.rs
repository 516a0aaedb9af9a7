//! What can be read off a plant: channels, totals, balances, a digest of its state.

use serde::{Deserialize, Serialize};

use super::engine::Plant;
use super::model::Model;
use super::modes::{Contacts, Shaft, Trunk};
use super::state::{
    AIR_IN, AIR_OUT, BOWL_AIR, DRAINED, DRAWN, HOUSE_AIR, HOUSE_WATER, INFLOW, JOINT_TEMPERATURE,
    LEAKED, LINE_AIR, LINE_WATER, MOTOR_HEAT, N_STATES, OVERFLOWED, PROTECTOR_TEMPERATURE,
    PUMP_WATER_TEMPERATURE, RELIEVED, SENSED_PRESSURE, SHAFT_SPEED, SHAFT_WORK, SOURCE_WATER,
    SUPPLY_WORK, TANK_AIR, TANK_TEMPERATURE, TANK_WATER, TEE_AIR, TEE_WATER, TRUNK_FLOW, USED,
    WINDING_TEMPERATURE,
};
use crate::math::Fnv;
use crate::trace::{Sample, Totals};

/// Water and air of a plant and all that has crossed its border: constant in time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// Water inside, plus what left, less what came in [m³].
    pub water_m3: f64,
    /// Air in the pipes, plus what left, less what came in [kg].
    pub air_kg: f64,
    /// Water that has moved at all [m³]: the yardstick for the first.
    pub water_scale_m3: f64,
    /// Air that has moved at all [kg]: the yardstick for the second.
    pub air_scale_kg: f64,
}

impl Balance {
    pub(crate) fn of(model: &Model, y: &[f64; N_STATES]) -> Self {
        let bowl = model.bowl_volume * y[BOWL_AIR] / model.bowl_air_full;
        let out = y[USED] + y[DRAINED] + y[RELIEVED] + y[LEAKED] + y[OVERFLOWED];
        let inside =
            y[SOURCE_WATER] + y[TEE_WATER] + y[HOUSE_WATER] + y[LINE_WATER] + y[TANK_WATER] - bowl;
        let air = y[TEE_AIR] + y[HOUSE_AIR] + y[LINE_AIR] + y[BOWL_AIR] + y[TANK_AIR];
        Self {
            water_m3: inside + out - y[INFLOW],
            air_kg: air + y[AIR_OUT] - y[AIR_IN],
            water_scale_m3: y[SOURCE_WATER].abs() + out + y[INFLOW].abs() + y[DRAWN].abs(),
            air_scale_kg: air + y[AIR_OUT].abs() + y[AIR_IN].abs(),
        }
    }
}

impl Plant {
    /// All channels at the present tick, in the order of [`crate::trace::CHANNELS`].
    #[must_use]
    pub fn sample(&self) -> Sample {
        let y = self.state_now();
        let f = self.flows_at(&y);
        let model = &self.model;
        let gauge = |absolute: f64| absolute - model.atmosphere_pa;
        let powered = self.is_powered();
        let line_air = if model.line.is_some() {
            f.line.air_volume
        } else {
            0.0
        };
        let values = vec![
            gauge(f.tee.pressure),
            self.gauge_reading_pa(),
            gauge(y[SENSED_PRESSURE]),
            gauge(f.tank_pressure),
            gauge(f.house.pressure),
            f.trunk_water,
            f.house_feed.water,
            f.drained.water,
            f.leaked_line.water + f.leaked_tee.water + f.leaked_house.water,
            // Between two ends of a step the last drop may be overdrawn by a rounding.
            y[TANK_WATER].max(0.0),
            y[TANK_TEMPERATURE],
            f.tee.air_volume + f.house.air_volume + line_air,
            f.filled_share,
            f.used.air + f.drained.air + f.leaked_line.air + f.leaked_tee.air + f.leaked_house.air,
            f.bowl_share,
            f.surface - model.source.floor_m(),
            if self.state.modes.shaft == Shaft::Turning {
                y[SHAFT_SPEED]
            } else {
                0.0
            },
            f.shaft_power,
            f.line_current,
            self.motor_voltage_v(&y),
            f.supply_power,
            y[WINDING_TEMPERATURE],
            y[PROTECTOR_TEMPERATURE],
            y[JOINT_TEMPERATURE],
            y[PUMP_WATER_TEMPERATURE],
            f64::from(u8::from(powered)),
            f64::from(u8::from(matches!(
                self.state.modes.contacts,
                Contacts::Closed | Contacts::Opening(_)
            ))),
        ];
        Sample {
            time_s: self.now().seconds(),
            values,
        }
    }

    /// Voltage at the motor's leads [V].
    fn motor_voltage_v(&self, y: &[f64; N_STATES]) -> f64 {
        let modes = &self.state.modes;
        if !self.is_powered() {
            return 0.0;
        }
        let speed = if modes.shaft == Shaft::Turning {
            y[SHAFT_SPEED]
        } else {
            0.0
        };
        match &self.model.circuit {
            Some(circuit) => circuit.drive(modes).map_or(0.0, |d| d.motor_v.at(speed)),
            None => self.model.site.supply.voltage.si(),
        }
    }

    /// Heat that the motor has turned into so far: losses of windings, rotor, iron and
    /// bearings [J].
    #[must_use]
    pub fn motor_heat_j(&self) -> f64 {
        self.state_now()[MOTOR_HEAT]
    }

    /// How often the wiring has been reduced to a source so far: once per signature met.
    #[must_use]
    pub fn wiring_reductions(&self) -> usize {
        self.model.circuit.as_ref().map_or(0, |circuit| {
            circuit
                .pairs
                .iter()
                .filter(|pair| pair.get().is_some())
                .count()
        })
    }

    /// What the dial shows [Pa, gauge]: the movement's pressure with its offset, held
    /// back by stiction, between its stops.
    #[must_use]
    pub fn gauge_reading_pa(&self) -> f64 {
        let gauge = &self.model.site.wall.gauge;
        let needle = self.needle_after(self.state.needle_pa, &self.state_now());
        (needle + gauge.offset.si()).clamp(0.0, gauge.full_scale.si() * 1.02)
    }

    /// Terminal of the worst joint of the pump's circuit and its temperature [K]; none where
    /// every joint is sound, or the site has no wiring.
    #[must_use]
    pub fn worst_joint(&self) -> Option<(&'static str, f64)> {
        let circuit = self.model.circuit.as_ref()?;
        circuit.joint.as_ref()?;
        Some((circuit.worst_joint, self.state_now()[JOINT_TEMPERATURE]))
    }

    /// Pressure in the run below a check valve at the wall [Pa, gauge]; none without one:
    /// then the run is one with the tee.
    #[must_use]
    pub fn run_pressure_pa(&self) -> Option<f64> {
        self.model.line.as_ref()?;
        let line = self.flows_at(&self.state_now()).line;
        Some(line.pressure - self.model.atmosphere_pa)
    }

    /// Pressure at the suction port of a pump above the water [Pa, gauge, below 0 when it
    /// sucks]; none for a pump in the water.
    ///
    /// Left out: velocity head and inertia in the suction pipe; air in it.
    #[must_use]
    pub fn suction_pressure_pa(&self) -> Option<f64> {
        let model = &self.model;
        if model.site.pump.placement != crate::parts::PumpPlacement::SuctionLift {
            return None;
        }
        let y = self.state_now();
        let flows = self.flows_at(&y);
        if self.state.modes.trunk == Trunk::Shut && model.site.pump_check.is_none() {
            // The check valve is the foot valve: at rest the run's pressure stands here too.
            let end = if model.line.is_some() {
                &flows.line
            } else {
                &flows.tee
            };
            let rise_m = model.wall_elevation - model.pump_elevation;
            return Some(end.pressure - model.atmosphere_pa + model.weight * rise_m);
        }
        let flow = if self.state.modes.trunk == Trunk::Open {
            y[TRUNK_FLOW]
        } else {
            0.0
        };
        let friction = model.suction_friction.as_ref();
        let loss = flow * flow.abs() * model.suction_quadratic
            + friction.map_or(0.0, |table| table.loss_pa(flow));
        let lift = model.weight * (flows.surface - model.pump_elevation);
        // No lower than where the water boils.
        Some((lift - loss).max(model.vapor_pa - model.atmosphere_pa))
    }

    /// What the run came to so far.
    #[must_use]
    pub fn totals(&self) -> Totals {
        let y = self.state_now();
        let now_s = self.now().seconds();
        let running = self
            .state
            .powered_since_s
            .map_or(0.0, |since| now_s - since);
        Totals {
            duration_s: now_s,
            pump_starts: self.state.starts,
            pump_run_s: self.state.run_s + running,
            used_m3: y[USED],
            drained_m3: y[DRAINED],
            relieved_m3: y[RELIEVED],
            leaked_m3: y[LEAKED],
            drawn_m3: y[DRAWN],
            shaft_energy_j: y[SHAFT_WORK],
            supply_energy_j: y[SUPPLY_WORK],
            lowest_house_pressure_pa: self.state.lowest_house_pa,
        }
    }

    /// Water and air accounts, which nothing may change.
    #[must_use]
    pub fn balance(&self) -> Balance {
        Balance::of(&self.model, &self.state_now())
    }

    /// A digest of everything that changes, bit by bit (FNV-1a, 64 bits).
    #[must_use]
    pub fn digest(&self) -> u64 {
        let s = &self.state;
        let mut hash = Fnv::new();
        hash.word(s.now.0);
        hash.float(s.step_start_s);
        hash.float(s.step.h);
        for y in [&s.step.start, &s.step.end] {
            for &v in y {
                hash.float(v);
            }
        }
        for v in self.state_now() {
            hash.float(v);
        }
        hash.float(s.needle_pa);
        hash.float(s.winding_wear);
        hash.float(s.next_length_s);
        hash.word(s.starts);
        hash.word(s.feeds);
        hash.float(s.run_s);
        hash.float(s.powered_since_s.unwrap_or(-1.0));
        hash.text(&format!("{:?} {:?} {:?}", s.modes, s.ending, s.controls));
        hash.finish()
    }
}
