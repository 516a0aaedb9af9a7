//! Where the gauge's needle stood over a visit, for the debrief's plot.
//!
//! Looked at only: nothing here changes what the plant does.

use super::visit::Visit;
use crate::plant::Tick;
use crate::units::convert::PSI;

/// Time between two looks while time passes [ticks]: 2 s.
const LOOK_TICKS: u64 = 2 * Tick::PER_SECOND;
/// Change that is worth a point [Pa].
const CHANGE_PA: f64 = 0.5 * PSI;
/// Longest time without a point [s].
const LONGEST_S: f64 = 300.0;

/// Points of the needle, thinned out where it stands still.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct NeedleTrace {
    /// Seconds since arrival and pressure [Pa, gauge].
    points: Vec<(f64, f64)>,
    /// The last look, which may not be worth a point yet.
    last: Option<(f64, f64)>,
}

impl NeedleTrace {
    fn look(&mut self, time_s: f64, pressure_pa: f64) {
        let is_worth = self.points.last().is_none_or(|(then_s, then_pa)| {
            (pressure_pa - then_pa).abs() >= CHANGE_PA || time_s - then_s >= LONGEST_S
        });
        if is_worth {
            // The end of a stretch at rest, so that the line does not slope through it.
            if let Some(last) = self.last
                && self.points.last().is_some_and(|point| point.0 < last.0)
            {
                self.points.push(last);
            }
            self.points.push((time_s, pressure_pa));
        }
        self.last = Some((time_s, pressure_pa));
    }
}

impl Visit {
    /// The tick up to which time passes before the needle is looked at again.
    pub(super) fn next_look(&self) -> Tick {
        let now = self.plant.now().0;
        Tick(now - now % LOOK_TICKS + LOOK_TICKS)
    }

    pub(super) fn look_at_needle(&mut self) {
        let time_s = self.now().seconds();
        self.needle.look(time_s, self.plant.gauge_reading_pa());
    }

    /// Needle of the wall's gauge from arrival on: seconds and pressure [Pa, gauge].  For
    /// marks; faces show it only once the exercise is over.
    #[must_use]
    pub fn gauge_trace(&self) -> Vec<(f64, f64)> {
        let NeedleTrace { points, last } = &self.needle;
        let mut points = points.clone();
        if points.last() != last.as_ref() {
            points.extend(*last);
        }
        points
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_needle_at_rest_needs_few_points_and_a_step_keeps_its_corner() {
        let mut trace = NeedleTrace::default();
        for second in 0..600_u32 {
            let psi = if second < 400 { 40.0 } else { 50.0 };
            trace.look(f64::from(second), psi * PSI);
        }
        let times: Vec<f64> = trace.points.iter().map(|point| point.0).collect();
        assert_eq!(times, [0.0, 299.0, 300.0, 399.0, 400.0]);
        assert_eq!(trace.last, Some((599.0, 50.0 * PSI)));
    }
}
