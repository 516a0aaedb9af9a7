//! Same site, faults and commands: same bits, however the run was cut into calls,
//! saved, restored, or the site file arranged.
//!
//! The golden digests at the top change whenever any number of a run changes in its
//! last bit.  A change that means to change the physics updates them (the failing test
//! prints the new table) and says in its message which physics changed; a change that
//! does not mean to must leave them alone.

use proptest::prelude::*;
use sim_core::plant::{Command, Plant, PlantState, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::trace::Sample;
use sim_core::units::Pascals;

use crate::support::{shuffle, sites, story::any_story};

/// Digest of each site after its two scripted hours.
const GOLDEN: [(&str, u64); 4] = [
    ("orchard-cottage", 0x0337_e265_9331_e927),
    ("hill-farm", 0xe0ce_936e_1b11_705f),
    ("garden-shed", 0xbbe4_d656_9944_fc26),
    ("farm-with-wall-check", 0x8db0_726e_d76e_bb5c),
];

/// Two hours with every command: filling through the drain, cycles, a change of the
/// switch, a draw by every outlet, valves shut and opened, a power cut.
fn two_hours(site: &SiteSpec) -> Plant {
    let mut plant = Plant::build(site, &[], Start::Dry).expect("a sound site");
    let mut at = |seconds: u64, command: Command| {
        plant
            .advance_to(Tick(seconds * Tick::PER_SECOND))
            .expect("the plant can be followed");
        plant.apply(command).expect("a possible command");
    };
    at(1, Command::Prime);
    // A low-pressure lever, where there is one, is held through the first fill.
    at(1, Command::HoldLever(true));
    at(2, Command::SetDrain(1.0));
    at(5, Command::SetBreaker(true));
    at(600, Command::SetDrain(0.0));
    at(900, Command::SetHouseValve(1.0));
    at(900, Command::HoldLever(false));
    for fixture in 0..site.house.fixtures.len() {
        let start = 1_200 + 300 * fixture as u64;
        at(
            start,
            Command::SetFixture {
                fixture,
                opening: 1.0,
            },
        );
        at(
            start + 70,
            Command::SetFixture {
                fixture,
                opening: 0.3,
            },
        );
        at(
            start + 140,
            Command::SetFixture {
                fixture,
                opening: 0.0,
            },
        );
    }
    at(3_600, Command::SetTankValve(0.2));
    at(
        3_610,
        Command::SetFixture {
            fixture: 0,
            opening: 1.0,
        },
    );
    at(3_700, Command::SetBreaker(false));
    at(4_000, Command::SetTankValve(1.0));
    at(4_100, Command::SetBreaker(true));
    let cut_in = plant.controls().cut_in;
    let mut at = |seconds: u64, command: Command| {
        plant
            .advance_to(Tick(seconds * Tick::PER_SECOND))
            .expect("the plant can be followed");
        plant.apply(command).expect("a possible command");
    };
    at(
        4_500,
        Command::AdjustSwitch {
            cut_in: Pascals(0.9 * cut_in.si()),
            cut_out: Pascals(1.3 * cut_in.si()),
        },
    );
    at(
        5_000,
        Command::SetFixture {
            fixture: 0,
            opening: 0.0,
        },
    );
    at(5_500, Command::SetHouseValve(0.0));
    at(5_600, Command::SetDrain(0.4));
    at(6_500, Command::SetDrain(0.0));
    plant
        .advance_to(Tick(7_200 * Tick::PER_SECOND))
        .expect("the plant can be followed");
    plant
}

#[test]
fn two_scripted_hours_end_in_the_golden_bits() {
    let mut found = String::new();
    let mut is_golden = true;
    for (site, (name, golden)) in sites::all().iter().zip(GOLDEN) {
        assert_eq!(site.name, name);
        let plant = two_hours(site);
        assert!(plant.totals().pump_starts > 1, "{name} never cycled");
        assert!(plant.totals().used_m3 > 0.01, "{name} gave no water");
        is_golden &= plant.digest() == golden;
        found += &format!("    (\"{name}\", 0x{:016x}),\n", plant.digest());
    }
    assert!(
        is_golden,
        "the bits of a run have changed.  If the physics was meant to change, put this into \
         GOLDEN and say in the commit's message which physics changed; if not, find out why:\n{found}"
    );
}

#[test]
fn a_second_run_gives_the_same_bits() {
    for site in sites::all() {
        assert_eq!(two_hours(&site).digest(), two_hours(&site).digest());
    }
}

/// What a run shows: digest and samples at the asked ticks.
fn marks(plant: &Plant) -> (u64, Sample) {
    (plant.digest(), plant.sample())
}

fn same(a: &(u64, Sample), b: &(u64, Sample)) -> bool {
    let bits = |s: &Sample| s.values.iter().map(|v| v.to_bits()).collect::<Vec<_>>();
    a.0 == b.0 && bits(&a.1) == bits(&b.1)
}

proptest! {
    #![proptest_config(crate::support::random_cases(80))]

    #[test]
    fn a_run_does_not_depend_on_how_its_calls_are_cut(
        story in any_story(600.0),
        chunks in prop::collection::vec(0..400_u64, 1..40),
    ) {
        // Once in long calls, marked where both runs are sure to come by: after each
        // command's tick and at the end.
        let mut whole = story.plant();
        let mut expected = Vec::new();
        for &(tick, command) in &story.commands {
            if whole.advance_to(tick).is_err() { return Ok(()); }
            expected.push(marks(&whole));
            whole.apply(command).unwrap();
        }
        if whole.advance_to(story.end).is_err() { return Ok(()); }
        expected.push(marks(&whole));

        // Again in chunks, among them empty ones, but not empty ones alone.
        let mut cut = story.plant();
        let mut chunk = chunks.iter().chain([&1]).cycle();
        let mut go = |cut: &mut Plant, tick: Tick| {
            loop {
                let next = Tick(cut.now().0 + chunk.next().unwrap()).min(tick);
                cut.advance_to(next).unwrap();
                let _ = cut.sample();
                if next == tick { break; }
            }
        };
        let mut found = Vec::new();
        for &(tick, command) in &story.commands {
            go(&mut cut, tick);
            found.push(marks(&cut));
            cut.apply(command).unwrap();
        }
        go(&mut cut, story.end);
        found.push(marks(&cut));
        for (i, (a, b)) in expected.iter().zip(&found).enumerate() {
            prop_assert!(same(a, b), "mark {} of {}: {:?} and {:?}", i, expected.len(), a, b);
        }
        prop_assert_eq!(whole.totals(), cut.totals());
        prop_assert_eq!(whole.events(), cut.events());

        // And in calls that stop at events.
        let mut stops = story.plant();
        for &(tick, command) in &story.commands {
            while stops.advance_until(tick, |_| true).unwrap().is_some() {}
            stops.apply(command).unwrap();
        }
        while stops.advance_until(story.end, |_| true).unwrap().is_some() {}
        prop_assert!(same(expected.last().unwrap(), &marks(&stops)));

        // And as a log replays it: commands of one tick with no call between them.
        let mut replay = story.plant();
        for &(tick, command) in &story.commands {
            if tick > replay.now() { replay.advance_to(tick).unwrap(); }
            replay.apply(command).unwrap();
        }
        replay.advance_to(story.end).unwrap();
        prop_assert!(same(expected.last().unwrap(), &marks(&replay)), "replayed from a log");
        prop_assert_eq!(whole.events(), replay.events());
    }

    #[test]
    fn a_restored_run_goes_on_with_the_same_bits(
        story in any_story(600.0),
        share in 0.0..1.0_f64,
        is_after_command in any::<bool>(),
    ) {
        let pause = (share * story.commands.len() as f64) as usize;
        let mut straight = story.plant();
        let mut kept = None;
        for (i, &(tick, command)) in story.commands.iter().enumerate() {
            if straight.advance_to(tick).is_err() { return Ok(()); }
            if i == pause && !is_after_command { kept = Some(straight.snapshot()); }
            straight.apply(command).unwrap();
            if i == pause && is_after_command { kept = Some(straight.snapshot()); }
        }
        if straight.advance_to(story.end).is_err() { return Ok(()); }

        let kept = kept.unwrap();
        let text = serde_json::to_string(&kept).unwrap();
        let read: PlantState = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&read, &kept);
        for state in [kept, read] {
            let mut resumed = story.plant();
            // Somewhere else first, so that nothing of the fresh plant helps.
            if resumed.advance_to(Tick(77)).is_err() { continue; }
            resumed.restore(state);
            let rest = pause + usize::from(is_after_command);
            for &(tick, command) in &story.commands[rest..] {
                resumed.advance_to(tick).unwrap();
                resumed.apply(command).unwrap();
            }
            resumed.advance_to(story.end).unwrap();
            prop_assert!(same(&marks(&straight), &marks(&resumed)));
            prop_assert_eq!(straight.totals(), resumed.totals());
        }
    }

    #[test]
    fn a_shuffled_site_file_gives_the_same_plant(seed in any::<u64>(), base in 0..3_usize) {
        let (name, text) = sites::SHIPPED[base];
        let shuffled = shuffle::shuffled(text, seed);
        prop_assert_ne!(text, &shuffled);
        let site = sites::site_of(name, text);
        let other = sites::site_of(name, &shuffled);
        prop_assert_eq!(&site, &other);
    }
}

#[test]
fn a_shuffled_site_file_ends_in_the_same_bits() {
    for (name, text) in sites::SHIPPED {
        let site = sites::site_of(name, &shuffle::shuffled(text, 7));
        assert_eq!(
            two_hours(&site).digest(),
            two_hours(&sites::shipped(name)).digest()
        );
    }
}

#[test]
fn commands_of_one_tick_come_to_the_same_with_and_without_a_call_between() {
    // A nut turned up past the present pressure and back again within a tick: whether the
    // contacts move must not hang on whether somebody asked the plant to go nowhere.
    let site = sites::shipped("orchard-cottage");
    let turned = |share: f64| {
        let cut_out = site.wall.pressure_switch.cut_out.si();
        Command::AdjustSwitch {
            cut_in: Pascals(share * cut_out),
            cut_out: Pascals((share + 0.3) * cut_out),
        }
    };
    let mut plants = [false, true].map(|asks_between| {
        let mut plant = Plant::build(&site, &[], Start::Charged).unwrap();
        plant.advance_to(Tick(100)).unwrap();
        plant.apply(turned(1.2)).unwrap();
        if asks_between {
            plant.advance_to(Tick(100)).unwrap();
        }
        plant.apply(turned(0.8)).unwrap();
        plant
    });
    for plant in &mut plants {
        plant.advance_to(Tick(1_000)).unwrap();
    }
    assert_eq!(plants[0].events(), plants[1].events());
    assert_eq!(plants[0].digest(), plants[1].digest());
}
