//! The troubleshooter: twins, their weights, and what each outcome does to them.

use std::collections::BTreeSet;

use super::belief::{Belief, Suspect};
use super::book::Book;
use super::case::PublicCase;
use super::hypotheses::{Hypothesis, hypotheses};
use super::likelihood::{Trust, log_likelihood, widen};
use super::shown::{Feature, Shown, Sort, shown};
use super::twins::Twin;
use super::worth::Worth;
use crate::catalog::Catalog;
use crate::faults::FaultKind;
use crate::math::{self, Fnv};
use crate::session::{Action, Books, Outcome, Visit};
use crate::units::convert::PSI;

/// How much less likely than the likeliest a twin is that is not worth going on with.
const DEAD: f64 = 1e-9;
/// Logarithm of how much likelier than a plain surprise what was seen must be on some live
/// twin; below that the others are brought back.
const SURPRISE: f64 = 0.7;
/// How far beyond its set points the switch of a sound site lets the gauge stand at rest
/// [Pa] (training value).
const BEYOND_PA: f64 = 5.0 * PSI;
/// How much oftener than over the whole day a household draws when somebody works at its
/// system, and how long a draw is felt [s] (training values).
const BY_DAY: f64 = 1.5;
const DRAW_S: f64 = 90.0;
/// Resistance of an earth conductor above which it is no earth [ohm].
const OPEN_OHM: f64 = 10.0;

/// Why a case has no twins.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum TwinError {
    /// Not even the healthy site can be followed.
    #[error("the simulated site cannot be followed: {0}")]
    NoTwin(String),
}

/// What works out from a case's outcomes what is wrong.
#[derive(Debug, Clone)]
pub struct Troubleshooter {
    pub(super) case: PublicCase,
    pub(super) book: Book,
    pub(super) books: Books,
    pub(super) hypotheses: Vec<Hypothesis>,
    /// Faults of each group of hypotheses.
    pub(super) group_kinds: Vec<Vec<FaultKind>>,
    pub(super) twins: Vec<Twin>,
    pub(super) belief: Belief,
    /// How likely the earth conductor is open.
    pub(super) open_earth: f64,
    pub(super) has_tested_earth: bool,
    has_read_gauge: bool,
    /// What was seen since the site was last mended, by action and state of the site.
    weighed: BTreeSet<u64>,
    /// What was done, with the seconds that it took and the outcome.
    log: Vec<(Action, Outcome)>,
    worth: Vec<Worth>,
    /// Changes with everything that mends the site.
    pub(super) mended: u64,
    pub(super) outlook: super::information::Outlook,
}

impl Troubleshooter {
    /// Thinks of every twin of a case's site and lives through the time before with each.
    ///
    /// # Errors
    /// When not even the healthy site can be followed.
    pub fn new(case: &PublicCase) -> Result<Self, TwinError> {
        Self::with_book(case, Book::shipped())
    }

    /// The same with another book.
    ///
    /// # Errors
    /// When not even the healthy site can be followed.
    pub fn with_book(case: &PublicCase, book: Book) -> Result<Self, TwinError> {
        let books = Books::shipped();
        let imagined = case.imagined();
        let all = hypotheses(&case.site, &books.catalog, &book);
        // What does not fit after all (a severity that the site cannot have) is left out.
        let mut kept = Vec::new();
        let mut twins = Vec::new();
        let mut place = vec![None; all.len()];
        for (at, hypothesis) in all.iter().enumerate() {
            match Twin::arrive(&imagined, &hypothesis.faults, &books) {
                Ok(twin) => {
                    place[at] = Some(twins.len());
                    twins.push(twin);
                    kept.push(hypothesis.clone());
                }
                Err(error) if hypothesis.faults.is_empty() => {
                    return Err(TwinError::NoTwin(error.to_string()));
                }
                Err(_) => {}
            }
        }
        for hypothesis in &mut kept {
            let there = hypothesis.neighbours.iter().filter_map(|at| place[*at]);
            hypothesis.neighbours = there.collect();
        }
        let mut group_kinds: Vec<Vec<FaultKind>> = Vec::new();
        let groups: Vec<usize> = twins
            .iter()
            .map(|twin| {
                // What the time before has worn belongs to what is wrong.
                let kinds = twin.all_wrong();
                let known = group_kinds.iter().position(|known| *known == kinds);
                known.unwrap_or_else(|| {
                    group_kinds.push(kinds);
                    group_kinds.len() - 1
                })
            })
            .collect();
        let priors: Vec<f64> = kept.iter().map(|hypothesis| hypothesis.prior).collect();
        Ok(Self {
            case: case.clone(),
            open_earth: book.open_earth_share,
            book,
            books,
            belief: Belief::new(&priors, &groups),
            hypotheses: kept,
            group_kinds,
            twins,
            has_tested_earth: false,
            has_read_gauge: false,
            weighed: BTreeSet::new(),
            log: Vec::new(),
            worth: Vec::new(),
            mended: 0,
            outlook: super::information::Outlook::default(),
        })
    }

    /// What is given.
    #[must_use]
    pub fn case(&self) -> &PublicCase {
        &self.case
    }

    /// The catalogue that it goes by.
    #[must_use]
    pub fn catalog(&self) -> &Catalog {
        &self.books.catalog
    }

    /// Everything that may be wrong.
    #[must_use]
    pub fn hypotheses(&self) -> &[Hypothesis] {
        &self.hypotheses
    }

    /// How likely each hypothesis is.
    #[must_use]
    pub fn belief(&self) -> &Belief {
        &self.belief
    }

    /// How likely the earth conductor to the pump is open, beside whatever else is wrong.
    #[must_use]
    pub fn open_earth(&self) -> f64 {
        self.open_earth
    }

    /// Suspects, the likeliest first; equal ones in the order of the catalogue.  The open
    /// earth is none of them: see [`Self::open_earth`].
    #[must_use]
    pub fn suspects(&self) -> Vec<Suspect> {
        let of_groups = self.belief.of_groups();
        let mut suspects: Vec<Suspect> = self
            .group_kinds
            .iter()
            .zip(&of_groups)
            .map(|(faults, probability)| Suspect {
                faults: faults.clone(),
                probability: *probability,
            })
            .collect();
        suspects.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        suspects
    }

    /// What each thing done so far was worth, in order.
    #[must_use]
    pub fn worth(&self) -> &[Worth] {
        &self.worth
    }

    /// What was done so far.
    #[must_use]
    pub fn log(&self) -> &[(Action, Outcome)] {
        &self.log
    }

    /// Takes in what an action at the real site came to.  A refused action changes nothing
    /// and is not told here.
    pub fn observe(&mut self, action: &Action, outcome: &Outcome) {
        if *action == Action::Undo {
            self.undo();
            return;
        }
        let entropy = self.belief.entropy_bits();
        let weights = self.belief.of_hypotheses();
        if mends(action) {
            self.weighed.clear();
        }
        let number = self.log.len();
        self.log.push((action.clone(), outcome.clone()));
        if outcome.hazard.is_none() && !is_only_written(action) {
            self.weigh(number);
        } else {
            let up_to_date = self.twins.iter_mut().filter(|twin| twin.done == number);
            up_to_date.for_each(|twin| twin.done += 1);
        }
        self.note_earth(outcome);
        if mends(action) {
            self.mended += 1;
        }
        let now = self.belief.of_hypotheses();
        self.worth.push(Worth {
            action: action.clone(),
            bits: entropy - self.belief.entropy_bits(),
            moved_bits: moved_bits(&weights, &now),
            minutes: outcome.seconds / 60.0,
            money: outcome.money,
        });
    }

    fn weigh(&mut self, number: usize) {
        let (action, outcome) = self.log[number].clone();
        let seen = shown(number, &action, &Ok(outcome.clone()));
        let is_live = self.live();
        let mark = mark(self.heaviest_visit(), &action);
        let trust = self.trust(outcome.seconds);
        let mut expected: Vec<Option<Vec<Feature>>> = vec![None; self.twins.len()];
        for (at, twin) in self.twins.iter_mut().enumerate() {
            if is_live[at] && twin.done == number {
                expected[at] = Some(twin.act(number, &action, outcome.seconds));
                twin.done += 1;
            }
        }
        let is_new = self.weighed.insert(mark);
        let is_anything = |list: &Vec<Feature>| !list.is_empty();
        if is_new && (!seen.is_empty() || expected.iter().flatten().any(is_anything)) {
            let weighed = self.likelihoods(&seen, &expected, trust);
            let plain = log_likelihood(&seen, &[], trust);
            let best = weighed
                .iter()
                .flatten()
                .fold(f64::NEG_INFINITY, |a, b| a.max(*b));
            let least = weighed
                .iter()
                .flatten()
                .fold(f64::INFINITY, |a, b| a.min(*b));
            let filled: Vec<f64> = weighed
                .iter()
                .map(|weight| weight.unwrap_or_else(|| least.min(best)))
                .collect();
            self.belief.update(&filled);
            if !seen.is_empty() && best - plain < SURPRISE {
                self.bring_back(number);
            }
            self.agree(&seen, &expected);
        }
    }

    /// Whether the same was seen with the site in the same state: it tells nothing new, for
    /// what twins get wrong they get wrong again.
    pub(super) fn is_known(&self, mark: u64) -> bool {
        self.weighed.contains(&mark)
    }

    /// Where the site's likeliest twin stands, as far as hands set it.
    pub(super) fn heaviest_visit(&self) -> &Visit {
        &self.twins[self.belief.heaviest()].visit
    }

    fn likelihoods(
        &self,
        seen: &[Feature],
        expected: &[Option<Vec<Feature>>],
        trust: Trust,
    ) -> Vec<Option<f64>> {
        expected
            .iter()
            .zip(&self.hypotheses)
            .map(|(own, hypothesis)| {
                let own = own.as_ref()?;
                let around: Vec<&[Feature]> = hypothesis
                    .neighbours
                    .iter()
                    .filter_map(|at| expected[*at].as_deref())
                    .collect();
                let wide = widen(own, &around, trust);
                Some(log_likelihood(seen, &wide, trust))
            })
            .collect()
    }

    /// Which twins are likely enough to be worth going on with.
    pub(super) fn live(&self) -> Vec<bool> {
        let weights = self.belief.log_weights();
        let best = weights[self.belief.heaviest()];
        let least = best + math::ln(DEAD);
        let mut live: Vec<bool> = weights.iter().map(|weight| *weight >= least).collect();
        // The neighbours of a live twin tell how wide its stretch is.
        for (weight, hypothesis) in weights.iter().zip(&self.hypotheses) {
            if *weight >= best + 0.5 * math::ln(DEAD) {
                for neighbour in &hypothesis.neighbours {
                    live[*neighbour] = true;
                }
            }
        }
        live
    }

    /// Brings back the twins that were given up: does with them everything that was done,
    /// and weighs all of it anew.  `number` is the action that surprised.
    fn bring_back(&mut self, number: usize) {
        if self.twins.iter().any(|twin| twin.done != number + 1) {
            self.live_again(number + 1);
        }
    }

    /// Forgets the last action: what it did to the twins cannot be taken back, so all the
    /// others are done again.
    fn undo(&mut self) {
        if self.log.pop().is_none() {
            return;
        }
        self.worth.pop();
        self.open_earth = self.book.open_earth_share;
        self.has_tested_earth = false;
        self.live_again(self.log.len());
        for at in 0..self.log.len() {
            let outcome = self.log[at].1.clone();
            self.note_earth(&outcome);
        }
    }

    /// Lives through the first `count` actions again with every twin.
    fn live_again(&mut self, count: usize) {
        let priors: Vec<f64> = self.hypotheses.iter().map(|h| h.prior).collect();
        let groups = self.belief.groups().to_vec();
        let imagined = self.case.imagined();
        self.belief = Belief::new(&priors, &groups);
        for (twin, hypothesis) in self.twins.iter_mut().zip(&self.hypotheses) {
            // It arrived once, so that it arrives again.
            if let Ok(again) = Twin::arrive(&imagined, &hypothesis.faults, &self.books) {
                *twin = again;
            }
        }
        self.has_read_gauge = false;
        self.weighed.clear();
        for at in 0..count {
            let (action, outcome) = self.log[at].clone();
            if outcome.hazard.is_some() || is_only_written(&action) {
                for twin in &mut self.twins {
                    twin.done = at + 1;
                }
                continue;
            }
            let seen = shown(at, &action, &Ok(outcome.clone()));
            let mark = mark(self.heaviest_visit(), &action);
            let trust = self.trust(outcome.seconds);
            let mut expected = Vec::with_capacity(self.twins.len());
            for twin in &mut self.twins {
                expected.push(Some(twin.act(at, &action, outcome.seconds)));
                twin.done = at + 1;
            }
            if mends(&action) {
                self.weighed.clear();
            }
            if self.weighed.insert(mark) {
                let weighed = self.likelihoods(&seen, &expected, trust);
                let weights: Vec<f64> = weighed.into_iter().flatten().collect();
                self.belief.update(&weights);
            }
            self.agree(&seen, &expected);
        }
        self.mended += 1;
    }

    /// How far twins can be trusted now.
    pub(super) fn trust(&self, seconds: f64) -> Trust {
        let is_shut = self
            .twins
            .get(self.belief.heaviest())
            .is_some_and(|twin| twin.visit.plant().controls().house_valve_opening == 0.0);
        let switch = &self.case.site.wall.pressure_switch;
        let rest = (
            switch.cut_in.si() - BEYOND_PA,
            switch.cut_out.si() + BEYOND_PA,
        );
        let draws_per_s = match &self.case.use_during {
            Some(in_use) if !is_shut => BY_DAY * in_use.draws_per_day / 86_400.0,
            _ => 0.0,
        };
        Trust {
            disturbed: if draws_per_s > 0.0 {
                1.0 - math::exp(-draws_per_s * (seconds + DRAW_S))
            } else {
                0.0
            },
            unread: (!self.has_read_gauge).then_some(rest),
        }
    }

    /// Lets the twins' tanks agree with a gauge just read, where they can be as full.
    fn agree(&mut self, seen: &[Feature], expected: &[Option<Vec<Feature>>]) {
        let trust = self.trust(0.0);
        let needle = |list: &[Feature]| {
            let mut found = list.iter().filter(|feature| feature.sort == Sort::Needle);
            found.next().and_then(|feature| match feature.shown {
                Shown::Number { value, .. } => Some(value),
                Shown::Word(_) | Shown::Cue { .. } => None,
            })
        };
        let Some(read) = needle(seen) else { return };
        // The last point of a log is where the needle stands now.
        let fall: f64 = seen
            .iter()
            .filter(|feature| feature.sort == Sort::NeedleChange)
            .filter_map(|feature| match feature.shown {
                Shown::Number { value, .. } => Some((time_of(&feature.label), value)),
                Shown::Word(_) | Shown::Cue { .. } => None,
            })
            .fold(
                (-1.0, 0.0),
                |last, next| if next.0 > last.0 { next } else { last },
            )
            .1;
        let (low, high) = trust.unread.unwrap_or((0.0, 0.0));
        let is_first = trust.unread.is_some();
        self.has_read_gauge = true;
        for (twin, list) in self.twins.iter_mut().zip(expected) {
            let Some(thought) = list.as_deref().and_then(needle) else {
                continue;
            };
            let is_near = if is_first {
                (low..=high).contains(&read) && (low..=high).contains(&thought)
            } else {
                (read - thought).abs()
                    <= if self.case.use_during.is_some() {
                        high_pa()
                    } else {
                        near_pa()
                    }
            };
            if is_near {
                twin.visit.agree_with_gauge(read + fall);
            }
        }
    }

    /// Ohms from earth to frame tell of the earth conductor, and of nothing else.
    fn note_earth(&mut self, outcome: &Outcome) {
        for ohm in earth_readings(outcome) {
            let is_open = ohm.is_none_or(|ohm| ohm > OPEN_OHM);
            self.has_tested_earth = true;
            let likelihood = if is_open {
                (0.99, 0.001)
            } else {
                (0.001, 0.999)
            };
            let open = self.open_earth * likelihood.0;
            self.open_earth = open / (open + (1.0 - self.open_earth) * likelihood.1);
        }
    }
}

fn near_pa() -> f64 {
    6.0 * PSI
}

fn high_pa() -> f64 {
    25.0 * PSI
}

fn time_of(label: &str) -> f64 {
    let digits: String = label.chars().filter(char::is_ascii_digit).collect();
    digits.parse().unwrap_or(0.0)
}

/// Ohms between points of the earth in an outcome; none where the meter shows no number.
fn earth_readings(outcome: &Outcome) -> impl Iterator<Item = Option<f64>> + '_ {
    use crate::session::Observation;
    let is_earth = |name: &String| name.ends_with("earth") || name.ends_with("frame");
    outcome
        .readings
        .iter()
        .filter_map(move |entry| match &entry.observation {
            Observation::Reading {
                instrument,
                place,
                value,
                ..
            } if instrument == "ohms" && place.iter().all(is_earth) => Some(Some(*value)),
            Observation::NoReading {
                instrument, place, ..
            } if instrument == "ohms" && place.iter().all(is_earth) => Some(None),
            _ => None,
        })
}

/// What is only written down or said: nothing at the site changes and nothing is seen.
fn is_only_written(action: &Action) -> bool {
    matches!(
        action,
        Action::Note { .. }
            | Action::Suspect { .. }
            | Action::Call { .. }
            | Action::Hint
            | Action::Undo
            | Action::CloseUp
    )
}

/// Whether an action mends the site or sets it otherwise than it was found, for good.
const fn mends(action: &Action) -> bool {
    matches!(
        action,
        Action::Repair { .. }
            | Action::Replace { .. }
            | Action::SetAir { .. }
            | Action::AdjustSwitch { .. }
            | Action::PullPump
            | Action::LowerPump { .. }
            | Action::Vent
            | Action::Prime
            | Action::JoinLeads
            | Action::Explain { .. }
    )
}

/// An action with the state of the site as far as hands set it.
pub(super) fn mark(visit: &Visit, action: &Action) -> u64 {
    let mut mark = Fnv::new();
    mark.text(&format!("{action:?} {:?}", visit.station()));
    let covers = visit.open_covers();
    let open = covers.iter().find(|c| c.station() == visit.station());
    mark.text(&format!("{open:?}"));
    mark.word(state_of(visit));
    mark.finish()
}

/// The state of a site as far as hands set it: valves, breaker, lock, conductors.
pub(super) fn state_of(visit: &Visit) -> u64 {
    let mut state = Fnv::new();
    let controls = visit.plant().controls();
    state.text(&format!(
        "{} {} {} {:?} {}",
        visit.is_locked_out(),
        visit.leads_are_apart(),
        visit.pump_is_out(),
        visit.second_gauge(),
        controls.breaker_on,
    ));
    for opening in [
        controls.drain_opening,
        controls.house_valve_opening,
        controls.tank_valve_opening,
        controls.source_valve_opening,
    ] {
        state.float(opening);
    }
    controls
        .fixture_openings
        .iter()
        .for_each(|o| state.float(*o));
    state.finish()
}

/// How far the weights moved [bits]: what was learnt of the hypotheses, right or wrong.
fn moved_bits(before: &[f64], after: &[f64]) -> f64 {
    let pairs = before.iter().zip(after).filter(|(_, now)| **now > 1e-12);
    let nats: f64 = pairs
        .map(|(then, now)| now * math::ln(now / then.max(1e-300)))
        .sum();
    nats / std::f64::consts::LN_2
}
