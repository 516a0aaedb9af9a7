//! From the wiring to the drives: the network is reduced to a source behind an impedance
//! at the motor's leads, and motor and source together become tables over speed.
//!
//! Terminal voltage at speed ω: V = V₀/(1 + Z·Y(ω)), with the motor's admittance Y.

use super::circuit::{CircuitModel, DrivePair, JOINT_LEVELS, JointModel, joint_growth};
use crate::electric::{Complex, Frequency, Port};
use crate::faults::Defects;
use crate::motor::protection::Breaker;
use crate::motor::thermal::ThermalSpec;
use crate::motor::{
    self, Capacitor, Circuit, InductionMotor, MotorFaults, MotorTables, StartSwitch, Starting,
    Strap, Thevenin,
};
use crate::parts::{WindingKind, WiringSpec};
use crate::site::{SiteSpec, SupplySpec};
use crate::units::Kelvins;
use crate::wiring::{CircuitState, MotorAtTerminals, PumpCircuit, WiringDefects};

/// Winding temperature at which a motor's tables hold [°C]: warm from running.
const WORKING_CELSIUS: f64 = 60.0;
/// The same while it starts [°C].
const STARTING_CELSIUS: f64 = motor::REFERENCE_CELSIUS;
/// Winding temperature at which resistance is read with the power off [°C].
const COLD_CELSIUS: f64 = 20.0;
/// Voltage at the motor's leads below which a supply counts as dead [V].
const DEAD_V: f64 = 1.0;
/// By how much of what it opens early a tired protector closes late (training value).
const TIRED_RESET_SHARE: f64 = 0.37;
/// Ratio of the speeds at which a start switch closes again and opens (training value).
const START_SWITCH_DIFFERENTIAL: f64 = 0.5;

/// All that the drives follow from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Reduction {
    pub(crate) wiring: WiringSpec,
    pub(crate) supply: SupplySpec,
    pub(crate) conductor_k: Kelvins,
    pub(crate) defects: WiringDefects,
    pub(crate) motor: InductionMotor,
    pub(crate) motor_faults: MotorFaults,
    pub(crate) strap: Strap,
}

impl Reduction {
    /// Drives with the splice's worse joint burnt to a level.
    pub(crate) fn drives(&self, level: usize) -> DrivePair {
        let Some(port) = self.port(level) else {
            return DrivePair {
                starting: None,
                running: None,
            };
        };
        let phasor = |z: crate::electric::Complex| motor::Complex::new(z.re, z.im);
        let source = Thevenin {
            open_v: phasor(port.volt),
            ohm: phasor(port.ohm),
        };
        let drive = |switch| {
            let circuit = self.motor_circuit(switch);
            (circuit.main.is_some() || circuit.auxiliary.is_some())
                .then(|| MotorTables::new(&circuit, &source))
        };
        DrivePair {
            starting: drive(StartSwitch::Closed),
            running: drive(StartSwitch::Open),
        }
    }

    /// The wiring as the motor's leads see it, every switch closed; none when a conductor
    /// is open.
    pub(crate) fn port(&self, level: usize) -> Option<Port> {
        let defects = self.defects_at(level);
        let circuit = PumpCircuit::build(
            &self.wiring,
            self.supply,
            self.conductor_k,
            &defects,
            CircuitState::CLOSED,
            MotorAtTerminals::Absent,
        )
        .ok()?;
        let frequency = Frequency::Alternating {
            hertz: self.supply.frequency.si(),
        };
        let network = &circuit.network;
        let (a, b) = (
            network.node("motor.winding").ok()?,
            network.node("pump.lead2").ok()?,
        );
        let port = network.thevenin(a, b, frequency).ok()?;
        // Behind an open conductor there is only leakage, and on a dead supply nothing: no
        // current to turn a motor.
        let can_drive = port.ohm.magnitude() < 1.0e5 && port.volt.magnitude() > DEAD_V;
        can_drive.then_some(port)
    }

    /// The wiring's defects with the worse joint burnt to a level; at the last it is open.
    pub(crate) fn defects_at(&self, level: usize) -> WiringDefects {
        let mut defects = self.defects;
        if level > 0 {
            let growth = joint_growth(level as u8);
            match worst_joint(&defects) {
                (Joint::Splice(i), _) => {
                    let burnt = defects.splice_ohm[i].map(|ohm| ohm * growth);
                    defects.splice_ohm[i] = burnt.filter(|_| level + 1 < JOINT_LEVELS);
                }
                (Joint::BreakerLug, _) => {
                    let burnt = defects.breaker_lug_ohm.map(|ohm| ohm * growth);
                    defects.breaker_lug_ohm = burnt.filter(|_| level + 1 < JOINT_LEVELS);
                }
                (Joint::SwitchTerminal, _) => {
                    let burnt = defects.switch_terminal_ohm.map(|ohm| ohm * growth);
                    defects.switch_terminal_ohm = burnt.filter(|_| level + 1 < JOINT_LEVELS);
                }
                // Contacts keep touching, however badly.
                (Joint::Contact(i), _) => defects.contact_ohm[i] *= growth,
            }
        }
        defects
    }

    /// Whether the joint that heats most is a contact of the pressure switch.
    pub(crate) fn worst_joint_is_contact(&self) -> bool {
        matches!(worst_joint(&self.defects).0, Joint::Contact(_))
    }

    /// The motor as its leads show it at a speed.
    pub(crate) fn motor_at_terminals(
        &self,
        speed_rad_per_s: f64,
        switch: StartSwitch,
    ) -> MotorAtTerminals {
        let circuit = self.motor_circuit(switch);
        let admittance = circuit.port(speed_rad_per_s).admittance_s;
        let square = admittance.re * admittance.re + admittance.im * admittance.im;
        // Resistance for an ohmmeter: of the cold winding, as the switch leaves it.
        let mut condition = self.motor.condition(switch, COLD_CELSIUS);
        condition.strap = self.strap;
        condition.faults = self.motor_faults;
        let Some(direct_ohm) = self.motor.line_resistance_ohm(&condition) else {
            return MotorAtTerminals::Absent;
        };
        if square < 1e-18 {
            return MotorAtTerminals::Absent;
        }
        MotorAtTerminals::Impedance {
            mains_ohm: Complex::new(admittance.re / square, -admittance.im / square),
            direct_ohm,
        }
    }

    /// Current to earth through whatever leaks with every switch closed [A]: all of it, and
    /// what leaks ahead of float switch and protector.
    pub(crate) fn residual_a(&self) -> (f64, f64) {
        let frequency = Frequency::Alternating {
            hertz: self.supply.frequency.si(),
        };
        PumpCircuit::build(
            &self.wiring,
            self.supply,
            self.conductor_k,
            &self.defects,
            CircuitState::CLOSED,
            MotorAtTerminals::Absent,
        )
        .ok()
        .and_then(|circuit| {
            let solution = circuit.network.solve(frequency).ok()?;
            let mut ahead = Complex::ZERO;
            for leak in &circuit.cable_leaks {
                ahead += solution.current(*leak);
            }
            let mut all = ahead + solution.current(circuit.insulation);
            for leak in &circuit.drop_leaks {
                all += solution.current(*leak);
            }
            Some((all.magnitude(), ahead.magnitude()))
        })
        .unwrap_or((0.0, 0.0))
    }

    /// The motor's circuit with its start switch in or out.
    ///
    /// Above rated voltage the iron saturates and the magnetizing reactance falls: to
    /// about an eighth at twice the voltage (training value, no source).
    pub(crate) fn motor_circuit(&self, switch: StartSwitch) -> Circuit {
        // A motor starts cold; only one whose auxiliary winding stays in is warm with it.
        let is_starting = switch == StartSwitch::Closed
            && !matches!(self.motor.starting, Starting::PermanentCapacitor(_));
        let celsius = if is_starting {
            STARTING_CELSIUS
        } else {
            WORKING_CELSIUS
        };
        let mut condition = self.motor.condition(switch, celsius);
        condition.frequency_hz = self.supply.frequency.si();
        condition.strap = self.strap;
        condition.faults = self.motor_faults;
        let mut circuit = self.motor.circuit(&condition);
        let over = (self.supply.voltage.si() / self.motor.rated_voltage_v - 1.1).max(0.0);
        let saturation = 1.0 + 9.0 * over * over;
        circuit.magnetizing_ohm /= saturation;
        circuit.core_conductance_s *= saturation;
        circuit
    }
}

impl CircuitModel {
    /// The joint that heats most, with its resistance [Ω] when not burnt.
    pub(crate) fn worst_joint(&self) -> (Joint, f64) {
        worst_joint(&self.reduction.defects)
    }
}

/// A place where a conductor is joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Joint {
    Splice(usize),
    Contact(usize),
    BreakerLug,
    SwitchTerminal,
}

impl Joint {
    /// The terminal at which it can be touched.
    const fn point(self) -> &'static str {
        match self {
            Self::Splice(0) => "splice.line1",
            Self::Splice(_) => "splice.line2",
            Self::Contact(0) => "switch.load1",
            Self::Contact(_) => "switch.load2",
            Self::BreakerLug => "breaker.load1",
            Self::SwitchTerminal => "switch.line1",
        }
    }
}

/// The joint that heats most, with its resistance [Ω]; an open one carries nothing.
fn worst_joint(defects: &WiringDefects) -> (Joint, f64) {
    let mut worst = (Joint::Contact(0), defects.contact_ohm[0]);
    let rest = [
        (Joint::Contact(1), Some(defects.contact_ohm[1])),
        (Joint::Splice(0), defects.splice_ohm[0]),
        (Joint::Splice(1), defects.splice_ohm[1]),
        (Joint::BreakerLug, defects.breaker_lug_ohm),
        (Joint::SwitchTerminal, defects.switch_terminal_ohm),
    ];
    for (joint, ohm) in rest {
        if let Some(ohm) = ohm
            && ohm > worst.1
        {
            worst = (joint, ohm);
        }
    }
    worst
}

/// The fitted motor nearest to a nameplate, of the kind that the wiring names, scaled to
/// the nameplate's power and voltage: impedances with V²/P, friction with P.
fn motor_for(site: &SiteSpec, winding: WindingKind) -> InductionMotor {
    let (power, volts) = (site.motor.rated_power.si(), site.motor.rated_voltage.si());
    let hertz = site.supply.frequency.si();
    let is_kind = |motor: &InductionMotor| {
        matches!(
            (winding, &motor.starting),
            (WindingKind::SplitPhase, Starting::SplitPhase)
                | (WindingKind::CapacitorStart, Starting::CapacitorStart(_))
                | (
                    WindingKind::PermanentCapacitor,
                    Starting::PermanentCapacitor(_)
                )
                | (WindingKind::ThreeWire, Starting::CapacitorStartRun { .. })
                | (WindingKind::ThreeWire, Starting::CapacitorStart(_))
        )
    };
    // Distance in octaves of power, another frequency or kind counting far more.
    let distance = |motor: &InductionMotor| {
        let ratio = motor.rated_power_w / power;
        ratio.max(1.0 / ratio)
            + if (motor.rated_frequency_hz - hertz).abs() < 1.0 {
                0.0
            } else {
                100.0
            }
            + if is_kind(motor) { 0.0 } else { 1_000.0 }
    };
    let mut nearest = motor::sets::ALL[0].1;
    for (_, motor) in &motor::sets::ALL {
        if distance(motor) < distance(&nearest) {
            nearest = *motor;
        }
    }
    let load = power / nearest.rated_power_w;
    let ohms = (volts / nearest.rated_voltage_v) * (volts / nearest.rated_voltage_v) / load;
    let capacitor = |c: Capacitor| Capacitor {
        farad: c.farad / ohms,
        series_ohm: c.series_ohm * ohms,
    };
    InductionMotor {
        rated_power_w: power,
        rated_voltage_v: volts,
        rated_speed_rad_per_s: site.motor.full_load_speed.si(),
        main_ohm: nearest.main_ohm * ohms,
        main_leakage_ohm: nearest.main_leakage_ohm * ohms,
        magnetizing_ohm: nearest.magnetizing_ohm * ohms,
        rotor_ohm: nearest.rotor_ohm * ohms,
        rotor_leakage_ohm: nearest.rotor_leakage_ohm * ohms,
        auxiliary_ohm: nearest.auxiliary_ohm * ohms,
        auxiliary_leakage_ohm: nearest.auxiliary_leakage_ohm * ohms,
        core_conductance_s: nearest.core_conductance_s / ohms,
        drag_nm: nearest.drag_nm * load,
        starting: match nearest.starting {
            Starting::SplitPhase => Starting::SplitPhase,
            Starting::CapacitorStart(c) => Starting::CapacitorStart(capacitor(c)),
            Starting::PermanentCapacitor(c) => Starting::PermanentCapacitor(capacitor(c)),
            Starting::CapacitorStartRun { start, run } => Starting::CapacitorStartRun {
                start: capacitor(start),
                run: capacitor(run),
            },
        },
        ..nearest
    }
}

/// The circuit of a site, none where the site describes none.
pub(crate) fn circuit_model(site: &SiteSpec, defects: &Defects) -> Option<CircuitModel> {
    let wiring = site.wiring.clone()?;
    let motor = motor_for(site, wiring.winding);
    let reduction = Reduction {
        supply: site.supply,
        conductor_k: site.air_temperature,
        defects: defects.wiring,
        motor_faults: defects.motor,
        strap: Strap::Parallel,
        motor,
        wiring,
    };
    let synchronous = motor.synchronous_rad_per_s(site.supply.frequency.si());
    let opens = motor.switch_opens_at * synchronous;
    let mut thermal = ThermalSpec::training(&motor);
    // A tired disc opens early and closes late; its snap gets smaller.
    thermal.protector.trip_celsius -= defects.protector_early_k;
    thermal.protector.reset_celsius -= TIRED_RESET_SHARE * defects.protector_early_k;
    let (worst, worst_ohm) = worst_joint(&defects.wiring);
    let (residual_a, fed_residual_a) = reduction.residual_a();
    let breaker = Breaker::training(reduction.wiring.breaker_rating.si());
    Some(CircuitModel {
        pairs: Default::default(),
        has_start_switch: !defects.start_switch_welded
            && !matches!(motor.starting, motor::Starting::PermanentCapacitor(_)),
        start_switch_opens: opens,
        start_switch_closes: START_SWITCH_DIFFERENTIAL * opens,
        breaker_a: breaker.rated_a,
        breaker_rate: 1.0 / breaker.time_constant_s,
        breaker_trip_heat: breaker.hold_ratio * breaker.hold_ratio,
        breaker_magnetic_a: breaker.magnetic_ratio * breaker.rated_a,
        residual_a,
        fed_residual_a,
        worst_joint: worst.point(),
        chafed_open_share: defects.chafed_open_share,
        ground_fault_trip_a: reduction.wiring.ground_fault_trip.map(|a| a.si()),
        winding_heat_capacity: thermal.heat_capacity_j_per_k,
        winding_rate: 1.0 / (thermal.heat_capacity_j_per_k * thermal.resistance_k_per_w),
        protector: thermal.protector,
        float: reduction.wiring.float_switch,
        float_stuck: defects.float_stuck,
        low_pressure_pa: reduction.wiring.low_pressure_cut_off.map(|p| p.si()),
        joint: (worst_ohm > 0.02).then_some(JointModel {
            ohms: worst_ohm,
            // Training values: warm at 20 W, too hot to touch at 100 W, browned at 400 W;
            // its insulation chars at 250 °C.
            k_per_w: 0.6,
            time_constant_s: 180.0,
            burn_k: 523.0,
        }),
        contacts_welded: defects.contacts_welded,
        jammed: defects.jammed,
        reduction,
    })
}
