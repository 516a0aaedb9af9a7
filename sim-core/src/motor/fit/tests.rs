//! What the committed motors do, and that they are what the fit gives.

use super::super::rules::{
    TableVoltage, code_letter, code_letter_band_kva_per_hp, full_load_current_a,
};
use super::super::targets::{Kind, targets};
use super::super::{StartSwitch, Strap, Thevenin, sets};
use super::*;

fn named(name: &str) -> InductionMotor {
    let found = sets::ALL.iter().find(|(n, _)| *n == name);
    found.map(|(_, motor)| *motor).unwrap()
}

#[test]
fn the_committed_numbers_are_those_of_the_fit() {
    let target = targets()
        .into_iter()
        .find(|t| t.name == "CAPACITOR_START_ONE_HP")
        .unwrap();
    assert_eq!(
        fit(&target),
        sets::CAPACITOR_START_ONE_HP,
        "targets or fit have changed: run the example fit_motors with `write`"
    );
}

#[test]
fn every_target_has_its_set_in_the_same_order() {
    let names: Vec<String> = targets()
        .iter()
        .map(|t| t.name.to_lowercase().replace('_', "-"))
        .collect();
    let sets: Vec<&str> = sets::ALL.iter().map(|(n, _)| *n).collect();
    assert_eq!(names, sets);
}

#[test]
fn full_load_currents_are_those_of_the_table() {
    for (name, horsepower) in [
        ("split-phase-third-hp", 1.0 / 3.0),
        ("capacitor-start-half-hp", 0.5),
        ("capacitor-start-three-quarter-hp", 0.75),
        ("capacitor-start-one-hp", 1.0),
        ("capacitor-start-one-and-half-hp", 1.5),
    ] {
        let table_a = full_load_current_a(horsepower, TableVoltage::V115).unwrap();
        let ours_a = figures(&named(name)).full_load_a;
        assert!(
            (ours_a / table_a - 1.0).abs() < 0.10,
            "{name}: {ours_a} {table_a}"
        );
    }
    let table_a = full_load_current_a(1.5, TableVoltage::V230).unwrap();
    let ours_a = figures(&sets::THREE_WIRE_ONE_AND_HALF_HP).full_load_a;
    assert!((ours_a / table_a - 1.0).abs() < 0.10, "{ours_a}");
}

#[test]
fn a_dual_voltage_motor_in_series_draws_the_current_of_the_high_voltage_column() {
    let motor = sets::CAPACITOR_START_ONE_HP;
    let mut condition = motor.condition(StartSwitch::Open, RUNNING_CELSIUS);
    condition.strap = Strap::Series;
    let run = motor
        .circuit(&condition)
        .at(motor.rated_speed_rad_per_s, Complex::new(230.0, 0.0));
    assert!((run.line_a.magnitude() / 8.0 - 1.0).abs() < 0.10);
    assert!((run.shaft_w / motor.rated_power_w - 1.0).abs() < 1e-3);
}

#[test]
fn rated_power_comes_at_rated_speed() {
    for (name, motor) in sets::ALL {
        let ratio = figures(&motor).power_ratio;
        assert!((ratio - 1.0).abs() < 1e-3, "{name}: {ratio}");
    }
}

#[test]
fn locked_rotor_power_is_inside_the_band_of_the_usual_letter() {
    for (name, letter) in [
        ("split-phase-third-hp", 'M'),
        ("capacitor-start-half-hp", 'L'),
        ("capacitor-start-three-quarter-hp", 'K'),
        ("capacitor-start-one-hp", 'K'),
        ("capacitor-start-one-and-half-hp", 'J'),
        ("three-wire-one-and-half-hp", 'J'),
    ] {
        let kva_per_hp = figures(&named(name)).locked_kva_per_hp;
        let (least, most) = code_letter_band_kva_per_hp(letter).unwrap();
        assert!((least..=most).contains(&kva_per_hp), "{name}: {kva_per_hp}");
        assert_eq!(code_letter(kva_per_hp), Some(letter), "{name}");
    }
}

#[test]
fn torques_efficiency_and_power_factor_are_those_of_the_kind() {
    for (target, (name, motor)) in targets().iter().zip(sets::ALL) {
        let f = figures(&motor);
        assert!((2.0..=2.5).contains(&f.breakdown_ratio), "{name}: {f:?}");
        let (starting, power_factor) = match target.kind {
            Kind::SplitPhase => (1.0..=2.0, 0.45..=0.70),
            Kind::CapacitorStart => (2.0..=3.5, 0.50..=0.75),
            Kind::PermanentCapacitor => (0.4..=0.9, 0.85..=1.0),
            Kind::CapacitorStartRun => (1.8..=3.5, 0.70..=1.0),
        };
        assert!(starting.contains(&f.starting_ratio), "{name}: {f:?}");
        assert!(power_factor.contains(&f.power_factor), "{name}: {f:?}");
        assert!((0.5..=0.75).contains(&f.efficiency), "{name}: {f:?}");
        assert!((0.5..1.0).contains(&f.no_load_ratio), "{name}: {f:?}");
    }
}

#[test]
fn the_training_reference_comes_close_to_its_figures() {
    // Training figures: 3.3 Ω, 41 A locked, 6.5 to 7 A running; start impedance 5.65 Ω at
    // a power factor of 0.6.  All are met but the last: a resistive start winding that
    // turns the motor makes it 0.75, so that a bad joint takes a little more of the volts.
    let motor = sets::TWO_WIRE_055_KW;
    let f = figures(&motor);
    assert!((motor.main_ohm - 3.3).abs() < 0.1, "{}", motor.main_ohm);
    assert!((f.locked_rotor_a - 41.0).abs() < 1.0, "{f:?}");
    assert!((6.5..=7.0).contains(&f.full_load_a), "{f:?}");
    assert!((230.0 / f.locked_rotor_a - 5.65).abs() < 0.1, "{f:?}");
    assert!((f.locked_power_factor - 0.75).abs() < 0.02, "{f:?}");
}

#[test]
fn a_bad_joint_takes_the_start_current_and_volts_of_the_training_table() {
    // Joint [Ω], start current [A], volts at the motor while starting, from a plain
    // 5.65 Ω at a power factor of 0.6; ours within 5 %.
    let motor = sets::TWO_WIRE_055_KW;
    let circuit = motor.circuit(&motor.condition(StartSwitch::Closed, REFERENCE_CELSIUS));
    for (ohm, start_a, start_v) in [
        (0.05, 40.5, 229.0),
        (0.5, 38.6, 218.0),
        (1.0, 36.5, 206.0),
        (2.0, 32.7, 185.0),
        (5.0, 24.1, 136.0),
        (20.0, 9.7, 55.0),
    ] {
        let source = Thevenin {
            open_v: Complex::new(230.0, 0.0),
            ohm: Complex::new(ohm, 0.0),
        };
        let terminal_v = circuit.port(0.0).terminal_v(&source);
        let locked = circuit.at(0.0, terminal_v);
        assert!(
            (locked.line_a.magnitude() / start_a - 1.0).abs() < 0.05,
            "{ohm}"
        );
        assert!(
            (terminal_v.magnitude() / start_v - 1.0).abs() < 0.05,
            "{ohm}"
        );
    }
}

/// Current at a shaft power, over that at rated voltage, when the voltage is a share.
fn current_ratio(motor: &InductionMotor, share: f64) -> f64 {
    let circuit = motor.circuit(&motor.condition(StartSwitch::Open, RUNNING_CELSIUS));
    let at = |volts: f64| {
        let v = Complex::new(volts, 0.0);
        let (mut low, mut high) = (breakdown_speed(&circuit, v), circuit.synchronous_rad_per_s);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            // A constant torque, as the published table supposes.
            let torque_nm = motor.rated_power_w / motor.rated_speed_rad_per_s;
            if circuit.at(middle, v).shaft_torque_nm > torque_nm {
                low = middle;
            } else {
                high = middle;
            }
        }
        circuit.at(low, v).line_a.magnitude()
    };
    at(share * motor.rated_voltage_v) / at(motor.rated_voltage_v)
}

#[test]
fn low_voltage_at_constant_torque_hardly_changes_the_current_of_a_small_single_phase_motor() {
    // The published table of typical motors has +11 ± 2 %.  These are small: most of their
    // current magnetizes, falls with voltage and makes up for the rest, so that the change
    // is a loss of a few percent at a power factor near 0.55 and a gain of a few near 0.93.
    // (A real core, less saturated at low voltage, would shed a little more.)
    for (name, motor) in sets::ALL {
        let change = current_ratio(&motor, 0.9) - 1.0;
        assert!((-0.06..0.04).contains(&change), "{name}: {change}");
    }
    let change = |motor| current_ratio(motor, 0.9) - 1.0;
    assert!(change(&sets::PERMANENT_CAPACITOR_110_KW) > 0.0);
    assert!(change(&sets::SPLIT_PHASE_THIRD_HP) < 0.0);
}
