//! A household's draws from a seed: the simple generator.
//!
//! Each kind of outlet is drawn from as a Poisson process whose rate follows the hour
//! of the day; volumes are log-normal about the kind's mean.  An outlet is opened as
//! far as gives the kind's flow at the outlet's rated pressure, for as long as gives the
//! volume.
//!
//! Left out: leaks, seasons, weekdays, people who are away, and that a shower follows
//! a shower; only the fills of a load of dishes come one after another.  A house without some kind of outlet makes no draws of that kind; only
//! basin and kitchen stand in for one another, since hands are washed somewhere.
//!
//! Every purpose has its own stream of random numbers, so that another seed, another
//! outlet or a longer run changes nothing but what it must: a longer run begins with
//! the same draws, an outlet of a new kind leaves the others' draws as they were (unless
//! one of them stood in for it), and a second outlet of a kind only takes over some of the
//! first one's draws.
//!
//! Sources.  W. B. DeOreo, P. Mayer, B. Dziegielewski, J. Kiefer, *Residential End Uses
//! of Water, Version 2*, Water Research Foundation, 2016: per household and day 138 gal
//! indoors, 33.1 gal by toilets; 15.8 gal, 7.8 min and 2.1 gpm a shower, 6.1 gal a load of
//! dishes.  The same report's
//! other end uses from memory, to be checked against it: shower 28.1, tap 26.3, clothes
//! washer 22.7, leaks 17.0, other 5.3, bath 3.6, dishwasher 1.6 gal.  How a day's volume is
//! cut into draws, the spread about each mean, the hours of the day and everything about
//! troughs and hoses are training values, common practice, no source.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::Rng;

use super::schedule::{DemandSchedule, Draw, TICKS_PER_SECOND, nominal_flow_m3_per_s};
use crate::math;
use crate::parts::FixtureSpec;
use crate::rng::{stream, uniform};
use crate::units::convert::{US_GALLON, US_GPM};

/// Draws a day of a fully fitted house to which the table below adds up, about.
const REFERENCE_DRAWS_PER_DAY: f64 = 60.0;
/// Hour of the household's day at which a run begins, so that a short run sees a
/// morning and not an empty night.
const FIRST_HOUR: usize = 6;
/// Share of a day's draws by hour, midnight first: a morning and an evening peak.
const HOUR_WEIGHTS: [f64; 24] = [
    1.0, 0.6, 0.4, 0.4, 0.8, 2.5, 6.0, 8.0, 7.0, 5.5, 5.0, 4.5, //
    4.5, 4.0, 3.5, 3.5, 4.0, 5.5, 7.0, 7.0, 6.5, 6.0, 4.0, 2.3,
];

/// What the generator is asked for.
///
/// ```
/// use sim_core::demand::{Household, household};
///
/// let week = Household { seed: 7, draws_per_day: 60.0, days: 7.0 };
/// // A house without outlets draws nothing.
/// assert!(household(&week, &[]).is_empty());
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Household {
    /// Which household.
    pub seed: u64,
    /// Draws a day of a fully fitted house; 60 is the reference.
    pub draws_per_day: f64,
    /// Length of the run [days].
    pub days: f64,
}

/// What an outlet is used for, as its name tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FixtureKind {
    /// A toilet's fill valve.
    Toilet,
    /// A shower.
    Shower,
    /// A bath tub.
    Bath,
    /// A bathroom tap.
    Basin,
    /// A kitchen tap.
    Kitchen,
    /// A clothes washer.
    Washer,
    /// A dishwasher.
    Dishwasher,
    /// A stock trough.
    Trough,
    /// A hose or a yard tap.
    Hose,
    /// Anything else.
    Other,
}

/// How a kind of outlet is used at the reference number of draws.
struct Habit {
    kind: FixtureKind,
    /// Name of the kind's random streams; changing it changes every schedule.
    stream: &'static str,
    gallons_per_day: f64,
    gallons_per_draw: f64,
    /// Standard deviation of a draw's volume over its mean [-].
    spread: f64,
    /// Flow that people set [gpm]; none: fully open.
    gpm: Option<f64>,
    /// Equal parts that a draw comes in, as the fills of one load of a machine do.
    n_parts: u32,
}

/// Fills of a load of dishes, and the time from one to the next [s] (training values, common
/// practice, no source).
const DISHWASHER_FILLS: u32 = 4;
const BETWEEN_FILLS_S: f64 = 720.0;

#[rustfmt::skip]
const HABITS: [Habit; 10] = [
    habit(FixtureKind::Toilet,     "toilet",     33.1,  2.6,  0.15, None),
    habit(FixtureKind::Shower,     "shower",     28.1, 15.8,  0.5,  Some(2.1)),
    habit(FixtureKind::Bath,       "bath",        3.6, 24.0,  0.25, Some(4.0)),
    habit(FixtureKind::Basin,      "basin",      12.3,  0.49, 0.8,  Some(1.0)),
    habit(FixtureKind::Kitchen,    "kitchen",    14.0,  0.82, 0.8,  Some(1.4)),
    habit(FixtureKind::Washer,     "washer",     22.7, 10.0,  0.3,  Some(3.0)),
    habit(FixtureKind::Dishwasher, "dishwasher",  1.6,  6.1,  0.2,  Some(1.5)).in_parts(DISHWASHER_FILLS),
    habit(FixtureKind::Trough,     "trough",     80.0,  8.0,  0.4,  None),
    habit(FixtureKind::Hose,       "hose",       15.0, 30.0,  0.8,  Some(4.0)),
    habit(FixtureKind::Other,      "other",       5.3,  2.0,  0.8,  Some(2.0)),
];

impl Habit {
    const fn in_parts(self, n_parts: u32) -> Self {
        Self { n_parts, ..self }
    }
}

const fn habit(
    kind: FixtureKind,
    stream: &'static str,
    gallons_per_day: f64,
    gallons_per_draw: f64,
    spread: f64,
    gpm: Option<f64>,
) -> Habit {
    Habit {
        kind,
        stream,
        gallons_per_day,
        gallons_per_draw,
        spread,
        gpm,
        n_parts: 1,
    }
}

/// Words in an outlet's name that tell its kind; the first that fits decides, so
/// that a kitchen basin is a kitchen's.
const KIND_WORDS: [(FixtureKind, &[&str]); 9] = [
    (FixtureKind::Dishwasher, &["dishwasher"]),
    (FixtureKind::Toilet, &["toilet", "wc", "lavatory"]),
    (FixtureKind::Shower, &["shower"]),
    (FixtureKind::Kitchen, &["kitchen"]),
    (FixtureKind::Trough, &["trough", "drinker"]),
    (FixtureKind::Washer, &["washer", "washing", "laundry"]),
    (FixtureKind::Basin, &["basin", "sink", "washbasin"]),
    (FixtureKind::Bath, &["bath", "tub", "bathtub"]),
    (
        FixtureKind::Hose,
        &["hose", "yard", "garden", "standpipe", "washdown"],
    ),
];

impl FixtureKind {
    /// Reads the kind out of an outlet's name, word by word.
    #[must_use]
    pub fn from_name(name: &str) -> Self {
        KIND_WORDS
            .iter()
            .find(|(_, words)| {
                name.split(['-', '_', ' '])
                    .map(|word| word.trim_end_matches(|c: char| c.is_ascii_digit()))
                    .any(|word| words.contains(&word))
            })
            .map_or(Self::Other, |&(kind, _)| kind)
    }

    /// Where people draw in a house without this kind of outlet.
    fn stand_in(self) -> Option<Self> {
        match self {
            Self::Basin => Some(Self::Kitchen),
            Self::Kitchen => Some(Self::Basin),
            Self::Toilet
            | Self::Shower
            | Self::Bath
            | Self::Washer
            | Self::Dishwasher
            | Self::Trough
            | Self::Hose
            | Self::Other => None,
        }
    }
}

/// What is drawn beside what the people of a house use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AddOns {
    /// Drawn by hoses for the garden, averaged over the year [m³/day].
    pub garden_m3_per_day: f64,
    /// Drunk at troughs [m³/day].
    pub livestock_m3_per_day: f64,
}

/// Makes up the draws of a household with these outlets.
#[must_use]
pub fn household(request: &Household, fixtures: &[FixtureSpec]) -> DemandSchedule {
    made_up(request, None, fixtures)
}

/// As [`household`], with what hoses and troughs draw given by itself: it does not grow
/// with the number of draws a day.
#[must_use]
pub fn household_with(
    request: &Household,
    add_ons: &AddOns,
    fixtures: &[FixtureSpec],
) -> DemandSchedule {
    made_up(request, Some(add_ons), fixtures)
}

fn made_up(
    request: &Household,
    add_ons: Option<&AddOns>,
    fixtures: &[FixtureSpec],
) -> DemandSchedule {
    let draws = HABITS
        .iter()
        .flat_map(|habit| {
            let per_day = draws_per_day(request, add_ons, habit);
            draws_of_kind(request, habit, per_day, fixtures)
        })
        .collect();
    let end_ticks = (request.days * 86_400.0 * TICKS_PER_SECOND as f64) as u64;
    DemandSchedule::new(draws).before(end_ticks)
}

/// How often a kind of outlet is drawn from [1/day].
fn draws_per_day(request: &Household, add_ons: Option<&AddOns>, habit: &Habit) -> f64 {
    let gallons_per_day = match (habit.kind, add_ons) {
        (FixtureKind::Hose, Some(add_ons)) => add_ons.garden_m3_per_day / US_GALLON,
        (FixtureKind::Trough, Some(add_ons)) => add_ons.livestock_m3_per_day / US_GALLON,
        _ => request.draws_per_day / REFERENCE_DRAWS_PER_DAY * habit.gallons_per_day,
    };
    gallons_per_day / habit.gallons_per_draw
}

fn draws_of_kind(
    request: &Household,
    habit: &Habit,
    per_day: f64,
    fixtures: &[FixtureSpec],
) -> Vec<Draw> {
    let stream = |purpose: &str| stream(request.seed, &format!("{}/{purpose}", habit.stream));
    let outlets_of = |kind: FixtureKind| -> Vec<(usize, ChaCha8Rng)> {
        fixtures
            .iter()
            .enumerate()
            .filter(|(_, fixture)| FixtureKind::from_name(&fixture.name) == kind)
            .map(|(idx, fixture)| (idx, stream(&format!("where/{}", fixture.name))))
            .collect()
    };
    let mut candidates = outlets_of(habit.kind);
    if let (true, Some(stand_in)) = (candidates.is_empty(), habit.kind.stand_in()) {
        candidates = outlets_of(stand_in);
    }
    if candidates.is_empty() || !(per_day > 0.0 && request.days > 0.0) {
        return Vec::new();
    }
    let mut when = Arrivals::new(stream("when"), per_day);
    let mut how_much = stream("how-much");
    let mut draws = Vec::new();
    loop {
        let start_s = when.next_s();
        if start_s >= request.days * 86_400.0 {
            return draws;
        }
        let gallons = log_normal(&mut how_much, habit.gallons_per_draw, habit.spread);
        let fixture = pick(&mut candidates);
        let nominal = nominal_flow_m3_per_s(&fixtures[fixture]);
        let opening = habit
            .gpm
            .map_or(1.0, |gpm| (gpm * US_GPM / nominal).min(1.0));
        let duration_s = gallons * US_GALLON / (opening * nominal) / f64::from(habit.n_parts);
        for part in 0..habit.n_parts {
            let part_s = start_s + f64::from(part) * BETWEEN_FILLS_S;
            draws.push(Draw {
                start_ticks: (part_s * TICKS_PER_SECOND as f64) as u64,
                duration_ticks: ((duration_s * TICKS_PER_SECOND as f64) as u64).max(1),
                fixture,
                opening,
            });
        }
    }
}

/// Log-normal with a given mean, held between a tenth and four times of it.
fn log_normal(rng: &mut ChaCha8Rng, mean: f64, spread: f64) -> f64 {
    let (u, v) = (uniform(rng), uniform(rng));
    let normal = (-2.0 * math::ln(1.0 - u)).sqrt() * math::cos(core::f64::consts::TAU * v);
    let variance = math::ln(1.0 + spread * spread);
    let value = mean * math::exp(variance.sqrt() * normal - variance / 2.0);
    value.clamp(0.1 * mean, 4.0 * mean)
}

/// Every outlet of a kind bids a number of its own stream; the highest gets the draw.
/// One more outlet so takes draws over but never moves a draw between the others.
fn pick(candidates: &mut [(usize, ChaCha8Rng)]) -> usize {
    let mut best = (0, 0);
    for (i, (fixture, rng)) in candidates.iter_mut().enumerate() {
        let bid = rng.next_u64();
        if i == 0 || bid > best.0 {
            best = (bid, *fixture);
        }
    }
    best.1
}

/// Times of a Poisson process whose rate follows the hour of the day.
struct Arrivals {
    rng: ChaCha8Rng,
    /// Mean number of arrivals in an hour of weight 1.
    per_hour_weight: f64,
    /// Hours since the run began, whole.
    hour: usize,
    /// Part of the present hour that is over [-].
    within: f64,
}

impl Arrivals {
    fn new(rng: ChaCha8Rng, per_day: f64) -> Self {
        let total: f64 = HOUR_WEIGHTS.iter().sum();
        Self {
            rng,
            per_hour_weight: per_day / total,
            hour: 0,
            within: 0.0,
        }
    }

    /// The next arrival, from the start of the run [s].
    fn next_s(&mut self) -> f64 {
        let mut wait = -math::ln(1.0 - uniform(&mut self.rng));
        loop {
            let rate = self.per_hour_weight * HOUR_WEIGHTS[(FIRST_HOUR + self.hour) % 24];
            let left = rate * (1.0 - self.within);
            if wait < left {
                self.within += wait / rate;
                return (self.hour as f64 + self.within) * 3_600.0;
            }
            wait -= left;
            self.hour += 1;
            self.within = 0.0;
        }
    }
}

#[cfg(test)]
mod tests;
