//! Lengths of runs, counted in classes: as much memory for ten thousand years as for one.
//!
//! A class is all numbers of one power of two whose next eight binary digits are the same,
//! so that it is less than 1/256 of its numbers wide, and its bounds are exact: every whole
//! number of seconds up to 512 is one.

/// Binary digits behind the first that tell classes apart.
const DIGITS: u32 = 8;
/// Powers of two that have classes: from 1/64 s to 2^26 s, which is two years.
const LOWEST_POWER: i32 = -6;
const HIGHEST_POWER: i32 = 26;
const N_CLASSES: usize = ((HIGHEST_POWER - LOWEST_POWER) as usize) << DIGITS;
/// Bits of an f64 behind the class.
const SHIFT: u32 = f64::MANTISSA_DIGITS - 1 - DIGITS;

/// Lengths of runs.
///
/// A quantile is the middle of the class that holds it, within 0.2 % of the exact one for
/// lengths from 1/64 s to two years; the share of runs under a bound is exact where the
/// bound is a whole number of seconds up to 512, elsewhere runs within 0.4 % of the bound
/// may be counted on its other side.
///
/// ```
/// use sim_core::study::RunLengths;
///
/// let mut lengths = RunLengths::new();
/// for seconds in [10.0, 20.0, 30.0, 40.0] {
///     lengths.add(seconds);
/// }
/// assert!((lengths.quantile_s(0.5).unwrap() / 20.0 - 1.0).abs() < 0.002);
/// assert_eq!(lengths.share_under(30.0), Some(0.5));
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct RunLengths {
    counts: Vec<u32>,
    total: u64,
}

impl Default for RunLengths {
    fn default() -> Self {
        Self::new()
    }
}

impl RunLengths {
    /// No runs.
    #[must_use]
    pub fn new() -> Self {
        Self {
            counts: vec![0; N_CLASSES],
            total: 0,
        }
    }

    /// Counts a run of so many seconds.
    pub fn add(&mut self, seconds: f64) {
        let count = &mut self.counts[class_of(seconds)];
        *count = count.saturating_add(1);
        self.total += 1;
    }

    /// Counts all runs of another.
    pub fn add_all(&mut self, other: &Self) {
        for (count, more) in self.counts.iter_mut().zip(&other.counts) {
            *count = count.saturating_add(*more);
        }
        self.total += other.total;
    }

    /// How many runs.
    #[must_use]
    pub fn total(&self) -> u64 {
        self.total
    }

    /// The length that so large a share of runs does not exceed [s]; none of no runs.
    #[must_use]
    pub fn quantile_s(&self, share: f64) -> Option<f64> {
        if self.total == 0 {
            return None;
        }
        let rank = ((share * self.total as f64).ceil() as u64).clamp(1, self.total);
        let mut sum = 0;
        let class = self.counts.iter().position(|count| {
            sum += u64::from(*count);
            sum >= rank
        })?;
        Some(0.5 * (lower_bound(class) + lower_bound(class + 1)))
    }

    /// Share of runs under so many seconds [-]; none of no runs.
    #[must_use]
    pub fn share_under(&self, seconds: f64) -> Option<f64> {
        let under: u64 = self.counts[..class_of(seconds)]
            .iter()
            .map(|count| u64::from(*count))
            .sum();
        (self.total > 0).then(|| under as f64 / self.total as f64)
    }
}

/// What is shorter or longer than every class falls into the first or last one.
fn class_of(seconds: f64) -> usize {
    let first = lower_bound(0).to_bits() >> SHIFT;
    let bits = seconds.max(0.0).to_bits() >> SHIFT;
    (bits.saturating_sub(first) as usize).min(N_CLASSES - 1)
}

/// Where a class begins [s].
fn lower_bound(class: usize) -> f64 {
    let power = (f64::MAX_EXP - 1 + LOWEST_POWER) as u64;
    f64::from_bits(((power << DIGITS) + class as u64) << SHIFT)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::study::results::quantile;

    #[test]
    fn classes_lie_side_by_side() {
        assert_eq!(lower_bound(0), 1.0 / 64.0);
        assert_eq!(class_of(0.0), 0);
        assert_eq!(class_of(f64::INFINITY), N_CLASSES - 1);
        for class in [0, 1, 700, N_CLASSES - 1] {
            assert_eq!(class_of(lower_bound(class)), class);
            let next = lower_bound(class + 1);
            assert_eq!(class_of(next.next_down()), class);
            assert!(next / lower_bound(class) <= 1.0 + 1.0 / 256.0);
        }
        for seconds in 1..=512 {
            let seconds = f64::from(seconds);
            assert_eq!(lower_bound(class_of(seconds)), seconds);
        }
    }

    proptest! {
        #[test]
        fn quantiles_and_shares_are_near_the_exact_ones(
            mut lengths in prop::collection::vec(0.02..1e6_f64, 1..400),
            share in 0.001..1.0_f64,
            bound in 1_u32..=512,
        ) {
            let mut counted = RunLengths::new();
            let mut halves = [RunLengths::new(), RunLengths::new()];
            for (i, length) in lengths.iter().enumerate() {
                counted.add(*length);
                halves[i % 2].add(*length);
            }
            let mut together = RunLengths::new();
            for half in &halves {
                together.add_all(half);
            }
            prop_assert_eq!(&together, &counted);
            lengths.sort_by(f64::total_cmp);
            let exact = quantile(&lengths, share).unwrap();
            let found = counted.quantile_s(share).unwrap();
            prop_assert!((found / exact - 1.0).abs() <= 0.002, "{} for {}", found, exact);
            let bound = f64::from(bound);
            let under = lengths.iter().filter(|length| **length < bound).count();
            prop_assert_eq!(
                counted.share_under(bound),
                Some(under as f64 / lengths.len() as f64)
            );
        }
    }
}
