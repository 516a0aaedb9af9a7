//! Conductors: from gauge or area, metal, length and temperature to ohms.
//!
//! - American wire gauge: d = 0.005 in · 92^((36 − n)/39) (ASTM B258; formula read in a
//!   copy).  Circular mils: (d/mil)².
//! - Resistance at 75 °C of the American sizes: NEC chapter 9 table 8, uncoated copper
//!   and aluminum, solid to 8 AWG and stranded; read in two copies that agree.  To other
//!   temperatures by its note, R = R₇₅·(1 + α·(T − 75 °C)), α 0.00323/K (copper) and
//!   0.00330/K (aluminum).
//! - Resistance at 20 °C of the metric sizes: IEC 60228 classes 1 and 2, plain copper and
//!   aluminum, greatest value permitted; read in three copies that agree.
//!   R = R₂₀·(1 + α·(T − 20 °C)), α 0.00393/K and 0.00403/K (from memory).
//! - Reactance: NEC chapter 9 table 9, PVC conduit, 60 Hz, as inductance; metric sizes
//!   0.5 µH/m (training value).  Below a tenth of the resistance for every size here up to
//!   8 AWG: it counts at a locked rotor, hardly elsewhere.
//! - Capacitance between neighbors in a cable: see [`CABLE_FARAD_PER_M`].
//! - Voltage drop by the K method: V = 2·K·I·L/A with K in Ω·cmil/ft.
//! - Temperature of a winding from its resistance: T₂ = (234.5 + T₁)·R₂/R₁ − 234.5 in °C
//!   (annealed copper; IEEE 112 practice, from memory).
//!
//! Leaves out: skin effect (nothing at these sizes), joints (elements of their own), the
//! wire's own heating (its temperature is an input).

use thiserror::Error;

use crate::math;
use crate::units::convert::{FOOT, INCH, ZERO_CELSIUS};
use crate::units::{Kelvins, Meters};

use super::network::Element;

/// One thousand feet [m]: the length of table 8.
const KILOFOOT_M: f64 = 1_000.0 * FOOT;
/// One circular mil [m²]: a circle of a thousandth of an inch.
pub const CIRCULAR_MIL_M2: f64 = core::f64::consts::PI / 4.0 * (0.001 * INCH) * (0.001 * INCH);
/// Temperature coefficient of the NEC's note for copper, at 75 °C [1/K].
pub const NEC_COPPER_PER_K: f64 = 0.003_23;
/// Temperature coefficient of the NEC's note for aluminum, at 75 °C [1/K].
pub const NEC_ALUMINUM_PER_K: f64 = 0.003_30;
/// Temperature coefficient of copper at 20 °C [1/K].
pub const IEC_COPPER_PER_K: f64 = 0.003_93;
/// Temperature coefficient of aluminum at 20 °C [1/K].
pub const IEC_ALUMINUM_PER_K: f64 = 0.004_03;
/// Capacitance between neighboring conductors of a cable, and from either to its earth
/// conductor [F/m].
///
/// A training value: 3 nF for 30 m, which gives the ghost voltage of half the neighbor's
/// that technicians report.  A magazine reader's measurement of two-wire building cable
/// gave 69 pF/m (21 pF/ft); wet soil or water around a cable raises it.
pub const CABLE_FARAD_PER_M: f64 = 100.0e-12;
/// Inductance of one conductor in a cable where no table is at hand [H/m].
pub const CABLE_HENRY_PER_M: f64 = 0.5e-6;

/// Reference temperature of the NEC's table [K].
const NEC_REFERENCE_K: f64 = ZERO_CELSIUS + 75.0;
/// Reference temperature of the IEC's table [K].
const IEC_REFERENCE_K: f64 = ZERO_CELSIUS + 20.0;

/// Metal of a conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metal {
    /// Uncoated annealed copper.
    Copper,
    /// Aluminum.
    Aluminum,
}

/// One wire or several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strand {
    /// One wire (IEC class 1).
    Solid,
    /// Seven or more wires (IEC class 2).
    Stranded,
}

/// A conductor that the tables do not have.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ConductorProblem {
    /// No such gauge, or not in this metal and stranding.
    #[error("no {strand:?} {metal:?} conductor of {gauge} AWG in the table")]
    NoSuchGauge {
        /// Gauge number; 0 is 1/0.
        gauge: i32,
        /// Metal asked for.
        metal: Metal,
        /// Stranding asked for.
        strand: Strand,
    },
    /// No such area, or not in this metal.
    #[error("no {metal:?} conductor of {area_mm2} mm² in the table")]
    NoSuchArea {
        /// Area asked for [mm²].
        area_mm2: f64,
        /// Metal asked for.
        metal: Metal,
    },
}

/// One row of NEC chapter 9 tables 8 and 9; 0 where the table has no entry.
struct NecRow {
    gauge: i32,
    circular_mils: f64,
    /// Copper, aluminum [Ω/kft at 75 °C].
    solid: [f64; 2],
    stranded: [f64; 2],
    /// Reactance in PVC conduit at 60 Hz [Ω/km].
    reactance: f64,
}

const fn nec(
    gauge: i32,
    circular_mils: f64,
    solid: [f64; 2],
    stranded: [f64; 2],
    reactance: f64,
) -> NecRow {
    NecRow {
        gauge,
        circular_mils,
        solid,
        stranded,
        reactance,
    }
}

/// The copies of table 9 begin at 14 AWG; the two sizes below take its value.
#[expect(
    clippy::approx_constant,
    reason = "3.14 is the table's, and no circle's"
)]
const NEC_TABLE: [NecRow; 10] = [
    nec(18, 1_620.0, [7.77, 12.8], [7.95, 13.1], 0.190),
    nec(16, 2_580.0, [4.89, 8.05], [4.99, 8.21], 0.190),
    nec(14, 4_110.0, [3.07, 5.06], [3.14, 5.17], 0.190),
    nec(12, 6_530.0, [1.93, 3.18], [1.98, 3.25], 0.177),
    nec(10, 10_380.0, [1.21, 2.00], [1.24, 2.04], 0.164),
    nec(8, 16_510.0, [0.764, 1.26], [0.778, 1.28], 0.171),
    nec(6, 26_240.0, [0.0, 0.0], [0.491, 0.808], 0.167),
    nec(4, 41_740.0, [0.0, 0.0], [0.308, 0.508], 0.157),
    nec(2, 66_360.0, [0.0, 0.0], [0.194, 0.319], 0.148),
    nec(0, 105_600.0, [0.0, 0.0], [0.122, 0.201], 0.144),
];

/// Area [mm²]; greatest resistance at 20 °C of copper and aluminum [Ω/km].
const IEC_TABLE: [(f64, [f64; 2]); 11] = [
    (0.5, [36.0, 0.0]),
    (0.75, [24.5, 0.0]),
    (1.0, [18.1, 0.0]),
    (1.5, [12.1, 0.0]),
    (2.5, [7.41, 0.0]),
    (4.0, [4.61, 0.0]),
    (6.0, [3.08, 0.0]),
    (10.0, [1.83, 3.08]),
    (16.0, [1.15, 1.91]),
    (25.0, [0.727, 1.20]),
    (35.0, [0.524, 0.868]),
];

/// A kind of conductor: everything that does not depend on its length.
///
/// ```
/// use sim_core::electric::conductor::{Conductor, Metal, Strand};
/// use sim_core::units::{Kelvins, Meters};
///
/// let wire = Conductor::awg(12, Strand::Solid, Metal::Copper)?;
/// let hot = wire.resistance_ohm(Meters(250.0 * 0.3048), Kelvins(348.15));
/// assert!((hot - 0.4825).abs() < 1e-9);
/// # Ok::<(), sim_core::electric::ConductorProblem>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conductor {
    /// Cross-section [m²] -- constant.
    pub area_m2: f64,
    /// Resistance at the reference temperature [Ω/m] -- constant.
    pub reference_ohm_per_m: f64,
    /// Reference temperature [K] -- constant.
    pub reference_k: f64,
    /// Temperature coefficient there [1/K] -- constant.
    pub coefficient_per_k: f64,
    /// Inductance of one conductor in its cable [H/m] -- constant.
    pub henry_per_m: f64,
}

impl Conductor {
    /// A conductor of American gauge; 1/0 is gauge 0.
    ///
    /// # Errors
    /// When NEC table 8 does not list it: even gauges from 18 to 2, and 1/0; solid to 8.
    pub fn awg(gauge: i32, strand: Strand, metal: Metal) -> Result<Self, ConductorProblem> {
        let row = NEC_TABLE.iter().find(|row| row.gauge == gauge);
        let ohm_per_kft = row.map(|row| {
            let column = match strand {
                Strand::Solid => row.solid,
                Strand::Stranded => row.stranded,
            };
            column[metal.column()]
        });
        match (row, ohm_per_kft) {
            (Some(row), Some(ohm)) if ohm > 0.0 => Ok(Self {
                area_m2: row.circular_mils * CIRCULAR_MIL_M2,
                reference_ohm_per_m: ohm / KILOFOOT_M,
                reference_k: NEC_REFERENCE_K,
                coefficient_per_k: match metal {
                    Metal::Copper => NEC_COPPER_PER_K,
                    Metal::Aluminum => NEC_ALUMINUM_PER_K,
                },
                henry_per_m: row.reactance / 1_000.0 / (core::f64::consts::TAU * 60.0),
            }),
            _ => Err(ConductorProblem::NoSuchGauge {
                gauge,
                metal,
                strand,
            }),
        }
    }

    /// A conductor of metric area; classes 1 and 2 have the same resistance.
    ///
    /// # Errors
    /// When IEC 60228 does not list it: 0.5 to 35 mm², aluminum from 10 mm².
    pub fn metric(area_mm2: f64, metal: Metal) -> Result<Self, ConductorProblem> {
        let row = IEC_TABLE.iter().find(|row| row.0 == area_mm2);
        match row.map(|row| row.1[metal.column()]) {
            Some(ohm_per_km) if ohm_per_km > 0.0 => Ok(Self {
                area_m2: area_mm2 * 1e-6,
                reference_ohm_per_m: ohm_per_km / 1_000.0,
                reference_k: IEC_REFERENCE_K,
                coefficient_per_k: match metal {
                    Metal::Copper => IEC_COPPER_PER_K,
                    Metal::Aluminum => IEC_ALUMINUM_PER_K,
                },
                henry_per_m: CABLE_HENRY_PER_M,
            }),
            _ => Err(ConductorProblem::NoSuchArea { area_mm2, metal }),
        }
    }

    /// Resistance of a length at a temperature [Ω].
    #[must_use]
    pub fn resistance_ohm(&self, length: Meters, temperature: Kelvins) -> f64 {
        let rise_k = temperature.si() - self.reference_k;
        self.reference_ohm_per_m * length.si() * (1.0 + self.coefficient_per_k * rise_k)
    }

    /// Inductance of a length [H].
    #[must_use]
    pub fn inductance_henry(&self, length: Meters) -> f64 {
        self.henry_per_m * length.si()
    }

    /// The length as an element of a circuit.
    #[must_use]
    pub fn element(&self, length: Meters, temperature: Kelvins) -> Element {
        Element::SeriesRl {
            ohm: self.resistance_ohm(length, temperature),
            henry: self.inductance_henry(length),
        }
    }

    /// Area in circular mils.
    #[must_use]
    pub fn circular_mils(&self) -> f64 {
        self.area_m2 / CIRCULAR_MIL_M2
    }
}

impl Metal {
    const fn column(self) -> usize {
        match self {
            Self::Copper => 0,
            Self::Aluminum => 1,
        }
    }
}

/// Diameter of a bare wire of American gauge [m]; 1/0 is gauge 0.
#[must_use]
pub fn awg_diameter_m(gauge: i32) -> f64 {
    0.005 * INCH * math::pow(92.0, (36.0 - f64::from(gauge)) / 39.0)
}

/// Capacitance between a conductor of a cable and its neighbor [F].
#[must_use]
pub fn cable_capacitance_farad(length: Meters) -> f64 {
    CABLE_FARAD_PER_M * length.si()
}

/// K of a conductor for the voltage-drop formula [Ω·cmil/ft], from its resistance.
#[must_use]
pub fn k_ohm_cmil_per_ft(ohm_per_kft: f64, circular_mils: f64) -> f64 {
    ohm_per_kft * circular_mils / 1_000.0
}

/// Voltage drop of a two-wire run by the K method [V]; the length is one way.
#[must_use]
pub fn k_method_drop_v(
    k_ohm_cmil_per_ft: f64,
    current_a: f64,
    one_way_ft: f64,
    circular_mils: f64,
) -> f64 {
    2.0 * k_ohm_cmil_per_ft * current_a * one_way_ft / circular_mils
}

/// Temperature of a copper winding from the ratio of its resistance to that at `cold`.
#[must_use]
pub fn winding_temperature(cold: Kelvins, resistance_ratio: f64) -> Kelvins {
    /// Where the resistance of annealed copper would vanish if it fell on straight [K].
    const ZERO_RESISTANCE_K: f64 = ZERO_CELSIUS - 234.5;
    Kelvins(ZERO_RESISTANCE_K + (cold.si() - ZERO_RESISTANCE_K) * resistance_ratio)
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn circular_mils_of_the_table_follow_from_the_gauge_formula() {
        // The table rounds: 8 AWG prints 16 510 for 16 509.7.
        for row in NEC_TABLE {
            let mils = awg_diameter_m(row.gauge) / (0.001 * INCH);
            assert_relative_eq!(mils * mils, row.circular_mils, max_relative = 5e-3);
        }
    }

    #[test]
    fn listed_resistances_follow_from_area_within_the_lay_of_the_strands() {
        // Copper at 75 °C, 10.37 Ω·cmil/ft at 20 °C (annealed standard, 100 % IACS,
        // from memory).
        let k = 10.371 * (1.0 + IEC_COPPER_PER_K * 55.0);
        for row in NEC_TABLE {
            for (ohm, longest) in [(row.solid[0], 1.01), (row.stranded[0], 1.04)] {
                let ratio = ohm * row.circular_mils / 1_000.0 / k;
                assert!(ohm == 0.0 || (0.99..longest).contains(&ratio), "{ratio}");
            }
        }
    }

    #[test]
    fn metric_and_american_wires_of_like_area_are_alike() {
        let (metric, awg) = (
            Conductor::metric(6.0, Metal::Copper).unwrap(),
            Conductor::awg(10, Strand::Solid, Metal::Copper).unwrap(),
        );
        let per_area = |c: Conductor| c.resistance_ohm(Meters(1.0), Kelvins(323.15)) * c.area_m2;
        assert_relative_eq!(per_area(metric), per_area(awg), max_relative = 0.1);
    }

    #[test]
    fn what_the_tables_do_not_list_is_refused() {
        assert!(Conductor::awg(6, Strand::Solid, Metal::Copper).is_err());
        assert!(Conductor::awg(13, Strand::Solid, Metal::Copper).is_err());
        assert!(Conductor::metric(2.5, Metal::Aluminum).is_err());
        assert!(Conductor::metric(f64::NAN, Metal::Copper).is_err());
    }

    #[test]
    fn reactance_of_small_wire_hides_behind_its_resistance() {
        for gauge in [14, 12, 10] {
            let wire = Conductor::awg(gauge, Strand::Stranded, Metal::Copper).unwrap();
            let x = wire.inductance_henry(Meters(100.0)) * core::f64::consts::TAU * 60.0;
            let r = wire.resistance_ohm(Meters(100.0), Kelvins(293.15));
            assert!(x < 0.1 * r, "{gauge}");
        }
    }
}
