//! What a study cost: time and memory, for whoever plans a larger one.

use std::time::Duration;

use super::words;
use crate::cli::display::fixed;
use crate::study::Study;

/// Days of a year.
const YEAR_DAYS: f64 = 365.0;

/// A line about what was lived through, how long it took, and the most memory it needed.
pub(super) fn told(study: &Study, n_settings: usize, threads: usize, took: Duration) -> String {
    let years = n_settings as f64 * study.seeds.len() as f64 * study.days / YEAR_DAYS;
    let seconds = took.as_secs_f64();
    let memory = peak_memory_mib().map_or_else(String::new, |mib| {
        format!(", peak memory {} MiB", fixed(mib, 1))
    });
    format!(
        "lived through {} ({} years) in {} s on {}{memory}",
        words::plural(n_settings, "setting"),
        words::four_digits(years),
        fixed(seconds, 1),
        words::plural(threads, "thread"),
    )
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
