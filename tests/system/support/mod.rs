//! What several modules of whole-system tests stand on.

pub(crate) mod shuffle;
pub(crate) mod sites;
pub(crate) mod story;

use proptest::test_runner::{Config, RngSeed};

/// Random stories from a fixed seed, so that a change is judged on its own and not on the
/// luck of the day.  `PROPTEST_RNG_SEED=N` goes looking elsewhere; a failure found there is
/// mended and becomes a test of its own.
pub(crate) fn random_cases(cases: u32) -> Config {
    let seed = std::env::var("PROPTEST_RNG_SEED")
        .ok()
        .and_then(|seed| seed.parse().ok())
        .unwrap_or(20_261_125);
    Config {
        cases,
        rng_seed: RngSeed::Fixed(seed),
        ..Config::default()
    }
}
