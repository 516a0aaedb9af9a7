//! What was heard while time passed, boiled down: one cue for each kind of happening, with
//! how often and how far apart.

use super::carry::{Place, pump_place};
use super::make::Cues;
use super::{Attention, Cue, Sense, air, electrical, water};
use crate::catalog::PartId;
use crate::plant::{EventKind, Plant};

/// A time in words.
fn time_words(seconds: f64) -> String {
    match seconds {
        s if s < 10.0 => format!("{s:.1} s"),
        s if s < 90.0 => format!("{s:.0} s"),
        s if s < 5_400.0 => format!(
            "{:.0} min {:02.0} s",
            (s / 60.0).floor(),
            (s % 60.0).floor()
        ),
        s => format!("{:.1} h", s / 3_600.0),
    }
}

/// What was heard of a stretch of time: few cues, however many events.
///
/// What sounds at its end is what [`super::perceive`] gives; this adds what came and went.
#[must_use]
pub fn heard_while(plant: &Plant, attention: &Attention<'_>) -> Vec<Cue> {
    let now = plant.conditions();
    let mut out = Cues::new(Sense::Hearing, attention);
    pump_runs(&mut out, plant);
    water::hear_blows(&mut out, plant, &now);
    electrical::hear_events(&mut out, plant);
    air::hear_arrival(&mut out);
    out.sorted()
}

/// Starts and runs of the pump, where its motor is heard.
fn pump_runs(out: &mut Cues<'_>, plant: &Plant) {
    let events = out.attention.events;
    let place = pump_place(plant);
    let (mut starts, mut first_s, mut last_s) = (0_u32, 0.0, 0.0);
    let (mut runs, mut run_s, mut since) = (0_u32, 0.0, None);
    for event in events {
        match event.kind {
            EventKind::PumpStarted => {
                if starts == 0 {
                    first_s = event.time_s;
                }
                starts += 1;
                last_s = event.time_s;
                since = Some(event.time_s);
            }
            EventKind::PumpStopped => {
                if let Some(start_s) = since.take() {
                    runs += 1;
                    run_s += event.time_s - start_s;
                }
            }
            _ => {}
        }
    }
    let has_stopped = events.iter().any(|e| e.kind == EventKind::PumpStopped);
    // As loud as a motor that starts, wherever one stands.
    let level = 0.6;
    if starts >= 2 {
        let period_s = (last_s - first_s) / f64::from(starts - 1);
        let length = if runs > 0 {
            format!(
                ", each time for about {}",
                time_words(run_s / f64::from(runs))
            )
        } else {
            String::new()
        };
        out.sound(
            "pump_started_often",
            PartId::Pump,
            (place, level),
            format!(
                "The pump started {starts} times, about every {}{length}.",
                time_words(period_s)
            ),
        );
    } else if starts == 1 {
        let caption = if runs == 1 {
            format!(
                "The pump started, ran for {} and stopped.",
                time_words(run_s)
            )
        } else {
            "The pump started.".to_owned()
        };
        out.sound("pump_started", PartId::Pump, (place, level), caption);
    } else if has_stopped {
        out.sound(
            "pump_stopped",
            PartId::Pump,
            (place, 0.4),
            "The pump stopped.",
        );
    }
    if events.iter().any(|e| e.kind == EventKind::FloatDown) {
        out.sound(
            "float_click",
            PartId::FloatSwitch,
            (Place::Source, 0.1),
            "The float switch clicks as it tips.",
        );
    }
}
