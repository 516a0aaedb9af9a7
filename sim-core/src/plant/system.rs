//! The plant as a system of differential equations in one set of modes.

use super::circuit;
use super::controls::Controls;
use super::flows::{Flows, N_CORE};
use super::model::Model;
use super::modes::{Air, Bladder, Modes, Shaft, Trunk};
use super::rosenbrock::{Follower, MAX_COUPLED, Structure, System};
use super::state::{
    AIR_IN, AIR_OUT, BOWL_AIR, BREAKER_HEAT, DRAINED, DRAWN, HOUSE_AIR, HOUSE_WATER, IMPELLER_WEAR,
    INFLOW, JOINT_TEMPERATURE, LEAKED, LINE_AIR, LINE_WATER, MOTOR_HEAT, N_STATES, NEEDLE_PRESSURE,
    OVERFLOWED, PROTECTOR_TEMPERATURE, PUMP_WATER_TEMPERATURE, RELIEVED, SEAL_WEAR,
    SENSED_PRESSURE, SHAFT_SPEED, SHAFT_WORK, SOURCE_WATER, SUPPLY_WORK, TANK_AIR, TANK_CHARGE,
    TANK_TEMPERATURE, TANK_WATER, TEE_AIR, TEE_WATER, TRUNK_FLOW, USED, WINDING_TEMPERATURE,
};
use crate::air::gas::AIR;
use crate::math::{Dual, Scalar};
use crate::parts::SourceSpec;

/// Typical pressure [Pa], flow [m³/s], volume [m³], air mass [kg], temperature
/// difference [K] and work [J]: an error of one part in ten thousand of these is what
/// tolerance 1e-4 allows.
const TYPICAL_PRESSURE_PA: f64 = 3.0e5;
const TYPICAL_FLOW: f64 = 5.0e-4;
const TYPICAL_VOLUME: f64 = 5.0e-3;
const TYPICAL_AIR: f64 = 1.0e-3;
const TYPICAL_TEMPERATURE: f64 = 30.0;
const TYPICAL_WORK: f64 = 1.0e4;

/// One plant in one set of modes.
#[derive(Debug)]
pub(crate) struct PlantSystem<'a> {
    model: &'a Model,
    modes: Modes,
    controls: &'a Controls,
    structure: &'a Structure<N_STATES>,
}

impl<'a> PlantSystem<'a> {
    pub(crate) fn new(
        model: &'a Model,
        modes: Modes,
        controls: &'a Controls,
        structure: &'a Structure<N_STATES>,
    ) -> Self {
        Self {
            model,
            modes,
            controls,
            structure,
        }
    }

    fn rates_into<S: Scalar>(&self, core: &[S; N_CORE], out: &mut [S; N_STATES]) {
        let model = self.model;
        let f = model.flows(core, &self.modes, self.controls);
        assemble(model, &self.modes, core, &f, out);
    }

    fn linearize_with<const L: usize>(
        &self,
        y: &[f64; N_STATES],
        rates: &mut [f64; N_STATES],
        jacobian: &mut [[f64; MAX_COUPLED]; N_STATES],
    ) {
        let mut core = [Dual::<L>::constant(0.0); N_CORE];
        for (c, v) in core.iter_mut().zip(y.iter()) {
            c.v = *v;
        }
        for (lane, &i) in self.structure.coupled.iter().enumerate() {
            core[i].d[lane] = 1.0;
        }
        let mut out = [Dual::<L>::constant(0.0); N_STATES];
        self.rates_into(&core, &mut out);
        for ((r, row), d) in rates.iter_mut().zip(jacobian.iter_mut()).zip(out.iter()) {
            *r = d.v;
            row[..L].copy_from_slice(&d.d);
        }
    }
}

/// Puts every flux into the balances it belongs to, once with each sign.
fn assemble<S: Scalar>(
    model: &Model,
    modes: &Modes,
    y: &[S; N_CORE],
    f: &Flows<S>,
    out: &mut [S; N_STATES],
) {
    let has_line = model.line.is_some();
    let (run_in_water, run_in_air) = (f.trunk_water, f.trunk_air);
    let (tee_in_water, tee_in_air) = if has_line {
        (f.wall.water, f.wall.air)
    } else {
        (run_in_water, run_in_air)
    };
    out[TEE_WATER] = tee_in_water
        - f.tank.water
        - f.house_feed.water
        - f.drained.water
        - f.relieved
        - f.leaked_tee.water;
    out[HOUSE_WATER] = f.house_feed.water + f.expansion - f.used.water - f.leaked_house.water;
    out[LINE_WATER] = if has_line {
        run_in_water - f.wall.water - f.leaked_line.water
    } else {
        S::constant(0.0)
    };
    out[TRUNK_FLOW] = f.trunk_acceleration;
    out[SHAFT_SPEED] = f.shaft_acceleration;
    out[TANK_WATER] = f.tank.water;
    let gas_volume = -y[TANK_WATER] + model.tank_shell;
    out[TANK_TEMPERATURE] =
        y[TANK_TEMPERATURE] / gas_volume * f.tank.water * (AIR.heat_capacity_ratio - 1.0)
            + (-y[TANK_TEMPERATURE] + model.ambient_k) / model.gas_time_constant;
    out[TANK_CHARGE] = -f.charge_lost;
    out[SOURCE_WATER] = f.inflow - f.overflow - f.source_out;
    if modes.air == Air::Moving {
        out[TEE_AIR] =
            tee_in_air - f.tank.air - f.house_feed.air - f.drained.air - f.leaked_tee.air;
        out[HOUSE_AIR] = f.house_feed.air - f.used.air - f.leaked_house.air;
        out[LINE_AIR] = if has_line {
            run_in_air - f.wall.air - f.leaked_line.air
        } else {
            S::constant(0.0)
        };
        // Backward flow through the pump carries its air out by the intake: then
        // `intake_air` is negative and nothing reaches the run.
        out[BOWL_AIR] = f.intake_air - f.trunk_air - f.bowl_vent;
        out[TANK_AIR] = f.tank.air;
    }
    out[SENSED_PRESSURE] = f.tee.pressure * model.port_rate;
    out[NEEDLE_PRESSURE] = f.tee.pressure * model.needle_rate;
    out[USED] = f.used.water;
    out[DRAINED] = f.drained.water;
    out[RELIEVED] = f.relieved;
    out[LEAKED] = f.leaked_line.water + f.leaked_tee.water + f.leaked_house.water;
    out[INFLOW] = f.inflow + f.expansion;
    out[OVERFLOWED] = f.overflow;
    out[AIR_OUT] = f.used.air
        + f.drained.air
        + f.leaked_line.air
        + f.leaked_tee.air
        + f.leaked_house.air
        + f.bowl_vent;
    out[AIR_IN] = f.intake_air;
    out[SHAFT_WORK] = f.shaft_power;
    out[PUMP_WATER_TEMPERATURE] = f.pump_water_heating;
    out[SUPPLY_WORK] = f.supply_power;
    out[MOTOR_HEAT] = f.motor_heat;
    out[SEAL_WEAR] = circuit::seal_wear(modes, f.bowl_share);
    out[IMPELLER_WEAR] = circuit::impeller_wear(modes, y[PUMP_WATER_TEMPERATURE]);
    if let Some(circuit) = &model.circuit {
        // Each settles where its heat balances its loss.
        out[WINDING_TEMPERATURE] =
            f.winding_heat / circuit.winding_heat_capacity + model.water_k * circuit.winding_rate;
        let heater = f.line_current / circuit.protector.rated_current_a;
        out[PROTECTOR_TEMPERATURE] =
            heater * heater * (circuit.protector.heater_rise_k / circuit.protector.time_constant_s);
        let share = f.line_current / circuit.breaker_a;
        out[BREAKER_HEAT] = share * share * circuit.breaker_rate;
        if let Some(joint) = &circuit.joint {
            let ohms = joint.ohms * circuit::joint_growth(modes.circuit.joint_level);
            let rise = f.line_current * f.line_current * (ohms * joint.k_per_w);
            out[JOINT_TEMPERATURE] = (rise + model.ambient_k) / joint.time_constant_s;
        }
    }
    out[DRAWN] = f.source_out;
}

pub(crate) fn structure(model: &Model, modes: &Modes, controls: &Controls) -> Structure<N_STATES> {
    let mut coupled = vec![TEE_WATER, HOUSE_WATER];
    let mut add = |active: bool, i: usize| {
        if active {
            coupled.push(i);
        }
    };
    let has_line = model.line.is_some();
    let air_moves = modes.air == Air::Moving;
    let bladder_moves = modes.bladder == Bladder::Free;
    add(has_line, LINE_WATER);
    add(modes.trunk == Trunk::Open, TRUNK_FLOW);
    add(modes.shaft == Shaft::Turning, SHAFT_SPEED);
    add(bladder_moves, TANK_WATER);
    add(true, TANK_TEMPERATURE);
    add(true, SOURCE_WATER);
    add(modes.shaft == Shaft::Turning, PUMP_WATER_TEMPERATURE);
    add(air_moves, TEE_AIR);
    add(air_moves, HOUSE_AIR);
    add(air_moves && has_line, LINE_AIR);
    add(air_moves, BOWL_AIR);
    add(air_moves && bladder_moves, TANK_AIR);
    add(model.tank_air_leak > 0.0, TANK_CHARGE);

    let mut followers = vec![
        Follower::lag(SENSED_PRESSURE, model.port_rate),
        Follower::lag(NEEDLE_PRESSURE, model.needle_rate),
    ];
    let mut follow = |active: bool, i: usize| {
        if active {
            followers.push(Follower::total(i));
        }
    };
    let (has_inflow, may_overflow) = match model.site.source {
        // Water that falls back may lift a full cistern over its brim.
        SourceSpec::Cistern { refill, .. } => (refill.si() > 0.0, true),
        SourceSpec::Well { .. } => (true, false),
    };
    let is_powered = model.is_powered(modes, controls);
    follow(model.is_anything_drawn(modes, controls), USED);
    follow(controls.drain_opening > 0.0, DRAINED);
    follow(model.relief.is_some(), RELIEVED);
    follow(!model.defects.leaks.is_empty(), LEAKED);
    follow(has_inflow || model.defects.expansion_m3_per_s > 0.0, INFLOW);
    follow(may_overflow, OVERFLOWED);
    follow(air_moves, AIR_OUT);
    follow(air_moves, AIR_IN);
    follow(is_powered, SHAFT_WORK);
    let is_turning = modes.shaft == Shaft::Turning;
    let has_circuit = model.circuit.is_some();
    follow(is_powered && has_circuit, SUPPLY_WORK);
    follow(is_powered && has_circuit, MOTOR_HEAT);
    follow(is_turning && air_moves && !modes.damage.seal, SEAL_WEAR);
    follow(is_turning && !modes.damage.impellers, IMPELLER_WEAR);
    // The bowl's vent draws water in while everything else is shut.
    follow(
        modes.trunk == Trunk::Open
            || model.riser_split.is_some()
            || model.checks.weep.is_some()
            || air_moves,
        DRAWN,
    );

    if !is_turning {
        followers.push(Follower::lag(
            PUMP_WATER_TEMPERATURE,
            model.pump_cooling_rate(),
        ));
    }
    if let Some(circuit) = &model.circuit {
        let protector = 1.0 / circuit.protector.time_constant_s;
        followers.push(Follower::lag(WINDING_TEMPERATURE, circuit.winding_rate));
        followers.push(Follower {
            index: PROTECTOR_TEMPERATURE,
            decay: protector,
            follows: Some((WINDING_TEMPERATURE, protector)),
        });
        followers.push(Follower::lag(BREAKER_HEAT, circuit.breaker_rate));
        if let Some(joint) = &circuit.joint {
            followers.push(Follower::lag(
                JOINT_TEMPERATURE,
                1.0 / joint.time_constant_s,
            ));
        }
    }

    let mut typical = [1.0; N_STATES];
    for (i, node) in [
        (TEE_WATER, &model.tee),
        (HOUSE_WATER, &model.house),
        (LINE_WATER, model.run_end()),
    ] {
        typical[i] = node.capacity * TYPICAL_PRESSURE_PA;
    }
    typical[TRUNK_FLOW] = TYPICAL_FLOW;
    typical[SHAFT_SPEED] = model.pump.rated_speed_rad_per_s();
    typical[TANK_WATER] = TYPICAL_VOLUME;
    typical[TANK_TEMPERATURE] = TYPICAL_TEMPERATURE;
    typical[SOURCE_WATER] = TYPICAL_VOLUME;
    typical[PUMP_WATER_TEMPERATURE] = TYPICAL_TEMPERATURE;
    for i in [
        TEE_AIR,
        HOUSE_AIR,
        LINE_AIR,
        BOWL_AIR,
        TANK_AIR,
        TANK_CHARGE,
    ] {
        typical[i] = TYPICAL_AIR;
    }
    Structure {
        coupled,
        followers,
        typical,
    }
}

impl System<N_STATES> for PlantSystem<'_> {
    fn structure(&self) -> &Structure<N_STATES> {
        self.structure
    }

    fn rates(&self, y: &[f64; N_STATES], rates: &mut [f64; N_STATES]) {
        let mut core = [0.0; N_CORE];
        core.copy_from_slice(&y[..N_CORE]);
        self.rates_into(&core, rates);
    }

    fn linearize(
        &self,
        y: &[f64; N_STATES],
        rates: &mut [f64; N_STATES],
        jacobian: &mut [[f64; MAX_COUPLED]; N_STATES],
    ) {
        if self.structure.coupled.len() <= 8 {
            self.linearize_with::<8>(y, rates, jacobian);
        } else {
            self.linearize_with::<MAX_COUPLED>(y, rates, jacobian);
        }
    }

    fn error_scales(&self, y: &[f64; N_STATES], scales: &mut [f64; N_STATES]) {
        let mut core = [0.0; N_CORE];
        core.copy_from_slice(&y[..N_CORE]);
        let f = self.model.node_storages(&core);
        scales[TEE_WATER] = f[0] * TYPICAL_PRESSURE_PA;
        scales[HOUSE_WATER] = f[1] * TYPICAL_PRESSURE_PA;
        scales[LINE_WATER] = f[2] * TYPICAL_PRESSURE_PA;
        scales[TRUNK_FLOW] = 5.0 * (TYPICAL_FLOW + y[TRUNK_FLOW].abs());
        // A speed error dies away in a tenth of a second, a needle's in the lag.
        scales[SHAFT_SPEED] = 10.0 * self.model.pump.rated_speed_rad_per_s();
        scales[TANK_WATER] = TYPICAL_VOLUME;
        scales[TANK_TEMPERATURE] = TYPICAL_TEMPERATURE;
        scales[SOURCE_WATER] = TYPICAL_VOLUME;
        for i in [
            TEE_AIR,
            HOUSE_AIR,
            LINE_AIR,
            BOWL_AIR,
            TANK_AIR,
            TANK_CHARGE,
            AIR_OUT,
            AIR_IN,
        ] {
            scales[i] = TYPICAL_AIR + y[i].abs();
        }
        scales[SENSED_PRESSURE] = TYPICAL_PRESSURE_PA;
        scales[NEEDLE_PRESSURE] = 10.0 * TYPICAL_PRESSURE_PA;
        for i in [USED, DRAINED, RELIEVED, LEAKED, INFLOW, OVERFLOWED, DRAWN] {
            scales[i] = TYPICAL_VOLUME;
        }
        scales[SHAFT_WORK] = TYPICAL_WORK;
        scales[SUPPLY_WORK] = TYPICAL_WORK;
        scales[MOTOR_HEAT] = TYPICAL_WORK;
        // Warm-up and wear are slow and judged by the degree and the per cent.
        scales[PUMP_WATER_TEMPERATURE] = 10.0 * TYPICAL_TEMPERATURE;
        scales[WINDING_TEMPERATURE] = 10.0 * TYPICAL_TEMPERATURE;
        scales[PROTECTOR_TEMPERATURE] = 10.0 * TYPICAL_TEMPERATURE;
        scales[JOINT_TEMPERATURE] = 10.0 * TYPICAL_TEMPERATURE;
        scales[BREAKER_HEAT] = 10.0;
    }
}

#[cfg(test)]
mod tests;
