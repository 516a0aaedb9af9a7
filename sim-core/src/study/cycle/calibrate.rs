//! Starts and stops measured on the plant engine.

use super::checks;
use super::config::Config;
use super::gas::{Leg, Pose, Rates, SourceNow, Sums};
use super::layer::{Layer, Offset};
use super::manifold::{Branch, QUICK, QUICK_STATES};
use super::result::Reason;
use super::sheet::{Lanes, N, TEE, TEE_LAG};
use super::surfaces::{knot_of, knots};
use super::tables::Cycles;
use crate::plant::model::Model;
use crate::plant::state::{
    DRAWN, N_STATES, NEEDLE_PRESSURE, SENSED_PRESSURE, SHAFT_WORK, SOURCE_WATER, SUPPLY_WORK,
    TANK_TEMPERATURE, TANK_WATER, USED,
};
use crate::plant::{Contacts, Controls, Guard, Plant, Tick};
use crate::units::Seconds;

/// How long a start or a stop is watched [s]: many times what the water in the pipes needs
/// to settle.
const WATCH_S: f64 = 4.0;
/// Tolerance of the plant while it is watched.
const TOLERANCE: f64 = 2e-6;
/// Longest step of the settled course beside it [s].
const COURSE_STEP_S: f64 = 0.5;
/// Largest demand at which starts and stops are measured, over the pump's flow there.
const TOP_DEMAND: f64 = 0.8;

/// A pose at which the switch lets go, on the settled course.
struct Edge {
    pose: Pose,
    y: [f64; N_STATES],
    demand: f64,
    house_pa: f64,
}

/// Measures starts and stops; sets the modes and states of `cycles` on the way.
pub(super) fn calibrate(cycles: &mut Cycles, plant: &Plant) -> Result<(), Reason> {
    let model = plant.model.as_ref();
    let middle = cycles.sources[1];

    // A first start shows what a running pump looks like here.
    {
        let controls = cycles.controls.clone();
        let branch = Branch::new(model, cycles.off_modes, &controls).ok_or(Reason::NotSteady)?;
        let mut y = cycles.off_state;
        y[SOURCE_WATER] = middle;
        branch.set_tank(&mut y, model.atmosphere_pa + cycles.cut_in);
        branch.settle(&mut y).ok_or(Reason::NotSteady)?;
        cycles.off_state = y;
        y[SENSED_PRESSURE] = model.atmosphere_pa + cycles.cut_in;
        let (after, y) = watch(plant, cycles, &y, &controls, Guard::CutIn)?;
        if !checks::is_running(after.modes(), model) {
            return Err(not_running(&after));
        }
        cycles.on_modes = *after.modes();
        cycles.on_state = y;
    }
    let [low_m, middle_m, high_m] = cycles.surfaces_m;
    let content = |surface_m: f64| {
        let depth_m = surface_m - model.source.floor_m();
        model.site.source.volume_m3(depth_m)
    };
    cycles.knots =
        knots(&cycles.grounds(model), [low_m, high_m], content).ok_or(Reason::NotSteady)?;
    let knot = knot_of(&cycles.knots, middle_m);
    let build = |cycles: &Cycles, openings: Vec<f64>| {
        Config::build(&cycles.grounds(model), openings).ok_or(Reason::NotSteady)
    };
    let n = cycles.controls.fixture_openings.len();
    let mut base = build(cycles, vec![0.0; n])?;
    if !base.switch_on(&cycles.grounds(model), knot) {
        return Err(Reason::NotSteady);
    }
    can_go_on(cycles, model)?;

    // How far all outlets must be open for the largest demand.
    let wide = build(cycles, vec![1.0; n])?;
    let at_cut_in = |config: &Config| {
        let place = config.off.place(model.atmosphere_pa + cycles.cut_in);
        -config.off.first::<1>(place)[N]
    };
    let on = base.on(knot).ok_or(Reason::NotSteady)?;
    let least = on.all(model.atmosphere_pa + cycles.cut_out, middle_m)[N];
    let least_flow = least + at_cut_in(&base);
    let share = (TOP_DEMAND * least_flow / at_cut_in(&wide).max(1e-9)).min(1.0);
    let half = build(cycles, vec![0.4 * share; n])?;
    let top = build(cycles, vec![share; n])?;
    let configs = [base, half, top];

    cycles.start = layer(cycles, plant, &configs, Guard::CutIn)?;
    cycles.stop = layer(cycles, plant, &configs, Guard::CutOut)?;
    Ok(())
}

/// Whether the pump may run for ever anywhere in its range.
fn can_go_on(cycles: &Cycles, model: &Model) -> Result<(), Reason> {
    let branch = Branch::new(model, cycles.on_modes, &cycles.controls).ok_or(Reason::NotSteady)?;
    let mut y = cycles.on_state;
    for i in 0..5 {
        let share = f64::from(i) / 4.0;
        let (low, high) = (cycles.low_pa, model.atmosphere_pa + cycles.cut_out);
        branch.set_tank(&mut y, low + share * (high - low));
        branch.settle(&mut y).ok_or(Reason::NotSteady)?;
        checks::steady(model, &y, &cycles.on_modes, &cycles.controls)?;
    }
    Ok(())
}

fn layer(
    cycles: &Cycles,
    plant: &Plant,
    configs: &[Config; 3],
    guard: Guard,
) -> Result<Layer, Reason> {
    let mut levels: Vec<(f64, Offset)> = Vec::with_capacity(3);
    for config in configs {
        let (demand, offset) = measure(cycles, plant, config, guard, 1)?;
        // Where nothing can be drawn there is one level only.
        if levels.last().is_none_or(|(last, _)| demand > last + 1e-6) {
            levels.push((demand, offset));
        }
    }
    let (demand, high) = measure(cycles, plant, &configs[0], guard, 2)?;
    let mut layer = Layer {
        levels,
        surface_m: cycles.surfaces_m[1],
        per_m: Offset::default(),
    };
    let middle = layer.at(demand, cycles.surfaces_m[1]);
    layer.per_m = high.slope_from(&middle, cycles.surfaces_m[2] - cycles.surfaces_m[1]);
    Ok(layer)
}

/// One start or stop on the plant beside the settled course.
fn measure(
    cycles: &Cycles,
    plant: &Plant,
    config: &Config,
    guard: Guard,
    source: usize,
) -> Result<(f64, Offset), Reason> {
    let model = plant.model.as_ref();
    let mut config = config.clone();
    let knot = knot_of(&cycles.knots, cycles.surfaces_m[source]);
    if !config.switch_on(&cycles.grounds(model), knot) {
        return Err(Reason::NotSteady);
    }
    let (off, on) = (&config.off, config.on(knot).ok_or(Reason::NotSteady)?);
    let mut controls = cycles.controls.clone();
    controls.fixture_openings.clone_from(&config.openings);
    let is_start = guard == Guard::CutIn;
    let content = cycles.sources[source];
    let edge = if is_start {
        edge(cycles, model, off, off, &controls, false, content)
    } else {
        edge(cycles, model, on, off, &controls, true, content)
    }
    .ok_or(Reason::NotSteady)?;
    let (after, y) = watch(plant, cycles, &edge.y, &controls, guard)?;
    let is_as_expected = if is_start {
        checks::is_running(after.modes(), model)
    } else {
        checks::is_quiet(after.modes())
    };
    if !is_as_expected {
        return Err(if is_start {
            not_running(&after)
        } else {
            Reason::NotSteady
        });
    }
    let seconds = after.now().seconds() - cycles.delay_s;

    // The settled course from the same place, for the offset that ends it where the plant
    // is.
    let source_now = checks::source_now(model, edge.pose.source);
    let mut before = Sums::default();
    let delay_s = cycles.delay_s;
    let begun = if is_start {
        course(cycles, edge.pose, delay_s, &source_now, off, &mut before)
    } else {
        course(cycles, edge.pose, delay_s, &source_now, on, &mut before)
    };
    let mut offset = Offset::default();
    let mut sums = before;
    for _ in 0..4 {
        let mut pose = begun;
        pose.water += offset.water;
        pose.gas_k += offset.gas_k;
        sums = before;
        let end = if is_start {
            course(cycles, pose, seconds, &source_now, on, &mut sums)
        } else {
            course(cycles, pose, seconds, &source_now, off, &mut sums)
        };
        offset.water += y[TANK_WATER] - end.water;
        if !cycles.gas.is_quick {
            offset.gas_k += y[TANK_TEMPERATURE] - end.gas_k;
        }
    }
    let gone = |i: usize| y[i] - edge.y[i];
    offset.sums = Sums {
        supply_j: gone(SUPPLY_WORK) - sums.supply_j,
        shaft_j: gone(SHAFT_WORK) - sums.shaft_j,
        pumped: gone(DRAWN) - sums.pumped,
        used: gone(USED) - sums.used,
    };
    offset.dip_pa = after
        .totals()
        .lowest_house_pressure_pa
        .map_or(0.0, |lowest| (lowest - edge.house_pa).min(0.0));
    Ok((edge.demand, offset))
}

/// Why a pump does not run some seconds after its start.
fn not_running(after: &Plant) -> Reason {
    let modes = after.modes();
    if modes.contacts != Contacts::Closed && modes.circuit.lets_current_through() {
        // It has been at cut-out already.
        Reason::ShortRun
    } else {
        Reason::NoStart
    }
}

/// Lets the switch trip and the plant run on for a while; returns it and its state.
fn watch(
    plant: &Plant,
    cycles: &Cycles,
    y: &[f64; N_STATES],
    controls: &Controls,
    guard: Guard,
) -> Result<(Plant, [f64; N_STATES]), Reason> {
    let mut plant = plant.clone().with_tolerance(TOLERANCE);
    let mut state = plant.snapshot();
    state.controls = controls.clone();
    state.lowest_house_pa = None;
    state.modes = if guard == Guard::CutIn {
        cycles.off_modes
    } else {
        state.powered_since_s = Some(0.0);
        cycles.on_modes
    };
    if guard == Guard::CutOut {
        state.modes.contacts = Contacts::Closed;
    }
    plant.restore(state);
    let until = Tick::at_or_after(Seconds(cycles.delay_s + WATCH_S));
    plant
        .settle_at(0.0, *y, Some(guard))
        .and_then(|()| plant.advance_to(until))
        .map_err(|_| Reason::NotSteady)?;
    let y = plant.state_now();
    Ok((plant, y))
}

/// Finds the pressure at which the switch trips on the settled course.
fn edge(
    cycles: &Cycles,
    model: &Model,
    lanes: &impl Lanes,
    off: &impl Lanes,
    controls: &Controls,
    is_on: bool,
    source_m3: f64,
) -> Option<Edge> {
    let source = checks::source_now(model, source_m3);
    let gas = &cycles.gas;
    let pose_at = |pressure_pa: f64| Pose {
        water: gas.water_at(pressure_pa, gas.ambient_k),
        gas_k: gas.ambient_k,
        source: source_m3,
    };
    let rates_at = |pressure_pa: f64| gas.rates(&pose_at(pressure_pa), &source, lanes);
    let cut = if is_on { cycles.cut_out } else { cycles.cut_in };
    let (mut low, mut high) = (cycles.low_pa, cycles.high_pa);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if felt(&rates_at(middle)) < cut {
            low = middle;
        } else {
            high = middle;
        }
    }
    let pressure_pa = 0.5 * (low + high);
    let rates = rates_at(pressure_pa);
    let modes = if is_on {
        cycles.on_modes
    } else {
        cycles.off_modes
    };
    let branch = Branch::new(model, modes, controls)?;
    let mut y = if is_on {
        cycles.on_state
    } else {
        cycles.off_state
    };
    let pose = pose_at(pressure_pa);
    y[SOURCE_WATER] = source_m3;
    y[TANK_TEMPERATURE] = gas.ambient_k;
    branch.set_tank(&mut y, rates.speeds.pressure_pa);
    let point = branch.settle(&mut y)?;
    y[TANK_WATER] = pose.water;
    for i in 0..QUICK {
        y[QUICK_STATES[i]] = point.quick[i] + point.lag[i] * rates.speeds.pressure_rate;
    }
    y[SENSED_PRESSURE] = model.atmosphere_pa + cut;
    y[NEEDLE_PRESSURE] = model.atmosphere_pa + cut;
    Some(Edge {
        pose,
        y,
        demand: -off.all(pressure_pa, source.surface)[N],
        house_pa: rates.lanes[super::sheet::HOUSE],
    })
}

/// What the switch feels [Pa, gauge].
#[inline]
pub(super) fn felt(rates: &Rates) -> f64 {
    rates.lanes[TEE] + rates.lanes[TEE_LAG] * rates.speeds.pressure_rate
}

/// Goes along the settled course.
fn course(
    cycles: &Cycles,
    mut pose: Pose,
    seconds: f64,
    source: &SourceNow,
    lanes: &impl Lanes,
    sums: &mut Sums,
) -> Pose {
    let steps = (seconds / COURSE_STEP_S).ceil().max(1.0);
    let h = seconds / steps;
    let mut first = cycles.gas.rates(&pose, source, lanes);
    for _ in 0..steps as u32 {
        let (to, last) = cycles.gas.step(&pose, &first.speeds, h, source, lanes);
        let leg = Leg {
            from: pose,
            to,
            first,
            last,
            seconds: h,
        };
        sums.add(&leg.sums(&leg.middle(source, lanes)));
        (pose, first) = (to, last);
    }
    pose
}
