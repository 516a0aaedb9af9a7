//! Whatever state a plant is in, perceiving it never fails and levels are shares.

use proptest::prelude::*;
use sim_core::cues::{Attention, Cue, Sense, heard_while, knock_tank, perceive, press_air_valve};
use sim_core::plant::{Event, Plant};
use sim_core::session::{Cover, Station};

use crate::support::story::any_story;

fn check(cue: &Cue) -> Result<(), TestCaseError> {
    prop_assert!((0.0..=1.0).contains(&cue.level), "{cue:?}");
    prop_assert!(
        cue.caption.ends_with('.') && !cue.caption.contains("NaN") && !cue.caption.contains("inf"),
        "{cue:?}"
    );
    let is_snake = |c: char| c.is_ascii_lowercase() || c == '_';
    prop_assert!(cue.name.chars().all(is_snake), "{cue:?}");
    Ok(())
}

fn look_round(plant: &Plant, events: &[Event], ticks: u64) -> Result<(), TestCaseError> {
    for station in Station::ALL {
        for (open, pump_is_out) in [(&[][..], false), (&Cover::ALL[..], true)] {
            let attention = Attention {
                station,
                open,
                events,
                ticks,
                pump_is_out,
            };
            for sense in Sense::ALL {
                let cues = perceive(plant, &attention, sense);
                prop_assert!(cues.windows(2).all(|w| w[0].level >= w[1].level));
                prop_assert!(cues.iter().all(|c| c.sense == sense));
                cues.iter().try_for_each(check)?;
                // The same sound may come from two places.
                let mut names: Vec<_> = cues.iter().map(|c| (c.name.as_str(), c.part)).collect();
                names.sort_unstable();
                let all = names.len();
                names.dedup();
                prop_assert_eq!(names.len(), all, "a cue twice: {:?}", cues);
            }
            heard_while(plant, &attention).iter().try_for_each(check)?;
        }
    }
    check(&knock_tank(plant))?;
    check(&press_air_valve(plant))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_plant_can_be_perceived(story in any_story(600.0)) {
        let mut plant = story.plant();
        let mut result = Ok(());
        let mut last = 0;
        story
            .play(&mut plant, 500, |plant| {
                let before = plant.digest();
                let events = plant.take_events();
                let now = plant.now().0;
                result = look_round(plant, &events, now - last);
                last = now;
                result.is_ok() && plant.digest() == before
            })
            .map_err(|error| TestCaseError::fail(format!("{error}\n{story:?}")))?;
        result?;
    }
}
