//! Section 7: what a household draws, as a study makes it up.

use sim_core::demand::{Draw, nominal_flow_m3_per_s};
use sim_core::parts::{FixtureSpec, FlowRating};
use sim_core::study::{Demand, HouseholdSpec};
use sim_core::units::convert::{PSI, US_GALLON, US_GPM};
use sim_core::units::{CubicMetersPerSecond, Meters, Pascals};

use super::check::Check;

/// Households whose months are averaged: the published figures are means over many homes,
/// and one household's month scatters by more than they are stated to.
const HOUSEHOLDS: u64 = 60;
const DAYS: f64 = 30.0;
const SECONDS_PER_TICK: f64 = 0.02;
const QUARTER_HOUR_TICKS: u64 = 15 * 60 * 50;
/// People of the mean household that was measured (from memory).
const OCCUPANTS: f64 = 2.6;
/// Leaks, which the indoor use counts in [gal/day] (row DEM-09, from memory).
const LEAK_GALLONS_PER_DAY: f64 = 17.0;

/// One outlet of each kind that a house has indoors.
fn house() -> Vec<FixtureSpec> {
    [
        "basin",
        "bath",
        "dishwasher",
        "ice-maker",
        "kitchen",
        "shower",
        "toilet",
        "washer",
    ]
    .map(|name| FixtureSpec {
        name: name.to_owned(),
        elevation: Meters(1.0),
        rating: FlowRating {
            flow: CubicMetersPerSecond(4.0 * US_GPM),
            drop: Pascals(40.0 * PSI),
        },
        limit: None,
    })
    .to_vec()
}

/// Every draw of every household at outlets of this name, or at all.
fn draws(name: Option<&str>) -> Vec<Draw> {
    let house = house();
    let home = HouseholdSpec {
        occupants: OCCUPANTS,
        garden_m3_per_s: 0.0,
        livestock: Vec::new(),
        leak_m3_per_s: 0.0,
    };
    let demand = Demand::Household(home);
    (1..=HOUSEHOLDS)
        .flat_map(|seed| demand.schedule(seed, DAYS, &house).draws().to_vec())
        .filter(|draw| name.is_none_or(|name| house[draw.fixture].name == name))
        .collect()
}

fn minutes(draw: &Draw) -> f64 {
    draw.duration_ticks as f64 * SECONDS_PER_TICK / 60.0
}

fn gallons(draw: &Draw) -> f64 {
    let flow = nominal_flow_m3_per_s(&house()[draw.fixture]) * draw.opening;
    flow * minutes(draw) * 60.0 / US_GALLON
}

fn gallons_per_day(draws: &[Draw]) -> f64 {
    draws.iter().map(gallons).sum::<f64>() / (HOUSEHOLDS as f64 * DAYS)
}

pub(super) fn checks() -> Vec<Check> {
    vec![
        Check::noted(
            "DEM-01",
            "Mean of sixty made-up households over a month, with the 17 gallons a day of leaks \
             that the figure counts in.",
            || gallons_per_day(&draws(None)) + LEAK_GALLONS_PER_DAY,
        ),
        Check::noted(
            "DEM-03",
            "Mean of sixty made-up households over a month.",
            || gallons_per_day(&draws(Some("toilet"))),
        ),
        Check::noted(
            "DEM-06",
            "Mean shower of sixty made-up households over a month.",
            || {
                let showers = draws(Some("shower"));
                let n_showers = showers.len() as f64;
                let mean = |of: fn(&Draw) -> f64| showers.iter().map(of).sum::<f64>() / n_showers;
                let flow = |draw: &Draw| gallons(draw) / minutes(draw);
                vec![mean(gallons), mean(minutes), mean(flow)]
            },
        ),
        Check::noted(
            "DEM-08",
            "Mean load of dishes of sixty made-up households over a month; fills of one load \
             come within a quarter of an hour of one another.",
            || {
                let mut n_loads = 0.0;
                let mut sum = 0.0;
                let mut last: Option<Draw> = None;
                for fill in draws(Some("dishwasher")) {
                    // The next household's month begins before the last one's end.
                    let is_same = last.is_some_and(|last| {
                        fill.start_ticks > last.start_ticks
                            && fill.start_ticks - last.start_ticks < QUARTER_HOUR_TICKS
                    });
                    n_loads += if is_same { 0.0 } else { 1.0 };
                    sum += gallons(&fill);
                    last = Some(fill);
                }
                sum / n_loads
            },
        ),
        Check::noted(
            "DEM-09",
            "Means of sixty made-up households over a month.",
            || {
                [
                    &["shower"][..],
                    &["basin", "kitchen"],
                    &["washer"],
                    &["ice-maker"],
                    &["bath"],
                    &["dishwasher"],
                ]
                .map(|names| {
                    let of = |name: &&str| gallons_per_day(&draws(Some(name)));
                    names.iter().map(of).sum()
                })
                .to_vec()
            },
        ),
    ]
}
