//! The plant as the technician finds it: worn by its history, and used by a household in
//! the hours before, until what the customer complains of has come about.

use super::visit::BeginError;
use crate::demand::{Household, household};
use crate::faults::Fault;
use crate::plant::{Command, Plant, Start, Tick};
use crate::scenario::Scenario;
use crate::units::Seconds;

/// How long the household uses the faulty system before the technician is there [s].
const BEFORE_S: f64 = 2.0 * 3_600.0;
/// Draws a day of a household that tries its taps (training value).
const DRAWS_PER_DAY: f64 = 150.0;
/// Steps of the integrator after which enough has happened: bounds the work on a pump that
/// chatters.
pub(super) const MOST_STEPS: u64 = 40_000;
/// The same for a site that is only thought of, of which there are hundreds.
pub(super) const MOST_STEPS_IMAGINED: u64 = 4_000;
/// How often that is looked at [s].
const LOOK_EVERY_S: f64 = 20.0;
/// How long nobody draws before the technician comes in [s].
const QUIET_S: f64 = 300.0;

/// Builds the plant of a scenario with its faults and lives through the time before.
pub(super) fn arrive(
    scenario: &Scenario,
    hidden: &mut Vec<Fault>,
    seed: u64,
    most_steps: u64,
) -> Result<Plant, BeginError> {
    let lived = scenario
        .live_through(hidden, seed)
        .map_err(|error| BeginError::History(error.to_string()))?;
    hidden.extend(lived.into_iter().flat_map(|lived| lived.wear));
    let mut plant = Plant::build(&scenario.site, hidden, scenario.start)?;
    if scenario.start == Start::Charged {
        use_until_the_visit(&mut plant, seed, most_steps)
            .map_err(|error| BeginError::History(error.to_string()))?;
    }
    plant.take_events();
    Ok(plant)
}

fn use_until_the_visit(
    plant: &mut Plant,
    seed: u64,
    most_steps: u64,
) -> Result<(), crate::plant::StepError> {
    let schedule = household(
        &Household {
            seed,
            draws_per_day: DRAWS_PER_DAY,
            days: BEFORE_S / 86_400.0,
        },
        &plant.site().house.fixtures,
    );
    let end = Tick::at_or_after(Seconds(BEFORE_S));
    let look = Tick::at_or_after(Seconds(LOOK_EVERY_S)).0;
    let mut changes: Vec<(Tick, usize, f64)> = schedule
        .draws()
        .iter()
        .flat_map(|draw| {
            [
                (Tick(draw.end_ticks()), draw.fixture, 0.0),
                (Tick(draw.start_ticks), draw.fixture, draw.opening),
            ]
        })
        .collect();
    changes.sort_by(|a, b| a.0.cmp(&b.0).then(a.2.total_cmp(&b.2)));
    let mut next = 0;
    while plant.now() < end && plant.work().accepted < most_steps {
        while let Some(&(tick, fixture, opening)) = changes.get(next)
            && tick <= plant.now()
        {
            turn(plant, fixture, opening);
            next += 1;
        }
        let due = changes.get(next).map_or(end, |change| change.0);
        plant.advance_to(due.min(Tick(plant.now().0 + look)).min(end))?;
    }
    for fixture in 0..plant.controls().fixture_openings.len() {
        turn(plant, fixture, 0.0);
    }
    let quiet = Tick(plant.now().0 + Tick::at_or_after(Seconds(QUIET_S)).0);
    let steps = plant.work().accepted;
    while plant.now() < quiet && plant.work().accepted < steps + most_steps {
        plant.advance_to(Tick(plant.now().0 + look).min(quiet))?;
    }
    Ok(())
}

fn turn(plant: &mut Plant, fixture: usize, opening: f64) {
    // Outlets and openings come from the site's own list and schedule: never refused.
    let turned = plant.apply(Command::SetFixture { fixture, opening });
    debug_assert!(turned.is_ok(), "{turned:?}");
}
