//! Where the figures stand on an axis.

use crate::cli::display::fixed;
use crate::math;

/// A value axis from the least to the most of its figures.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) struct Scale {
    /// Value at the foot.
    pub(in crate::cli) low: f64,
    /// Value at the top.
    pub(in crate::cli) high: f64,
    /// Distance of two figures.
    step: f64,
}

impl Scale {
    /// A round scale that holds every value and zero, with at most `most_steps` steps.
    pub(in crate::cli) fn holding(values: impl IntoIterator<Item = f64>, most_steps: f64) -> Self {
        let (low, high) = values
            .into_iter()
            .filter(|value| value.is_finite())
            .fold((0.0_f64, 0.0_f64), |(low, high), value| {
                (low.min(value), high.max(value))
            });
        let high = if high - low > 1e-9 { high } else { 1.0 };
        let span = high - low;
        // A dip of less than a hundredth below zero is no reason for another step.
        let low = if low > -0.01 * span { 0.0 } else { low };
        let raw = span / most_steps;
        let decade = math::pow(10.0, math::log10(raw).floor());
        let fits = |step: f64| (high / step).ceil() - (low / step).floor() <= most_steps + 1e-9;
        let step = [1.0, 2.0, 5.0, 10.0, 20.0]
            .map(|factor| factor * decade)
            .into_iter()
            .find(|&step| fits(step))
            .unwrap_or(50.0 * decade);
        let top = (high / step).ceil().max((low / step).floor() + 1.0);
        Self {
            low: (low / step).floor() * step,
            high: top * step,
            step,
        }
    }

    /// Values with a figure, and the figure.
    pub(in crate::cli) fn figures(&self) -> Vec<(f64, String)> {
        let decimals = (-math::log10(self.step).floor()).clamp(0.0, 6.0) as usize;
        let n_steps = ((self.high - self.low) / self.step).round() as usize;
        (0..=n_steps)
            .map(|i| {
                let value = self.low + i as f64 * self.step;
                (value, fixed(value, decimals).replace('-', "\u{2212}"))
            })
            .collect()
    }
}

/// Units of time and how many seconds they have.
const TIME_UNITS: [(&str, f64); 4] = [
    ("seconds", 1.0),
    ("minutes", 60.0),
    ("hours", 3_600.0),
    ("days", 86_400.0),
];
/// Distances of two figures on a time axis, in its unit.
const TIME_STEPS: [f64; 18] = [
    0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 20.0, 30.0, 50.0, 60.0, 100.0,
    200.0, 500.0,
];

/// The figures of a time axis from zero.
pub(in crate::cli) struct TimeAxis {
    /// Unit of the figures, in words.
    pub(in crate::cli) unit: &'static str,
    /// Times with a figure [s], and the figure.
    pub(in crate::cli) figures: Vec<(f64, String)>,
}

impl TimeAxis {
    /// An axis for a run of so many seconds with at most twelve steps.
    pub(in crate::cli) fn of(duration_s: f64) -> Self {
        // The largest unit of which the run has two or more.
        let (unit, unit_s) = TIME_UNITS
            .into_iter()
            .rev()
            .find(|(_, unit_s)| duration_s >= 2.0 * unit_s)
            .unwrap_or(TIME_UNITS[0]);
        let length = duration_s / unit_s;
        let step = TIME_STEPS
            .into_iter()
            .find(|step| length / step <= 12.0)
            .unwrap_or(1_000.0);
        let decimals = if step < 0.1 {
            2
        } else {
            usize::from(step < 1.0)
        };
        let n_steps = (length / step + 1e-9).floor() as usize;
        let figures = (0..=n_steps)
            .map(|i| {
                let value = i as f64 * step;
                (value * unit_s, fixed(value, decimals))
            })
            .collect();
        Self { unit, figures }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(figures: &[(f64, String)]) -> String {
        let words: Vec<&str> = figures.iter().map(|(_, words)| words.as_str()).collect();
        words.join(" ")
    }

    #[test]
    fn a_scale_is_round_holds_its_values_and_begins_at_zero() {
        for (values, figures) in [
            (vec![12.0, 51.0], "0 20 40 60"),
            (vec![0.0, 10.04], "0 5 10 15"),
            (vec![0.0], "0.0 0.5 1.0"),
            (vec![-3.0, 45.0], "\u{2212}20 0 20 40 60"),
            (vec![-0.001, 45.0], "0 20 40 60"),
            (vec![0.021], "0.00 0.01 0.02 0.03"),
            (vec![f64::NAN, 280.0], "0 100 200 300"),
        ] {
            assert_eq!(words(&Scale::holding(values, 4.0).figures()), figures);
        }
    }

    #[test]
    fn time_is_told_in_the_unit_that_fits_the_run() {
        for (duration_s, unit, figures) in [
            (30.0, "seconds", "0 5 10 15 20 25 30"),
            (600.0, "minutes", "0 1 2 3 4 5 6 7 8 9 10"),
            (5_400.0, "minutes", "0 10 20 30 40 50 60 70 80 90"),
            (
                7_200.0,
                "hours",
                "0.0 0.2 0.4 0.6 0.8 1.0 1.2 1.4 1.6 1.8 2.0",
            ),
            (30.0 * 86_400.0, "days", "0 5 10 15 20 25 30"),
        ] {
            let axis = TimeAxis::of(duration_s);
            assert_eq!(axis.unit, unit);
            assert_eq!(words(&axis.figures), figures);
        }
    }
}
