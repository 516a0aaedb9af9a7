//! The constants of one plant, worked out once from the site and its defects.

use super::circuit::CircuitModel;
use super::controls::Controls;
use super::flows::{CHECK_EASING_PA, JET_EASING_PA, eased};
use super::nozzle_table::NozzleTable;
use super::source_map::SourceMap;
use crate::faults::{Defects, LeakPlace, Seat};
use crate::math::{MonotoneTable, PiecewiseLinear};
use crate::parts::{CheckValveSpec, FlowRating, IntakeSpec, PipeSpec, PumpMap, TorqueCurve};
use crate::site::SiteSpec;
use crate::units::convert::{PSI, STANDARD_GRAVITY};
use crate::water::WaterProperties;
use crate::water::friction::{Fluid, pipe_pressure_loss_pa};
use crate::water::hammer::pipe_volume_m3;
use crate::{air, water};

/// Least mass of gas in a node [kg]: a trace that keeps pressure above the vapour
/// pressure of water when the pipes are pulled empty.
pub(crate) const TRACE_AIR_KG: f64 = 1e-10;

/// Loss coefficient of the valve at the source when half open, over three times the
/// velocity head in the first pipe of the run; open, it is a clear bore (training value).
const SOURCE_VALVE_K: f64 = 2.5;

/// Share of the run's inertia that moves at the least, so that a column of no length
/// has no infinite acceleration.
pub(crate) const LEAST_FILLED_SHARE: f64 = 0.02;

/// Pressure drop below which a passage is taken as laminar, its flow in proportion to
/// the drop [Pa].  A pure square root is vertical at rest: besides being untrue there,
/// it makes any linearly implicit step swing from one side of rest to the other, which
/// error control stops only once the swing is far below its tolerance.
const LAMINAR_DROP_PA: f64 = 300.0;

/// A resistance Δp = r·Q + k·Q·|Q|.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Resistance {
    /// k [Pa·s²/m⁶].
    pub(crate) quadratic: f64,
    /// r [Pa·s/m³].
    pub(crate) linear: f64,
}

impl Resistance {
    /// A fitting in a pipe: meets its rating exactly, and its linear and quadratic losses
    /// are equal at [`LAMINAR_DROP_PA`] or so.
    pub(crate) fn fitting(rating: FlowRating) -> Self {
        let (flow, drop) = (rating.flow.si(), rating.drop.si());
        // r²/k = LAMINAR_DROP_PA with r = s·drop/flow and k = (1−s)·drop/flow².
        let ratio = LAMINAR_DROP_PA / drop;
        let share = 0.5 * ((ratio * ratio + 4.0 * ratio).sqrt() - ratio);
        Self {
            quadratic: (1.0 - share) * drop / (flow * flow),
            linear: share * drop / flow,
        }
    }

    /// A pipe: laminar near rest, and its true loss at `flow`.
    fn pipe(pipe: &PipeSpec, flow: f64, fluid: Fluid) -> Self {
        let slow = 1e-3 * flow;
        let linear = pipe_pressure_loss_pa(pipe, slow, fluid) / slow;
        let loss = pipe_pressure_loss_pa(pipe, flow, fluid);
        Self {
            quadratic: (loss / flow - linear).max(0.0) / flow,
            linear,
        }
    }

    /// A turbulent resistance with its laminar floor.
    fn turbulent(quadratic: f64) -> Self {
        Self {
            quadratic,
            linear: (LAMINAR_DROP_PA * quadratic).sqrt(),
        }
    }

    pub(crate) fn and(self, other: Self) -> Self {
        Self {
            quadratic: self.quadratic + other.quadratic,
            linear: self.linear + other.linear,
        }
    }
}

/// A stretch of pipes at one pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Node {
    /// Elastic storage of pipe walls and water [m³/Pa].
    pub(crate) capacity: f64,
    /// Volume in which air and water mix at the outlets [m³].
    pub(crate) mixing_volume: f64,
    /// Whole inside volume [m³].
    pub(crate) volume: f64,
}

/// An opening to the air: Q = C·Δp/√(Δp + ε), a square root but near rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Jet {
    /// C [m³/s/√Pa].
    conductance: f64,
}

impl Jet {
    /// The jet that meets a rating exactly, its drop eased.
    pub(crate) fn of(rating: FlowRating) -> Self {
        let drop = eased(rating.drop.si(), JET_EASING_PA);
        Self {
            conductance: rating.flow.si() * (drop + LAMINAR_DROP_PA).sqrt() / drop,
        }
    }

    /// Flow [m³/s] at a drop [Pa] that is not negative, share `opening` of it open.
    #[inline]
    pub(crate) fn flow<S: crate::math::Scalar>(&self, drop: S, opening: f64) -> S {
        drop * (self.conductance * opening) / (drop + LAMINAR_DROP_PA).sqrt()
    }

    /// Discharge coefficient × area for air [m²].
    pub(crate) fn air_area_m2(&self, density: f64) -> f64 {
        self.conductance * (density / 2.0).sqrt()
    }
}

/// What leaves where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OutletClass {
    Fixture(usize),
    Drain,
    Leak,
    /// In use all the time.
    Draw,
    /// In use by the clock.
    SmallDraw,
}

/// Which node an outlet hangs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OutletNode {
    /// The run's end: the tee, or the line below a check valve at the wall.
    Run,
    Tee,
    House,
}

/// An opening to the atmosphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Outlet {
    pub(crate) class: OutletClass,
    pub(crate) node: OutletNode,
    pub(crate) jet: Jet,
    /// Discharge coefficient × area for air [m²].
    pub(crate) air_area: f64,
    /// Weight of the water between node and opening [Pa], positive when it is higher.
    pub(crate) lift_pa: f64,
    pub(crate) limit: Option<f64>,
}

/// The relief valve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Relief {
    pub(crate) set_pa: f64,
    pub(crate) jet: Jet,
}

/// Check valves in line with the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Checks {
    /// Loss of all of them when open, to water on its way to the wall [Pa·s²/m⁶].
    pub(crate) forward: f64,
    /// Loss of those that are held open, to water on its way back [Pa·s²/m⁶].
    pub(crate) backward: f64,
    /// Sum of cracking pressures of those that can shut [Pa].
    pub(crate) cracking_pa: f64,
    /// Whether any can shut.
    pub(crate) can_shut: bool,
    /// Whether one cannot open.
    pub(crate) stuck_shut: bool,
    /// What the shut valves let back, when every one of them weeps.
    pub(crate) weep: Option<Resistance>,
}

/// Check valve at the wall: a resistance each way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WallCheck {
    pub(crate) forward: Option<Resistance>,
    /// Where it begins to lift, so that it meets its cracking pressure on the whole [Pa].
    pub(crate) lift_off_pa: f64,
    pub(crate) backward: Option<Resistance>,
}

/// The constants of one plant.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Model {
    pub(crate) site: SiteSpec,
    pub(crate) defects: Defects,
    pub(crate) density: f64,
    /// Weight of water [N/m³].
    pub(crate) weight: f64,
    pub(crate) atmosphere_pa: f64,
    pub(crate) vapor_pa: f64,
    /// R·T of the air in the pipes [J/kg].
    pub(crate) pipe_air_rt: f64,
    pub(crate) gas_constant: f64,
    pub(crate) ambient_k: f64,
    pub(crate) tee: Node,
    pub(crate) house: Node,
    /// The run, when a check valve at the wall parts it from the tee.
    pub(crate) line: Option<Node>,
    pub(crate) wall_check: Option<WallCheck>,
    /// Inside volume of the run [m³].
    pub(crate) run_volume: f64,
    /// Height of the water front [m] against volume of water in the run [m³].
    pub(crate) run_profile: PiecewiseLinear,
    pub(crate) wall_elevation: f64,
    /// ρL/A of the run [kg/m⁴].
    pub(crate) run_inertance: f64,
    /// ρL/A of what is always full: suction pipe and pump [kg/m⁴].
    pub(crate) fixed_inertance: f64,
    /// Loss of the run against the square root of flow over `friction_top`.
    pub(crate) run_friction: FrictionTable,
    /// Loss from the source to the pump [Pa·s²/m⁶] and its friction.
    pub(crate) suction_quadratic: f64,
    pub(crate) suction_friction: Option<FrictionTable>,
    pub(crate) checks: Checks,
    /// Loss of the valve at the source for an opening s, over 1/s² − 1 [Pa·s²/m⁶].
    pub(crate) source_valve_quadratic: f64,
    pub(crate) pump: PumpMap,
    pub(crate) pump_elevation: f64,
    /// The motor by its nameplate, where the site has no wiring.
    pub(crate) motor: TorqueCurve,
    pub(crate) circuit: Option<CircuitModel>,
    pub(crate) water_k: f64,
    pub(crate) rotor_inertia: f64,
    /// Torque that bearings and seals always ask [N·m].
    pub(crate) drag_nm: f64,
    /// Air that fills the pump's bowl [kg].
    pub(crate) bowl_air_full: f64,
    pub(crate) bowl_volume: f64,
    pub(crate) vent_rate: f64,
    /// A hole in the riser, and its height [m].
    pub(crate) riser_split: Option<(Jet, f64)>,
    /// Flow coming back at which the check valve shuts [m³/s].
    pub(crate) slam_flow: f64,
    /// Air that the tank loses per pascal of gauge pressure [kg/(s·Pa)].
    pub(crate) tank_air_leak: f64,
    pub(crate) intake: IntakeSpec,
    pub(crate) source: SourceMap,
    pub(crate) tank_connection: Resistance,
    pub(crate) tank_shell: f64,
    pub(crate) tank_acceptance: f64,
    pub(crate) gas_time_constant: f64,
    pub(crate) house_path: Resistance,
    pub(crate) house_valve: Resistance,
    pub(crate) outlets: Vec<Outlet>,
    pub(crate) relief: Option<Relief>,
    pub(crate) port_rate: f64,
    pub(crate) needle_rate: f64,
    pub(crate) contact_delay: f64,
    pub(crate) nozzle: NozzleTable,
}

/// Pressure loss of a pipe against flow, odd in flow: straight near rest, then a
/// monotone cubic in the square root of flow.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FrictionTable {
    top_flow: f64,
    first_flow: f64,
    first_slope: f64,
    table: MonotoneTable,
    end_quadratic: f64,
}

impl FrictionTable {
    const CELLS: u32 = 96;

    pub(crate) fn new(pipes: &[PipeSpec], fluid: Fluid, top_flow: f64) -> Self {
        let loss = |q: f64| {
            pipes
                .iter()
                .map(|p| pipe_pressure_loss_pa(p, q, fluid))
                .sum::<f64>()
        };
        let mut u = Vec::new();
        let mut f = Vec::new();
        for i in 1..=Self::CELLS {
            let share = f64::from(i) / f64::from(Self::CELLS);
            u.push(share);
            f.push(loss(top_flow * share * share));
        }
        let first_flow = top_flow * u[0] * u[0];
        Self {
            top_flow,
            first_flow,
            first_slope: f[0] / first_flow,
            end_quadratic: f[f.len() - 1] / (top_flow * top_flow),
            table: MonotoneTable::through(u, f),
        }
    }

    /// Loss [Pa] at a flow [m³/s], with the sign of the flow.
    #[inline]
    pub(crate) fn loss_pa<S: crate::math::Scalar>(&self, flow: S) -> S {
        let is_backward = flow.value() < 0.0;
        let size = if is_backward { -flow } else { flow };
        let loss = if size.value() <= self.first_flow {
            size * self.first_slope
        } else if size.value() >= self.top_flow {
            size * size * self.end_quadratic
        } else {
            self.table.at((size / self.top_flow).sqrt())
        };
        if is_backward { -loss } else { loss }
    }
}

impl Model {
    /// Works out the constants of a plant.
    #[must_use]
    pub(crate) fn new(site: SiteSpec, defects: Defects) -> Self {
        let properties = WaterProperties::at(site.water_temperature);
        let fluid = properties.fluid();
        let density = properties.density_kg_per_m3;
        let weight = density * STANDARD_GRAVITY;
        let atmosphere_pa = air::atmosphere::standard_pressure_pa(site.altitude.si());
        let gas_constant = air::gas::AIR.gas_constant_j_per_kg_k;
        let pipe_air_rt = gas_constant * site.water_temperature.si();
        let pump = PumpMap::new(&site.pump);
        let top_flow = 4.0 * pump.max_flow_m3_per_s();

        let storage = |pipe: &PipeSpec| {
            water::hammer::elastic_storage_m3_per_pa(pipe, properties.bulk_modulus_pa)
        };
        let run_volume: f64 = site.run.iter().map(pipe_volume_m3).sum();
        let run_storage: f64 = site.run.iter().map(storage).sum();
        let manifold = site.wall.manifold_volume.si();
        // Manifolds are short stiff pipework: water and brass only.
        let manifold_storage = manifold * 1.5 / properties.bulk_modulus_pa;
        let manifold_node = Node {
            capacity: manifold_storage,
            mixing_volume: manifold,
            volume: manifold,
        };
        let (tee, line) = if site.wall.check.is_some() {
            let line = Node {
                capacity: run_storage,
                mixing_volume: 0.1 * run_volume,
                volume: run_volume,
            };
            (manifold_node, Some(line))
        } else {
            let tee = Node {
                capacity: run_storage + manifold_storage,
                mixing_volume: manifold,
                volume: run_volume + manifold,
            };
            (tee, None)
        };
        let house_volume = pipe_volume_m3(&site.house.pipe);
        let house = Node {
            capacity: storage(&site.house.pipe),
            mixing_volume: house_volume,
            volume: house_volume,
        };

        let mut outlets: Vec<Outlet> = site
            .house
            .fixtures
            .iter()
            .enumerate()
            .map(|(i, f)| Outlet {
                class: OutletClass::Fixture(i),
                node: OutletNode::House,
                jet: Jet::of(f.rating),
                air_area: Jet::of(f.rating).air_area_m2(density),
                lift_pa: weight * (f.elevation.si() - site.wall.elevation.si()),
                limit: f.limit.map(|l| l.si()),
            })
            .collect();
        outlets.push(Outlet {
            class: OutletClass::Drain,
            node: OutletNode::Tee,
            jet: Jet::of(site.wall.drain_cock),
            air_area: Jet::of(site.wall.drain_cock).air_area_m2(density),
            lift_pa: 0.0,
            limit: None,
        });
        for leak in &defects.leaks {
            outlets.push(Outlet {
                class: OutletClass::Leak,
                node: match leak.place {
                    LeakPlace::Run => OutletNode::Run,
                    LeakPlace::Tee => OutletNode::Tee,
                    LeakPlace::House | LeakPlace::Toilet => OutletNode::House,
                },
                jet: Jet::of(leak.rating),
                air_area: Jet::of(leak.rating).air_area_m2(density),
                lift_pa: weight * (leak.elevation.si() - site.wall.elevation.si()),
                limit: None,
            });
        }
        let small_draw = defects
            .small_draws
            .map(|s| (OutletClass::SmallDraw, s.draw));
        let steady_draws = defects.draws.iter().map(|d| (OutletClass::Draw, *d));
        for (class, draw) in steady_draws.chain(small_draw) {
            outlets.push(Outlet {
                class,
                node: OutletNode::House,
                jet: Jet::of(draw.rating),
                air_area: Jet::of(draw.rating).air_area_m2(density),
                lift_pa: weight * (draw.elevation.si() - site.wall.elevation.si()),
                limit: None,
            });
        }

        let inertance = |pipe: &PipeSpec| water::hammer::inertance_pa_s2_per_m3(pipe, density);
        let suction_inertance = site.suction.as_ref().map_or(0.0, inertance);
        let bowl_volume = site.pump.bowl_volume.si();
        let rated_torque = site.motor.rated_power.si() / site.motor.full_load_speed.si();
        let mut checks = series(&[
            (site.foot_valve.as_ref(), defects.foot_valve),
            (site.pump_check.as_ref(), defects.pump_check),
        ]);
        if defects.run_frozen {
            // Ice in the pipe lets as little through as a valve that does not lift.
            checks.can_shut = true;
            checks.stuck_shut = true;
            checks.weep = None;
        }
        let house_pipe = Resistance::pipe(&site.house.pipe, site.house.valve.flow.si(), fluid);
        let house_path = match site.house.filter {
            Some(filter) => house_pipe.and(Resistance::fitting(filter)),
            None => house_pipe,
        };

        Self {
            density,
            weight,
            atmosphere_pa,
            vapor_pa: properties.vapor_pressure_pa,
            pipe_air_rt,
            gas_constant,
            ambient_k: site.air_temperature.si(),
            tee,
            house,
            line,
            wall_check: site
                .wall
                .check
                .as_ref()
                .map(|c| wall_check(c, defects.wall_check)),
            run_volume,
            run_profile: profile(&site),
            wall_elevation: site.wall.elevation.si(),
            run_inertance: site.run.iter().map(inertance).sum(),
            fixed_inertance: suction_inertance,
            run_friction: FrictionTable::new(&site.run, fluid, top_flow),
            suction_quadratic: site.intake.screen.quadratic_coefficient(),
            suction_friction: site
                .suction
                .as_ref()
                .map(|p| FrictionTable::new(core::slice::from_ref(p), fluid, top_flow)),
            checks,
            source_valve_quadratic: SOURCE_VALVE_K * velocity_head_pa(&site.run[0], density),
            pump,
            pump_elevation: site.pump.elevation.si(),
            motor: TorqueCurve::new(&site.motor, site.supply.voltage.si()),
            circuit: super::reduction::circuit_model(&site, &defects),
            water_k: site.water_temperature.si(),
            rotor_inertia: site.pump.rotor_inertia.si(),
            drag_nm: 0.02 * rated_torque,
            bowl_air_full: bowl_volume * atmosphere_pa / pipe_air_rt,
            bowl_volume,
            riser_split: defects
                .riser_split
                .map(|rating| (Jet::of(rating), split_elevation(&site))),
            slam_flow: defects.slam_m_per_s * bore_m2(&site.run[0]),
            tank_air_leak: defects.tank_air_leak_pa_per_s * site.tank.shell_volume.si()
                / (gas_constant * site.air_temperature.si() * site.tank.precharge.si().max(PSI)),
            vent_rate: site.pump.vent_time.map_or(0.0, |t| 1.0 / t.si()),
            intake: site.intake,
            source: SourceMap::new(&site.source),
            tank_connection: Resistance::fitting(site.tank.connection),
            tank_shell: site.tank.shell_volume.si(),
            tank_acceptance: match defects.tank_air_left_m3 {
                // A torn or air-less bladder has no stop of its own.
                Some(_) => site.tank.shell_volume.si() * (1.0 - 1e-4),
                None => site.tank.acceptance_volume.si(),
            },
            gas_time_constant: site.tank.gas_time_constant.si(),
            house_path,
            house_valve: Resistance::fitting(site.house.valve),
            outlets,
            relief: site.wall.relief_valve.as_ref().map(|r| Relief {
                set_pa: r.set_pressure.si(),
                jet: Jet::of(r.rating),
            }),
            port_rate: if defects.port_frozen {
                0.0
            } else {
                1.0 / site.wall.pressure_switch.port_lag.si()
            },
            // A gauge without any lag still has an inertia.
            needle_rate: 1.0 / site.wall.gauge.lag.si().max(1e-3),
            contact_delay: site.wall.pressure_switch.contact_delay.si(),
            nozzle: NozzleTable::new(),
            site,
            defects,
        }
    }

    /// The same for a plant that was `before`, sharing what has not changed.
    #[must_use]
    pub(crate) fn after(before: &Self, site: SiteSpec, defects: Defects) -> Self {
        let mut model = Self::new(site, defects);
        if let (Some(old), Some(new)) = (&before.circuit, &mut model.circuit) {
            new.share_drives(old);
        }
        model
    }

    /// Loss of the valve at the source, none when it is shut.
    pub(crate) fn source_valve(&self, controls: &Controls) -> Option<Resistance> {
        let opening = controls.source_valve_opening;
        (opening > 0.0).then(|| {
            Resistance::turbulent(self.source_valve_quadratic * (1.0 / (opening * opening) - 1.0))
        })
    }

    /// Submergence that keeps air out at a flow [m]: where a vortex forms, it grows with
    /// the square of the flow, as the dip over an opening does.
    pub(crate) fn vortex_free_m<S: crate::math::Scalar>(&self, flow: S) -> S {
        let still = self.intake.vortex_free.si();
        let more = self.defects.vortex_full_flow_m.unwrap_or(0.0) - still;
        if more <= 0.0 {
            return S::constant(still);
        }
        let share = (flow / self.pump.max_flow_m3_per_s()).clamped(0.0, 1.0);
        share * share * more + still
    }

    /// Water beyond a node's full volume at a pressure [Pa, absolute], with that air in it.
    pub(crate) fn excess_at(&self, node: &Node, pressure_pa: f64, air_kg: f64) -> f64 {
        let pocket = air_kg.max(TRACE_AIR_KG) * self.pipe_air_rt / (pressure_pa - self.vapor_pa);
        node.capacity * (pressure_pa - self.atmosphere_pa) - pocket
    }

    /// The node that the run ends in.
    pub(crate) fn run_end(&self) -> &Node {
        self.line.as_ref().unwrap_or(&self.tee)
    }
}

/// Velocity head in a pipe over the square of its flow [Pa·s²/m⁶].
fn velocity_head_pa(pipe: &PipeSpec, density: f64) -> f64 {
    0.5 * density / (bore_m2(pipe) * bore_m2(pipe))
}

fn bore_m2(pipe: &PipeSpec) -> f64 {
    0.25 * core::f64::consts::PI * pipe.inside_diameter.si() * pipe.inside_diameter.si()
}

/// Where a riser splits [m]: half way up its first pipe.
fn split_elevation(site: &SiteSpec) -> f64 {
    site.pump.elevation.si() + 0.5 * site.run[0].rise.si()
}

/// Height of the front against water in the run, from the pump to the wall.
fn profile(site: &SiteSpec) -> PiecewiseLinear {
    let (mut volume, mut height) = (0.0, site.pump.elevation.si());
    let (mut x, mut y) = (vec![volume], vec![height]);
    for pipe in &site.run {
        let v = pipe_volume_m3(pipe);
        volume += v;
        height += pipe.rise.si();
        x.push(volume);
        y.push(height);
    }
    PiecewiseLinear::through(x, y)
}

fn series(valves: &[(Option<&CheckValveSpec>, Seat)]) -> Checks {
    let mut checks = Checks {
        forward: 0.0,
        backward: 0.0,
        cracking_pa: 0.0,
        can_shut: false,
        stuck_shut: false,
        weep: None,
    };
    let mut all_weep = true;
    let mut weep = Resistance {
        quadratic: 0.0,
        linear: 0.0,
    };
    for (valve, seat) in valves.iter().filter_map(|(v, s)| v.map(|v| (v, *s))) {
        let forward = valve.forward.quadratic_coefficient();
        match seat {
            Seat::StuckOpen(share) => {
                // What holds it off its seat does not keep water from lifting it further.
                checks.forward += forward;
                checks.backward += forward / (share * share);
                continue;
            }
            Seat::StuckShut => {
                checks.stuck_shut = true;
                all_weep = false;
            }
            Seat::Tight => all_weep = false,
            Seat::Weeping(rating) => {
                let r = Resistance::fitting(rating);
                weep.quadratic += r.quadratic;
                weep.linear += r.linear;
            }
        }
        checks.forward += forward;
        checks.backward += forward;
        checks.cracking_pa += valve.cracking_pressure.si();
        checks.can_shut = true;
    }
    if checks.can_shut && all_weep {
        checks.weep = Some(weep);
    }
    checks
}

fn wall_check(spec: &CheckValveSpec, seat: Seat) -> WallCheck {
    let forward = Resistance::fitting(spec.forward);
    let lift_off_pa = (spec.cracking_pressure.si() - 0.5 * CHECK_EASING_PA).max(0.0);
    match seat {
        Seat::Tight => WallCheck {
            forward: Some(forward),
            lift_off_pa,
            backward: None,
        },
        Seat::Weeping(rating) => WallCheck {
            forward: Some(forward),
            lift_off_pa,
            backward: Some(Resistance::fitting(rating)),
        },
        Seat::StuckOpen(share) => {
            let held = Resistance {
                quadratic: forward.quadratic / (share * share),
                linear: forward.linear / (share * share),
            };
            WallCheck {
                forward: Some(forward),
                lift_off_pa: 0.0,
                backward: Some(held),
            }
        }
        Seat::StuckShut => WallCheck {
            forward: None,
            lift_off_pa,
            backward: None,
        },
    }
}
