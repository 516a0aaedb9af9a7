//! Faults of supply, wiring, control and motor, through the instruments that show them.
//! The healthy twin is the control.

use sim_core::faults::Fault;
use sim_core::instruments::{Bench, Breaker, NoReading, Reading};
use sim_core::plant::{Command, EventKind, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::units::Seconds;

use crate::support::sites::shipped;
use crate::support::story::channel;

const SITES: [&str; 3] = ["orchard-cottage", "hill-farm", "garden-shed"];

fn at(seconds: f64) -> Tick {
    Tick::at_or_after(Seconds(seconds))
}

/// A primed plant, power just given, the cut-off lever held, the drain cock open: so that
/// the pump runs for as long as nothing stops it.
fn started(site: &SiteSpec, faults: &[&str]) -> Plant {
    let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
    let mut plant = Plant::build(site, &faults, Start::Primed).unwrap();
    plant.apply(Command::HoldLever(true)).unwrap();
    plant.apply(Command::SetDrain(1.0)).unwrap();
    plant.apply(Command::SetBreaker(true)).unwrap();
    plant
}

/// The same with every outlet of the house open: more than the pump gives, so that it runs
/// without a pause.
fn drawn_from(site: &SiteSpec, faults: &[&str]) -> Plant {
    let mut plant = started(site, faults);
    for fixture in 0..site.house.fixtures.len() {
        let opening = 1.0;
        plant
            .apply(Command::SetFixture { fixture, opening })
            .unwrap();
    }
    plant
}

/// A bench on such a plant after some seconds.
fn bench(site: &SiteSpec, faults: &[&str], seconds: f64) -> Bench {
    let mut plant = started(site, faults);
    plant.advance_to(at(seconds)).unwrap();
    Bench::of(&plant, 7).unwrap()
}

/// A bench with the breaker off and the conductors apart in the splice box.
fn apart(site: &SiteSpec, faults: &[&str]) -> Bench {
    let mut plant = started(site, faults);
    plant.apply(Command::SetBreaker(false)).unwrap();
    plant.advance_to(at(1.0)).unwrap();
    Bench::of(&plant, 7).unwrap().with_leads_off().unwrap()
}

fn figure(reading: Result<Reading, NoReading>) -> f64 {
    reading.unwrap().figure.value
}

fn has(plant: &Plant, kind: EventKind) -> bool {
    plant.events().iter().any(|event| event.kind == kind)
}

#[test]
fn a_dead_supply_reads_nothing_at_the_panel_and_starts_nothing() {
    for name in SITES {
        let site = shipped(name);
        let volts = |faults: &[&str]| {
            let bench = bench(&site, faults, 5.0);
            figure(bench.low_impedance_volts("panel.line1", "panel.neutral"))
        };
        assert!(volts(&[]) > 100.0, "{name}");
        assert!(volts(&["supply.dead"]) < 1.0, "{name}");
        let mut plant = started(&site, &["supply.dead"]);
        plant.advance_to(at(60.0)).unwrap();
        assert_eq!(plant.totals().pump_starts, 0, "{name}");
    }
}

#[test]
fn a_weak_supply_sags_at_the_panel_itself_while_the_motor_starts() {
    for name in SITES {
        let site = shipped(name);
        let sag = |faults: &[&str]| {
            let resting = {
                let mut plant = started(&site, faults);
                plant.apply(Command::SetBreaker(false)).unwrap();
                plant.advance_to(at(60.0)).unwrap();
                let bench = Bench::of(&plant, 7).unwrap();
                figure(bench.volts("panel.line1", "panel.neutral"))
            };
            let starting = bench(&site, faults, 0.02);
            1.0 - figure(starting.volts("panel.line1", "panel.neutral")) / resting
        };
        let (weak, sound) = (sag(&["supply.weak"]), sag(&[]));
        assert!(weak > 0.1 && weak > 4.0 * sound, "{name} {weak} {sound}");
    }
}

#[test]
fn a_breaker_found_tripped_has_volts_before_it_and_none_behind_until_it_is_reset() {
    for name in SITES {
        let site = shipped(name);
        let mut plant = started(&site, &["breaker.tripped"]);
        plant.advance_to(at(5.0)).unwrap();
        let bench = Bench::of(&plant, 7).unwrap();
        assert_eq!(bench.conditions().breaker, Breaker::Tripped, "{name}");
        assert!(figure(bench.volts("panel.line1", "panel.neutral")) > 100.0);
        assert!(figure(bench.low_impedance_volts("breaker.load1", "panel.neutral")) < 1.0);
        plant.apply(Command::SetBreaker(false)).unwrap();
        plant.apply(Command::SetBreaker(true)).unwrap();
        plant.advance_to(at(10.0)).unwrap();
        assert!(plant.is_powered(), "{name}");
        let bench = Bench::of(&plant, 7).unwrap();
        assert_eq!(bench.conditions().breaker, Breaker::On, "{name}");
    }
}

#[test]
fn a_bad_joint_drops_volts_where_it_is_and_nowhere_else_and_gets_hot() {
    // From the panel to the switch's load side, two probes at each joint.
    const DROPS: [(&str, &str); 3] = [
        ("panel.line1", "breaker.load1"),
        ("breaker.load1", "switch.line1"),
        ("switch.line1", "switch.load1"),
    ];
    for (fault, place) in [
        ("breaker.high_resistance=1", 0),
        ("switch_terminal.high_resistance=1", 1),
    ] {
        for name in SITES {
            let site = shipped(name);
            let (bad, sound) = (bench(&site, &[fault], 10.0), bench(&site, &[], 10.0));
            let amps = figure(bad.clamp(&["switch.line1"]));
            for (i, (red, black)) in DROPS.into_iter().enumerate() {
                let more = figure(bad.volts(red, black)) - figure(sound.volts(red, black));
                let expected = if i == place { amps } else { 0.0 };
                // Within the clamp's and the voltmeter's classes, and the feeder's own.
                assert!(
                    (more - expected).abs() < 0.06 * amps + 0.2,
                    "{name} {fault} {red}: {more} V at {amps} A"
                );
            }
            let mut plant = started(&site, &[fault]);
            let cold = channel(&plant, "joint_temperature");
            plant.advance_to(at(600.0)).unwrap();
            let rise = channel(&plant, "joint_temperature") - cold;
            assert!(rise > 5.0, "{name} {fault} {rise}");
        }
    }
}

#[test]
fn a_thin_cable_drops_its_volts_along_the_cable_with_cool_joints_and_a_stiff_panel() {
    for (name, from, to) in [
        ("orchard-cottage", "switch.load1", "splice.line1"),
        ("hill-farm", "switch.load1", "splice.line1"),
        ("garden-shed", "breaker.load1", "switch.line1"),
    ] {
        let site = shipped(name);
        let (thin, sound) = (
            bench(&site, &["cable.undersized"], 10.0),
            bench(&site, &[], 10.0),
        );
        let ohms =
            |bench: &Bench| figure(bench.volts(from, to)) / figure(bench.clamp(&["switch.line1"]));
        let ratio = ohms(&thin) / ohms(&sound);
        assert!((3.3..4.5).contains(&ratio), "{name} {ratio}");
        assert!(figure(thin.volts("splice.line1", "splice.pump1")) < 0.2);
        let panel = |bench: &Bench| figure(bench.volts("panel.line1", "panel.neutral"));
        let sag = panel(&sound) - panel(&thin);
        assert!(sag.abs() < 0.03 * panel(&sound), "{name} {sag}");
    }
}

/// Insulation, without end where the display shows OL.
fn insulation(bench: &Bench, red: &str, black: &str) -> f64 {
    match bench.insulation(red, black) {
        Err(NoReading::OverRange { .. }) => f64::INFINITY,
        reading => figure(reading),
    }
}

/// Insulation to earth at the panel's side, at the pump's side of the opened splice.
fn insulation_on_both_sides(bench: &Bench) -> (f64, f64) {
    ["splice.line1", "splice.pump1"]
        .map(|point| insulation(bench, point, "splice.earth"))
        .into()
}

#[test]
fn a_leak_to_earth_is_found_on_its_side_of_the_splice_box() {
    const LOW: f64 = 0.5e6;
    for name in SITES {
        let site = shipped(name);
        for (fault, is_low) in [
            ("cable.ground_fault", (true, false)),
            ("pressure_switch.damp", (true, false)),
            ("splice.wet", (true, true)),
            ("drop_cable.chafed", (false, true)),
            ("motor.insulation", (false, true)),
        ] {
            let (house, pump) = insulation_on_both_sides(&apart(&site, &[fault]));
            assert_eq!(
                (house < LOW, pump < LOW),
                is_low,
                "{name} {fault} {house} {pump}"
            );
        }
        let (house, pump) = insulation_on_both_sides(&apart(&site, &[]));
        assert!(house > LOW && pump > 1e8, "{name} {house} {pump}");
    }
}

#[test]
fn a_damp_switch_still_leaks_when_the_buried_cable_is_taken_off_it_and_a_cable_does_not() {
    for name in SITES {
        let site = shipped(name);
        let at_switch = |fault: &str| {
            let bench = apart(&site, &[fault]).with_pump_cable_off().unwrap();
            insulation(&bench, "switch.load1", "switch.frame")
        };
        assert!(at_switch("pressure_switch.damp") < 20_000.0, "{name}");
        assert!(at_switch("cable.ground_fault") > 1e6, "{name}");
    }
}

#[test]
fn leaks_trip_ground_fault_protection_where_it_is_fitted_and_is_fine_enough() {
    // 5 mA in the shed, 30 mA at the farm, none at the cottage.
    for (fault, trips) in [
        ("cable.ground_fault", [false, true, true]),
        ("splice.wet", [false, false, true]),
        ("pressure_switch.damp", [false, false, true]),
        ("drop_cable.chafed", [false, false, false]),
    ] {
        for (name, trips) in SITES.into_iter().zip(trips) {
            let mut plant = started(&shipped(name), &[fault]);
            plant.advance_to(at(5.0)).unwrap();
            let has_tripped = has(&plant, EventKind::GroundFaultTripped);
            assert_eq!(has_tripped, trips, "{name} {fault}");
        }
    }
}

#[test]
fn a_leak_ahead_of_an_open_protector_trips_though_the_motor_has_no_power() {
    // The joint is open, so that no motor runs; the cable before it still leaks.
    let site = shipped("garden-shed");
    let mut plant = started(&site, &["splice.open", "cable.ground_fault"]);
    plant.advance_to(at(2.0)).unwrap();
    assert_eq!(plant.totals().pump_starts, 0);
    assert!(has(&plant, EventKind::GroundFaultTripped));
    let mut plant = started(&site, &["splice.open", "motor.insulation"]);
    plant.advance_to(at(2.0)).unwrap();
    assert!(!has(&plant, EventKind::GroundFaultTripped));
}

#[test]
fn blocked_contacts_have_volts_before_them_and_none_behind_though_the_lever_has_moved() {
    for name in SITES {
        let site = shipped(name);
        let mut plant = started(&site, &["pressure_switch.blocked_contacts"]);
        plant.advance_to(at(5.0)).unwrap();
        assert!(channel(&plant, "contacts") > 0.5, "{name}: the lever");
        assert!(!plant.is_powered(), "{name}");
        let bench = Bench::of(&plant, 7).unwrap();
        assert!(!bench.conditions().contacts_closed, "{name}");
        assert!(figure(bench.volts("switch.line1", "switch.line2")) > 100.0);
        assert!(figure(bench.low_impedance_volts("switch.load1", "switch.load2")) < 1.0);
        let mut healthy = started(&site, &[]);
        healthy.advance_to(at(5.0)).unwrap();
        assert!(healthy.is_powered(), "{name}");
    }
}

/// Ohms between the motor's leads with everything off.
fn winding_ohms(site: &SiteSpec, faults: &[&str]) -> f64 {
    figure(apart(site, faults).ohms("pump.lead1", "pump.lead2"))
}

#[test]
fn shorted_turns_lower_the_ohms_and_raise_the_amps() {
    for name in SITES {
        let site = shipped(name);
        let ohms = winding_ohms(&site, &["motor.shorted_turns"]) - 0.2;
        let sound = winding_ohms(&site, &[]) - 0.2;
        assert!(ohms < 0.95 * sound, "{name} {ohms} {sound}");
        let amps = |faults: &[&str]| figure(bench(&site, faults, 3.0).clamp(&["switch.line1"]));
        let ratio = amps(&["motor.shorted_turns"]) / amps(&[]);
        assert!(ratio > 1.2, "{name} {ratio}");
    }
}

#[test]
fn a_weak_start_capacitor_starts_late_or_not_at_all_and_reads_low() {
    let site = shipped("garden-shed");
    let starts_in = |faults: &[&str]| {
        let mut plant = started(&site, faults);
        plant.advance_to(at(2.0)).unwrap();
        let is_up = |event: &&sim_core::plant::Event| event.kind == EventKind::StartSwitchOpened;
        plant
            .events()
            .iter()
            .find(is_up)
            .map_or(f64::INFINITY, |event| event.time_s)
    };
    let fault = ["motor.weak_start_capacitor"];
    let (weak, sound) = (starts_in(&fault), starts_in(&[]));
    assert!(sound < 1.0 && weak > 1.3 * sound, "{weak} {sound}");
    let farad = |faults: &[&str]| figure(apart(&site, faults).start_capacitor());
    let share = farad(&fault) / farad(&[]);
    assert!((share - 0.3).abs() < 0.02, "{share}");
    let open = farad(&["motor.open_start_capacitor"]);
    assert!(open < 0.001 * farad(&[]), "{open}");
}

#[test]
fn a_weak_run_capacitor_makes_the_motor_weaker_and_hotter() {
    let site = shipped("hill-farm");
    let after = |faults: &[&str]| {
        let mut plant = started(&site, faults);
        plant.advance_to(at(300.0)).unwrap();
        (
            channel(&plant, "shaft_speed"),
            channel(&plant, "winding_temperature"),
        )
    };
    let (weak, sound) = (after(&["motor.weak_run_capacitor"]), after(&[]));
    assert!(
        weak.0 < 0.99 * sound.0 && weak.1 > sound.1,
        "{weak:?} {sound:?}"
    );
}

#[test]
fn a_start_switch_that_stays_in_keeps_the_amps_high_until_something_opens() {
    for name in ["orchard-cottage", "garden-shed"] {
        let site = shipped(name);
        let amps = |faults: &[&str]| figure(bench(&site, faults, 3.0).clamp(&["switch.line1"]));
        let ratio = amps(&["motor.welded_start_switch"]) / amps(&[]);
        assert!(ratio > 1.2, "{name} {ratio}");
        let mut plant = started(&site, &["motor.welded_start_switch"]);
        plant.advance_to(at(1_800.0)).unwrap();
        assert!(!has(&plant, EventKind::StartSwitchOpened), "{name}");
        let stops = [EventKind::ProtectorTripped, EventKind::BreakerTripped];
        assert!(stops.into_iter().any(|kind| has(&plant, kind)), "{name}");
        let mut healthy = started(&site, &[]);
        healthy.advance_to(at(1_800.0)).unwrap();
        assert!(!stops.into_iter().any(|kind| has(&healthy, kind)), "{name}");
    }
}

#[test]
fn a_weak_protector_stops_a_healthy_motor_after_minutes_and_lets_it_go_on_after_more() {
    for name in SITES {
        let site = shipped(name);
        let mut plant = drawn_from(&site, &["motor.weak_protector"]);
        plant.advance_to(at(7_200.0)).unwrap();
        let when = |kind| {
            let event = plant.events().iter().find(|event| event.kind == kind);
            event.map_or(f64::NAN, |event| event.time_s / 60.0)
        };
        let trips = when(EventKind::ProtectorTripped);
        let resets = when(EventKind::ProtectorReset) - trips;
        assert!(
            (2.0..30.0).contains(&trips),
            "{name} trips after {trips} min"
        );
        assert!(
            (10.0..40.0).contains(&resets),
            "{name} resets after {resets} min"
        );
        let mut healthy = drawn_from(&site, &[]);
        healthy.advance_to(at(7_200.0)).unwrap();
        assert!(!has(&healthy, EventKind::ProtectorTripped), "{name}");
    }
}

#[test]
fn a_chafed_drop_cable_conducts_on_some_starts_and_not_on_others_always_the_same_ones() {
    let site = shipped("orchard-cottage");
    let starts = || {
        let mut plant = started(&site, &["drop_cable.chafed"]);
        let mut conducts = Vec::new();
        for i in 0..40_u32 {
            plant.apply(Command::SetBreaker(true)).unwrap();
            plant.advance_to(at(1.0 + 3.0 * f64::from(i))).unwrap();
            let bench = Bench::of(&plant, 7).unwrap();
            let amps = figure(bench.clamp(&["switch.line1"]));
            assert_eq!(amps > 1.0, plant.is_powered());
            conducts.push(plant.is_powered());
            plant.apply(Command::SetBreaker(false)).unwrap();
            plant.advance_to(at(2.0 + 3.0 * f64::from(i))).unwrap();
            let apart = Bench::of(&plant, 7).unwrap().with_leads_off().unwrap();
            // The conductor lies as the last start has left it.
            let ohms = apart.ohms("splice.pump1", "splice.pump2");
            let is_open = matches!(ohms, Err(NoReading::OverRange { .. }))
                || ohms.is_ok_and(|reading| reading.figure.value > 1_000.0);
            assert_eq!(is_open, !conducts[i as usize], "start {i}");
            assert!(insulation(&apart, "splice.pump1", "splice.earth") < 0.5e6);
        }
        conducts
    };
    let first = starts();
    let open = first.iter().filter(|conducts| !**conducts).count();
    assert!((8..=24).contains(&open), "{open} of 40");
    assert_eq!(first, starts());
}

#[test]
fn faults_of_parts_that_a_motor_does_not_have_are_refused() {
    for (name, fault) in [
        ("orchard-cottage", "motor.weak_run_capacitor"),
        ("hill-farm", "motor.weak_start_capacitor"),
        ("hill-farm", "motor.welded_start_switch"),
    ] {
        let fault = Fault::parse(fault).unwrap();
        let refused = Plant::build(&shipped(name), &[fault], Start::Primed);
        assert!(refused.is_err(), "{name} {}", fault.info().name);
    }
}
