//! Capacitance between two points of a dead circuit.
//!
//! C = Im(Y)/ω with Y the admittance between the probes at mains frequency, sources
//! silent.  A path beside the capacitor that carries more than the capacitor itself hides
//! it; the meter then asks for a lead to be taken off.  ±3 % and 5 digits, 6,000 counts
//! (training values; a hand-held meter works at some other, lower frequency).

use super::bench::Bench;
use super::grade::Grade;
use super::hazard::refuse_live;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::{Complex, Frequency};

const GRADE: Grade = Grade {
    quantity: MeterQuantity::Capacitance,
    ranges: &[60e-9, 600e-9, 6e-6, 60e-6, 600e-6, 6e-3],
    counts: 6_000.0,
    accuracy: Accuracy {
        percent: 3.0,
        digits: 5.0,
    },
    floor: 0.0,
};

impl Bench {
    /// Capacitance between two points.
    ///
    /// # Errors
    /// Unknown points; a live circuit; a path beside the capacitor; over range.
    pub fn capacitance(&self, red: &str, black: &str) -> Result<Reading, NoReading> {
        const HIDDEN: NoReading = NoReading::Hidden {
            what: "a path beside the capacitor hides it: take one of its leads off",
        };
        let (a, b) = (self.point(red)?, self.point(black)?);
        refuse_live(self, a, b, "blown input by a charge or the supply")?;
        if a == b {
            return Err(HIDDEN);
        }
        let hertz = self.hertz();
        let network = &self.circuit().network;
        let port = network
            .thevenin(a, b, Frequency::Alternating { hertz })
            .map_err(super::bench::no_answer)?;
        let admittance = Complex::ONE / port.ohm;
        if admittance.im <= 0.0 || admittance.re > admittance.im {
            return Err(HIDDEN);
        }
        let exact = admittance.im / (core::f64::consts::TAU * hertz);
        self.grade(Meter::Capacitance, &[red, black], |noise| {
            let figure = GRADE.figure(exact, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }
}
