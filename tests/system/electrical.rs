//! The electrical side of a plant, through what a person could see: current, voltage,
//! events.  The healthy twin is the control.

use sim_core::faults::Fault;
use sim_core::plant::{Command, EventKind, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::trace::CHANNELS;
use sim_core::units::Seconds;

fn site(name: &str) -> SiteSpec {
    let text = match name {
        "orchard-cottage" => include_str!("../../scenarios/sites/orchard-cottage.ron"),
        "hill-farm" => include_str!("../../scenarios/sites/hill-farm.ron"),
        _ => include_str!("../../scenarios/sites/garden-shed.ron"),
    };
    sim_core::site::parse(&format!("{name}.ron"), text).unwrap()
}

const SITES: [&str; 3] = ["orchard-cottage", "hill-farm", "garden-shed"];

fn value(plant: &Plant, channel: &str) -> f64 {
    let i = CHANNELS.iter().position(|c| c.name == channel).unwrap();
    plant.sample().values[i]
}

fn at(seconds: f64) -> Tick {
    Tick::at_or_after(Seconds(seconds))
}

/// A primed plant with power just given; the cut-off lever is held.
fn started(site: &SiteSpec, faults: &[&str]) -> Plant {
    let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
    let mut plant = Plant::build(site, &faults, Start::Primed).unwrap();
    plant.apply(Command::HoldLever(true)).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant
}

fn when(plant: &Plant, kind: EventKind) -> Option<f64> {
    plant
        .events()
        .iter()
        .find(|e| e.kind == kind)
        .map(|e| e.time_s)
}

#[test]
fn a_healthy_motor_starts_within_a_second_and_draws_about_its_rated_current() {
    for name in SITES {
        let site = site(name);
        let mut plant = started(&site, &[]);
        plant.advance_to(Tick(1)).unwrap();
        let starting = value(&plant, "line_current");
        plant.advance_to(at(1.0)).unwrap();
        let speed = value(&plant, "shaft_speed") / site.motor.synchronous_speed.si();
        let running = value(&plant, "line_current");
        assert!(speed > 0.9, "{name} {speed}");
        assert!(starting > 2.0 * running, "{name} {starting} {running}");
        let volts = value(&plant, "motor_voltage") / site.motor.rated_voltage.si();
        // NEMA MG 1-12.44.1: within 10 % of rated voltage while running.
        assert!((0.9..1.1).contains(&volts), "{name} {volts}");
    }
}

#[test]
fn an_air_bound_pump_draws_less_than_a_working_one() {
    for name in SITES {
        let site = site(name);
        let (mut healthy, mut bound) = (started(&site, &[]), started(&site, &["pump.air_lock"]));
        for plant in [&mut healthy, &mut bound] {
            plant.advance_to(at(3.0)).unwrap();
        }
        let power = value(&bound, "supply_power") / value(&healthy, "supply_power");
        assert!(
            value(&bound, "line_current") < value(&healthy, "line_current"),
            "{name}"
        );
        assert!(power < 0.75, "{name} {power}");
        assert!(
            value(&bound, "shaft_speed") > value(&healthy, "shaft_speed"),
            "{name}"
        );
    }
}

#[test]
fn a_jammed_pump_draws_locked_rotor_current_until_its_protector_opens_and_comes_back() {
    for name in SITES {
        let mut plant = started(&site(name), &["pump.jammed"]);
        let mut healthy = started(&site(name), &[]);
        plant.advance_to(at(1.0)).unwrap();
        healthy.advance_to(at(1.0)).unwrap();
        let ratio = value(&plant, "line_current") / value(&healthy, "line_current");
        assert!(ratio > 2.5, "{name} {ratio}");
        assert!(value(&plant, "shaft_speed") == 0.0, "{name}");
        plant.advance_to(at(3_600.0)).unwrap();
        let opens = when(&plant, EventKind::ProtectorTripped).unwrap();
        let closes = when(&plant, EventKind::ProtectorReset).unwrap();
        // Half a minute on a stiff supply; a long cable takes voltage and lengthens it.
        assert!((2.0..120.0).contains(&opens), "{name} opens at {opens}");
        // A pump that stops and comes back by itself some minutes later.
        assert!(
            (60.0..1_500.0).contains(&(closes - opens)),
            "{name} {}",
            closes - opens
        );
    }
}

#[test]
fn a_start_capacitor_that_is_open_leaves_the_motor_humming_at_locked_rotor_current() {
    for name in SITES {
        let mut plant = started(&site(name), &["motor.open_start_capacitor"]);
        plant.advance_to(at(2.0)).unwrap();
        assert!(value(&plant, "shaft_speed") < 1.0, "{name}");
        assert!(value(&plant, "tee_pressure") < 1_000.0, "{name}");
        let mut healthy = started(&site(name), &[]);
        healthy.advance_to(at(2.0)).unwrap();
        let ratio = value(&plant, "line_current") / value(&healthy, "line_current");
        assert!(ratio > 2.0, "{name} {ratio}");
        plant.advance_to(at(120.0)).unwrap();
        assert!(
            when(&plant, EventKind::ProtectorTripped).is_some(),
            "{name}"
        );
    }
}

#[test]
fn a_motor_on_half_its_voltage_has_a_quarter_of_its_torque_and_runs_weak_or_not_at_all() {
    for (name, half) in [
        ("orchard-cottage", 57.0),
        ("hill-farm", 115.0),
        ("garden-shed", 57.0),
    ] {
        let mut plant = started(&site(name), &[&format!("supply.wrong_voltage={half}")]);
        let mut healthy = started(&site(name), &[]);
        plant.advance_to(at(5.0)).unwrap();
        healthy.advance_to(at(5.0)).unwrap();
        assert!(
            value(&plant, "shaft_speed") < 0.93 * value(&healthy, "shaft_speed"),
            "{name} {} {}",
            value(&plant, "shaft_speed"),
            value(&healthy, "shaft_speed")
        );
        assert!(
            value(&plant, "pump_flow") < 0.8 * value(&healthy, "pump_flow"),
            "{name}"
        );
    }
}

#[test]
fn a_motor_on_twice_its_voltage_is_stopped_within_half_a_minute() {
    for (name, twice) in [
        ("orchard-cottage", 230.0),
        ("hill-farm", 460.0),
        ("garden-shed", 230.0),
    ] {
        let mut plant = started(&site(name), &[&format!("supply.wrong_voltage={twice}")]);
        plant.advance_to(at(60.0)).unwrap();
        let stopped = [EventKind::ProtectorTripped, EventKind::BreakerTripped]
            .iter()
            .filter_map(|kind| when(&plant, *kind))
            .fold(f64::INFINITY, f64::min);
        assert!(stopped < 30.0, "{name} {stopped}");
    }
}

#[test]
fn welded_contacts_drive_the_pressure_past_cut_out_for_ever() {
    for name in SITES {
        let site = site(name);
        let mut plant = started(&site, &["pressure_switch.welded_contacts"]);
        plant.advance_to(at(1_200.0)).unwrap();
        assert!(plant.is_powered(), "{name}");
        assert!(when(&plant, EventKind::ContactsOpened).is_none(), "{name}");
        let over = value(&plant, "tee_pressure") / site.wall.pressure_switch.cut_out.si();
        assert!(over > 1.05, "{name} {over}");
    }
}

#[test]
fn burnt_contacts_take_voltage_from_the_motor_and_warm_up() {
    for name in SITES {
        let mut plant = started(&site(name), &["pressure_switch.burnt_contacts=1"]);
        let mut healthy = started(&site(name), &[]);
        plant.advance_to(at(15.0)).unwrap();
        healthy.advance_to(at(15.0)).unwrap();
        let lost = value(&healthy, "motor_voltage") - value(&plant, "motor_voltage");
        let amps = value(&plant, "line_current");
        // 1 Ω takes about one volt an ampere, less what the phase angle saves.
        assert!(
            (0.4 * amps..1.1 * amps).contains(&lost),
            "{name} {lost} V at {amps} A"
        );
        let warmer = value(&plant, "joint_temperature") - value(&healthy, "joint_temperature");
        assert!(warmer > 0.5, "{name} {warmer}");
    }
}

#[test]
fn an_open_splice_leaves_the_motor_dead() {
    for name in SITES {
        let mut plant = started(&site(name), &["splice.open"]);
        plant.advance_to(at(60.0)).unwrap();
        assert_eq!(plant.totals().pump_starts, 0, "{name}");
        assert!(value(&plant, "line_current") == 0.0, "{name}");
    }
}

#[test]
fn the_float_switch_stops_the_pump_before_the_intake_draws_air_and_a_stuck_one_does_not() {
    let site = site("orchard-cottage");
    let run = |faults: &[&str]| {
        let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
        let mut plant = Plant::build(&site, &faults, Start::Charged).unwrap();
        plant.apply(Command::SetDrain(1.0)).unwrap();
        plant.advance_to(at(5_400.0)).unwrap();
        plant
    };
    let guarded = run(&["source.low=0.4"]);
    assert!(when(&guarded, EventKind::FloatDown).is_some());
    assert!(value(&guarded, "bowl_air") < 0.01);
    let unguarded = run(&["source.low=0.4", "float_switch.stuck_closed"]);
    assert!(when(&unguarded, EventKind::FloatDown).is_none());
    assert!(unguarded.is_powered() && value(&unguarded, "pump_flow") < 1e-6);
    assert!(value(&unguarded, "bowl_air") > 0.05);
    // A quarter of an hour without water spoils the seal.
    assert!(when(&unguarded, EventKind::SealFailed).is_some());
}

#[test]
fn the_low_pressure_lever_keeps_the_pump_off_until_it_is_held() {
    let site = site("hill-farm");
    let mut plant = Plant::build(&site, &[], Start::Primed).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant.advance_to(at(5.0)).unwrap();
    assert!(!plant.is_powered());
    plant.apply(Command::HoldLever(true)).unwrap();
    plant.advance_to(at(20.0)).unwrap();
    assert!(plant.is_powered());
    plant.apply(Command::HoldLever(false)).unwrap();
    plant.advance_to(at(21.0)).unwrap();
    assert!(plant.is_powered(), "the pressure holds the lever up by now");
}

#[test]
fn leaking_insulation_trips_ground_fault_protection_where_it_is_fitted() {
    for (name, trips) in [("garden-shed", true), ("orchard-cottage", false)] {
        let mut plant = started(&site(name), &["motor.insulation=15000"]);
        plant.advance_to(at(5.0)).unwrap();
        assert_eq!(
            when(&plant, EventKind::GroundFaultTripped).is_some(),
            trips,
            "{name}"
        );
    }
}

#[test]
fn a_tripped_breaker_is_reset_by_switching_it_off_and_on() {
    let mut plant = started(&site("garden-shed"), &["motor.insulation=15000"]);
    plant.advance_to(at(5.0)).unwrap();
    assert!(!plant.is_powered());
    let trips = |plant: &Plant| {
        let is_trip = |e: &&sim_core::plant::Event| e.kind == EventKind::GroundFaultTripped;
        plant.events().iter().filter(is_trip).count()
    };
    assert_eq!(trips(&plant), 1);
    plant.apply(Command::SetBreaker(false)).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant.advance_to(at(6.0)).unwrap();
    // The fault is still there.
    assert_eq!(trips(&plant), 2);
}

#[test]
fn a_dead_headed_pump_warms_its_water() {
    for name in SITES {
        let mut plant = started(&site(name), &["check_valve.stuck_shut"]);
        let cold = value(&plant, "pump_water_temperature");
        plant.advance_to(at(600.0)).unwrap();
        let rise = value(&plant, "pump_water_temperature") - cold;
        assert!(rise > 10.0, "{name} {rise}");
    }
}

#[test]
fn energy_from_the_supply_is_work_and_heat() {
    for name in SITES {
        let mut plant = started(&site(name), &[]);
        plant.advance_to(at(120.0)).unwrap();
        let totals = plant.totals();
        let shaft = totals.shaft_energy_j;
        let supply = totals.supply_energy_j;
        let motor_heat = plant.motor_heat_j();
        // What is left is lost in source, cables and joints: a few per cent.
        let wiring = supply - shaft - motor_heat;
        assert!(
            wiring > 0.0 && wiring < 0.1 * supply,
            "{name} {wiring} of {supply}"
        );
        let efficiency = shaft / (shaft + motor_heat);
        assert!((0.45..0.85).contains(&efficiency), "{name} {efficiency}");
    }
}

#[test]
fn the_wiring_is_solved_for_signatures_and_not_for_steps() {
    for name in SITES {
        let mut plant = Plant::build(&site(name), &[], Start::Charged).unwrap();
        for cycle in 0..20_u64 {
            plant.advance_to(Tick(cycle * 15_000)).unwrap();
            plant.apply(Command::SetDrain(1.0)).unwrap();
            plant.advance_to(Tick(cycle * 15_000 + 3_000)).unwrap();
            plant.apply(Command::SetDrain(0.0)).unwrap();
        }
        assert!(plant.totals().pump_starts >= 10, "{name}");
        assert!(plant.work().accepted > 1_000, "{name}");
        assert_eq!(plant.wiring_reductions(), 1, "{name}");
    }
}
