//! Clamp: the magnitude of what flows through the jaws, all conductors in them together.
//!
//! Two conductors of one circuit carry opposite currents: together they read nothing.
//! ±(2 % + 5 digits), steps of 0.1 A; below 0.3 A the display stays at 0.0.
//! Inrush: the largest current in the first 100 ms of a start.  (Training values.)
//! Left out: stray fields of conductors outside the jaws; direct current.

use super::bench::Bench;
use super::conductors::element_at;
use super::grade::Grade;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::Complex;

/// How long after the start the inrush function watches [s].
pub const INRUSH_WINDOW_S: f64 = 0.1;

const GRADE: Grade = Grade {
    quantity: MeterQuantity::Current,
    ranges: &[60.0, 600.0],
    counts: 600.0,
    accuracy: Accuracy {
        percent: 2.0,
        digits: 5.0,
    },
    floor: 0.3,
};

impl Bench {
    /// Current in the conductors at these terminals, all in the jaws together.
    ///
    /// # Errors
    /// Unknown points; nothing in the jaws; over range.
    pub fn clamp(&self, conductors: &[&str]) -> Result<Reading, NoReading> {
        if conductors.is_empty() {
            return Err(NoReading::NotConnected { lead: "the clamp" });
        }
        let solution = self.solve()?;
        let mut sum = Complex::ZERO;
        for name in conductors {
            self.point(name)?;
            let element =
                element_at(name).ok_or_else(|| Self::no_such_point(name, self.conductors()))?;
            let element = self.element(element)?;
            sum += solution.current(element);
        }
        let exact = sum.magnitude();
        self.grade(Meter::Clamp, conductors, |noise| {
            let figure = GRADE.figure(exact, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }
}

/// Inrush current from a series of line currents (time [s], RMS current [A]) about a start
/// at `start_s`, on the conductor at `conductor`.
///
/// # Errors
/// When the series has nothing in the first 100 ms of the start; over range.
pub fn inrush(
    bench: &Bench,
    conductor: &str,
    series: &[(f64, f64)],
    start_s: f64,
) -> Result<Reading, NoReading> {
    bench.point(conductor)?;
    let window = start_s..=start_s + INRUSH_WINDOW_S;
    let largest = series
        .iter()
        .filter(|(time_s, ampere)| window.contains(time_s) && ampere.is_finite())
        .map(|&(_, ampere)| ampere.abs())
        .max_by(f64::total_cmp)
        .ok_or(NoReading::PoweredOff {
            needs: "inrush is read on a start",
        })?;
    bench.grade(Meter::Inrush, &[conductor], |noise| {
        let figure = GRADE.figure(largest, noise);
        figure.map(|figure| (figure, Vec::new()))
    })
}
