//! What is hidden, drawn from a seed.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::spec::{Hidden, HiddenDraw, Par, Scenario};
use crate::faults::{Fault, FaultKind};
use crate::math::{self, Fnv};

/// Name of the random stream; changing it changes what every seed hides.
const STREAM: &str = "scenario/hidden";

impl Scenario {
    /// What a seed hides; the same on every platform.
    #[must_use]
    pub fn draw(&self, seed: u64) -> Vec<Fault> {
        match &self.hidden {
            Hidden::Fixed(faults) => faults.clone(),
            Hidden::Drawn(pool) => {
                let mut rng = stream_of(seed);
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

    /// What a practised technician takes for what a seed hides.
    #[must_use]
    pub fn par_of(&self, seed: u64) -> Par {
        match &self.hidden {
            Hidden::Fixed(_) => self.par,
            Hidden::Drawn(pool) => pick(pool, uniform(&mut stream_of(seed)))
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

/// The random numbers that a seed draws from.
fn stream_of(seed: u64) -> ChaCha8Rng {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let mut stream = Fnv::new();
    stream.text(STREAM);
    rng.set_stream(stream.finish());
    rng
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

/// Uniform in [0, 1), from the upper 53 bits.
fn uniform(rng: &mut ChaCha8Rng) -> f64 {
    (rng.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}
