//! Section 6: motors and their protection.

use sim_core::motor::protection::{
    RELAY_HOLDS_RATIO, RELAY_LONG_S, RELAY_OPENS_RATIO, TripClass, breaker_must_trip_within_s,
};
use sim_core::motor::rules::{
    BREAKER_MAXIMUM_RATIO, CONDUCTOR_AMPACITY_RATIO, TableVoltage, VOLTAGE_VARIATION,
    code_letter_band_kva_per_hp, full_load_current_a, locked_rotor_current_a, protector_trip_ratio,
};
use sim_core::motor::{Branch, Circuit, Complex, OperatingPoint, PerVolt};
use sim_core::units::convert::HORSEPOWER;

use super::check::Check;

/// One winding on a rotor, as the books' examples give it.
struct Single {
    main: (f64, f64),
    rotor: (f64, f64),
    magnetizing_ohm: f64,
    frequency_hz: f64,
    pole_pairs: f64,
}

impl Single {
    fn circuit(&self) -> Circuit {
        Circuit {
            synchronous_rad_per_s: std::f64::consts::TAU * self.frequency_hz / self.pole_pairs,
            main: Some(winding(self.main)),
            auxiliary: None,
            shorted: None,
            magnetizing_ohm: self.magnetizing_ohm,
            rotor_ohm: self.rotor.0,
            rotor_reactance_ohm: self.rotor.1,
            core_conductance_s: 0.0,
            drag_nm: 0.0,
        }
    }

    fn at(&self, slip: f64, volts: f64) -> OperatingPoint {
        let circuit = self.circuit();
        let speed = (1.0 - slip) * circuit.synchronous_rad_per_s;
        circuit.at(speed, Complex::new(volts, 0.0))
    }
}

fn winding((ohm, reactance_ohm): (f64, f64)) -> Branch {
    Branch {
        wire_ohm: ohm,
        series_ohm: 0.0,
        reactance_ohm,
        turns: 1.0,
    }
}

/// Chapman, problem 9-1.
const QUARTER_HP: Single = Single {
    main: (2.00, 2.56),
    rotor: (2.80, 2.56),
    magnetizing_ohm: 60.5,
    frequency_hz: 60.0,
    pole_pairs: 2.0,
};

fn quarter_hp() -> OperatingPoint {
    QUARTER_HP.at(0.05, 120.0)
}

/// Fitzgerald, example 9.2; rotational losses come off after conversion.
fn fitzgerald() -> OperatingPoint {
    Single {
        main: (2.02, 2.79),
        rotor: (4.12, 2.12),
        magnetizing_ohm: 66.8,
        frequency_hz: 60.0,
        pole_pairs: 2.0,
    }
    .at(0.05, 110.0)
}

/// Stands in for a magnetizing branch that the example leaves out [Ω].
const NO_MAGNETIZING_OHM: f64 = 1e9;

/// Full-load current of a three-phase motor at 90 % of its voltage and the same torque, in
/// percent more: Chapman's 25 hp 460 V motor (from memory), one phase of it as two equal
/// windings in quadrature.
fn current_change_at_low_voltage_percent() -> f64 {
    const PHASE_V: f64 = 460.0 / 1.732_050_807_568_877_2;
    let stator = winding((0.641, 1.106));
    let motor = Circuit {
        auxiliary: Some(stator),
        ..Single {
            main: (0.641, 1.106),
            rotor: (0.332, 0.464),
            magnetizing_ohm: 26.3,
            frequency_hz: 60.0,
            pole_pairs: 2.0,
        }
        .circuit()
    };
    let run = |slip: f64, share: f64| -> PerVolt {
        let v = Complex::new(share * PHASE_V, 0.0);
        motor.with_winding_volts((1.0 - slip) * motor.synchronous_rad_per_s, v, v.times_j())
    };
    // Two of the three phases' worth of power.
    let rated_w = 25.0 * HORSEPOWER * 2.0 / 3.0;
    let rated = falling_root(|slip| {
        run(slip, 1.0).torque_nm() * (1.0 - slip) * motor.synchronous_rad_per_s - rated_w
    });
    let torque_nm = run(rated, 1.0).torque_nm();
    let low = falling_root(|slip| run(slip, 0.9).torque_nm() - torque_nm);
    let ratio = run(low, 0.9).main.magnitude() / run(rated, 1.0).main.magnitude();
    100.0 * (ratio - 1.0)
}

/// Slip below breakdown at which a rising quantity passes zero.
fn falling_root(value: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 0.15);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if value(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

fn table_a(horsepower: f64, voltage: TableVoltage) -> f64 {
    full_load_current_a(horsepower, voltage).expect("the size is in the table")
}

fn limits(class: TripClass) -> Vec<f64> {
    let (above, most) = class.locked_limits_s();
    vec![above, most]
}

fn breaker_minutes(multiple: f64, rated_a: f64) -> f64 {
    breaker_must_trip_within_s(multiple, rated_a).expect("a small breaker has a limit") / 60.0
}

pub(super) fn checks() -> Vec<Check> {
    let mut checks = rules();
    checks.extend(devices());
    checks.extend(machines());
    checks
}

fn rules() -> Vec<Check> {
    vec![
        Check::noted("ELE-19", SETS, || table_a(0.75, TableVoltage::V230)),
        Check::noted("ELE-22", SETS, || table_a(0.5, TableVoltage::V115)),
        Check::noted(
            "ELE-26",
            "The protectors of the default motors open at 145 %.",
            || 100.0 * protector_trip_ratio(9.0),
        ),
        Check::new("ELE-27", || 100.0 * CONDUCTOR_AMPACITY_RATIO),
        Check::new("ELE-28", || 100.0 * BREAKER_MAXIMUM_RATIO),
        Check::new("ELE-29", || 100.0 * VOLTAGE_VARIATION),
        Check::noted(
            "ELE-32",
            "A 25 hp three-phase motor in our circuit at constant torque. The default \
             single-phase motors do not follow: theirs changes by -5 to +3 %, because most \
             of their current magnetizes.",
            current_change_at_low_voltage_percent,
        ),
        Check::new("ELE-35", || {
            let band = code_letter_band_kva_per_hp('J').expect("J is a letter of the table");
            vec![band.0, band.1]
        }),
        Check::new("ELE-37", || {
            let band = code_letter_band_kva_per_hp('J').expect("J is a letter of the table");
            locked_rotor_current_a(band.1, 1.0, 230.0)
        }),
    ]
}

const SETS: &str = "A table of ours; the default motor of this size draws it within 1 %.";
const LIMIT: &str = "A limit; our training breaker opens after 4.3 min at 135 % and after \
                     80 s at 200 %.";

fn devices() -> Vec<Check> {
    vec![
        Check::noted("ELE-38", LIMIT, || breaker_minutes(1.35, 20.0)),
        Check::noted("ELE-39", LIMIT, || breaker_minutes(2.0, 20.0)),
        Check::new("ELE-40", || limits(TripClass::TenA)),
        Check::new("ELE-41", || limits(TripClass::Ten)),
        Check::new("ELE-42", || limits(TripClass::Twenty)),
        Check::new("ELE-43", || {
            vec![
                RELAY_HOLDS_RATIO,
                RELAY_OPENS_RATIO,
                RELAY_LONG_S / 3_600.0,
                TripClass::Ten.warm_limit_s() / 60.0,
            ]
        }),
    ]
}

fn machines() -> Vec<Check> {
    vec![
        Check::new("ELE-48", || quarter_hp().line_a.magnitude()),
        Check::new("ELE-49", || quarter_hp().input_w),
        Check::noted(
            "ELE-50",
            "Twice ours, which is the half that the field sees.",
            || {
                let whole = QUARTER_HP.circuit().field_impedance_ohm(0.05).times(2.0);
                vec![whole.re, whole.im]
            },
        ),
        Check::new("ELE-51", || {
            let point = quarter_hp();
            vec![point.converted_w, point.converted_w - 51.0]
        }),
        Check::new("ELE-52", || quarter_hp().torque_nm),
        Check::new("ELE-53", || {
            let motor = Single {
                main: (1.3, 2.01),
                rotor: (1.73, 2.01),
                magnetizing_ohm: 105.0,
                frequency_hz: 50.0,
                pole_pairs: 3.0,
            };
            let torque_nm = |volts: f64| motor.at(0.05, volts).torque_nm;
            vec![torque_nm(190.0), torque_nm(208.0), torque_nm(230.0)]
        }),
        Check::new("ELE-54", || fitzgerald().line_a.magnitude()),
        Check::new("ELE-55", || fitzgerald().converted_w - 24.0 - 13.0),
        Check::new("ELE-56", || {
            Single {
                main: (3.0, 5.0),
                rotor: (1.5, 2.0),
                magnetizing_ohm: NO_MAGNETIZING_OHM,
                frequency_hz: 50.0,
                pole_pairs: 3.0,
            }
            .at(0.03, 220.0)
            .torque_nm
        }),
    ]
}
