//! What is seen at the outlets of the house.

use super::make::{Cues, flow_words, ramp};
use crate::catalog::PartId;
use crate::plant::{Conditions, Plant};

/// Density of air at an outlet [kg/m³], near enough for a look.
const AIR_DENSITY: f64 = 1.2;
/// Air in what an outlet gives, by volume, from which the water looks milky, and from which
/// it comes as froth (training values).
const MILKY: f64 = 0.003;
const FROTH: f64 = 0.2;

pub(super) fn see(out: &mut Cues<'_>, plant: &Plant, now: &Conditions) {
    let fixtures = &plant.site().house.fixtures;
    let open: Vec<&str> = fixtures
        .iter()
        .zip(&plant.controls().fixture_openings)
        .filter(|(_, opening)| **opening > 0.0)
        .map(|(fixture, _)| fixture.name.as_str())
        .collect();
    if open.is_empty() {
        out.add(
            "outlets_shut",
            PartId::Fixtures,
            0.1,
            "Every outlet is shut.",
        );
        if now.used_water > 1e-8 {
            out.add(
                "fill_valve_running",
                PartId::Toilet,
                ramp(now.used_water * 60_000.0, 0.0, 2.0).max(0.3),
                format!(
                    "Water runs by itself into a fixture {}.",
                    flow_words(now.used_water)
                ),
            );
        }
    } else if now.used_water > 1e-8 {
        out.add(
            "outlet_flowing",
            PartId::Fixtures,
            0.3,
            format!(
                "Open: {}; water comes {}.",
                open.join(", "),
                flow_words(now.used_water)
            ),
        );
    } else {
        out.add(
            "outlet_dry",
            PartId::Fixtures,
            0.7,
            format!("Open: {}; no water comes.", open.join(", ")),
        );
    }
    see_air(
        out,
        PartId::Fixtures,
        "open outlet",
        (now.used_water, now.used_air),
    );
    if now.leaked_into_bowl > 1e-9 {
        out.add(
            "toilet_running",
            PartId::Toilet,
            ramp(now.leaked_into_bowl * 60_000.0, 0.0, 2.0).max(0.3),
            "The water in the toilet's bowl ripples; nobody has flushed.",
        );
    }
    // Two flows of the same sum differ in their last digits.
    let onto_floor = now.leaked_in_house - now.leaked_into_bowl;
    if onto_floor > 1e-8 {
        out.add(
            "wet_patch_in_house",
            PartId::HousePipe,
            ramp(onto_floor * 60_000.0, 0.0, 2.0).max(0.2),
            format!(
                "There is a wet patch; water leaves a pipe {}.",
                flow_words(onto_floor)
            ),
        );
    }
}

/// Air in the water of an outlet: flows of water [m³/s] and air [kg/s].
pub(super) fn see_air(out: &mut Cues<'_>, part: PartId, outlet: &str, (water, air): (f64, f64)) {
    if water <= 1e-8 || air <= 0.0 {
        return;
    }
    let volume = air / AIR_DENSITY;
    let share = volume / (volume + water);
    if share > FROTH {
        out.add(
            "spitting_seen",
            part,
            0.9,
            format!("Water and air burst from the {outlet} in turns."),
        );
    } else {
        out.add_if(
            "milky_water",
            part,
            ramp(share, MILKY, FROTH).sqrt(),
            format!("The water from the {outlet} is milky with fine bubbles."),
        );
    }
}
