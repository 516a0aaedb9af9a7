//! Capacitance between two points of a dead circuit, and of the motor's capacitors where a
//! hand can reach them.
//!
//! C = Im(Y)/ω with Y the admittance between the probes at mains frequency, sources
//! silent.  A path beside the capacitor that carries more than the capacitor itself hides
//! it; the meter then asks for a lead to be taken off.  ±3 % and 5 digits, 6,000 counts
//! (training values; a hand-held meter works at some other, lower frequency).

use super::bench::Bench;
use super::grade::Grade;
use super::hazard::refuse_live;
use super::reading::{Accuracy, Breaker, Hazard, Meter, MeterQuantity, NoReading, Reading};
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
    /// The start capacitor, discharged and with a lead off: on a pump above ground or in a
    /// control box.
    ///
    /// # Errors
    /// No such capacitor within reach; breaker on; over range (shorted).
    pub fn start_capacitor(&self) -> Result<Reading, NoReading> {
        self.motor_capacitor("start capacitor", self.capacitors().start)
    }

    /// The run capacitor, likewise.
    ///
    /// # Errors
    /// As [`Bench::start_capacitor`].
    pub fn run_capacitor(&self) -> Result<Reading, NoReading> {
        self.motor_capacitor("run capacitor", self.capacitors().run)
    }

    fn motor_capacitor(
        &self,
        name: &'static str,
        farad: Option<f64>,
    ) -> Result<Reading, NoReading> {
        let Some(farad) = farad else {
            return Err(NoReading::Hidden {
                what: "no such capacitor within reach: it is in the motor, or there is none",
            });
        };
        if self.conditions().breaker == Breaker::On {
            return Err(NoReading::UnsafeToMeasure {
                hazard: Hazard {
                    volt: self.supply_volts()?,
                    what_happens: "the capacitor would be opened with its circuit switched on",
                    to_person: Some("shock from the supply or from the charge that stays behind"),
                    to_meter: Some("blown input by a charge or the supply"),
                },
            });
        }
        self.grade(Meter::Capacitance, &[name], |noise| {
            let figure = GRADE.figure(farad, noise);
            figure.map(|figure| (figure, Vec::new()))
        })
    }

    /// Voltage of the first line lug to earth [V].
    fn supply_volts(&self) -> Result<f64, NoReading> {
        let lug = self.point("panel.line1")?;
        Ok(self.solve()?.voltage(lug).magnitude())
    }

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
