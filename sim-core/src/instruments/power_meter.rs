//! Power meter: watts, volt-amperes and power factor in one conductor, with volts taken
//! between it and the other conductor at the same place.
//!
//! S = V·conj(I); pf = P/|S|.  ±(2 % + 2 digits), 6,000 counts (training values).  The
//! voltage leads are a 10 MΩ meter in the circuit.  Without volt-amperes there is no power
//! factor, so none is shown.
//! Left out: harmonics; the sign of reactive power.

use super::bench::Bench;
use super::conductors::{element_at, other_terminal};
use super::grade::Grade;
use super::reading::{Accuracy, Meter, MeterQuantity, NoReading, Reading};
use crate::electric::MeterInput;

/// Apparent power below which no power factor is shown [VA].
const LEAST_VA: f64 = 5.0;

const WATTS: Grade = Grade {
    quantity: MeterQuantity::Power,
    ranges: &[600.0, 6_000.0, 60_000.0],
    counts: 6_000.0,
    accuracy: Accuracy {
        percent: 2.0,
        digits: 2.0,
    },
    floor: 0.0,
};
const VOLT_AMPERES: Grade = Grade {
    quantity: MeterQuantity::ApparentPower,
    ..WATTS
};
const POWER_FACTOR: Grade = Grade {
    quantity: MeterQuantity::PowerFactor,
    ranges: &[1.0],
    counts: 100.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 2.0,
    },
    floor: 0.0,
};

impl Bench {
    /// Watts, volt-amperes and power factor in the conductor at a terminal.
    ///
    /// # Errors
    /// Unknown points and points without another conductor beside them; over range.
    pub fn power(&self, conductor: &str) -> Result<Reading, NoReading> {
        let red = self.point(conductor)?;
        let (Some(element), Some(other)) = (element_at(conductor), other_terminal(conductor))
        else {
            return Err(Self::no_such_point(conductor, self.power_points()));
        };
        let black = self.point(other)?;
        let element = self.element(element)?;
        let solution = self.solution_with(MeterInput::Volts, red, black)?;
        let volt = solution.between(red, black);
        let power = volt * solution.current(element).conjugate();
        let (watts, volt_amperes) = (power.re, power.magnitude());
        let factor = (volt_amperes >= LEAST_VA).then(|| watts / volt_amperes);
        self.grade(Meter::Power, &[conductor, other], |noise| {
            let mut also = vec![VOLT_AMPERES.figure(volt_amperes, noise)?];
            if let Some(factor) = factor {
                let figure = POWER_FACTOR.figure(factor, noise);
                // A power factor of 1 may err upwards: the display stops at 1.
                also.push(figure.unwrap_or_else(|full| full));
            }
            Ok((WATTS.figure(watts, noise)?, also))
        })
    }
}
