//! Builds the network of a pump's circuit.
//!
//! Supply: an ideal source per leg behind the resistance and reactance of transformer and
//! service; the neutral comes from the middle of the windings and is bonded to earth at
//! the panel, where the service's own earth electrode also goes in.  A second load on
//! each leg stands for the rest of the house: an open neutral shows in it.
//! Conductors are resistance and inductance by size and length; each cable has its
//! capacitance between neighbours and to earth at its far end, which is what a
//! high-impedance meter reads on an open wire.
//! Left out: the second-order change of conductor temperature with current; the
//! capacitance of the motor to its frame.

use crate::electric::conductor::{Metal, Strand, cable_capacitance_farad};
use crate::electric::{
    Complex, Conductor, Element, ElementId, Emf, Network, NetworkBuilder, NetworkProblem, NodeId,
};
use crate::parts::{CableSpec, ConductorSize, SupplySystem, WiringSpec};
use crate::site::SupplySpec;
use crate::units::Kelvins;

/// Resistance of a sound joint or closed contact [Ω] (training value).
const SOUND_JOINT_OHM: f64 = 0.002;
/// Resistance of a closed breaker pole [Ω] (training value).
const BREAKER_POLE_OHM: f64 = 0.004;
/// Bond between neutral and earth bar [Ω] (training value).
const BOND_OHM: f64 = 0.001;
/// Earth electrodes of transformer and house together [Ω] (training value).
const ELECTRODES_OHM: f64 = 50.0;
/// Frame of a pump standing in water or on the ground, to earth through it [Ω]
/// (training value).
const GROUND_PATH_OHM: f64 = 200.0;
/// Rest of the house on each leg [W] (training values).
const HOUSE_LOADS_W: [f64; 2] = [600.0, 240.0];
/// Insulation of a sound winding against the frame [Ω] (training value).
const SOUND_INSULATION_OHM: f64 = 200.0e6;
/// Leak of every node to earth: real insulation, and an answer for wires that float.
const LEAK_OHM: f64 = 1.0e12;

/// Voltage up to which a circuit on a split-phase supply takes one leg and the neutral.
const ONE_LEG_LIMIT_V: f64 = 150.0;

/// What is wrong with the wiring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WiringDefects {
    /// Resistance of the joints at the splice box, per conductor; none when open [Ω].
    pub splice_ohm: [Option<f64>; 2],
    /// Resistance of the pressure switch's closed contacts, per pole [Ω].
    pub contact_ohm: [f64; 2],
    /// Line conductor of the service that is open, 1 or 2.
    pub open_leg: Option<u8>,
    /// The service's neutral is open.
    pub open_neutral: bool,
    /// The earth conductor to the pump is open at the splice.
    pub open_earth: bool,
    /// Insulation of the winding against the frame [Ω].
    pub insulation_ohm: f64,
    /// No voltage comes to the panel on any leg.
    pub dead_supply: bool,
    /// Resistance of the joint at the breaker's first load lug beyond that of a sound one;
    /// none when open [Ω].
    pub breaker_lug_ohm: Option<f64>,
    /// The same for the joint at the pressure switch's first line terminal [Ω].
    pub switch_terminal_ohm: Option<f64>,
    /// Resistance of the longest cable over that of the specified one.
    pub long_cable_ratio: f64,
    /// Something keeps the pressure switch's contacts apart.
    pub blocked_contacts: bool,
    /// Leakage of the pressure switch's first load terminal to its case [Ω].
    pub switch_leak_ohm: Option<f64>,
    /// Leakage of the first conductor to earth, on the house side of the splice [Ω].
    pub cable_leak_ohm: Option<f64>,
    /// Leakage of the first conductor's joint to earth, both its halves together [Ω].
    pub splice_leak_ohm: Option<f64>,
    /// Leakage of the drop cable's first conductor to the earth conductor, above where it
    /// is chafed through [Ω].
    pub chafed_leak_ohm: Option<f64>,
}

impl WiringDefects {
    /// Nothing wrong.
    #[must_use]
    pub const fn none() -> Self {
        Self {
            splice_ohm: [Some(SOUND_JOINT_OHM); 2],
            contact_ohm: [SOUND_JOINT_OHM; 2],
            open_leg: None,
            open_neutral: false,
            open_earth: false,
            insulation_ohm: SOUND_INSULATION_OHM,
            dead_supply: false,
            breaker_lug_ohm: Some(0.0),
            switch_terminal_ohm: Some(0.0),
            long_cable_ratio: 1.0,
            blocked_contacts: false,
            switch_leak_ohm: None,
            cable_leak_ohm: None,
            splice_leak_ohm: None,
            chafed_leak_ohm: None,
        }
    }
}

/// How the switches stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CircuitState {
    /// Breaker closed.
    pub breaker: bool,
    /// Pressure-switch contacts closed.
    pub contacts: bool,
    /// Float switch closed, where there is one.
    pub float: bool,
    /// Thermal protector in the motor closed.
    pub protector: bool,
    /// First conductor of the drop cable whole.
    pub drop_cable: bool,
}

impl CircuitState {
    /// Everything closed.
    pub const CLOSED: Self = Self {
        breaker: true,
        contacts: true,
        float: true,
        protector: true,
        drop_cable: true,
    };
}

/// The motor as its leads show it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MotorAtTerminals {
    /// Nothing connected between the leads.
    Absent,
    /// An impedance at mains frequency, and its resistance at direct current (none when no
    /// direct current can flow).
    Impedance {
        /// [Ω]
        mains_ohm: Complex,
        /// [Ω]
        direct_ohm: f64,
    },
}

/// The network of a pump's circuit.
#[derive(Debug, Clone)]
pub struct PumpCircuit {
    /// The network; nodes are named as in [`super::POINTS`].
    pub network: Network,
    /// Current in the first conductor of the circuit, positive towards the motor.
    pub line: ElementId,
    /// The motor between its leads.
    pub motor: ElementId,
    /// Winding insulation to the frame.
    pub insulation: ElementId,
    /// What leaks to earth ahead of the float switch, where something does.
    pub cable_leaks: Vec<ElementId>,
    /// What leaks to earth behind it beside the winding, where something does.
    pub drop_leaks: Vec<ElementId>,
    /// Earth conductor between splice and pump.
    pub earth: ElementId,
    /// Source of the first leg, for the power taken.
    pub sources: [Option<ElementId>; 2],
}

impl PumpCircuit {
    /// Builds the network.
    ///
    /// # Errors
    /// When the circuit has no answer, by node and element.
    pub fn build(
        spec: &WiringSpec,
        supply: SupplySpec,
        conductor_temperature: Kelvins,
        defects: &WiringDefects,
        state: CircuitState,
        motor: MotorAtTerminals,
    ) -> Result<Self, Vec<NetworkProblem>> {
        let mut b = NetworkBuilder::new("panel.earth");
        b.leak_to_reference(LEAK_OHM);
        let earth = b.reference();
        let resistance = |ohm: f64| Element::Resistance { ohm };
        let closed = |is_closed: bool, ohm: f64| {
            if is_closed {
                Element::Resistance { ohm }
            } else {
                Element::Open
            }
        };

        // Service.
        let volts = supply.voltage.si();
        let uses_both_legs = spec.system == SupplySystem::SplitPhase && volts > ONE_LEG_LIMIT_V;
        let leg_volts = if uses_both_legs { 0.5 * volts } else { volts };
        let source_ohm = Complex::new(spec.source_resistance.si(), spec.source_reactance.si());
        let middle = b.node("service.middle");
        let neutral = b.node("panel.neutral");
        let neutral_wire = if defects.open_neutral {
            Element::Open
        } else {
            resistance(spec.source_resistance.si())
        };
        b.place("service neutral", middle, neutral, neutral_wire);
        b.place("bond", neutral, earth, resistance(BOND_OHM));
        b.place("electrodes", middle, earth, resistance(ELECTRODES_OHM));
        let legs: &[(&str, &str, f64)] = match spec.system {
            SupplySystem::SplitPhase => &[
                ("service.leg1", "panel.line1", 1.0),
                ("service.leg2", "panel.line2", -1.0),
            ],
            SupplySystem::SinglePhase => &[("service.leg1", "panel.line1", 1.0)],
        };
        let mut sources = [None; 2];
        let mut lugs: Vec<NodeId> = Vec::new();
        for (i, (terminal, lug, sign)) in legs.iter().enumerate() {
            let terminal = b.node(terminal);
            let lug = b.node(lug);
            sources[i] = Some(b.place(
                ["leg 1", "leg 2"][i],
                terminal,
                middle,
                Element::VoltageSource {
                    volt: Emf::Alternating(Complex::real(sign * leg_volts)),
                    series_ohm: source_ohm,
                },
            ));
            let is_open = defects.dead_supply || defects.open_leg == Some(i as u8 + 1);
            let name = ["service line 1", "service line 2"][i];
            b.place(name, terminal, lug, closed(!is_open, SOUND_JOINT_OHM));
            let name = ["house load 1", "house load 2"][i];
            let ohm = leg_volts * leg_volts / HOUSE_LOADS_W[i];
            b.place(name, lug, neutral, resistance(ohm));
            lugs.push(lug);
        }

        // Two conductors from the breaker to the motor, and the earth conductor.
        let second_feed = if uses_both_legs { lugs[1] } else { neutral };
        let feeds = [lugs[0], second_feed];
        let mut ends = [earth; 2];
        let mut line = None;
        let mut earth_end = earth;
        let mut leaky = [earth; 4];
        // The longest of the three cables may be another than was specified.
        let lengths = [
            spec.panel_to_switch.length.si(),
            spec.switch_to_splice.length.si(),
            spec.splice_to_motor.length.si(),
        ];
        let longest_m = lengths[0].max(lengths[1]).max(lengths[2]);
        let of_cable = |cable: &CableSpec| {
            let ratio = if cable.length.si() >= longest_m {
                defects.long_cable_ratio
            } else {
                1.0
            };
            match conductor(cable).element(cable.length, conductor_temperature) {
                Element::SeriesRl { ohm, henry } => Element::SeriesRl {
                    ohm: ohm * ratio,
                    henry,
                },
                other => other,
            }
        };
        for (i, feed) in feeds.into_iter().enumerate() {
            let n = i + 1;
            let node = |b: &mut NetworkBuilder, name: &str| b.node(&format!("{name}{n}"));
            let load = node(&mut b, "breaker.load");
            // A neutral is not broken by a breaker.
            let is_neutral = i == 1 && !uses_both_legs;
            b.place(
                &format!("breaker {n}"),
                feed,
                load,
                match (i, defects.breaker_lug_ohm) {
                    (0, None) => Element::Open,
                    (0, Some(lug)) => closed(state.breaker, BREAKER_POLE_OHM + lug),
                    _ => closed(state.breaker || is_neutral, BREAKER_POLE_OHM),
                },
            );
            let switch_line = node(&mut b, "switch.line");
            let switch_load = node(&mut b, "switch.load");
            let splice_line = node(&mut b, "splice.line");
            let splice_pump = node(&mut b, "splice.pump");
            let lead = node(&mut b, "pump.lead");
            let mut feeder = of_cable(&spec.panel_to_switch);
            if i == 0 {
                // The joint at the switch's terminal lies in line with the feeder.
                feeder = in_line(feeder, defects.switch_terminal_ohm);
            }
            let current = b.place(&format!("feeder {n}"), load, switch_line, feeder);
            line.get_or_insert(current);
            b.place(
                &format!("contact {n}"),
                switch_line,
                switch_load,
                closed(
                    state.contacts && !defects.blocked_contacts,
                    defects.contact_ohm[i],
                ),
            );
            let pump_cable = of_cable(&spec.switch_to_splice);
            b.place(
                &format!("pump cable {n}"),
                switch_load,
                splice_line,
                pump_cable,
            );
            let joint = defects.splice_ohm[i].map_or(Element::Open, resistance);
            b.place(&format!("joint {n}"), splice_line, splice_pump, joint);
            let drop_from = if i == 0 && spec.float_switch.is_some() {
                let float = b.node("float.load1");
                b.place(
                    "float switch",
                    splice_pump,
                    float,
                    closed(state.float, SOUND_JOINT_OHM),
                );
                float
            } else {
                splice_pump
            };
            if i == 0 {
                leaky = [switch_load, splice_line, splice_pump, drop_from];
            }
            let whole = of_cable(&spec.splice_to_motor);
            let is_whole = i == 1 || state.drop_cable;
            let element = if is_whole { whole } else { Element::Open };
            b.place(&format!("drop cable {n}"), drop_from, lead, element);
            ends[i] = lead;
        }

        // Earth conductor, of the same size, with the joints of the trade.
        let mut earth_conductor = None;
        for (i, (name, cable)) in [
            ("switch.frame", &spec.panel_to_switch),
            ("splice.earth", &spec.switch_to_splice),
            ("pump.frame", &spec.splice_to_motor),
        ]
        .into_iter()
        .enumerate()
        {
            let to = b.node(name);
            let is_open = i == 2 && defects.open_earth;
            let element = if is_open {
                Element::Open
            } else {
                of_cable(cable)
            };
            let id = b.place(
                &format!("earth conductor {}", i + 1),
                earth_end,
                to,
                element,
            );
            earth_conductor = Some(id);
            earth_end = to;
        }
        let frame = earth_end;
        b.place("ground path", frame, earth, resistance(GROUND_PATH_OHM));

        // Cable capacitance, at the far end of each cable.
        for (name, [first, second], cable) in [
            (
                "feeder",
                ["switch.line1", "switch.line2"],
                &spec.panel_to_switch,
            ),
            (
                "pump cable",
                ["splice.line1", "splice.line2"],
                &spec.switch_to_splice,
            ),
            (
                "drop cable",
                ["pump.lead1", "pump.lead2"],
                &spec.splice_to_motor,
            ),
        ] {
            let farad = cable_capacitance_farad(cable.length);
            let (first, second) = (b.node(first), b.node(second));
            let c = Element::Capacitance { farad };
            b.place(&format!("{name} capacitance 1-2"), first, second, c);
            b.place(&format!("{name} capacitance 1-e"), first, earth, c);
            b.place(&format!("{name} capacitance 2-e"), second, earth, c);
        }

        // Motor.
        let winding = b.node("motor.winding");
        b.place(
            "protector",
            ends[0],
            winding,
            closed(state.protector, SOUND_JOINT_OHM),
        );
        let element = match motor {
            MotorAtTerminals::Absent => Element::Open,
            MotorAtTerminals::Impedance {
                mains_ohm,
                direct_ohm,
            } => Element::Impedance {
                mains_ohm,
                direct_ohm,
            },
        };
        let motor = b.place("motor", winding, ends[1], element);
        let insulation = b.place(
            "winding insulation",
            winding,
            frame,
            resistance(defects.insulation_ohm),
        );
        // Leakage to the earth conductor beside it, where something leaks.
        let [switch_load, splice_line, splice_pump, drop_from] = leaky;
        let halves = defects.splice_leak_ohm.map(|ohm| 2.0 * ohm);
        let mut leak = |name: &str, from, to: &str, ohm: Option<f64>| {
            let to = b.node(to);
            ohm.map(|ohm| b.place(name, from, to, Element::Resistance { ohm }))
        };
        let cable_leaks = [
            leak(
                "switch leak",
                switch_load,
                "switch.frame",
                defects.switch_leak_ohm,
            ),
            leak(
                "cable leak",
                splice_line,
                "splice.earth",
                defects.cable_leak_ohm,
            ),
            leak("splice leak 1", splice_line, "splice.earth", halves),
            leak("splice leak 2", splice_pump, "splice.earth", halves),
        ];
        let drop_leaks = [leak(
            "drop cable leak",
            drop_from,
            "splice.earth",
            defects.chafed_leak_ohm,
        )];
        let line = line.unwrap_or(motor);
        let earth = earth_conductor.unwrap_or(motor);
        Ok(Self {
            network: b.build()?,
            line,
            motor,
            insulation,
            cable_leaks: cable_leaks.into_iter().flatten().collect(),
            drop_leaks: drop_leaks.into_iter().flatten().collect(),
            earth,
            sources,
        })
    }
}

/// A conductor with a joint in line, open when the joint is.
fn in_line(conductor: Element, joint_ohm: Option<f64>) -> Element {
    match (conductor, joint_ohm) {
        (_, None) => Element::Open,
        (Element::SeriesRl { ohm, henry }, Some(joint)) => Element::SeriesRl {
            ohm: ohm + joint,
            henry,
        },
        (other, Some(_)) => other,
    }
}

/// The conductor of a cable.
///
/// Sizes are checked when a site is read; an unknown one would be a slip in the program
/// and is taken as 12 AWG.
fn conductor(cable: &CableSpec) -> Conductor {
    let found = match cable.conductor {
        ConductorSize::AwgCopper(gauge) => {
            let strand = if gauge >= 10 {
                Strand::Solid
            } else {
                Strand::Stranded
            };
            Conductor::awg(i32::from(gauge), strand, Metal::Copper)
        }
        ConductorSize::SquareMillimetersCopper(area) => Conductor::metric(area, Metal::Copper),
    };
    found.expect("sizes are checked when a site is read, and a test tries every one")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::electric::Frequency;
    use crate::units::{Hertz, Meters, Volts};

    fn sites() -> Vec<crate::site::SiteSpec> {
        [
            (
                "orchard-cottage.ron",
                include_str!("../../../scenarios/sites/orchard-cottage.ron"),
            ),
            (
                "hill-farm.ron",
                include_str!("../../../scenarios/sites/hill-farm.ron"),
            ),
            (
                "garden-shed.ron",
                include_str!("../../../scenarios/sites/garden-shed.ron"),
            ),
        ]
        .into_iter()
        .map(|(name, text)| crate::site::parse(name, text).unwrap())
        .collect()
    }

    fn volts_at_leads(
        spec: &WiringSpec,
        supply: SupplySpec,
        defects: &WiringDefects,
        motor: MotorAtTerminals,
    ) -> f64 {
        let circuit = PumpCircuit::build(
            spec,
            supply,
            Kelvins(293.15),
            defects,
            CircuitState::CLOSED,
            motor,
        )
        .unwrap();
        let hertz = supply.frequency.si();
        let solution = circuit
            .network
            .solve(Frequency::Alternating { hertz })
            .unwrap();
        let (a, b) = (
            circuit.network.node("pump.lead1").unwrap(),
            circuit.network.node("pump.lead2").unwrap(),
        );
        solution.between(a, b).magnitude()
    }

    const RUNNING: MotorAtTerminals = MotorAtTerminals::Impedance {
        mains_ohm: Complex::new(24.0, 18.0),
        direct_ohm: 2.0,
    };

    #[test]
    fn every_shipped_circuit_has_an_answer_and_drops_a_few_volts_under_load() {
        for site in sites() {
            let spec = site.wiring.as_ref().unwrap();
            let none = WiringDefects::none();
            let open = volts_at_leads(spec, site.supply, &none, MotorAtTerminals::Absent);
            let loaded = volts_at_leads(spec, site.supply, &none, RUNNING);
            let nominal = site.supply.voltage.si();
            assert!((open / nominal - 1.0).abs() < 0.01, "{} {open}", site.name);
            assert!(
                loaded < open - 0.2 && loaded > 0.9 * nominal,
                "{} {loaded}",
                site.name
            );
        }
    }

    #[test]
    fn a_bad_joint_shows_only_under_load() {
        for site in sites() {
            let spec = site.wiring.as_ref().unwrap();
            let mut defects = WiringDefects::none();
            defects.splice_ohm[0] = Some(3.0);
            let open = volts_at_leads(spec, site.supply, &defects, MotorAtTerminals::Absent);
            let loaded = volts_at_leads(spec, site.supply, &defects, RUNNING);
            assert!(
                (open / site.supply.voltage.si() - 1.0).abs() < 0.01,
                "{open}"
            );
            assert!(loaded < 0.93 * open, "{} {loaded}", site.name);
        }
    }

    #[test]
    fn every_conductor_size_of_a_site_file_is_known() {
        for gauge in [14, 12, 10, 8, 6, 4] {
            conductor(&CableSpec {
                length: Meters(1.0),
                conductor: ConductorSize::AwgCopper(gauge),
            });
        }
        for area in [1.5, 2.5, 4.0, 6.0, 10.0, 16.0] {
            conductor(&CableSpec {
                length: Meters(1.0),
                conductor: ConductorSize::SquareMillimetersCopper(area),
            });
        }
    }

    #[test]
    fn a_240_volt_circuit_stands_120_volts_to_earth_on_either_side() {
        let mut spec = sites()[0].wiring.clone().unwrap();
        spec.system = SupplySystem::SplitPhase;
        let supply = SupplySpec {
            voltage: Volts(240.0),
            frequency: Hertz(60.0),
        };
        let circuit = PumpCircuit::build(
            &spec,
            supply,
            Kelvins(293.15),
            &WiringDefects::none(),
            CircuitState::CLOSED,
            MotorAtTerminals::Absent,
        )
        .unwrap();
        let solution = circuit.network.solve(Frequency::SIXTY_HERTZ).unwrap();
        for name in ["pump.lead1", "pump.lead2"] {
            let node = circuit.network.node(name).unwrap();
            assert!(
                (solution.voltage(node).magnitude() - 120.0).abs() < 1.0,
                "{name}"
            );
        }
    }
}
