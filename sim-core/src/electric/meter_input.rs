//! What a meter is to the circuit that it reads.
//!
//! | Function | Between the probes |
//! |---|---|
//! | volts | 10 MΩ ∥ 100 pF |
//! | volts, low impedance | 3 kΩ |
//! | ohms | current source 0.5 mA direct ∥ 10 MΩ |
//! | insulation | 500 V direct behind 100 kΩ |
//!
//! 10 MΩ and about 3 kΩ are what hand-held meters of the trade have; 100 pF, 0.5 mA and
//! 100 kΩ are training values.  What the meter then makes of its solve (range,
//! resolution, noise, overload, a reading refused on a live circuit) is the instrument's
//! business, not this file's.
//!
//! Leaves out: the fall of a low-impedance input's resistance with its own heat; the
//! limit of an ohmmeter's voltage, [`OHMS_LIMIT_V`], above which it shows "open".

use super::complex::Complex;
use super::network::{Element, ElementId, Emf, Network, NetworkProblem, NodeId};

/// Input resistance on volts [Ω].
pub const VOLTS_OHM: f64 = 10.0e6;
/// Input capacitance on volts, leads included [F].
pub const VOLTS_FARAD: f64 = 100.0e-12;
/// Input resistance in low-impedance mode [Ω].
pub const LOW_IMPEDANCE_OHM: f64 = 3.0e3;
/// Test current on ohms [A].
pub const OHMS_AMPERE: f64 = 0.5e-3;
/// Voltage above which an ohmmeter shows "open" [V].
pub const OHMS_LIMIT_V: f64 = 3.0;
/// Test voltage for insulation [V].
pub const INSULATION_VOLT: f64 = 500.0;
/// Resistance behind it, which limits a short circuit to 5 mA [Ω].
pub const INSULATION_SERIES_OHM: f64 = 100.0e3;

/// Function that the meter is set to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeterInput {
    /// Volts, high impedance: ghost voltages show.
    Volts,
    /// Volts, low impedance: ghosts vanish.
    LowImpedanceVolts,
    /// Ohms.
    Ohms,
    /// Insulation resistance at 500 V.
    Insulation,
}

/// A network with a meter in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Probed {
    /// The network, meter included.
    pub network: Network,
    /// The meter's resistance or source, from red to black.
    pub meter: ElementId,
}

impl MeterInput {
    /// A copy of `network` with the probes on `red` and `black`.
    ///
    /// ```
    /// use sim_core::electric::{Element, Frequency, MeterInput, NetworkBuilder};
    ///
    /// let mut circuit = NetworkBuilder::new("earth");
    /// let (earth, lead) = (circuit.reference(), circuit.node("lead"));
    /// circuit.place("winding", lead, earth, Element::Resistance { ohm: 4.2 });
    /// let probed = MeterInput::Ohms.on(&circuit.build()?, lead, earth)?;
    /// let solution = probed.network.solve(Frequency::Direct)?;
    /// let read_ohm = MeterInput::ohms_read(solution.between(lead, earth).re);
    /// assert!((read_ohm - 4.2).abs() < 1e-9);
    /// # Ok::<(), Vec<sim_core::electric::NetworkProblem>>(())
    /// ```
    ///
    /// # Errors
    /// When both probes are on one node.
    pub fn on(
        self,
        network: &Network,
        red: NodeId,
        black: NodeId,
    ) -> Result<Probed, Vec<NetworkProblem>> {
        let mut builder = network.to_builder();
        let mut place = |name: &str, element| builder.place(name, red, black, element);
        let meter = match self {
            Self::Volts => {
                place(
                    "meter capacitance",
                    Element::Capacitance { farad: VOLTS_FARAD },
                );
                place("meter", Element::Resistance { ohm: VOLTS_OHM })
            }
            Self::LowImpedanceVolts => place(
                "meter",
                Element::Resistance {
                    ohm: LOW_IMPEDANCE_OHM,
                },
            ),
            Self::Ohms => {
                place("meter resistance", Element::Resistance { ohm: VOLTS_OHM });
                // Out of the red probe, through the circuit, back into the black one.
                let ampere = Emf::Direct(-OHMS_AMPERE);
                place("meter", Element::CurrentSource { ampere })
            }
            Self::Insulation => place(
                "meter",
                Element::VoltageSource {
                    volt: Emf::Direct(INSULATION_VOLT),
                    series_ohm: Complex::real(INSULATION_SERIES_OHM),
                },
            ),
        };
        Ok(Probed {
            network: builder.build()?,
            meter,
        })
    }

    /// Resistance between the probes on ohms, from the voltage that the test current
    /// makes [Ω]; the meter's own 10 MΩ are taken out.  Infinite on an open circuit.
    #[must_use]
    pub fn ohms_read(direct_v: f64) -> f64 {
        let into_circuit_a = OHMS_AMPERE - direct_v / VOLTS_OHM;
        if into_circuit_a > 0.0 {
            direct_v / into_circuit_a
        } else {
            f64::INFINITY
        }
    }

    /// Resistance between the probes on insulation, from the voltage over them and the
    /// current out of the red one [Ω].  Infinite when no current flows.
    #[must_use]
    pub fn insulation_read(direct_v: f64, out_of_red_a: f64) -> f64 {
        if out_of_red_a > 0.0 {
            direct_v / out_of_red_a
        } else {
            f64::INFINITY
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::electric::{Frequency, NetworkBuilder};

    /// A live wire beside an open one of 30 m, 3 nF to it and to earth.
    fn ghost() -> (Network, NodeId) {
        let mut circuit = NetworkBuilder::new("earth");
        let (earth, live, open) = (
            circuit.reference(),
            circuit.node("live"),
            circuit.node("open"),
        );
        let farad = 30.0 * crate::electric::conductor::CABLE_FARAD_PER_M;
        circuit.place(
            "mains",
            live,
            earth,
            Element::ideal_alternating(Complex::real(120.0)),
        );
        circuit.place("to live", live, open, Element::Capacitance { farad });
        circuit.place("to earth", open, earth, Element::Capacitance { farad });
        (circuit.build().unwrap(), open)
    }

    fn read(input: MeterInput) -> f64 {
        let (network, open) = ghost();
        let probed = input.on(&network, open, network.reference()).unwrap();
        let solution = probed.network.solve(Frequency::SIXTY_HERTZ).unwrap();
        solution.voltage(open).magnitude()
    }

    #[test]
    fn a_ghost_shows_on_volts_and_vanishes_at_low_impedance() {
        assert!((55.0..60.0).contains(&read(MeterInput::Volts)));
        assert!(read(MeterInput::LowImpedanceVolts) < 1.0);
    }

    #[test]
    fn insulation_reads_what_lies_between_the_probes() {
        let mut circuit = NetworkBuilder::new("earth");
        let (earth, lead) = (circuit.reference(), circuit.node("lead"));
        circuit.place("insulation", lead, earth, Element::Resistance { ohm: 75e6 });
        let probed = MeterInput::Insulation
            .on(&circuit.build().unwrap(), lead, earth)
            .unwrap();
        let solution = probed.network.solve(Frequency::Direct).unwrap();
        let read = MeterInput::insulation_read(
            solution.voltage(lead).re,
            -solution.current(probed.meter).re,
        );
        assert!((read / 75e6 - 1.0).abs() < 1e-9, "{read}");
    }

    #[test]
    fn open_leads_read_infinite_and_closed_leads_nothing() {
        assert_eq!(
            MeterInput::ohms_read(OHMS_AMPERE * VOLTS_OHM),
            f64::INFINITY
        );
        assert_eq!(MeterInput::ohms_read(0.0), 0.0);
    }

    #[test]
    fn both_probes_on_one_node_are_refused() {
        let (network, open) = ghost();
        assert!(MeterInput::Volts.on(&network, open, open).is_err());
    }
}
