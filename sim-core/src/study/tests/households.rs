//! The household that a study draws with, against the published means.
//!
//! Published rows by their names; DEM-01 to DEM-09 stand in
//! `tests/data/check-values.csv` and are held to it by `tests/system/published` as well:
//!
//! | row | reproduced | why not |
//! |---|---|---|
//! | DEM-01, 138 gal a day indoors | yes, with the leak that the report counts in | |
//! | DEM-03, toilet 33.1 gal a day | yes | |
//! | DEM-06, shower 15.8 gal, 7.8 min, 2.1 gpm | volume and flow; duration 7.5 min, within 10 % | |
//! | DEM-08, dishwasher 6.1 gal a load | yes, in four fills | |
//! | DEM-09, other uses a day | yes; leaks as a leak, not as draws | |
//! | DEM-12 to DEM-16 | no | maxima of fixtures by rule: a site's fixtures have them or not |

use crate::demand::{Draw, FixtureKind, nominal_flow_m3_per_s, test_outlet};
use crate::parts::FixtureSpec;
use crate::study::{Demand, HouseholdSpec, Livestock};
use crate::units::convert::{US_GALLON, US_GPM};

/// Households whose months are averaged: the published figures are means over many homes,
/// and one household's month scatters by more than they are stated to.
const HOUSEHOLDS: u64 = 60;
const DAYS: f64 = 30.0;
const SECONDS_PER_TICK: f64 = 0.02;
/// Leaks of the mean household, counted among the 138 gallons [gal/day] (DEM-09).
const LEAK_GALLONS_PER_DAY: f64 = 17.0;

fn house() -> Vec<FixtureSpec> {
    [
        "basin",
        "bath",
        "dishwasher",
        "hose",
        "kitchen",
        "mystery",
        "shower",
        "toilet",
        "trough",
        "washer",
    ]
    .map(|name| test_outlet(name, 4.0))
    .to_vec()
}

fn home(occupants: f64) -> HouseholdSpec {
    HouseholdSpec {
        occupants,
        garden_m3_per_s: 0.0,
        livestock: Vec::new(),
        leak_m3_per_s: 0.0,
    }
}

fn draws(home: &HouseholdSpec) -> Vec<Draw> {
    let fixtures = house();
    (1..=HOUSEHOLDS)
        .flat_map(|seed| {
            let demand = Demand::Household(home.clone());
            demand.schedule(seed, DAYS, &fixtures).draws().to_vec()
        })
        .collect()
}

/// Gallons a day and household of a kind of outlet.
fn gallons_per_day(draws: &[Draw], kinds: &[FixtureKind]) -> f64 {
    let fixtures = house();
    let gallons: f64 = draws
        .iter()
        .filter(|draw| kinds.contains(&FixtureKind::from_name(&fixtures[draw.fixture].name)))
        .map(gallons)
        .sum();
    gallons / (HOUSEHOLDS as f64 * DAYS)
}

fn gallons(draw: &Draw) -> f64 {
    let flow = nominal_flow_m3_per_s(&house()[draw.fixture]) * draw.opening;
    flow * draw.duration_ticks as f64 * SECONDS_PER_TICK / US_GALLON
}

#[test]
fn a_generated_month_uses_what_the_published_household_uses() {
    use FixtureKind::{Basin, Bath, Dishwasher, Kitchen, Other, Shower, Toilet, Washer};
    let draws = draws(&home(2.6));
    // Row, kinds, published gallons a day, the row's own tolerance.
    for (row, kinds, published, tolerance) in [
        ("DEM-03", &[Toilet][..], 33.1, 0.05),
        ("DEM-09 shower", &[Shower], 28.1, 0.1),
        ("DEM-09 faucet", &[Basin, Kitchen], 26.3, 0.1),
        ("DEM-09 clothes washer", &[Washer], 22.7, 0.1),
        ("DEM-09 other", &[Other], 5.3, 0.1),
        ("DEM-09 bath", &[Bath], 3.6, 0.1),
        ("DEM-09 dishwasher", &[Dishwasher], 1.6, 0.1),
    ] {
        let found = gallons_per_day(&draws, kinds);
        let off = (found / published - 1.0).abs();
        assert!(off < tolerance, "{row}: {found} for {published}");
    }
    let indoors = [
        Basin, Bath, Dishwasher, Kitchen, Other, Shower, Toilet, Washer,
    ];
    let with_leak = gallons_per_day(&draws, &indoors) + LEAK_GALLONS_PER_DAY;
    assert!(
        (with_leak / 138.0 - 1.0).abs() < 0.05,
        "DEM-01: {with_leak}"
    );
}

#[test]
fn a_shower_takes_the_published_volume_time_and_flow() {
    let fixtures = house();
    let draws: Vec<Draw> = draws(&home(2.6))
        .into_iter()
        .filter(|draw| fixtures[draw.fixture].name == "shower")
        .collect();
    let n_showers = draws.len() as f64;
    let volume = draws.iter().map(gallons).sum::<f64>() / n_showers;
    let ticks: f64 = draws.iter().map(|draw| draw.duration_ticks as f64).sum();
    let minutes = ticks * SECONDS_PER_TICK / 60.0 / n_showers;
    let flow = nominal_flow_m3_per_s(&test_outlet("shower", 4.0)) * draws[0].opening / US_GPM;
    for (what, found, published) in [
        ("gallons", volume, 15.8),
        ("minutes", minutes, 7.8),
        ("gpm", flow, 2.1),
    ] {
        let off = (found / published - 1.0).abs();
        assert!(off < 0.1, "DEM-06, {what}: {found} for {published}");
    }
}

#[test]
fn people_gardens_and_animals_draw_in_proportion() {
    use FixtureKind::{Hose, Toilet, Trough};
    let per_day = |gallons: f64| gallons * US_GALLON / 86_400.0;
    let farm = HouseholdSpec {
        garden_m3_per_s: per_day(60.0),
        livestock: vec![Livestock {
            name: "sheep".to_owned(),
            head: 40.0,
            each_m3_per_s: per_day(2.0),
        }],
        ..home(5.2)
    };
    let draws = draws(&farm);
    for (kind, expected, tolerance) in [
        (Toilet, 2.0 * 33.1, 0.05),
        (Trough, 80.0, 0.05),
        (Hose, 60.0, 0.1),
    ] {
        let found = gallons_per_day(&draws, &[kind]);
        assert!(
            (found / expected - 1.0).abs() < tolerance,
            "{kind:?}: {found}"
        );
    }
    let draws = super::households::draws(&home(2.6));
    assert_eq!(gallons_per_day(&draws, &[Hose, Trough]), 0.0);
}
