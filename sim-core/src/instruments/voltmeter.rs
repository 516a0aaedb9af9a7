//! Voltmeter: 10 MΩ ∥ 100 pF, or about 3 kΩ in low-impedance mode; RMS of the alternating
//! voltage, auto-ranging.
//!
//! ±(1 % + 3 digits), 6,000 counts (training values, typical of hand-held meters).  The
//! lowest range is 600 mV: "300" may be a third of a volt.
//! Left out: crest factor, frequency response, direct voltage.

use super::bench::Bench;
use super::grade::Grade;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::MeterInput;

const GRADE: Grade = Grade {
    quantity: MeterQuantity::Voltage,
    ranges: &[0.6, 6.0, 60.0, 600.0],
    counts: 6_000.0,
    accuracy: Accuracy {
        percent: 1.0,
        digits: 3.0,
    },
    floor: 0.0,
};

impl Bench {
    /// Volts between two points at 10 MΩ: ghosts show.
    ///
    /// # Errors
    /// Unknown points; over range.
    pub fn volts(&self, red: &str, black: &str) -> Result<Reading, NoReading> {
        self.voltage(Meter::Volts, MeterInput::Volts, red, black)
    }

    /// Volts between two points at about 3 kΩ: ghosts vanish.
    ///
    /// # Errors
    /// Unknown points; over range.
    pub fn low_impedance_volts(&self, red: &str, black: &str) -> Result<Reading, NoReading> {
        let input = MeterInput::LowImpedanceVolts;
        self.voltage(Meter::LowImpedanceVolts, input, red, black)
    }

    fn voltage(
        &self,
        meter: Meter,
        input: MeterInput,
        red: &str,
        black: &str,
    ) -> Result<Reading, NoReading> {
        let (a, b) = (self.point(red)?, self.point(black)?);
        let exact = if a == b {
            0.0
        } else {
            self.solve_with(input, a, b)?.0
        };
        self.grade(meter, &[red, black], |noise| {
            let figure = GRADE.figure(exact, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }
}
