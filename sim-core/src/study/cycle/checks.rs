//! Where the cycle engine's assumptions hold: what is looked at before a run.

use super::result::Reason;
use crate::faults::Seat;
use crate::math::{Dual, Scalar};
use crate::parts::SourceSpec;
use crate::plant::model::Model;
use crate::plant::state::{N_STATES, TANK_AIR, TANK_WATER};
use crate::plant::{Air, Bladder, Contacts, Controls, Device, Modes, Plant, Trunk};
use crate::units::convert::ZERO_CELSIUS;

/// Slowest sensing port that is taken as following the tee [s].
const SLOWEST_PORT_S: f64 = 0.3;
/// Water over what float switch and intake need [m].
const SOURCE_MARGIN_M: f64 = 0.05;
/// Heat of many starts on top of that of a steady run [-] (training value).
const START_HEAT: f64 = 1.15;
/// Least share of the pump's greatest flow that it must still give at cut-out.
const LEAST_FLOW_SHARE: f64 = 0.02;

/// Looks at the plant as it stands at the start.
pub(super) fn before(plant: &Plant) -> Result<(), Reason> {
    let model = plant.model.as_ref();
    let (modes, controls, defects) = (plant.modes(), plant.controls(), &model.defects);
    let y = plant.state_now();
    if modes.air != Air::Settled || y[TANK_AIR] > 0.0 || defects.suction_leak_m3_per_s_pa > 0.0 {
        return Err(Reason::Air);
    }
    if model.port_rate <= 1.0 / SLOWEST_PORT_S {
        return Err(Reason::SlowPort);
    }
    if defects.contacts_welded || modes.contacts != Contacts::Open {
        return Err(Reason::Contacts);
    }
    if defects.chafed_open_share.is_some() || !controls.breaker_on {
        return Err(Reason::NoStart);
    }
    let weeps = |seat: Seat| !matches!(seat, Seat::Tight);
    let has_way_back = !model.checks.can_shut
        || model.checks.weep.is_some()
        || weeps(defects.wall_check)
        || model.riser_split.is_some()
        || model.slam_flow > 0.0;
    if has_way_back || modes.trunk != Trunk::Shut {
        return Err(Reason::BackFlow);
    }
    if defects.small_draws.is_some()
        || defects.expansion_m3_per_s > 0.0
        || model.tank_air_leak > 0.0
        || defects.vortex_full_flow_m.is_some()
    {
        return Err(Reason::ByItself);
    }
    // Sheets have no room for the corner where a relief valve lifts.
    let cut_out = controls.cut_out.si();
    if model
        .relief
        .as_ref()
        .is_some_and(|r| r.set_pa < 1.08 * cut_out)
    {
        return Err(Reason::ByItself);
    }
    let is_open = |opening: f64| opening >= 1.0;
    if !(is_open(controls.tank_valve_opening)
        && is_open(controls.source_valve_opening)
        && controls.house_valve_opening > 0.0
        && controls.drain_opening == 0.0)
        || modes.bladder != Bladder::Free
        || y[TANK_WATER] <= 0.0
    {
        return Err(Reason::Tank);
    }
    if let Some(circuit) = &model.circuit
        && circuit
            .low_pressure_pa
            .is_some_and(|pa| pa > 0.8 * controls.cut_in.si())
    {
        return Err(Reason::NoStart);
    }
    Ok(())
}

/// Lowest, middle and highest surface of the source that sheets are laid for [m].
pub(super) fn source_range(plant: &Plant) -> Result<[f64; 3], Reason> {
    let model = plant.model.as_ref();
    let floor = model.source.floor_m();
    let mut low = f64::NEG_INFINITY;
    if let Some(circuit) = &model.circuit
        && circuit.float_stuck.is_none()
        && let Some(float) = &circuit.float
    {
        low = low.max(floor + float.stops_at.si());
    }
    // The lowest opening with what keeps air out above it.
    let opening = model.intake.opening_elevation_m(floor, floor);
    low = low.max(opening + model.intake.vortex_free.si()) + SOURCE_MARGIN_M;
    let high = match &model.site.source {
        SourceSpec::Cistern { shape, .. } => floor + shape.height_m(),
        SourceSpec::Well { static_level, .. } => static_level.si(),
    };
    if high - low <= 0.1 {
        return Err(Reason::SourceLow);
    }
    // Sheets reach no lower than a run can come to, where that is known.
    let lowest = match &model.site.source {
        SourceSpec::Cistern { .. } => low,
        SourceSpec::Well {
            specific_capacity, ..
        } => {
            let drawdown = model.pump.max_flow_m3_per_s() / specific_capacity.si();
            low.max(high - 1.2 * drawdown).min(high - 0.1)
        }
    };
    Ok([lowest, 0.5 * (lowest + high), high])
}

/// Content of a cistern at which as much runs over as comes in; none for a well.
pub(super) fn full_source(model: &Model) -> f64 {
    match &model.site.source {
        SourceSpec::Well { .. } => f64::INFINITY,
        SourceSpec::Cistern { shape, refill, .. } => {
            let brim = shape.capacity_m3();
            let (mut low, mut high) = (brim, brim + 1.0);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                let surface = model.source.surface_elevation_m(middle);
                if model.source.overflow_m3_per_s(surface) < refill.si() {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            low
        }
    }
}

/// Content of a cistern that is full to the brim; above it stands a narrow neck.
pub(super) fn brim(model: &Model) -> f64 {
    match &model.site.source {
        SourceSpec::Well { .. } => f64::INFINITY,
        SourceSpec::Cistern { shape, .. } => shape.capacity_m3(),
    }
}

/// Looks at a settled state with the pump on: whether it may go on for ever.
pub(super) fn steady(
    model: &Model,
    y: &[f64; N_STATES],
    modes: &Modes,
    controls: &Controls,
) -> Result<(), Reason> {
    let core = core::array::from_fn(|i| y[i]);
    let f = model.flows(&core, modes, controls);
    if f.trunk_water < LEAST_FLOW_SHARE * model.pump.max_flow_m3_per_s() {
        return Err(Reason::DeadHead);
    }
    let Some(circuit) = &model.circuit else {
        return Ok(());
    };
    let current = f.line_current;
    let winding = model.water_k
        + START_HEAT * f.winding_heat / (circuit.winding_heat_capacity * circuit.winding_rate);
    let heater = current / circuit.protector.rated_current_a;
    let disc = winding + START_HEAT * heater * heater * circuit.protector.heater_rise_k;
    let share = current / circuit.breaker_a;
    let is_hot = circuit.protector.trip_guard_k(disc - ZERO_CELSIUS) <= 0.0
        || share * share * START_HEAT >= circuit.breaker_trip_heat
        || current >= circuit.breaker_magnetic_a
        || circuit.joint.as_ref().is_some_and(|joint| {
            let rise = START_HEAT * current * current * joint.ohms * joint.k_per_w;
            model.ambient_k + rise >= joint.burn_k
        });
    if is_hot { Err(Reason::Heat) } else { Ok(()) }
}

/// Whether a plant's modes are those of a system in good order with the pump off.
pub(super) fn is_quiet(modes: &Modes) -> bool {
    modes.air == Air::Settled
        && modes.bladder == Bladder::Free
        && modes.trunk == Trunk::Shut
        && modes.contacts == Contacts::Open
        && modes.circuit.lets_current_through()
        && modes.circuit.joint_level == 0
        && !modes.damage.seal
        && !modes.damage.winding
        && !modes.damage.impellers
}

/// Whether they are those of one with the pump running.
pub(super) fn is_running(modes: &Modes, model: &Model) -> bool {
    let is_up_to_speed = model
        .circuit
        .as_ref()
        .is_none_or(|c| !c.has_start_switch || modes.circuit.start_switch == Device::Open);
    modes.air == Air::Settled
        && modes.bladder == Bladder::Free
        && modes.trunk == Trunk::Open
        && modes.contacts == Contacts::Closed
        && modes.circuit.lets_current_through()
        && modes.circuit.joint_level == 0
        && is_up_to_speed
}

/// The source straightened about a content.
#[inline]
pub(super) fn source_now(model: &Model, content: f64) -> super::gas::SourceNow {
    let volume = Dual::<1>::variable(content, 0);
    let surface = model.source.surface_elevation_m(volume);
    let inflow = model.source.inflow_m3_per_s(surface) - model.source.overflow_m3_per_s(surface);
    super::gas::SourceNow {
        at: content,
        surface: surface.value(),
        per_volume: surface.d[0],
        inflow: inflow.value(),
        inflow_slope: inflow.d[0],
    }
}
