//! Bucket and stopwatch.
//!
//! A thumb is up to 0.2 s off at each press, a brim up to 2 % (training values).  The water
//! that ran and the ticks that passed are the caller's: filling a bucket takes plant time.

use super::hands::Hands;
use super::reading::{Accuracy, Figure, Meter, MeterQuantity};
use super::{NoReading, Reading};
use crate::plant::Tick;

/// Error of one press of the thumb [s].
const THUMB_S: f64 = 0.2;
/// Error of a brim, as a share of the bucket.
const BRIM_SHARE: f64 = 0.02;
/// Step of a stopwatch [s].
const TIME_STEP_S: f64 = 0.01;
/// Step to which a flow is worked out: 0.1 L/min [m³/s].
const FLOW_STEP_M3_PER_S: f64 = 1e-4 / 60.0;

impl Hands<'_> {
    /// Time between two ticks by stopwatch.
    ///
    /// # Errors
    /// When no time has passed.
    pub fn stopwatch(&self, from: Tick, to: Tick) -> Result<Reading, NoReading> {
        let exact_s = elapsed_s(from, to)?;
        self.read(Meter::Stopwatch, "stopwatch", false, |noise| {
            let read_s = (exact_s + THUMB_S * (noise.next() + noise.next())).max(0.0);
            Ok(Figure {
                quantity: MeterQuantity::Time,
                value: (read_s / TIME_STEP_S).round() * TIME_STEP_S,
                range: 36_000.0,
                resolution: TIME_STEP_S,
                accuracy: Accuracy {
                    percent: 0.0,
                    digits: 2.0 * THUMB_S / TIME_STEP_S + 1.0,
                },
            })
        })
    }

    /// Flow at an outlet by bucket and stopwatch: the volume [m³] that ran into the bucket
    /// between two ticks, over the time.
    ///
    /// # Errors
    /// When no time has passed or nothing has run.
    pub fn bucket(
        &self,
        outlet: &str,
        volume_m3: f64,
        from: Tick,
        to: Tick,
    ) -> Result<Reading, NoReading> {
        let exact_s = elapsed_s(from, to)?;
        if !(volume_m3 > 0.0 && volume_m3.is_finite()) {
            return Err(NoReading::Hidden {
                what: "nothing has run into the bucket",
            });
        }
        let exact = volume_m3 / exact_s;
        let share = BRIM_SHARE + 2.0 * THUMB_S / exact_s;
        self.read(Meter::Bucket, outlet, false, |noise| {
            // Half of the class at the most, as with every instrument here.
            let brim = 1.0 + 0.5 * BRIM_SHARE * noise.next();
            let thumbs_s = 0.5 * THUMB_S * (noise.next() + noise.next());
            // The shortest time that a thumb can take lies above its error.
            let flow = exact * brim * exact_s / (exact_s + thumbs_s).max(0.5 * exact_s);
            Ok(Figure {
                quantity: MeterQuantity::Flow,
                value: (flow / FLOW_STEP_M3_PER_S).round() * FLOW_STEP_M3_PER_S,
                range: 0.01,
                resolution: FLOW_STEP_M3_PER_S,
                accuracy: Accuracy {
                    percent: 100.0 * share,
                    digits: 1.0,
                },
            })
        })
    }
}

/// Seconds between two ticks.
fn elapsed_s(from: Tick, to: Tick) -> Result<f64, NoReading> {
    if to <= from {
        return Err(NoReading::Hidden {
            what: "no time has passed on the stopwatch",
        });
    }
    Ok(to.seconds() - from.seconds())
}
