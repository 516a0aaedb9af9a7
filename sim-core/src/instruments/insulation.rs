//! Insulation tester: 500 V direct behind 100 kΩ, on a dead circuit with its electronics
//! taken off.
//!
//! ±10 % and 2 digits, 600 counts, OL above 2 GΩ (training values).  What passes through a
//! motor's winding or the bond of neutral and earth counts too: with the leads on, a sound
//! winding reads nothing on a circuit whose second conductor is earthed.
//! Left out: absorption in the first minute, damp, the charge that stays behind.

use super::bench::Bench;
use super::grade::Grade;
use super::hazard::refuse_live;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::MeterInput;

const GRADE: Grade = Grade {
    quantity: MeterQuantity::Resistance,
    ranges: &[600e3, 6e6, 60e6, 600e6, 2e9],
    counts: 600.0,
    accuracy: Accuracy {
        percent: 10.0,
        digits: 2.0,
    },
    floor: 0.0,
};

impl Bench {
    /// Insulation resistance between two points at 500 V.
    ///
    /// # Errors
    /// Unknown points; a live circuit; OL.
    pub fn insulation(&self, red: &str, black: &str) -> Result<Reading, NoReading> {
        let (a, b) = (self.point(red)?, self.point(black)?);
        refuse_live(self, a, b, "destroyed test source")?;
        let exact = if a == b {
            0.0
        } else {
            let (solution, meter) = self.solve_direct_with(MeterInput::Insulation, a, b)?;
            MeterInput::insulation_read(solution.between(a, b).re, -solution.current(meter).re)
        };
        self.grade(Meter::Insulation, &[red, black], |noise| {
            let figure = GRADE.figure(exact, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }
}
