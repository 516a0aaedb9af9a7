//! Pressure gauges: the dial at the wall, a second gauge on a port, a tyre gauge on the
//! tank's air valve, a vacuum gauge at the suction.
//!
//! Classes: dial ±2 % of its scale in the middle half and ±3 % outside (ASME B40.100 grade
//! B, from memory); second gauge 0.5 % of its scale; tyre gauge ±1.5 psi with a pencil's
//! scale, ±0.5 psi digital; vacuum gauge ±2 % of its scale (training values).
//! The dial's own faults (offset, stiction, a needle that stays) are the plant's; here a
//! person reads the needle to a fifth of a division.
//! Left out: the scale error of a dial as made, parallax beyond that fifth.

use super::grade::Grade;
use super::hands::Hands;
use super::reading::{Accuracy, Figure, Meter, MeterQuantity};
use super::{NoReading, Reading};
use crate::air::gas::AIR;
use crate::air::nozzle::{GasSide, nozzle_mass_flow_kg_per_s};
use crate::units::convert::PSI;

/// Divisions that a dial has at the most.
const MOST_DIVISIONS: f64 = 60.0;
/// One bar [Pa].
const BAR: f64 = 1e5;

/// Port that a second gauge can be screwed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugePort {
    /// A port of the tee at the wall.
    Tee,
    /// The pressure switch's own nipple: what the switch feels.
    Switch,
    /// The tank's own connection, behind whatever narrows it.
    Tank,
    /// The tank's air valve.
    TankAirValve,
    /// Behind the house valve and the filter.
    House,
    /// The run, below a check valve at the wall, where there is one.
    Run,
}

impl GaugePort {
    const fn place(self) -> &'static str {
        match self {
            Self::Tee => "port at the tee",
            Self::Switch => "pressure switch port",
            Self::Tank => "port at the tank",
            Self::TankAirValve => "tank air valve",
            Self::House => "port behind the filter",
            Self::Run => "port of the run below the check valve",
        }
    }
}

/// Kind of tyre gauge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TyreGauge {
    /// Sliding scale of 1 psi divisions, ±1.5 psi.
    Pencil,
    /// Display in steps of 0.1 psi, ±0.5 psi.
    Digital,
}

/// A check with a tyre gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct TyreCheck {
    /// What it shows.
    pub reading: Reading,
    /// Air that hissed out [kg], for the caller to take from the tank.
    pub air_lost_kg: f64,
}

/// Second gauge: 0.5 % of its scale, read to 0.1 % of it.
const SECOND: Grade = Grade {
    quantity: MeterQuantity::Pressure,
    ranges: &[700e3, 1_600e3],
    counts: 1_000.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 5.0,
    },
    floor: 0.0,
};
const PENCIL: Grade = Grade {
    quantity: MeterQuantity::Pressure,
    ranges: &[100.0 * PSI],
    counts: 100.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 1.5,
    },
    floor: 5.0 * PSI,
};
const DIGITAL: Grade = Grade {
    ranges: &[150.0 * PSI],
    counts: 1_500.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 5.0,
    },
    floor: 0.5 * PSI,
    ..PENCIL
};
/// Vacuum side to −100 kPa, pressure side to 1 MPa; ±2 % of 100 kPa, then of 1 MPa.
const VACUUM: Grade = Grade {
    quantity: MeterQuantity::Pressure,
    ranges: &[100e3, 1_000e3],
    counts: 200.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 4.0,
    },
    floor: 0.0,
};

/// Opening of a valve core under a chuck, discharge included [m²], and how long a whiff
/// lasts [s] (training values).
const WHIFF_AREA_M2: f64 = 0.5e-6;
const WHIFF_S: f64 = 0.4;

/// Smallest division of a dial [Pa]: 1, 2 or 5 times a power of ten of the unit in which
/// its scale is a whole number, psi before bar, in no more than 60 of them.
fn division_pa(full_scale_pa: f64) -> f64 {
    let in_psi = full_scale_pa / PSI;
    let unit = if (in_psi - in_psi.round()).abs() < 1e-3 {
        PSI
    } else {
        BAR
    };
    let mut decade = 0.01 * unit;
    loop {
        for step in [1.0, 2.0, 5.0] {
            // A rounding more is no further division.
            if full_scale_pa <= step * decade * (MOST_DIVISIONS + 1e-6) {
                return step * decade;
            }
        }
        decade *= 10.0;
    }
}

impl Hands<'_> {
    /// The needle of the dial at the wall, to a fifth of a division.
    ///
    /// # Errors
    /// Never now; a dial can always be looked at.
    pub fn dial_gauge(&self) -> Result<Reading, NoReading> {
        let full_scale_pa = self.plant().site().wall.gauge.full_scale.si();
        let needle_pa = self.plant().gauge_reading_pa();
        let resolution = 0.2 * division_pa(full_scale_pa);
        let share = needle_pa / full_scale_pa;
        let class = if (0.25..=0.75).contains(&share) {
            0.02
        } else {
            0.03
        };
        self.read(Meter::DialGauge, "dial at the wall", false, |noise| {
            // The eye may be a step off beside the rounding.
            let seen = needle_pa + resolution * noise.next();
            Ok(Figure {
                quantity: MeterQuantity::Pressure,
                value: (seen / resolution).round().max(0.0) * resolution,
                range: full_scale_pa,
                resolution,
                accuracy: Accuracy {
                    percent: 0.0,
                    digits: class * full_scale_pa / resolution,
                },
            })
        })
    }

    /// A second gauge on a port.
    ///
    /// # Errors
    /// A port that the site does not have; over range.
    pub fn second_gauge(&self, port: GaugePort) -> Result<Reading, NoReading> {
        let pressure_pa = match port {
            GaugePort::Tee => self.channel("tee_pressure"),
            GaugePort::Switch => self.channel("switch_pressure"),
            GaugePort::Tank => self.plant().tank_port_pressure_pa(),
            GaugePort::TankAirValve => self.channel("tank_pressure"),
            GaugePort::House => self.channel("house_pressure"),
            GaugePort::Run => {
                let pressure_pa = self.plant().run_pressure_pa();
                pressure_pa.ok_or(NoReading::Hidden {
                    what: "no port there: without a check valve at the wall the run is one with the tee",
                })?
            }
        };
        self.read(Meter::SecondGauge, port.place(), false, |noise| {
            SECOND.figure(pressure_pa, noise)
        })
    }

    /// A tyre gauge on the tank's air valve; each check lets a whiff of air out.
    ///
    /// # Errors
    /// Over range.
    pub fn tyre_gauge(&self, kind: TyreGauge) -> Result<TyreCheck, NoReading> {
        let pressure_pa = self.plant().tank_charge_pressure_pa();
        let grade = match kind {
            TyreGauge::Pencil => PENCIL,
            TyreGauge::Digital => DIGITAL,
        };
        let reading = self.read(Meter::TyreGauge, "tank air valve", false, |noise| {
            grade.figure(pressure_pa, noise)
        })?;
        let altitude_m = self.plant().site().altitude.si();
        let outside_pa = crate::air::atmosphere::standard_pressure_pa(altitude_m);
        let inside = GasSide {
            pressure_pa: outside_pa + pressure_pa.max(0.0),
            temperature_k: self.channel("tank_air_temperature"),
        };
        let outside = GasSide {
            pressure_pa: outside_pa,
            temperature_k: self.plant().site().air_temperature.si(),
        };
        let rate = nozzle_mass_flow_kg_per_s(AIR, WHIFF_AREA_M2, inside, outside);
        Ok(TyreCheck {
            reading,
            air_lost_kg: rate * WHIFF_S,
        })
    }

    /// A vacuum gauge at the suction port of a pump above the water.
    ///
    /// # Errors
    /// A pump in the water, which has no such port; over range.
    pub fn vacuum_gauge(&self) -> Result<Reading, NoReading> {
        let pressure_pa = self
            .plant()
            .suction_pressure_pa()
            .ok_or(NoReading::Hidden {
                what: "the pump stands in the water: it has no suction pipe",
            })?;
        self.read(Meter::VacuumGauge, "pump suction port", false, |noise| {
            VACUUM.figure(pressure_pa, noise)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dial_has_the_divisions_that_its_scale_allows() {
        for (full_scale, division) in [
            (100.0 * PSI, 2.0 * PSI),
            (60.0 * PSI, PSI),
            (200.0 * PSI, 5.0 * PSI),
            (6.0 * BAR, 0.1 * BAR),
            (10.0 * BAR, 0.2 * BAR),
        ] {
            let ours = division_pa(full_scale);
            assert!((ours / division - 1.0).abs() < 1e-9, "{full_scale} {ours}");
        }
    }
}
