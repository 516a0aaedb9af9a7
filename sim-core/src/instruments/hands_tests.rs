//! What tools in the hand show, against the plant that they are held to.

use super::*;
use crate::faults::Fault;
use crate::plant::{Command, Plant, Start, Tick};
use crate::site::SiteSpec;
use crate::units::convert::PSI;

fn site(name: &str) -> SiteSpec {
    let text = match name {
        "orchard-cottage" => include_str!("../../../scenarios/sites/orchard-cottage.ron"),
        _ => include_str!("../../../scenarios/sites/garden-shed.ron"),
    };
    crate::site::parse(&format!("{name}.ron"), text).unwrap()
}

fn charged(name: &str, faults: &[&str]) -> Plant {
    let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
    Plant::build(&site(name), &faults, Start::Charged).unwrap()
}

fn channel(plant: &Plant, name: &str) -> f64 {
    Hands::of(plant, 0).channel(name)
}

/// Every seed's reading lies within its own limit of error of the truth, and they differ.
fn within_class(truth: f64, read: impl Fn(u64) -> Reading) {
    let mut values = Vec::new();
    for seed in 0..200 {
        let reading = read(seed);
        assert_eq!(reading, read(seed), "same seed, same digits");
        let off = (reading.figure.value - truth).abs();
        assert!(
            off <= reading.figure.limit_of_error(),
            "seed {seed}: {reading} where {truth} is true"
        );
        values.push(reading.figure.value);
    }
    values.sort_by(f64::total_cmp);
    values.dedup();
    assert!(values.len() > 1, "{values:?}");
}

#[test]
fn gauges_keep_within_their_classes() {
    let plant = charged("orchard-cottage", &[]);
    let hands = |seed| Hands::of(&plant, seed);
    let needle = plant.gauge_reading_pa();
    within_class(needle, |seed| hands(seed).dial_gauge().unwrap());
    for (port, truth) in [
        (GaugePort::Tee, "tee_pressure"),
        (GaugePort::Switch, "switch_pressure"),
        (GaugePort::TankAirValve, "tank_pressure"),
        (GaugePort::House, "house_pressure"),
    ] {
        let truth = channel(&plant, truth);
        within_class(truth, |seed| hands(seed).second_gauge(port).unwrap());
    }
    let air = channel(&plant, "tank_pressure");
    for kind in [TyreGauge::Pencil, TyreGauge::Digital] {
        within_class(air, |seed| hands(seed).tyre_gauge(kind).unwrap().reading);
    }
    assert!(hands(1).second_gauge(GaugePort::Run).is_err());
}

#[test]
fn a_dial_is_read_in_fifths_of_a_division() {
    let plant = charged("orchard-cottage", &[]);
    let figure = Hands::of(&plant, 1).dial_gauge().unwrap().figure;
    assert!((figure.resolution / (0.4 * PSI) - 1.0).abs() < 1e-9);
    let steps = figure.value / figure.resolution;
    assert!((steps - steps.round()).abs() < 1e-6, "{steps}");
}

#[test]
fn a_plugged_port_parts_the_gauge_on_the_switch_from_the_gauge_on_the_tee() {
    let apart = |faults: &[&str]| {
        let mut plant = charged("orchard-cottage", faults);
        plant.apply(Command::SetBreaker(false)).unwrap();
        plant.apply(Command::SetDrain(1.0)).unwrap();
        plant.advance_to(Tick(500)).unwrap();
        let hands = Hands::of(&plant, 3);
        let read = |port| hands.second_gauge(port).unwrap().figure.value;
        read(GaugePort::Switch) - read(GaugePort::Tee)
    };
    assert!(apart(&["pressure_switch.plugged_port=60"]) > 5.0 * PSI);
    assert!(apart(&[]) < PSI);
}

#[test]
fn a_tyre_gauge_takes_a_whiff_of_air_that_a_small_charge_feels() {
    let plant = charged("orchard-cottage", &[]);
    let check = Hands::of(&plant, 1).tyre_gauge(TyreGauge::Digital).unwrap();
    // Choked flow at 515 kPa absolute: 0.685·A·p/√(R·T), for 0.4 s.
    let pressure_pa = check.reading.figure.value + 100e3;
    let hand = 0.685 * 0.5e-6 * pressure_pa / (287.0_f64 * 290.0).sqrt() * 0.4;
    assert!(
        (check.air_lost_kg / hand - 1.0).abs() < 0.05,
        "{}",
        check.air_lost_kg
    );
    // Of a litre of air at that pressure, some tenths of a psi.
    let lost_pa = check.air_lost_kg * 287.0 * 290.0 / 1e-3;
    assert!((0.1 * PSI..3.0 * PSI).contains(&lost_pa), "{lost_pa}");
}

#[test]
fn a_bucket_and_a_stopwatch_give_the_flow_within_their_class() {
    let mut plant = charged("orchard-cottage", &[]);
    plant.apply(Command::SetDrain(1.0)).unwrap();
    let (from, before) = (plant.now(), plant.totals().drained_m3);
    plant.advance_to(Tick(from.0 + 1_000)).unwrap();
    let volume = plant.totals().drained_m3 - before;
    let truth = volume / 20.0;
    within_class(truth, |seed| {
        let hands = Hands::of(&plant, seed);
        hands
            .bucket("drain cock", volume, from, plant.now())
            .unwrap()
    });
    within_class(20.0, |seed| {
        Hands::of(&plant, seed)
            .stopwatch(from, plant.now())
            .unwrap()
    });
    let hands = Hands::of(&plant, 1);
    assert!(hands.bucket("drain cock", volume, from, from).is_err());
    assert!(hands.bucket("drain cock", 0.0, from, plant.now()).is_err());
    // The shorter the time, the more the thumbs count.
    let at = |ticks| {
        let reading = hands.bucket("drain cock", truth, from, Tick(from.0 + ticks));
        reading.unwrap().figure.accuracy.percent
    };
    assert!(at(100) > 2.0 * at(1_000));
}

#[test]
fn a_tape_reads_the_depth_within_ten_millimetres() {
    let plant = charged("garden-shed", &[]);
    let depth = channel(&plant, "source_level");
    within_class(depth, |seed| Hands::of(&plant, seed).level_tape().unwrap());
    let limit = Hands::of(&plant, 1)
        .level_tape()
        .unwrap()
        .figure
        .limit_of_error();
    assert!((limit - 0.01).abs() < 1e-12, "{limit}");
}

#[test]
fn a_thermometer_finds_the_warm_joint_the_warm_motor_and_how_high_the_water_stands() {
    let mut plant = charged("garden-shed", &["splice.high_resistance=0.5"]);
    plant.apply(Command::SetDrain(1.0)).unwrap();
    plant.advance_to(Tick(15_000)).unwrap();
    let hands = Hands::of(&plant, 5);
    let read = |surface| hands.thermometer(surface).unwrap().figure.value;
    let air = plant.site().air_temperature.si();
    assert!(read(Surface::Joint("splice.line1")) > air + 5.0);
    assert!((read(Surface::Joint("breaker.load1")) - air).abs() < 2.0);
    assert!(read(Surface::Motor) > plant.site().water_temperature.si() + 1.0);
    within_class(channel(&plant, "winding_temperature"), |seed| {
        let hands = Hands::of(&plant, seed);
        hands.thermometer(Surface::Motor).unwrap()
    });
    let cottage = charged("orchard-cottage", &["tank.torn_bladder"]);
    assert!(Hands::of(&cottage, 5).thermometer(Surface::Motor).is_err());
    let top = Surface::Tank { height_percent: 80 };
    let read = |plant: &Plant| Hands::of(plant, 5).thermometer(top).unwrap().figure.value;
    let sound = charged("orchard-cottage", &[]);
    assert!(
        read(&sound) > read(&cottage) + 1.0,
        "cold where water stands"
    );
}

#[test]
fn a_vacuum_gauge_reads_the_lift_and_more_when_the_screen_is_clogged() {
    let suction = |faults: &[&str]| {
        let mut plant = charged("garden-shed", faults);
        plant.apply(Command::SetDrain(1.0)).unwrap();
        for fixture in 0..plant.site().house.fixtures.len() {
            let opening = 1.0;
            plant
                .apply(Command::SetFixture { fixture, opening })
                .unwrap();
        }
        plant.advance_to(Tick(3_000)).unwrap();
        assert!(plant.is_powered());
        let truth = plant.suction_pressure_pa().unwrap();
        within_class(truth, |seed| {
            Hands::of(&plant, seed).vacuum_gauge().unwrap()
        });
        truth
    };
    let (sound, clogged) = (suction(&[]), suction(&["intake.clogged_screen=0.8"]));
    // 2.5 m of lift and some friction.
    assert!((-45e3..-20e3).contains(&sound), "{sound}");
    assert!(clogged < sound - 5e3, "{clogged} {sound}");
    let cottage = charged("orchard-cottage", &[]);
    assert!(Hands::of(&cottage, 1).vacuum_gauge().is_err());
    // At rest the foot valve holds the system's pressure on the suction pipe.
    let resting = charged("garden-shed", &[]);
    assert!(resting.suction_pressure_pa().unwrap() > 20.0 * PSI);
}
