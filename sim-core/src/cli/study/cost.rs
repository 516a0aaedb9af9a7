//! What a study cost: time and memory, for whoever plans a larger one.

#![expect(
    clippy::disallowed_types,
    reason = "people are told how long it took; no result depends on it"
)]

use std::time::Duration;

use super::words;
use crate::cli::display::fixed;
use crate::study::Study;

/// Days of a year.
const YEAR_DAYS: f64 = 365.0;

/// A clock that was started.
#[derive(Debug, Clone, Copy)]
pub(super) struct Watch(std::time::Instant);

impl Watch {
    pub(super) fn start() -> Self {
        Self(std::time::Instant::now())
    }

    pub(super) fn elapsed(self) -> Duration {
        self.0.elapsed()
    }
}

/// What was lived through, and how long it took.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cost {
    pub(super) n_settings: usize,
    pub(super) threads: usize,
    pub(super) took: Duration,
}

impl Cost {
    /// A line about it, with the most memory that was needed up to now.
    pub(super) fn told(self, study: &Study) -> String {
        let years = self.n_settings as f64 * study.seeds.len() as f64 * study.days / YEAR_DAYS;
        let memory = peak_memory_mib().map_or_else(String::new, |mib| {
            format!(", peak memory {} MiB", fixed(mib, 1))
        });
        format!(
            "lived through {} ({} years) in {} s on {}{memory}",
            words::plural(self.n_settings, "setting"),
            words::four_digits(years),
            fixed(self.took.as_secs_f64(), 1),
            words::plural(self.threads, "thread"),
        )
    }
}

/// Most memory that this process has had at once [MiB], where the system tells.
fn peak_memory_mib() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.split_whitespace().next()?.parse().ok()?;
    Some(kib / 1024.0)
}
