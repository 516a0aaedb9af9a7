use super::*;
use crate::demand::test_outlet as fixture;

fn house() -> Vec<FixtureSpec> {
    [
        "basin",
        "bath",
        "dishwasher",
        "kitchen",
        "mystery",
        "shower",
        "toilet",
        "washer",
    ]
    .map(|name| fixture(name, 4.0))
    .to_vec()
}

fn request(days: f64) -> Household {
    Household {
        seed: 11,
        draws_per_day: 60.0,
        days,
    }
}

/// Draws at one outlet, whatever its index.
fn at(schedule: &DemandSchedule, fixtures: &[FixtureSpec], name: &str) -> Vec<Draw> {
    let index = fixtures.iter().position(|f| f.name == name).unwrap();
    schedule
        .draws()
        .iter()
        .filter(|draw| draw.fixture == index)
        .map(|draw| Draw {
            fixture: 0,
            ..*draw
        })
        .collect()
}

fn gallons(fixtures: &[FixtureSpec], draws: &[Draw]) -> f64 {
    draws
        .iter()
        .map(|draw| {
            let flow = nominal_flow_m3_per_s(&fixtures[draw.fixture]) * draw.opening;
            flow * draw.duration_ticks as f64 / TICKS_PER_SECOND as f64 / US_GALLON
        })
        .sum()
}

#[test]
fn a_seed_gives_the_same_household_every_time_and_another_seed_another() {
    let first = household(&request(3.0), &house());
    assert_eq!(first, household(&request(3.0), &house()));
    let other = Household {
        seed: 12,
        ..request(3.0)
    };
    assert_ne!(first, household(&other, &house()));
}

#[test]
fn a_longer_run_begins_with_the_same_draws() {
    let short = household(&request(2.0), &house());
    let long = household(&request(20.0), &house());
    assert_eq!(&long.draws()[..short.draws().len()], short.draws());
}

#[test]
fn an_outlet_of_a_new_kind_leaves_the_others_as_they_were() {
    let before = house();
    let mut after = house();
    after.push(fixture("trough", 4.0));
    after.sort_by(|a, b| a.name.cmp(&b.name));
    let (old, new) = (
        household(&request(5.0), &before),
        household(&request(5.0), &after),
    );
    assert!(!at(&new, &after, "trough").is_empty());
    for fixture in &before {
        let name = &fixture.name;
        assert_eq!(at(&old, &before, name), at(&new, &after, name), "{name}");
    }
}

#[test]
fn a_second_toilet_takes_over_some_of_the_first_ones_draws() {
    let one = vec![fixture("toilet", 3.0)];
    let two = vec![fixture("attic-toilet", 3.0), fixture("toilet", 3.0)];
    let (old, new) = (
        household(&request(10.0), &one),
        household(&request(10.0), &two),
    );
    let (attic, kept) = (at(&new, &two, "attic-toilet"), at(&new, &two, "toilet"));
    assert!(attic.len() > 30 && kept.len() > 30);
    assert_eq!(attic.len() + kept.len(), old.draws().len());
}

#[test]
fn a_house_without_a_basin_washes_its_hands_in_the_kitchen() {
    let without: Vec<FixtureSpec> = house()
        .into_iter()
        .filter(|fixture| fixture.name != "basin")
        .collect();
    let (all, fewer) = (
        household(&request(10.0), &house()),
        household(&request(10.0), &without),
    );
    assert_eq!(all.draws().len(), fewer.draws().len());
    let hands = at(&all, &house(), "basin").len();
    let dishes = at(&all, &house(), "kitchen").len();
    assert_eq!(at(&fewer, &without, "kitchen").len(), hands + dishes);
}

#[test]
fn sixty_days_use_what_the_study_of_households_measured() {
    // Residential End Uses of Water 2016, gallons per household and day: toilet and total
    // as published, the rest from memory of it (see the module's sources).  Tolerance:
    // three standard errors of a compound Poisson sum over 60 days, rounded up.
    let fixtures = house();
    let schedule = household(&request(60.0), &fixtures);
    let per_day = |name: &str| {
        let index = fixtures.iter().position(|f| f.name == name).unwrap();
        let draws: Vec<Draw> = schedule
            .draws()
            .iter()
            .filter(|draw| draw.fixture == index)
            .copied()
            .collect();
        gallons(&fixtures, &draws) / 60.0
    };
    for (name, published, tolerance) in [
        ("toilet", 33.1, 0.11),
        ("shower", 28.1, 0.33),
        ("washer", 22.7, 0.27),
        ("dishwasher", 1.6, 0.40),
    ] {
        let found = per_day(name);
        approx::assert_relative_eq!(found, published, max_relative = tolerance);
    }
    let taps = per_day("basin") + per_day("kitchen");
    approx::assert_relative_eq!(taps, 26.3, max_relative = 0.10);
    // 138 gallons indoors, 17 of them leaks.
    let total = gallons(&fixtures, schedule.draws()) / 60.0;
    approx::assert_relative_eq!(total, 121.0, max_relative = 0.12);
    let draws_per_day = schedule.draws().len() as f64 / 60.0;
    approx::assert_relative_eq!(draws_per_day, 62.8, max_relative = 0.05);
}

#[test]
fn the_number_of_draws_a_day_can_be_asked_for() {
    for asked in [15.0, 240.0, 960.0] {
        let request = Household {
            draws_per_day: asked,
            ..request(30.0)
        };
        let n_draws = household(&request, &house()).draws().len();
        approx::assert_relative_eq!(n_draws as f64 / 30.0, asked * 1.05, max_relative = 0.15);
    }
}

#[test]
fn mornings_and_evenings_are_busy_and_nights_are_quiet() {
    let schedule = household(&request(60.0), &house());
    let mut by_hour = [0; 24];
    for draw in schedule.draws() {
        let hours = draw.start_ticks / TICKS_PER_SECOND / 3_600;
        by_hour[(hours as usize + FIRST_HOUR) % 24] += 1;
    }
    assert!(by_hour[7] > 3 * by_hour[5] / 2);
    assert!(by_hour[7] > by_hour[14]);
    assert!(by_hour[18] > by_hour[14]);
    assert!(by_hour[3] * 8 < by_hour[7]);
}

#[test]
fn a_name_tells_what_an_outlet_is_used_for() {
    for (name, kind) in [
        ("kitchen-sink", FixtureKind::Kitchen),
        ("bathroom-basin", FixtureKind::Basin),
        ("bath", FixtureKind::Bath),
        ("dishwasher", FixtureKind::Dishwasher),
        ("clothes-washer", FixtureKind::Washer),
        ("washing-machine", FixtureKind::Washer),
        ("toilet2", FixtureKind::Toilet),
        ("cattle-trough", FixtureKind::Trough),
        ("yard-tap", FixtureKind::Hose),
        ("ice-maker", FixtureKind::Other),
    ] {
        assert_eq!(FixtureKind::from_name(name), kind, "{name}");
    }
}
