//! What is hidden, drawn from a seed.

use super::spec::{Hidden, HiddenDraw, Par, Scenario};
use crate::faults::{Fault, FaultKind};
use crate::math;
use crate::rng::{stream, uniform};
use crate::session::Tool;

/// Name of the random stream; changing it changes what every seed hides.
const STREAM: &str = "scenario/hidden";

/// Share of visits on which the pump's earth conductor is lost besides whatever the scenario
/// hides: nothing shows of it until somebody is shocked, so it is looked for on every visit
/// (training value).
const LOST_EARTH_SHARE: f64 = 0.05;
/// Name of the random stream that decides, with the scenario's name behind it.
const LOST_EARTH_STREAM: &str = "scenario/earth 10/";
/// Seeds among which one is looked for that draws an entry of the pool.
const MOST_SEEDS: u64 = 2_000;

impl Scenario {
    /// What a seed hides; the same on every platform.
    #[must_use]
    pub fn draw(&self, seed: u64) -> Vec<Fault> {
        let mut hidden = self.draw_own(seed);
        if self.loses_earth(seed) && !hidden.iter().any(|f| f.kind == FaultKind::EarthOpen) {
            hidden.push(Fault::usual(FaultKind::EarthOpen));
        }
        hidden
    }

    /// Whether a seed takes the earth away, where the kit can find out.
    fn loses_earth(&self, seed: u64) -> bool {
        let can_be_found = self.site.wiring.is_some()
            && self.kit.contains(&Tool::Meter)
            && self.kit.contains(&Tool::LockoutSet);
        let name = format!("{LOST_EARTH_STREAM}{}", self.name);
        can_be_found && uniform(&mut stream(seed, &name)) < LOST_EARTH_SHARE
    }

    /// What the scenario itself hides.
    fn draw_own(&self, seed: u64) -> Vec<Fault> {
        match &self.hidden {
            Hidden::Fixed(faults) => faults.clone(),
            Hidden::Drawn(pool) => {
                let mut rng = stream(seed, STREAM);
                pick(pool, uniform(&mut rng)).map_or_else(Vec::new, |draw| {
                    draw.faults
                        .iter()
                        .map(|(mildest, worst)| Fault {
                            kind: mildest.kind,
                            severity: between(mildest.severity, worst.severity, uniform(&mut rng)),
                        })
                        .collect()
                })
            }
        }
    }

    /// Which entry of the pool a seed draws, from 0; 0 where nothing is drawn.
    #[must_use]
    pub fn member_of(&self, seed: u64) -> usize {
        let Hidden::Drawn(pool) = &self.hidden else {
            return 0;
        };
        let drawn = pick(pool, uniform(&mut stream(seed, STREAM)));
        let is_drawn = |draw: &HiddenDraw| drawn.is_some_and(|drawn| std::ptr::eq(draw, drawn));
        pool.iter().position(is_drawn).unwrap_or(0)
    }

    /// For every entry of the pool the first seed from 1 on that draws it and does not take
    /// the earth away as well; entries too rare to come up are left out.
    #[must_use]
    pub fn seeds_of_members(&self) -> Vec<u64> {
        let n_members = match &self.hidden {
            Hidden::Fixed(_) => 1,
            Hidden::Drawn(pool) => pool.len(),
        };
        let first = |member| {
            (1..=MOST_SEEDS)
                .find(|seed| self.member_of(*seed) == member && !self.loses_earth(*seed))
        };
        (0..n_members).filter_map(first).collect()
    }

    /// What a practised technician takes for what a seed hides.
    #[must_use]
    pub fn par_of(&self, seed: u64) -> Par {
        match &self.hidden {
            Hidden::Fixed(_) => self.par,
            Hidden::Drawn(pool) => pick(pool, uniform(&mut stream(seed, STREAM)))
                .and_then(|draw| draw.par)
                .unwrap_or(self.par),
        }
    }

    /// Every kind of fault that this scenario may hide, in order, each once.
    #[must_use]
    pub fn may_hide(&self) -> Vec<FaultKind> {
        let mut kinds: Vec<FaultKind> = match &self.hidden {
            Hidden::Fixed(faults) => faults.iter().map(|fault| fault.kind).collect(),
            Hidden::Drawn(pool) => pool
                .iter()
                .flat_map(|draw| draw.faults.iter().map(|(fault, _)| fault.kind))
                .collect(),
        };
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    }
}

/// The entry that a number in [0, 1) falls to, by weight.
fn pick(pool: &[HiddenDraw], share: f64) -> Option<&HiddenDraw> {
    let total: f64 = pool.iter().map(|draw| draw.weight).sum();
    let mut left = share * total;
    for draw in pool {
        if left < draw.weight {
            return Some(draw);
        }
        left -= draw.weight;
    }
    // Rounding may leave a hair over.
    pool.last()
}

/// Evenly in the logarithm, or evenly where one of the two is nought.
fn between(from: f64, to: f64, share: f64) -> f64 {
    if from == to {
        from
    } else if from > 0.0 {
        (from * math::pow(to / from, share)).clamp(from, to)
    } else {
        from + (to - from) * share
    }
}
