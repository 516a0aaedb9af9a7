//! What the default motors are fitted to.
//!
//! Full-load currents: NEC Table 430.248.  Locked-rotor kVA/hp: middle of the band of the
//! code letter usual for the size in single-phase motors, as a table of the EASA Electrical
//! Engineering Handbook gives it (½ hp L, 1–¾ hp K, 2–1½ hp J; read in a copy), bands of NEC
//! Table 430.7(B).  Breakdown 200–250 %, starting torque by kind, efficiency and 50 Hz
//! currents: training values from memory of catalogues in general.

use crate::units::convert::{HORSEPOWER, RPM};

/// Kind of motor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Resistive start winding.
    SplitPhase,
    /// Capacitor to start only.
    CapacitorStart,
    /// One capacitor, always in.
    PermanentCapacitor,
    /// Start and run capacitors.
    CapacitorStartRun,
}

/// A motor as it is known from outside, wired for its lower voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// Name in the generated file.
    pub name: &'static str,
    /// What it is, in words.
    pub words: &'static str,
    /// Kind.
    pub kind: Kind,
    /// Rated shaft power [W].
    pub power_w: f64,
    /// Rated voltage [V].
    pub voltage_v: f64,
    /// Rated frequency [Hz].
    pub frequency_hz: f64,
    /// Pairs of poles.
    pub pole_pairs: f64,
    /// Speed at rated power [rad/s].
    pub speed_rad_per_s: f64,
    /// Full-load current [A].
    pub full_load_a: f64,
    /// Efficiency at full load.
    pub efficiency: f64,
    /// Breakdown over rated torque.
    pub breakdown_ratio: f64,
    /// Line current at standstill [A].
    pub locked_rotor_a: f64,
    /// Starting over rated torque.
    pub starting_ratio: f64,
    /// Main winding, where known [Ω].
    pub main_ohm: Option<f64>,
    /// Turns of the auxiliary over the main winding, where the kind asks for another.
    pub turns_ratio: Option<f64>,
}

const fn us(
    name: &'static str,
    words: &'static str,
    kind: Kind,
    horsepower: f64,
    voltage_v: f64,
    full_load_a: f64,
) -> Target {
    Target {
        name,
        words,
        kind,
        power_w: horsepower * HORSEPOWER,
        voltage_v,
        frequency_hz: 60.0,
        pole_pairs: 1.0,
        speed_rad_per_s: 3_450.0 * RPM,
        full_load_a,
        efficiency: 0.6,
        breakdown_ratio: 2.25,
        locked_rotor_a: 0.0,
        starting_ratio: 2.5,
        main_ohm: None,
        turns_ratio: None,
    }
}

const fn letter(mut t: Target, kva_per_hp: f64) -> Target {
    t.locked_rotor_a = kva_per_hp * 1_000.0 * (t.power_w / HORSEPOWER) / t.voltage_v;
    t
}

const fn shape(mut t: Target, efficiency: f64, breakdown: f64, starting: f64) -> Target {
    t.efficiency = efficiency;
    t.breakdown_ratio = breakdown;
    t.starting_ratio = starting;
    t
}

const fn fifty_hertz(mut t: Target, locked_rotor_a: f64) -> Target {
    t.frequency_hz = 50.0;
    t.speed_rad_per_s = 2_850.0 * RPM;
    t.locked_rotor_a = locked_rotor_a;
    t.turns_ratio = Some(1.4);
    t
}

const fn watts(mut t: Target, power_w: f64) -> Target {
    t.power_w = power_w;
    t
}

/// Every default motor.
#[must_use]
pub fn targets() -> Vec<Target> {
    use Kind::{CapacitorStart, CapacitorStartRun, PermanentCapacitor, SplitPhase};
    let reference = Target {
        locked_rotor_a: 41.0,
        main_ohm: Some(3.3),
        turns_ratio: Some(0.9),
        ..shape(
            watts(
                us(
                    "TWO_WIRE_055_KW",
                    "0.55 kW 230 V 60 Hz, split-phase, two-wire",
                    SplitPhase,
                    1.0,
                    230.0,
                    6.9,
                ),
                550.0,
            ),
            0.58,
            2.25,
            1.5,
        )
    };
    vec![
        Target {
            turns_ratio: Some(0.9),
            ..shape(
                letter(
                    us(
                        "SPLIT_PHASE_THIRD_HP",
                        "1/3 hp 115 V 60 Hz, split-phase",
                        SplitPhase,
                        1.0 / 3.0,
                        115.0,
                        7.2,
                    ),
                    10.6,
                ),
                0.55,
                2.2,
                1.3,
            )
        },
        shape(
            letter(
                us(
                    "CAPACITOR_START_HALF_HP",
                    "1/2 hp 115/230 V 60 Hz, capacitor-start",
                    CapacitorStart,
                    0.5,
                    115.0,
                    9.8,
                ),
                9.5,
            ),
            0.56,
            2.25,
            2.6,
        ),
        shape(
            letter(
                us(
                    "CAPACITOR_START_THREE_QUARTER_HP",
                    "3/4 hp 115/230 V 60 Hz, capacitor-start",
                    CapacitorStart,
                    0.75,
                    115.0,
                    13.8,
                ),
                8.5,
            ),
            0.59,
            2.25,
            2.5,
        ),
        shape(
            letter(
                us(
                    "CAPACITOR_START_ONE_HP",
                    "1 hp 115/230 V 60 Hz, capacitor-start",
                    CapacitorStart,
                    1.0,
                    115.0,
                    16.0,
                ),
                8.5,
            ),
            0.63,
            2.25,
            2.4,
        ),
        shape(
            letter(
                us(
                    "CAPACITOR_START_ONE_AND_HALF_HP",
                    "1 1/2 hp 115/230 V 60 Hz, capacitor-start",
                    CapacitorStart,
                    1.5,
                    115.0,
                    20.0,
                ),
                7.5,
            ),
            0.68,
            2.25,
            2.2,
        ),
        reference,
        Target {
            turns_ratio: Some(1.3),
            ..shape(
                letter(
                    us(
                        "THREE_WIRE_ONE_AND_HALF_HP",
                        "1 1/2 hp 230 V 60 Hz, capacitor-start capacitor-run, three-wire with control box",
                        CapacitorStartRun,
                        1.5,
                        230.0,
                        10.0,
                    ),
                    7.5,
                ),
                0.66,
                2.25,
                2.2,
            )
        },
        fifty_hertz(
            shape(
                watts(
                    us(
                        "PERMANENT_CAPACITOR_055_KW",
                        "0.55 kW 230 V 50 Hz, permanent capacitor",
                        PermanentCapacitor,
                        1.0,
                        230.0,
                        4.3,
                    ),
                    550.0,
                ),
                0.60,
                2.0,
                0.65,
            ),
            15.0,
        ),
        fifty_hertz(
            shape(
                watts(
                    us(
                        "PERMANENT_CAPACITOR_075_KW",
                        "0.75 kW 230 V 50 Hz, permanent capacitor",
                        PermanentCapacitor,
                        1.0,
                        230.0,
                        5.7,
                    ),
                    750.0,
                ),
                0.62,
                2.0,
                0.65,
            ),
            20.5,
        ),
        fifty_hertz(
            shape(
                watts(
                    us(
                        "PERMANENT_CAPACITOR_110_KW",
                        "1.1 kW 230 V 50 Hz, permanent capacitor",
                        PermanentCapacitor,
                        1.0,
                        230.0,
                        8.2,
                    ),
                    1_100.0,
                ),
                0.65,
                2.0,
                0.60,
            ),
            31.0,
        ),
    ]
}
