//! From the exact value between the probes to the digits on the display: range, noise,
//! resolution, in that order.
//!
//! A meter in calibration errs by half of its accuracy class at the most here, most often
//! by much less; the last digit is rounded on top.  Together that stays inside the class.

use super::noise::Noise;
use super::reading::{Accuracy, Figure, MeterQuantity};

/// Share of the accuracy class that a calibrated meter uses up (training value).
const SHARE_OF_CLASS: f64 = 0.5;

/// What an instrument makes of a quantity.
#[derive(Debug, Clone, Copy)]
pub(super) struct Grade {
    pub(super) quantity: MeterQuantity,
    /// Full scales, rising [SI]: the meter takes the first that the value fits.
    pub(super) ranges: &'static [f64],
    /// Steps of the last digit in a full scale.
    pub(super) counts: f64,
    pub(super) accuracy: Accuracy,
    /// Values below this show as 0 [SI].
    pub(super) floor: f64,
}

impl Grade {
    /// The figure for an exact value; the last range when it is above all of them.
    pub(super) fn figure(&self, exact: f64, noise: &mut Noise) -> Result<Figure, Figure> {
        let shown = |value: f64, range: f64| Figure {
            quantity: self.quantity,
            value,
            range,
            resolution: range / self.counts,
            accuracy: self.accuracy,
        };
        let draw = noise.next();
        for &range in self.ranges {
            let resolution = range / self.counts;
            let limit =
                self.accuracy.percent / 100.0 * exact.abs() + self.accuracy.digits * resolution;
            let mut value = exact + draw * SHARE_OF_CLASS * limit;
            if exact >= 0.0 {
                value = value.max(0.0);
            }
            if exact.abs() < self.floor {
                value = 0.0;
            }
            // Divided last, so that the number is the nearest to its own decimal form.
            let value = (value / resolution).round() * range / self.counts;
            if value.abs() <= range {
                return Ok(shown(value, range));
            }
        }
        let last = self.ranges[self.ranges.len() - 1];
        Err(shown(last, last))
    }
}
