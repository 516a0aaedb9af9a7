//! Ohmmeter: a current source, on a dead circuit.
//!
//! It reads everything that lies between its probes, parallel paths and its own leads
//! (0.2 Ω) included.  ±(0.5 % + 2 digits), 6,000 counts, OL above 60 MΩ; the test current
//! falls with the range (0.5 mA on the lowest), which in a linear circuit changes nothing
//! but the noise.  (Training values.)
//! Left out: thermal voltages, junctions, leads zeroed by a button.

use super::bench::Bench;
use super::grade::Grade;
use super::hazard::refuse_live;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::MeterInput;

/// Both leads together [Ω].
const LEADS_OHM: f64 = 0.2;

const GRADE: Grade = Grade {
    quantity: MeterQuantity::Resistance,
    ranges: &[600.0, 6e3, 60e3, 600e3, 6e6, 60e6],
    counts: 6_000.0,
    accuracy: Accuracy {
        percent: 0.5,
        digits: 2.0,
    },
    floor: 0.0,
};

impl Bench {
    /// Ohms between two points, leads included.
    ///
    /// # Errors
    /// Unknown points; a live circuit; OL.
    pub fn ohms(&self, red: &str, black: &str) -> Result<Reading, NoReading> {
        let (a, b) = (self.point(red)?, self.point(black)?);
        refuse_live(self, a, b, "blown fuse or burnt ohms input")?;
        let exact = if a == b {
            LEADS_OHM
        } else {
            let (solution, _) = self.solve_direct_with(MeterInput::Ohms, a, b)?;
            MeterInput::ohms_read(solution.between(a, b).re) + LEADS_OHM
        };
        self.grade(Meter::Ohms, &[red, black], |noise| {
            let figure = GRADE.figure(exact, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }
}
