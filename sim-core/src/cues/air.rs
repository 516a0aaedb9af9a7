//! What is heard of air in the pipes.

use super::carry::Place;
use super::make::{Cues, ramp};
use crate::catalog::PartId;
use crate::plant::{Conditions, EventKind};

/// Air [kg/s] that is just heard at an opening and that cannot be missed: a breath of 20 mL
/// and of 2 L a second (training values).
const BREATH: f64 = 2.4e-5;
const BLAST: f64 = 2.4e-3;

/// Shares of air between which an outlet spits (training values).
const SPITS_FROM: f64 = 0.01;
const SPITS_TO: f64 = 0.97;

pub(super) fn hear(out: &mut Cues<'_>, now: &Conditions) {
    let openings = [
        (
            PartId::WallManifold,
            Place::Wall,
            now.drained_water,
            now.drained_air,
            now.tee_air_share,
        ),
        (
            PartId::Fixtures,
            Place::House,
            now.used_water,
            now.used_air,
            now.house_air_share,
        ),
    ];
    for (part, place, water, air, share) in openings {
        let outlet = match place {
            Place::Wall => "the drain cock",
            _ => "the open outlet",
        };
        if air > 0.0 && water > 1e-6 && (SPITS_FROM..SPITS_TO).contains(&share) {
            out.sound(
                "spitting",
                part,
                (place, 0.3 + 0.7 * ramp(air, 0.0, BLAST)),
                format!("Air and water spit together from {outlet}."),
            );
        } else if air > 0.0 {
            out.sound(
                "air_hiss",
                part,
                (place, ramp(air, BREATH, BLAST).sqrt()),
                format!("Air hisses out of {outlet}."),
            );
        } else if air < 0.0 {
            out.sound(
                "air_sucked_in",
                part,
                (place, ramp(-air, BREATH, BLAST).sqrt()),
                format!("Air is sucked in at {outlet}."),
            );
        }
    }
    if now.intake_air_share > 0.0 {
        out.sound(
            "intake_gurgle",
            PartId::Intake,
            (Place::Source, 0.3 + 0.7 * now.intake_air_share),
            "The intake gurgles and draws air.",
        );
    }
}

/// Water that came up to the wall while one was there.
pub(super) fn hear_arrival(out: &mut Cues<'_>) {
    let events = out.attention.events;
    if events.iter().any(|e| e.kind == EventKind::WaterArrived) {
        out.sound(
            "water_arrived",
            PartId::WallManifold,
            (Place::Wall, 0.4),
            "Water came up to the wall behind the air in the pipe.",
        );
    }
}
