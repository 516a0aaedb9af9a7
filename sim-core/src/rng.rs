//! Seeded random numbers: a stream of its own for every purpose, the same on every
//! platform, so that one more number drawn for one thing shifts none for another.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::math::Fnv;

/// The stream of a purpose; another name is another stream.
pub(crate) fn stream(seed: u64, purpose: &str) -> ChaCha8Rng {
    let mut name = Fnv::new();
    name.text(purpose);
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    rng.set_stream(name.finish());
    rng
}

/// Uniform in [0, 1), from the upper 53 bits.
pub(crate) fn uniform(rng: &mut ChaCha8Rng) -> f64 {
    (rng.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}
