//! What meters show on the pump's circuit: the difference between a healthy reading and a
//! healthy circuit.

use sim_core::electric::{Frequency, MeterInput};
use sim_core::faults::Fault;
use sim_core::instruments::Bench;
use sim_core::parts::{CableSpec, ConductorSize, SupplySystem, WindingKind};
use sim_core::plant::{Command, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::units::{
    Amperes, Hertz, Kelvins, Meters, Ohms, RadiansPerSecond, Seconds, Volts, Watts,
};
use sim_core::wiring::{CircuitState, MotorAtTerminals, PumpCircuit, WiringDefects};

use crate::support::sites;
use crate::support::story::channel;

/// The reference system of the training figures: 0.55 kW, 230 V 60 Hz, two-wire, on a stiff
/// supply with hardly any cable, so that the joint under test is all there is.
fn reference() -> SiteSpec {
    let mut site = sites::shipped("hill-farm");
    site.supply.voltage = Volts(230.0);
    site.supply.frequency = Hertz(60.0);
    site.motor.rated_power = Watts(550.0);
    site.motor.rated_voltage = Volts(230.0);
    site.motor.synchronous_speed = RadiansPerSecond(376.99);
    site.motor.full_load_speed = RadiansPerSecond(361.28);
    let wiring = site.wiring.as_mut().unwrap();
    wiring.system = SupplySystem::SinglePhase;
    wiring.source_resistance = Ohms(0.001);
    wiring.source_reactance = Ohms(0.001);
    wiring.breaker_rating = Amperes(60.0);
    wiring.ground_fault_trip = None;
    wiring.low_pressure_cut_off = None;
    wiring.winding = WindingKind::SplitPhase;
    let short = CableSpec {
        length: Meters(0.1),
        conductor: ConductorSize::SquareMillimetersCopper(6.0),
    };
    wiring.panel_to_switch = short;
    wiring.switch_to_splice = short;
    wiring.splice_to_motor = short;
    site
}

/// Volts at the motor's leads behind a joint, nothing else connected but the meter.
fn unloaded(site: &SiteSpec, joint_ohm: f64, meter: MeterInput) -> f64 {
    let mut defects = WiringDefects::none();
    defects.splice_ohm[0] = Some(joint_ohm);
    let circuit = PumpCircuit::build(
        site.wiring.as_ref().unwrap(),
        site.supply,
        Kelvins(293.15),
        &defects,
        CircuitState::CLOSED,
        MotorAtTerminals::Absent,
    )
    .unwrap();
    let node = |name: &str| circuit.network.node(name).unwrap();
    let (red, black) = (node("pump.lead1"), node("pump.lead2"));
    let probed = meter.on(&circuit.network, red, black).unwrap();
    let hertz = site.supply.frequency.si();
    let solution = probed
        .network
        .solve(Frequency::Alternating { hertz })
        .unwrap();
    solution.between(red, black).magnitude()
}

/// Amperes, and volts at the motor, in the instant of starting.
fn starting(site: &SiteSpec, joint_ohm: f64) -> (f64, f64) {
    let fault = Fault::parse(&format!("splice.high_resistance={joint_ohm}")).unwrap();
    let mut plant = Plant::build(site, &[fault], Start::Primed).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant.advance_to(Tick(0)).unwrap();
    (
        channel(&plant, "line_current"),
        channel(&plant, "motor_voltage"),
    )
}

/// Joint [Ω]; volts at 10 MΩ, volts at low impedance, both unloaded; amperes and volts at
/// the motor while starting (training figures, derived from a start impedance of 5.65 Ω).
const TABLE: [(f64, f64, f64, f64, f64); 9] = [
    (0.05, 230.0, 230.0, 40.5, 229.0),
    (0.5, 230.0, 230.0, 38.6, 218.0),
    (1.0, 230.0, 230.0, 36.5, 206.0),
    (2.0, 230.0, 230.0, 32.7, 185.0),
    (5.0, 230.0, 230.0, 24.1, 136.0),
    (20.0, 230.0, 228.0, 9.7, 55.0),
    (1e3, 230.0, 172.0, 0.2, 1.0),
    (1e4, 229.8, 53.0, 0.0, 0.0),
    (1e5, 228.0, 7.0, 0.0, 0.0),
];

#[test]
fn a_joint_shows_unloaded_at_low_impedance_and_while_starting_as_the_table_says() {
    let site = reference();
    let mut table = String::from(
        "   joint | 10 MΩ unloaded | low impedance | start amps | volts at motor, starting | heat at 7 A\n",
    );
    for (ohm, open_v, low_v, amps, motor_v) in TABLE {
        let (start_a, start_v) = starting(&site, ohm);
        let ours = [
            (unloaded(&site, ohm, MeterInput::Volts), open_v, 0.5),
            (
                unloaded(&site, ohm, MeterInput::LowImpedanceVolts),
                low_v,
                0.5,
            ),
            (start_a, amps, 0.05),
            (start_v, motor_v, 0.5),
        ];
        for (value, published, digit) in ours {
            // Five per cent, or half a unit of the last digit that the table prints.
            let limit = f64::max(0.05 * published, digit);
            assert!(
                (value - published).abs() <= limit,
                "joint of {ohm} ohms: {value} where the table has {published}"
            );
        }
        let [open, low, start, motor] = ours.map(|(value, _, _)| value);
        table += &format!(
            "{ohm:8} | {open:14.1} | {low:13.1} | {start:10.2} | {motor:24.1} | {:8.0} W\n",
            49.0 * ohm
        );
    }
    insta::assert_snapshot!("joint_table", table);
}

fn at(seconds: f64) -> Tick {
    Tick::at_or_after(Seconds(seconds))
}

/// A bench on a site with faults, some seconds after power is given.
fn bench(site: &SiteSpec, faults: &[&str], seconds: f64) -> Bench {
    let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
    let mut plant = Plant::build(site, &faults, Start::Primed).unwrap();
    plant.apply(Command::HoldLever(true)).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant.advance_to(at(seconds)).unwrap();
    Bench::of(&plant, 7).unwrap()
}

/// The cottage moved to a two-leg 240 V circuit.
fn two_legs() -> SiteSpec {
    let mut site = sites::shipped("orchard-cottage");
    site.supply.voltage = Volts(240.0);
    site.motor.rated_voltage = Volts(230.0);
    site
}

#[test]
fn one_open_leg_reads_120_volts_to_earth_twice_and_nearly_nothing_between() {
    let bench = bench(&two_legs(), &["supply.open_leg=2"], 5.0);
    let volts = |a: &str, b: &str| bench.volts(a, b).unwrap().figure.value;
    let (one, two) = (
        volts("panel.line1", "panel.earth"),
        volts("panel.line2", "panel.earth"),
    );
    let between = volts("panel.line1", "panel.line2");
    assert!((one - 120.0).abs() < 6.0, "{one}");
    // Fed back through the motor, less what the house's load on that leg takes.
    assert!((60.0..125.0).contains(&two), "{two}");
    assert!(between < 0.5 * one, "{between}");
}

#[test]
fn a_conductor_open_past_every_load_but_the_motor_reads_120_volts_on_both_leads() {
    // At a joint nothing but the motor hangs on the far side, so the leg that is left
    // comes back through its windings whole: common practice, no source.
    let bench = bench(&two_legs(), &["splice.open"], 5.0);
    let volts = |a: &str, b: &str| bench.volts(a, b).unwrap().figure.value;
    let legs = ["pump.lead1", "pump.lead2"].map(|lead| volts(lead, "panel.earth"));
    let between = volts("pump.lead1", "pump.lead2");
    for leg in legs {
        assert!((leg - 120.0).abs() < 6.0, "{legs:?}");
    }
    assert!(between < 5.0, "{between}");
    // Ahead of the joint both legs still stand apart.
    let before = volts("splice.line1", "splice.line2");
    assert!((before - 240.0).abs() < 12.0, "{before}");
}

#[test]
fn an_open_neutral_moves_the_legs_apart_and_leaves_their_sum() {
    let bench = bench(&two_legs(), &["supply.open_neutral"], 5.0);
    let volts = |a: &str, b: &str| bench.volts(a, b).unwrap().figure.value;
    let (one, two) = (
        volts("panel.line1", "panel.neutral"),
        volts("panel.line2", "panel.neutral"),
    );
    let sum = volts("panel.line1", "panel.line2");
    assert!((sum - 240.0).abs() < 10.0, "{sum}");
    // The lightly loaded leg stands higher: loads of 600 and 240 W in series.
    assert!(two > one + 20.0, "{one} {two}");
    assert!((one + two - sum).abs() < 5.0, "{one} {two} {sum}");
}

#[test]
fn a_wire_that_is_open_at_both_ends_shows_a_ghost_that_a_low_impedance_meter_does_not() {
    // Joint and float open: the piece between them hangs in the cable beside a live one.
    let site = sites::shipped("orchard-cottage");
    let spec = site.wiring.as_ref().unwrap();
    let mut defects = WiringDefects::none();
    defects.splice_ohm[1] = None;
    let state = CircuitState {
        protector: false,
        ..CircuitState::CLOSED
    };
    let circuit = PumpCircuit::build(
        spec,
        site.supply,
        Kelvins(293.15),
        &defects,
        state,
        MotorAtTerminals::Absent,
    )
    .unwrap();
    let read = |meter: MeterInput| {
        let node = |name: &str| circuit.network.node(name).unwrap();
        let (red, black) = (node("pump.lead2"), node("panel.earth"));
        let probed = meter.on(&circuit.network, red, black).unwrap();
        let solution = probed.network.solve(Frequency::SIXTY_HERTZ).unwrap();
        solution.between(red, black).magnitude()
    };
    let ghost = read(MeterInput::Volts);
    let loaded = read(MeterInput::LowImpedanceVolts);
    assert!((10.0..100.0).contains(&ghost), "{ghost}");
    assert!(loaded < 1.0, "{loaded}");
}

#[test]
fn a_bad_joint_reads_healthy_at_rest_and_shows_its_drop_while_the_pump_runs() {
    let site = sites::shipped("orchard-cottage");
    let faulty = bench(&site, &["splice.high_resistance=1"], 10.0);
    let sound = bench(&site, &[], 10.0);
    let drop = faulty
        .volts("splice.line1", "splice.pump1")
        .unwrap()
        .figure
        .value;
    let amps = faulty.clamp(&["pump.lead1"]).unwrap().figure.value;
    assert!((drop / amps - 1.0).abs() < 0.06, "{drop} V at {amps} A");
    let lost = sound
        .volts("pump.lead1", "pump.lead2")
        .unwrap()
        .figure
        .value
        - faulty
            .volts("pump.lead1", "pump.lead2")
            .unwrap()
            .figure
            .value;
    assert!(lost > 5.0, "{lost}");
}

#[test]
fn a_clamp_around_both_conductors_reads_nothing() {
    let bench = bench(&sites::shipped("garden-shed"), &[], 10.0);
    let one = bench.clamp(&["pump.lead1"]).unwrap().figure.value;
    let both = bench
        .clamp(&["pump.lead1", "pump.lead2"])
        .unwrap()
        .figure
        .value;
    assert!(one > 5.0 && both < 0.5, "{one} {both}");
}

#[test]
fn an_ohmmeter_is_refused_on_a_live_circuit() {
    let bench = bench(&sites::shipped("orchard-cottage"), &[], 5.0);
    assert!(bench.ohms("pump.lead1", "pump.lead2").is_err());
    assert!(bench.insulation("pump.lead1", "pump.frame").is_err());
}

#[test]
fn a_missing_earth_shows_in_no_other_reading_until_the_insulation_fails() {
    let site = sites::shipped("orchard-cottage");
    let frame = |faults: &[&str]| {
        bench(&site, faults, 10.0)
            .volts("pump.frame", "panel.earth")
            .unwrap()
            .figure
            .value
    };
    assert!(frame(&["earth.open"]) < 1.0);
    assert!(frame(&["motor.insulation=200"]) < 1.0);
    // Both together put a voltage on the frame that a hand would feel.
    assert!(frame(&["earth.open", "motor.insulation=200"]) > 20.0);
}
