//! What is heard of water on its way.

use super::carry::Place;
use super::make::{Cues, flow_words, ramp};
use crate::catalog::PartId;
use crate::plant::{Conditions, Event, EventKind, Plant};
use crate::session::Station;
use crate::units::convert::BAR;

/// Flows between which a sound of running water grows [m³/s]: 0.05 to 12 L/min (training
/// values).
const TRICKLE: f64 = 0.05 / 60_000.0;
const STREAM: f64 = 12.0 / 60_000.0;

/// Level of running water, with the square root of flow: a thread is heard as well as felt.
fn running(m3_per_s: f64) -> f64 {
    let share = ramp(m3_per_s, TRICKLE, STREAM);
    share.sqrt()
}

/// Level of a blow, by its surge [Pa]: a knuckle's tap at 0.3 bar, a hammer at 15 bar
/// (training values).
fn blow(surge_pa: f64) -> f64 {
    ramp(surge_pa, 0.3 * BAR, 15.0 * BAR).sqrt()
}

/// Reverse flow at the instant a check valve shut, below which it shut without a sound
/// [m³/s] (training value).
const SOFT_SHUT: f64 = 1e-6;

/// Time within which the column of a start meets what stands in its way [s] (training
/// value).
const BANG_S: f64 = 20.0;
/// Air that cushions a void: share of the run above which it closes softly (training value).
const CUSHION: f64 = 0.01;

pub(super) fn hear(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let velocity = now.pump_flow.max(0.0) / now.run_area_m2;
    out.sound(
        "water_rush",
        PartId::Run,
        (Place::Wall, 0.6 * ramp(velocity, 0.2, 3.0)),
        if velocity > 1.5 {
            "Water rushes hard through the pipe from the pump."
        } else {
            "Water moves through the pipe from the pump."
        },
    );
    out.sound(
        "water_running_back",
        PartId::CheckValve,
        (Place::Source, running(now.running_back)),
        if running(now.running_back) < 0.4 {
            "Water trickles back down the pipe into the source."
        } else {
            "Water runs back down the pipe into the source."
        },
    );
    if now.leaked_into_source > 0.0 {
        out.sound(
            "jet_in_source",
            PartId::Riser,
            (Place::Source, running(now.leaked_into_source)),
            "A jet of water splashes inside the source.",
        );
    }
    out.sound(
        "relief_running",
        PartId::ReliefValve,
        (Place::Wall, running(now.relieved)),
        format!(
            "The relief valve lets water out {}.",
            flow_words(now.relieved)
        ),
    );
    out.sound(
        "drain_running",
        PartId::WallManifold,
        (Place::Wall, running(now.drained_water)),
        format!(
            "Water runs from the drain cock {}.",
            flow_words(now.drained_water)
        ),
    );
    hear_house(out, plant, now);
    hear_blows(out, plant, now);
}

/// Whether an outlet is open by hand.
pub(super) fn is_outlet_open(plant: &Plant) -> bool {
    plant.controls().fixture_openings.iter().any(|o| *o > 0.0)
}

fn hear_house(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let unattended = if is_outlet_open(plant) {
        out.sound(
            "outlet_running",
            PartId::Fixtures,
            (Place::House, running(now.used_water)),
            format!(
                "Water runs from an open outlet {}.",
                flow_words(now.used_water)
            ),
        );
        now.leaked_in_house
    } else {
        now.leaked_in_house + now.used_water
    };
    out.sound(
        "water_in_house",
        PartId::HousePipe,
        (Place::House, running(unattended)),
        "Water hisses somewhere in the house though nobody draws any.",
    );
}

/// Blows that a check valve's shutting or a void's closing makes.
pub(super) fn hear_blows(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let events = out.attention.events;
    let surge = |flow: f64| now.surge_pa_s_per_m * flow.abs() / now.run_area_m2;
    let slams = events
        .iter()
        .filter(|e| e.kind == EventKind::CheckShut && e.pump_flow_m3_per_s < -SOFT_SHUT);
    let hardest = slams
        .map(|e| surge(e.pump_flow_m3_per_s))
        .fold(0.0, f64::max);
    // A new valve shuts on water that runs back as well, with the pump at rest.
    let stops = events.iter().any(|e| e.kind == EventKind::PumpStopped);
    // The valve is below, but the blow comes up the pipe as hard as it is.
    let place = match out.attention.station {
        Station::Source | Station::Splice => Place::Source,
        Station::Panel | Station::Wall | Station::House => Place::Wall,
    };
    out.sound(
        "check_valve_thump",
        PartId::CheckValve,
        (place, blow(hardest)),
        match (blow(hardest) < 0.5, stops) {
            (true, true) => "The pipe thumps as the pump stops.",
            (false, true) => "The pipe bangs hard as the pump stops.",
            (true, false) => "The pipe thumps once.",
            (false, false) => "The pipe bangs hard once.",
        },
    );
    out.sound(
        "bang_on_start",
        PartId::Run,
        (place, blow(surge(void_closing_flow(events, plant, now)))),
        "The pipe bangs just after the pump starts.",
    );
}

/// Flow with which a column met the wall soon after a start, with no air to cushion it
/// [m³/s]: water on both sides of a void.
fn void_closing_flow(events: &[Event], plant: &Plant, now: &Conditions) -> f64 {
    if plant.site().wall.check.is_none() || now.run_air_share > CUSHION {
        return 0.0;
    }
    let mut started_s = f64::NEG_INFINITY;
    let mut hardest = 0.0_f64;
    for event in events {
        match event.kind {
            EventKind::PumpStarted => started_s = event.time_s,
            EventKind::WaterArrived if event.time_s - started_s < BANG_S => {
                hardest = hardest.max(event.pump_flow_m3_per_s);
            }
            _ => {}
        }
    }
    hardest
}
