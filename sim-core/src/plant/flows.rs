//! The plant's equations: from the state to every pressure, flow and torque.
//!
//! Written once over [`Scalar`], so that the same lines give values and derivatives.
//!
//! Water: each node holds V = V₀ + C·(p − p_atm) − m·R·T/(p − p_v) beyond its full
//! volume V₀ (elastic storage, air pocket); solved for p this is a quadratic.  The run
//! is one column: I·dQ/dt = Δp_source + ρg·H − losses(Q) − p_end, with inertance,
//! friction and lift in proportion to the part that is filled.  Valves, outlets and
//! leaks are turbulent resistances between nodes.
//! Air: isothermal in the pipes; leaves by openings as an isentropic nozzle, in the
//! share that the air pocket has of the mixing volume at the wall.
//! Left out: the momentum of the filling front itself, air dissolved in water,
//! pressure waves inside the run (its storage sits at its upper end).

use super::controls::Controls;
use super::model::{
    LEAST_FILLED_SHARE, Model, Node, Outlet, OutletClass, OutletNode, Resistance, TRACE_AIR_KG,
};
use super::modes::{Air, Bladder, Contacts, Device, Modes, Shaft, SmallDraw, Trunk};
use super::state::{
    BOWL_AIR, FIRST_FOLLOWER, HOUSE_AIR, HOUSE_WATER, LINE_AIR, LINE_WATER, PUMP_WATER_TEMPERATURE,
    SHAFT_SPEED, SOURCE_WATER, TANK_AIR, TANK_CHARGE, TANK_TEMPERATURE, TANK_WATER, TEE_AIR,
    TEE_WATER, TRUNK_FLOW,
};
use crate::math::Scalar;
use crate::parts::{PumpMap, flow_through};
use crate::units::convert::PSI;

/// Drag of a shaft whose seal and bearings have run dry, over that of a sound one
/// (training value).
const SPOILT_SEAL_DRAG: f64 = 8.0;
/// Head left to a pump with boiled impellers (training value).
const WARPED_IMPELLER_HEAD: f64 = 0.8;
/// Heat capacity of water [J/(kg·K)], near enough at any temperature of a pump.
const WATER_HEAT_CAPACITY: f64 = 4_186.0;
/// Heat that a pump's case gives off [W/K] (training value).
const PUMP_CASE_W_PER_K: f64 = 4.0;

/// Gauge pressure at which a water heater's own valve opens [Pa] (150 psi, usual for
/// valves that open by temperature and pressure: common practice, no source).
const HEATER_VALVE_PA: f64 = 150.0 * PSI;

/// Pressure over which an opening to the air comes open [Pa].
pub(crate) const JET_EASING_PA: f64 = 300.0;
/// Pressure over which a check valve at the wall lifts [Pa]: its poppet rises with the
/// pressure on it (training value).
pub(crate) const CHECK_EASING_PA: f64 = 1_000.0;

/// A drop that is not negative with its slope let in from nought over `width`, half of it
/// short further up.
///
/// Where a slope jumps at the point of shutting and a trickle holds the pressure there to
/// within the tolerance, the stages of a step land on the other side of that point from
/// its linearization: a stiff node then takes a hundred thousand steps a second.
#[inline]
pub(crate) fn eased<S: Scalar>(drop: S, width: f64) -> S {
    if drop.value() < width {
        drop * drop / (2.0 * width)
    } else {
        drop - 0.5 * width
    }
}

/// Flow below which the share of a suction leak in what is drawn means nothing [m³/s].
const LEAST_DRAW: f64 = 1e-7;

/// Number of components that may be coupled.
pub(crate) const N_CORE: usize = FIRST_FOLLOWER;

/// Pressure, air and storage of one node.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NodeState<S> {
    /// Absolute pressure [Pa].
    pub(crate) pressure: S,
    /// Volume of its air [m³].
    pub(crate) air_volume: S,
    /// Share of air in what its outlets pass.
    pub(crate) air_share: S,
    /// dV/dp [m³/Pa], for error scales; value only.
    pub(crate) storage: f64,
}

/// Water [m³/s] and air [kg/s] passing a link.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Passing<S> {
    pub(crate) water: S,
    pub(crate) air: S,
}

impl<S: Scalar> Passing<S> {
    fn none() -> Self {
        Self {
            water: S::constant(0.0),
            air: S::constant(0.0),
        }
    }

    fn add(&mut self, other: Self) {
        self.water = self.water + other.water;
        self.air = self.air + other.air;
    }
}

/// Everything that the plant's equations give for one state.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Flows<S> {
    pub(crate) tee: NodeState<S>,
    pub(crate) house: NodeState<S>,
    pub(crate) line: NodeState<S>,
    pub(crate) tank_pressure: S,
    /// Into the tank.
    pub(crate) tank: Passing<S>,
    /// Into the house.
    pub(crate) house_feed: Passing<S>,
    /// From the run into the tee, past a check valve at the wall.
    pub(crate) wall: Passing<S>,
    pub(crate) used: Passing<S>,
    pub(crate) drained: Passing<S>,
    /// From the run below a check valve at the wall.
    pub(crate) leaked_line: Passing<S>,
    pub(crate) leaked_tee: Passing<S>,
    pub(crate) leaked_house: Passing<S>,
    /// What heating adds to the volume of the water in the house [m³/s].
    pub(crate) expansion: S,
    pub(crate) relieved: S,
    /// From the pump into the run.
    pub(crate) trunk_water: S,
    /// Water that a split riser lets back into the source [m³/s]; it has passed the pump
    /// and does not reach the run.
    pub(crate) returned: S,
    pub(crate) trunk_air: S,
    /// Out of the source.
    pub(crate) source_out: S,
    /// Air into the bowl, and out of it to where it came from.
    pub(crate) intake_air: S,
    pub(crate) bowl_vent: S,
    pub(crate) trunk_acceleration: S,
    pub(crate) shaft_acceleration: S,
    pub(crate) shaft_power: S,
    /// From the supply [W] and through the line [A]; heat in the motor [W].
    pub(crate) supply_power: S,
    pub(crate) line_current: S,
    pub(crate) motor_heat: S,
    /// The part of it in the stator's copper [W].
    pub(crate) winding_heat: S,
    /// Rate of the pump's water temperature [K/s].
    pub(crate) pump_water_heating: S,
    pub(crate) surface: S,
    pub(crate) submergence: S,
    /// How far the pressure at the pump's inlet lies below that of the air [Pa].
    pub(crate) suction_vacuum: S,
    /// Out of the tank's air charge by its valve [kg/s].
    pub(crate) charge_lost: S,
    pub(crate) inflow: S,
    pub(crate) overflow: S,
    pub(crate) bowl_share: S,
    pub(crate) filled_share: S,
}

impl Model {
    /// Whether the cables have power as far as the splice box.
    pub(crate) fn is_fed(&self, modes: &Modes, controls: &Controls) -> bool {
        let circuit = &modes.circuit;
        let wiring = &self.defects.wiring;
        controls.breaker_on
            && matches!(modes.contacts, Contacts::Closed | Contacts::Opening(_))
            && [circuit.breaker, circuit.ground_fault, circuit.low_pressure]
                .iter()
                .all(|device| *device == Device::Closed)
            && !wiring.blocked_contacts
            && !wiring.dead_supply
    }

    /// Whether the motor has power.
    pub(crate) fn is_powered(&self, modes: &Modes, controls: &Controls) -> bool {
        controls.breaker_on
            && matches!(modes.contacts, Contacts::Closed | Contacts::Opening(_))
            && modes.circuit.lets_current_through()
            && self
                .circuit
                .as_ref()
                .is_none_or(|c| c.drive(modes).is_some())
    }

    /// Whether water is drawn in the house, by hand or by itself.
    pub(crate) fn is_anything_drawn(&self, modes: &Modes, controls: &Controls) -> bool {
        controls.fixture_openings.iter().any(|&o| o > 0.0)
            || !self.defects.draws.is_empty()
            || matches!(modes.small_draw, SmallDraw::Open(_))
    }

    /// What a water heater's heating adds to the volume of the water in the house, less
    /// what its own valve lets out when the pressure gets dangerous [m³/s].
    fn expansion<S: Scalar>(&self, house: &NodeState<S>) -> S {
        let rate = self.defects.expansion_m3_per_s;
        if rate <= 0.0 {
            return S::constant(0.0);
        }
        let over = house.pressure - (self.atmosphere_pa + HEATER_VALVE_PA);
        let kept = (-(over / (0.1 * HEATER_VALVE_PA)) + 1.0).clamped(0.0, 1.0);
        // Without water in the house there is none in the heater.
        (-house.air_share + 1.0) * kept * rate
    }

    /// Speed of the impellers when the shaft of the motor has `speed`.
    fn wheel_speed<S: Scalar>(&self, speed: S) -> S {
        if self.defects.coupling_sheared {
            S::constant(0.0)
        } else {
            speed
        }
    }

    /// Rate at which the water of a resting pump cools through its case [1/s].
    pub(crate) fn pump_cooling_rate(&self) -> f64 {
        PUMP_CASE_W_PER_K / (self.density * self.bowl_volume * WATER_HEAT_CAPACITY)
    }

    /// Share of its head that the pump has left after what was done to it.
    fn head_left(&self, modes: &Modes) -> f64 {
        if modes.damage.impellers {
            WARPED_IMPELLER_HEAD
        } else {
            1.0
        }
    }

    pub(crate) fn node<S: Scalar>(&self, node: &Node, excess: S, air: S) -> NodeState<S> {
        // C·x² + b·x − m·R·T = 0 with x = p − p_v.
        let gas = air.max_of(S::constant(TRACE_AIR_KG)) * self.pipe_air_rt;
        let b = -excess + node.capacity * (self.vapor_pa - self.atmosphere_pa);
        let root = (b * b + gas * (4.0 * node.capacity)).sqrt();
        let x = if b.value() > 0.0 {
            gas * 2.0 / (b + root)
        } else {
            (root - b) / (2.0 * node.capacity)
        };
        let air_volume = gas / x;
        NodeState {
            pressure: x + self.vapor_pa,
            air_share: (air_volume / node.mixing_volume).clamped(0.0, 1.0),
            storage: node.capacity + air_volume.value() / x.value(),
            air_volume,
        }
    }

    /// dV/dp of tee, house and line [m³/Pa].
    pub(crate) fn node_storages(&self, y: &[f64; N_CORE]) -> [f64; 3] {
        let tee = self.node(&self.tee, y[TEE_WATER], y[TEE_AIR]).storage;
        let house = self.node(&self.house, y[HOUSE_WATER], y[HOUSE_AIR]).storage;
        let line = match &self.line {
            Some(node) => self.node(node, y[LINE_WATER], y[LINE_AIR]).storage,
            None => tee,
        };
        [tee, house, line]
    }

    /// Air volume of the run's end beyond the wall's own pipework, as share of the run
    /// still empty, taken from one.
    fn filled_share<S: Scalar>(&self, end: &NodeState<S>) -> S {
        let beyond = if self.line.is_some() {
            end.air_volume
        } else {
            end.air_volume - self.tee.mixing_volume
        };
        (-(beyond / self.run_volume) + 1.0).clamped(0.0, 1.0)
    }

    /// Flow of a mixture through a resistance.
    fn link<S: Scalar>(
        &self,
        drop: S,
        path: Resistance,
        from: &NodeState<S>,
        to: &NodeState<S>,
        air: Air,
    ) -> Passing<S> {
        match air {
            Air::Settled => Passing {
                water: flow_through(drop, S::constant(path.quadratic), S::constant(path.linear)),
                air: S::constant(0.0),
            },
            Air::Moving => {
                let upstream = if drop.value() >= 0.0 { from } else { to };
                let share = upstream.air_share;
                // Loss goes with the density of what flows; what is carried is the air
                // alone, without the vapour between it.
                let gas_density = upstream.pressure / self.pipe_air_rt;
                let air_density = (upstream.pressure - self.vapor_pa) / self.pipe_air_rt;
                let lighter = share * (gas_density / self.density - 1.0) + 1.0;
                // What flows is another thing each way.
                let drop = if drop.value() >= 0.0 {
                    eased(drop, JET_EASING_PA)
                } else {
                    -eased(-drop, JET_EASING_PA)
                };
                let flow = flow_through(drop, lighter * path.quadratic, lighter * path.linear);
                Passing {
                    water: (-share + 1.0) * flow,
                    air: share * flow * air_density,
                }
            }
        }
    }

    /// Flow out of an opening, share `opening` open; negative air is air drawn in.
    pub(crate) fn outlet<S: Scalar>(
        &self,
        outlet: &Outlet,
        opening: f64,
        node: &NodeState<S>,
        air: Air,
    ) -> Passing<S> {
        let share = match air {
            Air::Settled => S::constant(0.0),
            Air::Moving => node.air_share,
        };
        // A column of air weighs nothing.
        let inside = node.pressure - (-share + 1.0) * outlet.lift_pa;
        let drop = inside - self.atmosphere_pa;
        if drop.value() <= 0.0 {
            return match air {
                Air::Settled => Passing::none(),
                Air::Moving => Passing {
                    water: S::constant(0.0),
                    air: -self.nozzle.mass_flow(
                        S::constant(self.atmosphere_pa),
                        -eased(-drop, JET_EASING_PA) + self.atmosphere_pa,
                        outlet.air_area * opening,
                        self.pipe_air_rt,
                    ),
                },
            };
        }
        let drop = eased(drop, JET_EASING_PA);
        let mut water = outlet.jet.flow(drop, opening);
        if let Some(limit) = outlet.limit {
            // Fourth-order blend: the regulator is in control well above its limit and
            // out of the way well below it.
            let ratio = water / (limit * opening);
            let square = ratio * ratio;
            water = water / (square * square + 1.0).sqrt().sqrt();
        }
        match air {
            Air::Settled => Passing {
                water,
                air: S::constant(0.0),
            },
            Air::Moving => Passing {
                water: (-share + 1.0) * water,
                air: share
                    * self.nozzle.mass_flow(
                        drop + self.atmosphere_pa,
                        S::constant(self.atmosphere_pa),
                        outlet.air_area * opening,
                        self.pipe_air_rt,
                    ),
            },
        }
    }

    /// How far an outlet is open.
    pub(crate) fn opening(outlet: &Outlet, modes: &Modes, controls: &Controls) -> f64 {
        match outlet.class {
            OutletClass::Fixture(i) => controls.fixture_openings[i],
            OutletClass::Drain => controls.drain_opening,
            OutletClass::Leak | OutletClass::Draw => 1.0,
            OutletClass::SmallDraw => match modes.small_draw {
                SmallDraw::Open(_) => 1.0,
                SmallDraw::Shut(_) | SmallDraw::Never => 0.0,
            },
        }
    }

    /// Pressure with which pump and source lift a resting column, less the cracking
    /// pressure: positive when the check valve opens [Pa].
    pub(crate) fn opening_pressure(&self, flows: &Flows<f64>, y: &[f64], modes: &Modes) -> f64 {
        let head = self.resting_head_m(flows.surface, flows.bowl_share, y[SHAFT_SPEED], modes);
        let end = if self.line.is_some() {
            &flows.line
        } else {
            &flows.tee
        };
        self.atmosphere_pa
            + self.weight * (flows.surface - self.front_elevation(flows.filled_share))
            + self.weight * head
            - end.pressure
            - self.checks.cracking_pa
    }

    /// Head that the pump makes against a shut check valve [m].
    fn resting_head_m<S: Scalar>(&self, surface: S, bowl_share: S, speed: S, modes: &Modes) -> S {
        match modes.shaft {
            Shaft::Resting => S::constant(0.0),
            Shaft::Turning => {
                let (rest, speed) = (S::constant(0.0), self.wheel_speed(speed));
                let available = self.npsh_available_m(surface, rest);
                let required = self.pump.npsh_required_m(rest, speed);
                self.pump.head_m(rest, speed)
                    * self.head_left(modes)
                    * PumpMap::head_share_with_air(bowl_share)
                    * PumpMap::head_share_at_npsh(available, required)
            }
        }
    }

    /// Net positive suction head at the pump [m], for a loss on the way to it.
    pub(crate) fn npsh_available_m<S: Scalar>(&self, surface: S, suction_loss_pa: S) -> S {
        surface - self.pump_elevation - suction_loss_pa / self.weight
            + (self.atmosphere_pa - self.vapor_pa) / self.weight
    }

    fn front_elevation<S: Scalar>(&self, filled_share: S) -> S {
        if filled_share.value() >= 1.0 {
            S::constant(self.wall_elevation)
        } else {
            self.run_profile.at(filled_share * self.run_volume)
        }
    }

    /// Evaluates everything.
    #[allow(
        clippy::too_many_lines,
        reason = "the equations of one plant, in the order water passes"
    )]
    pub(crate) fn flows<S: Scalar>(
        &self,
        y: &[S; N_CORE],
        modes: &Modes,
        controls: &Controls,
    ) -> Flows<S> {
        let zero = S::constant(0.0);
        let air = modes.air;

        // Pressures.
        let tee = self.node(&self.tee, y[TEE_WATER], y[TEE_AIR]);
        let house = self.node(&self.house, y[HOUSE_WATER], y[HOUSE_AIR]);
        let line = match &self.line {
            Some(node) => self.node(node, y[LINE_WATER], y[LINE_AIR]),
            None => tee,
        };
        let end = if self.line.is_some() { &line } else { &tee };
        let gas_volume = -y[TANK_WATER] + self.tank_shell;
        let charge = y[TANK_CHARGE] * y[TANK_TEMPERATURE] * self.gas_constant;
        let pocket = y[TANK_AIR] * self.pipe_air_rt;
        let tank_pressure = (charge + pocket) / gas_volume;

        let charge_lost = if self.tank_air_leak > 0.0 && tank_pressure.value() > self.atmosphere_pa
        {
            (tank_pressure - self.atmosphere_pa) * self.tank_air_leak
        } else {
            zero
        };

        // Tank.
        let mut tank = Passing::none();
        if modes.bladder == Bladder::Free && controls.tank_valve_opening > 0.0 {
            let scale = 1.0 / (controls.tank_valve_opening * controls.tank_valve_opening);
            let path = Resistance {
                quadratic: self.tank_connection.quadratic * scale,
                linear: self.tank_connection.linear * scale,
            };
            let inside = NodeState {
                pressure: tank_pressure,
                air_volume: pocket / tank_pressure,
                air_share: match air {
                    Air::Settled => zero,
                    Air::Moving => {
                        // The port is at the bottom: water goes first.  Air overdrawn by a
                        // rounding is none: less than none has a pole here.
                        let air_volume = (pocket / tank_pressure).max_of(zero);
                        air_volume / (air_volume + y[TANK_WATER].max_of(zero) * 10.0 + 1e-12)
                    }
                },
                storage: 0.0,
            };
            tank = self.link(tee.pressure - tank_pressure, path, &tee, &inside, air);
        }

        // House.
        let mut house_feed = Passing::none();
        if controls.house_valve_opening > 0.0 {
            let scale = 1.0 / (controls.house_valve_opening * controls.house_valve_opening);
            let path = Resistance {
                quadratic: self.house_path.quadratic + self.house_valve.quadratic * scale,
                linear: self.house_path.linear + self.house_valve.linear * scale,
            };
            house_feed = self.link(tee.pressure - house.pressure, path, &tee, &house, air);
        }

        // Openings.
        let (mut used, mut drained) = (Passing::none(), Passing::none());
        let (mut leaked_tee, mut leaked_house) = (Passing::none(), Passing::none());
        let mut leaked_line = Passing::none();
        for outlet in &self.outlets {
            let opening = Self::opening(outlet, modes, controls);
            if opening <= 0.0 {
                continue;
            }
            let node = match outlet.node {
                OutletNode::Run => end,
                OutletNode::Tee => &tee,
                OutletNode::House => &house,
            };
            let passing = self.outlet(outlet, opening, node, air);
            match outlet.class {
                OutletClass::Fixture(_) | OutletClass::Draw | OutletClass::SmallDraw => {
                    used.add(passing);
                }
                OutletClass::Drain => drained.add(passing),
                OutletClass::Leak => match outlet.node {
                    OutletNode::House => leaked_house.add(passing),
                    OutletNode::Run if self.line.is_some() => leaked_line.add(passing),
                    OutletNode::Run | OutletNode::Tee => leaked_tee.add(passing),
                },
            }
        }
        let expansion = self.expansion(&house);
        let mut relieved = zero;
        if let Some(relief) = &self.relief {
            let over = tee.pressure - (self.atmosphere_pa + relief.set_pa);
            if over.value() > 0.0 {
                let lift = (over / (0.1 * relief.set_pa)).clamped(0.0, 1.0);
                let drop = eased(tee.pressure - self.atmosphere_pa, JET_EASING_PA);
                let full = relief.jet.flow(drop, 1.0);
                relieved = full * lift;
            }
        }

        // Check valve at the wall.
        let mut wall = Passing::none();
        if let Some(check) = &self.wall_check {
            let forward = line.pressure - tee.pressure - check.lift_off_pa;
            let backward = tee.pressure - line.pressure;
            if let (Some(path), true) = (check.forward, forward.value() > 0.0) {
                let drop = eased(forward, CHECK_EASING_PA);
                wall = self.link(drop, path, &line, &tee, air);
            } else if let (Some(path), true) = (check.backward, backward.value() > 0.0) {
                let drop = eased(backward, CHECK_EASING_PA);
                let back = self.link(drop, path, &tee, &line, air);
                wall = Passing {
                    water: -back.water,
                    air: -back.air,
                };
            }
        }

        // Source.
        let surface = self.source.surface_elevation_m(y[SOURCE_WATER]);
        let opening = self
            .intake
            .opening_elevation_m(surface, self.source.floor_m());
        let submergence = surface - opening;
        let inflow = self.source.inflow_m3_per_s(surface);
        let overflow = self.source.overflow_m3_per_s(surface);

        // Pump and run.
        let bowl_share = match air {
            Air::Settled => zero,
            Air::Moving => (y[BOWL_AIR] / self.bowl_air_full).clamped(0.0, 1.0),
        };
        let filled_share = match air {
            Air::Settled => S::constant(1.0),
            Air::Moving => self.filled_share(end),
        };
        let speed = match modes.shaft {
            Shaft::Resting => zero,
            Shaft::Turning => y[SHAFT_SPEED],
        };
        let wheel_speed = self.wheel_speed(speed);
        let front = self.front_elevation(filled_share);
        let reach = surface - front;
        let source_valve = self.source_valve(controls);
        // A hole in the riser lies below the valve at the source.  Neither air nor water
        // comes in by it.
        let mut returned = zero;
        if let (Some((jet, hole_m)), true) = (&self.riser_split, source_valve.is_some()) {
            let outside = surface.max_of(S::constant(*hole_m));
            let drop = end.pressure - self.atmosphere_pa + (front - outside) * self.weight;
            if drop.value() > 0.0 {
                returned = jet.flow(eased(drop, JET_EASING_PA), controls.source_valve_opening);
            }
        }
        let flow = match modes.trunk {
            Trunk::Open => y[TRUNK_FLOW],
            Trunk::Shut => {
                // A turning pump holds its head against what would come back.
                let held = self.resting_head_m(surface, bowl_share, speed, modes);
                let reverse = end.pressure - self.atmosphere_pa - (reach + held) * self.weight;
                match (self.checks.weep, source_valve) {
                    (Some(seat), Some(valve)) if reverse.value() > 0.0 => {
                        let path = seat.and(valve);
                        -flow_through(
                            reverse,
                            S::constant(path.quadratic),
                            S::constant(path.linear),
                        )
                    }
                    _ => zero,
                }
            }
        };
        let backward = flow.value() < 0.0;
        let size = if backward { -flow } else { flow };
        let screen_loss = flow * size * self.suction_quadratic;
        let suction_loss = match &self.suction_friction {
            Some(table) => screen_loss + table.loss_pa(flow),
            None => screen_loss,
        };
        let suction_vacuum = suction_loss - (surface - self.pump_elevation) * self.weight;
        let mut head_share = PumpMap::head_share_with_air(bowl_share);
        let mut trunk_acceleration = zero;
        let mut head = zero;
        if modes.shaft == Shaft::Turning || modes.trunk == Trunk::Open {
            if !backward {
                let available = self.npsh_available_m(surface, suction_loss);
                let required = self.pump.npsh_required_m(flow, wheel_speed);
                head_share = head_share * PumpMap::head_share_at_npsh(available, required);
            }
            let full_head = self.pump.head_m(flow, wheel_speed);
            // Air takes head that the pump makes, not resistance that it offers.
            head = if full_head.value() > 0.0 {
                full_head * head_share * self.head_left(modes)
            } else {
                full_head
            };
        }
        if modes.trunk == Trunk::Open {
            let moving_share = filled_share.max_of(S::constant(LEAST_FILLED_SHARE));
            let inertance = moving_share * self.run_inertance + self.fixed_inertance;
            let (valve, cracking_pa) = if backward {
                (self.checks.backward, 0.0)
            } else {
                (self.checks.forward, self.checks.cracking_pa)
            };
            let hand = source_valve.unwrap_or(Resistance {
                quadratic: 0.0,
                linear: 0.0,
            });
            let valve_loss =
                flow * size * (valve + hand.quadratic) + flow * hand.linear + cracking_pa;
            trunk_acceleration = (reach * self.weight + self.atmosphere_pa + head * self.weight
                - suction_loss
                - filled_share * self.run_friction.loss_pa(flow - returned)
                - valve_loss
                - end.pressure)
                / inertance;
        }
        let (trunk_water, trunk_air, source_out, intake_air) = match air {
            Air::Settled => (flow, zero, flow, zero),
            Air::Moving => {
                let full_per_volume = self.bowl_air_full / self.bowl_volume;
                if backward {
                    // Water falls back through the bowl and takes its air along.
                    let out = bowl_share * flow;
                    (flow, zero, flow - out, out * full_per_volume)
                } else {
                    let shallow = -(submergence / self.vortex_free_m(flow)) + 1.0;
                    let by_opening = shallow.clamped(0.0, 1.0);
                    // Air by a leak takes the place of water in what the pump draws.
                    let leak = if suction_vacuum.value() > 0.0 {
                        eased(suction_vacuum, JET_EASING_PA) * self.defects.suction_leak_m3_per_s_pa
                    } else {
                        zero
                    };
                    let by_leak = leak / (leak + flow + LEAST_DRAW);
                    let drawn = by_opening + (-by_opening + 1.0) * by_leak;
                    (
                        (-bowl_share + 1.0) * flow,
                        bowl_share * flow * full_per_volume,
                        (-drawn + 1.0) * flow,
                        drawn * flow * full_per_volume,
                    )
                }
            }
        };
        let (trunk_water, source_out) = (trunk_water - returned, source_out - returned);
        let is_powered = self.is_powered(modes, controls);
        let bowl_vent = if is_powered || self.vent_rate == 0.0 || air == Air::Settled {
            zero
        } else {
            y[BOWL_AIR] * self.vent_rate
        };
        // Water takes the place of the air that weeps out.
        let source_out = source_out + bowl_vent / (self.bowl_air_full / self.bowl_volume);

        // Shaft.
        let (mut shaft_acceleration, mut shaft_power) = (zero, zero);
        let (mut supply_power, mut line_current) = (zero, zero);
        let (mut motor_heat, mut winding_heat) = (zero, zero);
        let mut churned = zero;
        if modes.shaft == Shaft::Turning {
            let mut drive_torque = zero;
            if is_powered {
                match &self.circuit {
                    None => drive_torque = self.motor.torque_nm(speed),
                    Some(circuit) => {
                        if let Some(drive) = circuit.drive(modes) {
                            drive_torque = drive.shaft_torque_nm.at(speed);
                            supply_power = drive.supply_w.at(speed);
                            line_current = drive.line_a.at(speed);
                            motor_heat = drive.motor_w.at(speed) - drive_torque * speed;
                            winding_heat = drive.stator_copper_w.at(speed);
                        }
                    }
                }
            }
            let drag = if modes.damage.seal {
                SPOILT_SEAL_DRAG
            } else {
                1.0
            } * self.drag_nm;
            let hydraulic =
                self.pump.torque_nm(flow, wheel_speed) * PumpMap::torque_share(head_share);
            let load = hydraulic + (drag + self.defects.bearing_drag_nm);
            shaft_acceleration = (drive_torque - load) / self.rotor_inertia;
            let is_held = self.circuit.as_ref().is_some_and(|c| c.jammed);
            if is_held || (speed.value() <= 0.0 && shaft_acceleration.value() < 0.0) {
                // A load holds a shaft; it does not turn it backwards.
                shaft_acceleration = zero;
            }
            shaft_power = drive_torque * speed;
            churned = hydraulic * wheel_speed - flow * head * self.weight;
        }
        // Water in the pump: churned warm, renewed by flow, cooled through the case.
        let pump_water_heating = if modes.shaft == Shaft::Resting {
            // A follower then: its own cooling is in the step.
            S::constant(self.water_k * self.pump_cooling_rate())
        } else {
            let above = y[PUMP_WATER_TEMPERATURE] - self.water_k;
            let capacity = self.density * self.bowl_volume * WATER_HEAT_CAPACITY;
            churned / capacity
                - above * (size / self.bowl_volume)
                - above * self.pump_cooling_rate()
        };

        Flows {
            tee,
            house,
            line,
            tank_pressure,
            tank,
            house_feed,
            wall,
            used,
            drained,
            leaked_line,
            leaked_tee,
            leaked_house,
            expansion,
            relieved,
            trunk_water,
            returned,
            trunk_air,
            source_out,
            intake_air,
            bowl_vent,
            trunk_acceleration,
            shaft_acceleration,
            shaft_power,
            supply_power,
            line_current,
            motor_heat,
            winding_heat,
            pump_water_heating,
            surface,
            submergence,
            suction_vacuum,
            charge_lost,
            inflow,
            overflow,
            bowl_share,
            filled_share,
        }
    }
}
