//! A bar for long runs, on a terminal only.

use std::io::IsTerminal;

use indicatif::{ProgressBar, ProgressStyle};

/// Runs shorter than this are over before a bar is read [s of plant time].
const LONG_RUN_S: f64 = 6.0 * 3_600.0;
const STEPS: u64 = 1_000;

/// Shows how much of the run is done.
pub(super) struct Progress {
    bar: ProgressBar,
}

impl Progress {
    /// A bar on standard error, or none where nobody would see it.
    pub(super) fn new(duration_s: f64) -> Self {
        let bar = if duration_s >= LONG_RUN_S && std::io::stderr().is_terminal() {
            ProgressBar::new(STEPS)
        } else {
            ProgressBar::hidden()
        };
        if let Ok(style) = ProgressStyle::with_template("{wide_bar} {percent} %, {eta} left") {
            bar.set_style(style);
        }
        Self { bar }
    }

    /// A bar for a number of settings, whatever their length.
    pub(super) fn counting() -> Self {
        Self::new(f64::INFINITY)
    }

    /// Tells how much is done, 0 to 1.
    pub(super) fn set(&self, share: f64) {
        self.bar.set_position((share * STEPS as f64) as u64);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
