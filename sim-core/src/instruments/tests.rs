//! What technicians know their meters to show, on circuits put together for it.

use super::*;
use crate::electric::Complex;
use crate::parts::SupplySystem;
use crate::plant::Tick;
use crate::site::{SiteSpec, SupplySpec};
use crate::units::{Hertz, Kelvins, Volts};
use crate::wiring::{CircuitState, MotorAtTerminals, PumpCircuit, WiringDefects};

const RUNNING: MotorAtTerminals = MotorAtTerminals::Impedance {
    mains_ohm: Complex::new(24.0, 18.0),
    direct_ohm: 2.0,
};
const OFF: CircuitState = CircuitState {
    breaker: false,
    contacts: false,
    ..CircuitState::CLOSED
};

fn cottage() -> SiteSpec {
    let text = include_str!("../../../scenarios/sites/orchard-cottage.ron");
    crate::site::parse("orchard-cottage.ron", text).unwrap()
}

/// The cottage's circuit: 115 V on one leg, or with both legs at 240 V.
struct Rig {
    volts: f64,
    defects: WiringDefects,
    state: CircuitState,
    motor: MotorAtTerminals,
    seed: u64,
}

impl Rig {
    fn at(volts: f64) -> Self {
        Self {
            volts,
            defects: WiringDefects::none(),
            state: CircuitState::CLOSED,
            motor: RUNNING,
            seed: 1,
        }
    }

    fn bench(&self) -> Bench {
        let mut spec = cottage().wiring.unwrap();
        spec.system = SupplySystem::SplitPhase;
        let supply = SupplySpec {
            voltage: Volts(self.volts),
            frequency: Hertz(60.0),
        };
        let circuit = PumpCircuit::build(
            &spec,
            supply,
            Kelvins(293.15),
            &self.defects,
            self.state,
            self.motor,
        )
        .unwrap();
        let breaker = if self.state.breaker {
            Breaker::On
        } else {
            Breaker::Off
        };
        let conditions = Conditions {
            tick: Tick(500),
            breaker,
            contacts_closed: self.state.contacts,
            pump_running: self.state == CircuitState::CLOSED,
            leads_off: false,
            may_be_live: true,
        };
        Bench::new(circuit, 60.0, conditions, self.seed)
    }
}

fn value(reading: Result<Reading, NoReading>) -> f64 {
    reading.unwrap().figure.value
}

#[test]
fn an_open_conductor_beside_a_live_one_shows_a_ghost_that_a_load_takes_away() {
    // Both legs live up to the splice box, the first conductor open there; the motor's
    // protector is open too, so that no winding ties the far end down.
    let mut rig = Rig::at(240.0);
    rig.defects.splice_ohm[0] = None;
    rig.state.protector = false;
    let bench = rig.bench();
    let ghost = value(bench.volts("splice.pump1", "splice.earth"));
    assert!((20.0..110.0).contains(&ghost), "{ghost}");
    let loaded = value(bench.low_impedance_volts("splice.pump1", "splice.earth"));
    assert!(loaded < 1.0, "{loaded}");
    // The house side of the same joint is truly live, loaded or not.
    for reading in [
        bench.volts("splice.line1", "splice.earth"),
        bench.low_impedance_volts("splice.line1", "splice.earth"),
    ] {
        let live = value(reading);
        assert!((live - 120.0).abs() < 2.0, "{live}");
    }
}

#[test]
fn a_winding_ties_the_far_end_of_an_open_conductor_down_so_that_no_ghost_shows() {
    let mut rig = Rig::at(115.0);
    rig.defects.splice_ohm[0] = None;
    let bench = rig.bench();
    let far = value(bench.volts("splice.pump1", "splice.earth"));
    assert!(far < 0.5, "{far}");
    let over_the_joint = value(bench.volts("splice.line1", "splice.pump1"));
    assert!((over_the_joint - 115.0).abs() < 2.0, "{over_the_joint}");
}

#[test]
fn one_leg_open_feeds_back_through_the_motor_and_leaves_nothing_between_the_legs() {
    let mut rig = Rig::at(240.0);
    rig.defects.splice_ohm[0] = None;
    let bench = rig.bench();
    for (a, b, expected) in [
        ("pump.lead1", "pump.frame", 120.0),
        ("pump.lead2", "pump.frame", 120.0),
        ("pump.lead1", "pump.lead2", 0.0),
    ] {
        let read = value(bench.volts(a, b));
        assert!((read - expected).abs() < 2.0, "{a} {b} {read}");
    }
}

#[test]
fn an_open_service_leg_is_fed_back_by_the_motor_against_the_house_on_it() {
    let mut rig = Rig::at(240.0);
    rig.defects.open_leg = Some(1);
    let bench = rig.bench();
    let whole = value(bench.volts("panel.line2", "panel.neutral"));
    let fed_back = value(bench.volts("panel.line1", "panel.neutral"));
    let between = value(bench.volts("panel.line1", "panel.line2"));
    assert!((whole - 120.0).abs() < 3.0, "{whole}");
    // House loads of 24 Ω and a motor of 30 Ω in series across one leg.
    assert!((30.0..80.0).contains(&fed_back), "{fed_back}");
    assert!(between < 100.0, "{between}");
}

#[test]
fn an_open_neutral_shares_the_voltage_out_by_load() {
    let mut rig = Rig::at(115.0);
    rig.defects.open_neutral = true;
    let bench = rig.bench();
    let legs = ["panel.line1", "panel.line2"].map(|leg| value(bench.volts(leg, "panel.neutral")));
    assert!(legs[0] < 100.0 && legs[1] > 130.0, "{legs:?}");
    assert!((legs[0] + legs[1] - 230.0).abs() < 8.0, "{legs:?}");
}

#[test]
fn a_bad_joint_is_healthy_without_load_and_shows_under_it() {
    let mut rig = Rig::at(115.0);
    rig.defects.splice_ohm[0] = Some(3.0);
    rig.motor = MotorAtTerminals::Absent;
    let leads = |bench: &Bench, meter: fn(&Bench, &str, &str) -> Result<Reading, NoReading>| {
        value(meter(bench, "pump.lead1", "pump.lead2"))
    };
    let unloaded = rig.bench();
    assert!((leads(&unloaded, Bench::volts) - 115.0).abs() < 2.0);
    // Low impedance does not load a motor joint (table 3.2).
    assert!((leads(&unloaded, Bench::low_impedance_volts) - 115.0).abs() < 2.0);
    rig.motor = RUNNING;
    let loaded = leads(&rig.bench(), Bench::volts);
    assert!((95.0..108.0).contains(&loaded), "{loaded}");
    let drop = value(rig.bench().volts("splice.line1", "splice.pump1"));
    assert!(drop > 8.0, "{drop}");
}

#[test]
fn a_clamp_reads_one_conductor_and_nothing_around_both() {
    let bench = Rig::at(115.0).bench();
    let one = value(bench.clamp(&["switch.load1"]));
    assert!((one - 115.0 / 30.0).abs() < 0.5, "{one}");
    assert_eq!(value(bench.clamp(&["switch.load1", "switch.load2"])), 0.0);
    assert_eq!(value(bench.clamp(&["pump.frame"])), 0.0);
}

#[test]
fn inrush_is_the_largest_of_the_first_tenth_of_a_second() {
    let bench = Rig::at(115.0).bench();
    let series = [(0.9, 90.0), (1.0, 20.0), (1.06, 24.0), (1.2, 40.0)];
    let read = value(inrush(&bench, "switch.load1", &series, 1.0));
    assert!((read - 24.0).abs() < 1.0, "{read}");
    assert!(matches!(
        inrush(&bench, "switch.load1", &series, 5.0),
        Err(NoReading::PoweredOff { .. })
    ));
}

#[test]
fn ohms_insulation_and_capacitance_are_refused_on_a_live_circuit() {
    let bench = Rig::at(115.0).bench();
    for answer in [
        bench.ohms("pump.lead1", "pump.lead2"),
        bench.insulation("pump.lead1", "pump.frame"),
        bench.capacitance("pump.lead1", "pump.lead2"),
    ] {
        let Err(NoReading::UnsafeToMeasure { hazard }) = answer else {
            panic!("{answer:?}");
        };
        assert!(hazard.to_meter.is_some() && hazard.to_person.is_some());
    }
    // Over a closed contact there are no volts to burn a meter, but there are to earth.
    let Err(NoReading::UnsafeToMeasure { hazard }) = bench.ohms("switch.line1", "switch.load1")
    else {
        panic!("ohms on a live contact");
    };
    assert!(hazard.to_meter.is_none() && hazard.to_person.is_some());
}

#[test]
fn ohms_count_parallel_paths_and_the_meters_own_leads() {
    let mut rig = Rig::at(115.0);
    rig.state = OFF;
    let bench = rig.bench();
    let winding = value(bench.ohms("pump.lead1", "pump.lead2"));
    assert!((winding - 2.2).abs() < 0.2, "{winding}");
    assert!((value(bench.ohms("pump.lead1", "pump.lead1")) - 0.2).abs() < 0.21);
    assert!(matches!(
        bench.ohms("switch.line1", "switch.load1"),
        Err(NoReading::OverRange { .. })
    ));
    // With the contacts closed, conductor 2 leads back to earth through the neutral.
    rig.state.contacts = true;
    let shorted = value(rig.bench().ohms("pump.lead2", "pump.frame"));
    assert!(shorted < 2.0, "{shorted}");
}

#[test]
fn insulation_of_twenty_kilohms_reads_so_and_a_sound_one_far_more() {
    let mut rig = Rig::at(115.0);
    rig.state = OFF;
    let sound = value(rig.bench().insulation("pump.lead1", "pump.frame"));
    assert!((170e6..230e6).contains(&sound), "{sound}");
    rig.defects.insulation_ohm = 20_000.0;
    let reading = rig.bench().insulation("pump.lead1", "pump.frame").unwrap();
    assert!(
        (reading.figure.value - 20_000.0).abs() <= 4_000.0,
        "{reading}"
    );
    assert!(!reading.conditions.may_be_live);
    // With contacts closed the bonded neutral hides it; apart in the splice box it shows.
    rig.state.contacts = true;
    let hidden = value(rig.bench().insulation("splice.pump1", "splice.earth"));
    assert!(hidden < 5_000.0, "{hidden}");
    let apart = rig.bench().with_leads_off().unwrap();
    let shown = value(apart.insulation("splice.pump1", "splice.earth"));
    assert!((shown - 20_000.0).abs() <= 4_000.0, "{shown}");
}

#[test]
fn a_cable_shows_its_capacitance_and_a_winding_hides_it() {
    let mut rig = Rig::at(115.0);
    rig.state = OFF;
    assert!(matches!(
        rig.bench().capacitance("splice.line1", "splice.line2"),
        Err(NoReading::Hidden { .. })
    ));
    let apart = rig.bench().with_leads_off().unwrap();
    let farad = value(apart.capacitance("splice.line1", "splice.line2"));
    // 200 ft at 100 pF/m between the conductors, and both in series over earth.
    let hand = 1.5 * 60.96 * 100e-12;
    assert!((farad / hand - 1.0).abs() < 0.1, "{farad}");
}

#[test]
fn a_power_meter_reads_watts_volt_amperes_and_the_angle_between() {
    let reading = Rig::at(115.0).bench().power("switch.line1").unwrap();
    let (watts, volt_amperes) = (reading.figure.value, reading.also[0].value);
    assert!((watts - 115.0 * 115.0 / 30.0 * 0.8).abs() < 30.0, "{watts}");
    let factor = reading.also[1].value;
    assert!((factor - watts / volt_amperes).abs() < 0.06 && factor < 0.9);
    let mut rig = Rig::at(115.0);
    rig.state = OFF;
    assert_eq!(rig.bench().power("switch.line1").unwrap().also.len(), 1);
}

#[test]
fn a_reading_is_the_same_for_a_seed_and_differs_within_its_class_between_seeds() {
    let mut rig = Rig::at(115.0);
    let exact = {
        let bench = rig.bench();
        let (a, b) = (
            bench.point("pump.lead1").unwrap(),
            bench.point("pump.lead2").unwrap(),
        );
        bench.solve().unwrap().between(a, b).magnitude()
    };
    let mut values = Vec::new();
    for seed in 0..200 {
        rig.seed = seed;
        let reading = rig.bench().volts("pump.lead1", "pump.lead2").unwrap();
        let again = rig.bench().volts("pump.lead1", "pump.lead2").unwrap();
        assert_eq!(reading, again);
        let off = (reading.figure.value - exact).abs();
        assert!(off <= reading.figure.limit_of_error(), "seed {seed}: {off}");
        values.push(reading.figure.value);
    }
    values.sort_by(f64::total_cmp);
    values.dedup();
    assert!(values.len() > 8, "{values:?}");
}

#[test]
fn figures_read_as_the_trade_writes_them() {
    let bench = Rig::at(115.0).bench();
    let volts = bench.volts("panel.line1", "panel.neutral").unwrap();
    let text = volts.to_string();
    assert!(text.ends_with(" V ±(1 % + 3 digits)"), "{text}");
    let (number, _) = text.split_once(' ').unwrap();
    assert_eq!(number.split_once('.').unwrap().1.len(), 1, "{text}");
    let mut rig = Rig::at(115.0);
    rig.state = OFF;
    let open = rig
        .bench()
        .ohms("switch.line1", "switch.load1")
        .unwrap_err();
    assert_eq!(open.to_string(), "OL: above 60.00 MΩ");
}

#[test]
fn a_slip_in_a_points_name_comes_back_with_the_nearest() {
    let bench = Rig::at(115.0).bench();
    let message = bench
        .volts("pump.led1", "pump.frame")
        .unwrap_err()
        .to_string();
    assert!(message.contains("did you mean `pump.lead1`?"), "{message}");
    assert!(message.contains("panel.line1"), "{message}");
    // Nodes that no probe can reach are no points.
    assert!(bench.volts("motor.winding", "pump.frame").is_err());
}

#[test]
fn every_point_of_a_circuit_has_a_conductor_to_clamp() {
    for volts in [115.0, 240.0] {
        let bench = Rig::at(volts).bench();
        assert_eq!(bench.points().len(), bench.conductors().len());
        for name in bench.conductors() {
            bench.clamp(&[name]).unwrap();
        }
        for name in bench.power_points() {
            bench.power(name).unwrap();
        }
    }
}
