//! Laws of the circuit: energy, voltage, symmetry, limits.

use proptest::prelude::*;

use super::super::{
    Capacitor, CapacitorState, Complex, Condition, InductionMotor, MotorFaults, StartSwitch,
    Starting, Strap, Thevenin, WindingState,
};
use super::{Branch, Circuit};
use crate::math::Dual;

fn motor(starting: Starting) -> InductionMotor {
    InductionMotor {
        rated_power_w: 186.0,
        rated_voltage_v: 110.0,
        rated_frequency_hz: 60.0,
        pole_pairs: 2.0,
        rated_speed_rad_per_s: 180.0,
        main_ohm: 2.02,
        main_leakage_ohm: 2.79,
        magnetizing_ohm: 66.8,
        rotor_ohm: 4.12,
        rotor_leakage_ohm: 2.12,
        auxiliary_ohm: 7.14,
        auxiliary_leakage_ohm: 3.22,
        turns_ratio: 1.18,
        core_conductance_s: 0.002,
        drag_nm: 0.07,
        starting,
        switch_opens_at: 0.75,
    }
}

const START: Capacitor = Capacitor {
    farad: 177e-6,
    series_ohm: 3.0,
};
const RUN: Capacitor = Capacitor {
    farad: 21e-6,
    series_ohm: 9.0,
};

fn starting() -> impl Strategy<Value = Starting> {
    prop_oneof![
        Just(Starting::SplitPhase),
        Just(Starting::CapacitorStart(START)),
        Just(Starting::PermanentCapacitor(RUN)),
        Just(Starting::CapacitorStartRun {
            start: START,
            run: RUN
        }),
    ]
}

fn winding() -> impl Strategy<Value = WindingState> {
    prop_oneof![3 => Just(WindingState::Sound), 1 => Just(WindingState::Open)]
}

fn capacitor() -> impl Strategy<Value = CapacitorState> {
    prop_oneof![
        Just(CapacitorState::Sound),
        Just(CapacitorState::Open),
        Just(CapacitorState::Shorted),
        (0.05f64..1.0).prop_map(CapacitorState::Share),
    ]
}

prop_compose! {
    fn faults()(
        main in winding(), auxiliary in winding(),
        start_capacitor in capacitor(), run_capacitor in capacitor(),
        shorted_turns in prop_oneof![Just(0.0), 0.01f64..0.6],
    ) -> MotorFaults {
        MotorFaults { main, auxiliary, start_capacitor, run_capacitor, shorted_turns }
    }
}

prop_compose! {
    fn condition()(
        switch in prop_oneof![Just(StartSwitch::Closed), Just(StartSwitch::Open)],
        strap in prop_oneof![Just(Strap::Parallel), Just(Strap::Series)],
        frequency_hz in 45.0f64..65.0, winding_celsius in 0.0f64..150.0, faults in faults(),
    ) -> Condition {
        Condition { switch, strap, frequency_hz, winding_celsius, faults }
    }
}

proptest! {
    #[test]
    fn all_power_in_leaves_as_shaft_power_or_heat(
        starting in starting(), condition in condition(), speed in -250.0f64..450.0,
        re in -260.0f64..260.0, im in -260.0f64..260.0,
    ) {
        let circuit = motor(starting).circuit(&condition);
        let point = circuit.at(speed, Complex::new(re, im));
        let out_w = point.shaft_w + point.losses.total_w();
        let scale_w = point.terminal_v.magnitude() * point.line_a.magnitude() + 1.0;
        prop_assert!((point.input_w - out_w).abs() < 1e-9 * scale_w, "{} {out_w}", point.input_w);
        let heat = point.losses;
        for w in [heat.main_copper_w, heat.auxiliary_copper_w, heat.shorted_turns_w,
                  heat.capacitor_w, heat.rotor_w, heat.core_w, heat.drag_w] {
            prop_assert!(w >= -1e-12 * scale_w, "{heat:?}");
        }
    }

    #[test]
    fn torque_goes_with_the_square_of_voltage_at_any_speed(
        starting in starting(), condition in condition(), speed in 0.0f64..400.0,
    ) {
        let circuit = motor(starting).circuit(&condition);
        let full = circuit.at(speed, Complex::new(230.0, 0.0));
        let half = circuit.at(speed, Complex::new(0.0, 115.0));
        prop_assert!((full.torque_nm - 4.0 * half.torque_nm).abs() <= 1e-12 * full.torque_nm.abs());
        let (a, b) = (full.line_a.magnitude(), half.line_a.magnitude());
        prop_assert!((a - 2.0 * b).abs() <= 1e-12 * a);
    }

    #[test]
    fn the_slopes_are_the_derivatives(
        starting in starting(), condition in condition(), speed in 5.0f64..370.0,
    ) {
        let circuit = motor(starting).circuit(&condition);
        let exact = circuit.per_volt(Dual::<1>::variable(speed, 0)).torque_nm();
        let h = 1e-4;
        let ahead = circuit.per_volt(speed + h).torque_nm();
        let behind = circuit.per_volt(speed - h).torque_nm();
        let slope = (ahead - behind) / (2.0 * h);
        prop_assert_eq!(exact.v.to_bits(), circuit.per_volt(speed).torque_nm().to_bits());
        prop_assert!((exact.d[0] - slope).abs() < 1e-5 * (slope.abs() + 1e-6), "{} {slope}", exact.d[0]);
    }

    #[test]
    fn winding_admittances_and_the_port_are_one_motor(
        starting in starting(), condition in condition(), speed in 0.0f64..370.0,
    ) {
        let circuit = motor(starting).circuit(&condition);
        let y = circuit.winding_admittances_s(speed);
        let core = if circuit.main.is_some() { circuit.core_conductance_s } else { 0.0 };
        let sum = y[0][0] + y[0][1] + y[1][0] + y[1][1] + Complex::new(core, 0.0);
        let port = circuit.port(speed).admittance_s;
        prop_assert!((sum - port).magnitude() < 1e-12 * (1.0 + port.magnitude()));
        // The gap couples the windings only through motion, and against itself.
        prop_assert!((y[0][1] + y[1][0]).magnitude() < 1e-12 * (1e-3 + y[0][1].magnitude()));
    }

    #[test]
    fn a_source_with_impedance_sees_the_same_load(
        starting in starting(), speed in 0.0f64..370.0, ohm in 0.0f64..5.0, reactance in 0.0f64..2.0,
    ) {
        let motor = motor(starting);
        let circuit = motor.circuit(&motor.condition(StartSwitch::Closed, 60.0));
        let source = Thevenin { open_v: Complex::new(120.0, 0.0), ohm: Complex::new(ohm, reactance) };
        let terminal_v = circuit.port(speed).terminal_v(&source);
        let drop_v = source.ohm * circuit.at(speed, terminal_v).line_a;
        prop_assert!((source.open_v - terminal_v - drop_v).magnitude() < 1e-10);
    }
}

/// Two equal windings fed in quadrature: a balanced two-phase motor.
fn two_equal_windings() -> Circuit {
    let winding = Branch {
        wire_ohm: 2.0,
        series_ohm: 0.0,
        reactance_ohm: 2.8,
        turns: 1.0,
    };
    Circuit {
        synchronous_rad_per_s: 188.5,
        main: Some(winding),
        auxiliary: Some(winding),
        shorted: None,
        magnetizing_ohm: 66.8,
        rotor_ohm: 4.1,
        rotor_reactance_ohm: 2.1,
        core_conductance_s: 0.0,
        drag_nm: 0.0,
    }
}

#[test]
fn two_equal_windings_in_quadrature_are_the_balanced_polyphase_motor() {
    let circuit = two_equal_windings();
    let slip = 0.06;
    let speed = (1.0 - slip) * circuit.synchronous_rad_per_s;
    let v = Complex::new(110.0, 0.0);
    // The auxiliary leads: forward.
    let run = circuit.with_winding_volts(speed, v, v.times_j());
    // Per-phase circuit of a polyphase motor: R1 + jX1 + jXm ∥ (R2/s + jX2).
    let rotor = Complex::new(4.1 / slip, 2.1);
    let magnetizing = Complex::new(0.0, 66.8);
    let gap = rotor * magnetizing * (rotor + magnetizing).inverse();
    let current = v * (Complex::new(2.0, 2.8) + gap).inverse();
    let torque_nm = 2.0 * current.norm_squared() * gap.re / circuit.synchronous_rad_per_s;
    assert!((run.main - current).magnitude() < 1e-12 * current.magnitude());
    assert!((run.auxiliary - current.times_j()).magnitude() < 1e-12 * current.magnitude());
    assert!((run.torque_nm() - torque_nm).abs() < 1e-12 * torque_nm);
    assert!(run.backward_nm.abs() < 1e-12 * torque_nm);
}

#[test]
fn a_lagging_auxiliary_winding_turns_the_rotor_backward() {
    let circuit = two_equal_windings();
    let v = Complex::new(110.0, 0.0);
    let forward = circuit.with_winding_volts(0.0, v, v.times_j());
    let backward = circuit.with_winding_volts(0.0, v, -v.times_j());
    assert!(forward.torque_nm() > 0.0);
    assert!((forward.torque_nm() + backward.torque_nm()).abs() < 1e-12);
}

#[test]
fn an_open_auxiliary_winding_gives_no_torque_at_rest() {
    for open in [StartSwitch::Open, StartSwitch::Closed] {
        let motor = motor(Starting::CapacitorStart(START));
        let mut condition = motor.condition(open, 25.0);
        condition.faults.auxiliary = WindingState::Open;
        let circuit = motor.circuit(&condition);
        assert_eq!(circuit.per_volt(0.0).torque_nm(), 0.0);
        // Once turned by hand it pulls away, either way round.
        assert!(circuit.per_volt(20.0).torque_nm() > 0.0);
        assert!(circuit.per_volt(-20.0).torque_nm() < 0.0);
    }
}

#[test]
fn torque_is_near_zero_and_negative_at_synchronous_speed() {
    let motor = motor(Starting::SplitPhase);
    let circuit = motor.circuit(&motor.condition(StartSwitch::Open, 60.0));
    let at = |share: f64| {
        circuit
            .per_volt(share * circuit.synchronous_rad_per_s)
            .torque_nm()
    };
    let largest = (1..100)
        .map(|i| at(f64::from(i) / 100.0))
        .fold(0.0, f64::max);
    assert!(at(1.0) < 0.0, "the backward field brakes");
    assert!(at(1.0).abs() < 0.05 * largest, "{} {largest}", at(1.0));
    assert!(at(0.95) > 0.0);
}

#[test]
fn the_series_strap_at_twice_the_voltage_is_the_same_motor_at_half_the_current() {
    let motor = motor(Starting::CapacitorStart(START));
    let mut condition = motor.condition(StartSwitch::Closed, 40.0);
    let low = motor
        .circuit(&condition)
        .at(100.0, Complex::new(115.0, 0.0));
    condition.strap = Strap::Series;
    let series = motor.circuit(&condition);
    let high = series.at(100.0, Complex::new(230.0, 0.0));
    assert!((high.torque_nm / low.torque_nm - 1.0).abs() < 1e-12);
    assert!((high.line_a.magnitude() / low.line_a.magnitude() - 0.5).abs() < 1e-12);
    assert!((high.input_w / low.input_w - 1.0).abs() < 1e-12);
    // Strapped for 230 V on 115 V: a quarter of the torque.
    let starved = series.at(100.0, Complex::new(115.0, 0.0));
    assert!((starved.torque_nm / low.torque_nm - 0.25).abs() < 1e-12);
}

#[test]
fn a_vanishing_share_of_shorted_turns_is_a_sound_motor() {
    let motor = motor(Starting::CapacitorStart(START));
    let mut condition = motor.condition(StartSwitch::Closed, 40.0);
    let sound = motor.circuit(&condition).per_volt(150.0);
    condition.faults.shorted_turns = 1e-9;
    let close = motor.circuit(&condition).per_volt(150.0);
    assert!((sound.line - close.line).magnitude() < 1e-8);
    condition.faults.shorted_turns = 0.05;
    let shorted = motor.circuit(&condition).per_volt(150.0);
    assert!(shorted.line.magnitude() > sound.line.magnitude());
    assert!(shorted.torque_nm() < sound.torque_nm());
    assert!(shorted.shorted_w > 0.0);
}

#[test]
fn an_open_start_capacitor_hums_at_nearly_the_locked_current_of_the_main_winding() {
    let motor = motor(Starting::CapacitorStart(START));
    let mut condition = motor.condition(StartSwitch::Closed, 25.0);
    condition.faults.start_capacitor = CapacitorState::Open;
    let humming = motor.circuit(&condition).at(0.0, Complex::new(115.0, 0.0));
    let main_only = motor
        .circuit(&motor.condition(StartSwitch::Open, 25.0))
        .at(0.0, Complex::new(115.0, 0.0));
    assert_eq!(humming, main_only);
    assert_eq!(humming.shaft_torque_nm, 0.0);
}
