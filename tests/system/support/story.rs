//! A story: a site, its faults, how it starts and what people do to it at which tick.

use std::fmt;

use proptest::prelude::*;
use sim_core::faults::{Fault, KindInfo, kinds};
use sim_core::plant::{Command, Plant, Renewed, Start, StepError, Tick};
use sim_core::site::SiteSpec;
use sim_core::trace::CHANNELS;
use sim_core::units::Pascals;
use sim_core::units::convert::PSI;

use super::sites::any_site;

/// Everything that decides a run.
#[derive(Clone)]
pub(crate) struct Story {
    pub(crate) site: SiteSpec,
    pub(crate) faults: Vec<Fault>,
    pub(crate) start: Start,
    /// Commands in order of tick.
    pub(crate) commands: Vec<(Tick, Command)>,
    /// Faults that the plant is refitted with just before a command, by its position.
    /// Only [`Story::play`] does so.
    pub(crate) refit: Option<(usize, Vec<Fault>)>,
    pub(crate) end: Tick,
}

/// Short enough to read when a story has broken a law.
impl fmt::Debug for Story {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} from {:?}, {:?}",
            self.site.name, self.start, self.faults
        )?;
        for (i, (tick, command)) in self.commands.iter().enumerate() {
            if let Some((at, faults)) = &self.refit
                && *at == i
            {
                write!(f, "\n    refit {faults:?}")?;
            }
            write!(f, "\n    {} {command:?}", tick.0)?;
        }
        write!(f, "\n    {} end", self.end.0)
    }
}

impl Story {
    pub(crate) fn plant(&self) -> Plant {
        Plant::build(&self.site, &self.faults, self.start).expect("the faults suit the site")
    }

    /// Plays the story; `watch` sees the plant before and after each command and at the
    /// end, and about every `every` ticks between; the story ends when it says no.
    pub(crate) fn play(
        &self,
        plant: &mut Plant,
        every: u64,
        mut watch: impl FnMut(&mut Plant) -> bool,
    ) -> Result<(), StepError> {
        let mut go = |plant: &mut Plant, tick: Tick| -> Result<bool, StepError> {
            while plant.now() < tick {
                let next = Tick(plant.now().0 + every).min(tick);
                plant.advance_to(next)?;
                if !watch(plant) {
                    return Ok(false);
                }
            }
            Ok(true)
        };
        for (i, &(tick, command)) in self.commands.iter().enumerate() {
            if !go(plant, tick)? {
                return Ok(());
            }
            if let Some((at, faults)) = &self.refit
                && *at == i
            {
                plant
                    .refit(&self.site, faults)
                    .expect("the faults suit the site");
            }
            plant.apply(command).expect("stories ask what can be");
        }
        go(plant, self.end).map(|_| ())
    }
}

/// The channel of that name.
pub(crate) fn channel(plant: &Plant, name: &str) -> f64 {
    let index = CHANNELS.iter().position(|c| c.name == name);
    plant.sample().values[index.unwrap_or_else(|| panic!("no channel {name}"))]
}

fn any_opening() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => Just(0.0),
        3 => Just(1.0),
        2 => 0.05..1.0,
        1 => 1e-4..0.05,
    ]
}

fn any_command() -> impl Strategy<Value = Command> {
    let switch = (10.0..45.0_f64, 2.0..30.0_f64).prop_map(|(low, gap)| Command::AdjustSwitch {
        cut_in: Pascals(low * PSI),
        cut_out: Pascals((low + gap) * PSI),
    });
    prop_oneof![
        3 => prop::bool::weighted(0.7).prop_map(Command::SetBreaker),
        2 => any_opening().prop_map(Command::SetDrain),
        2 => any_opening().prop_map(Command::SetHouseValve),
        1 => any_opening().prop_map(Command::SetTankValve),
        1 => any_opening().prop_map(Command::SetSourceValve),
        1 => Just(Command::Prime),
        1 => Just(Command::Vent),
        1 => Just(Command::TapGauge),
        1 => any_opening().prop_map(|air_share| Command::LowerPump { air_share }),
        1 => (-0.1..0.1_f64).prop_map(|kg| Command::AddTankAir { kg }),
        1 => any_renewal(),
        2 => any::<bool>().prop_map(Command::HoldLever),
        1 => switch,
        6 => (0..64_usize, any_opening())
            .prop_map(|(fixture, opening)| Command::SetFixture { fixture, opening }),
    ]
}

fn any_renewal() -> impl Strategy<Value = Command> {
    prop::sample::select(vec![
        Renewed::Pump,
        Renewed::Motor,
        Renewed::Tank,
        Renewed::Contacts,
        Renewed::Joints,
        Renewed::Breaker,
    ])
    .prop_map(Command::Renew)
}

fn any_fault() -> impl Strategy<Value = Fault> {
    // A severity anywhere in the kind's range, even in its logarithm where that spans
    // decades.
    let all: Vec<&'static KindInfo> = kinds().collect();
    (prop::sample::select(all), 0.0..1.0_f64).prop_map(|(info, share)| {
        let (low, high) = info.range;
        let severity = if low > 0.0 {
            low * sim_core::math::pow(high / low, share)
        } else {
            low + (high - low) * share * share
        };
        Fault {
            kind: info.kind,
            severity: severity * info.si_per_unit,
        }
    })
}

/// Whether a fault suits a site: the part that fails must be there.
fn suits(fault: &Fault, site: &SiteSpec) -> bool {
    Plant::build(site, &[*fault], Start::Charged).is_ok()
}

/// A random story of at most `longest_s` of plant time.
pub(crate) fn any_story(longest_s: f64) -> impl Strategy<Value = Story> {
    let start = prop_oneof![
        2 => Just(Start::Charged),
        1 => Just(Start::Primed),
        1 => Just(Start::Dry),
    ];
    // Gaps even in their logarithm, from two commands at one tick to minutes.
    let gap = (0.0..4.4_f64).prop_map(|decades| sim_core::math::pow(10.0, decades) as u64 - 1);
    (
        any_site(),
        prop::collection::vec(any_fault(), 0..3),
        start,
        prop::collection::vec((gap.clone(), any_command()), 1..16),
        gap,
        prop::option::weighted(0.3, (0..16_usize, prop::collection::vec(any_fault(), 0..3))),
    )
        .prop_map(move |(site, faults, start, commands, rest, refit)| {
            let last = (longest_s * Tick::PER_SECOND as f64) as u64;
            let mut now = 0;
            let n_fixtures = site.house.fixtures.len();
            let commands = commands
                .into_iter()
                .map(|(gap, command)| {
                    now = last.min(now + gap);
                    let command = match command {
                        Command::SetFixture { fixture, opening } => Command::SetFixture {
                            fixture: fixture % n_fixtures,
                            opening,
                        },
                        other => other,
                    };
                    (Tick(now), command)
                })
                .collect();
            let fit = |faults: Vec<Fault>| -> Vec<Fault> {
                faults.into_iter().filter(|f| suits(f, &site)).collect()
            };
            let refit = refit
                .map(|(at, faults)| (at, fit(faults)))
                .filter(|_| false);
            let faults = fit(faults);
            Story {
                faults,
                refit,
                site,
                start,
                commands,
                end: Tick(last.min(now + rest)),
            }
        })
}
