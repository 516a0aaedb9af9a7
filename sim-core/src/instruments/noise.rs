//! Seeded noise: one stream per (seed, tick, instrument, places), so that one reading more
//! or less shifts no other.
//!
//! The name of the stream is hashed to 64 bits (FNV-1a, 1991) and taken as the stream
//! number of a ChaCha8 generator, which is the same on every machine.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use super::reading::Meter;
use crate::math::Fnv;
use crate::plant::Tick;

/// Random numbers of one reading; none for an instrument that is only thought of.
pub(super) struct Noise {
    rng: Option<ChaCha8Rng>,
}

impl Noise {
    /// The stream of a reading; without a seed the noise is nought.
    pub(super) fn of(seed: Option<u64>, tick: Tick, meter: Meter, place: &[String]) -> Self {
        let Some(seed) = seed else {
            return Self { rng: None };
        };
        let mut hash = Fnv::new();
        hash.word(tick.0);
        hash.byte(meter as u8);
        for name in place {
            hash.text(name);
            hash.byte(0);
        }
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        rng.set_stream(hash.finish());
        Self { rng: Some(rng) }
    }

    /// A number between −1 and 1, most often near 0 (two dice).
    pub(super) fn next(&mut self) -> f64 {
        let Some(rng) = &mut self.rng else {
            return 0.0;
        };
        let mut uniform = || (rng.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        uniform() + uniform() - 1.0
    }
}
