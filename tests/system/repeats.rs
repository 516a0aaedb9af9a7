//! The cheaper path for a pump that chatters, against the same plant with every cycle
//! integrated.

use sim_core::faults::Fault;
use sim_core::plant::{Command, Plant, PlantState, Start, Tick};

use crate::support::sites;
use crate::support::story::channel;

/// Sites and faults under which a pump starts again and again within seconds, with what
/// draws water meanwhile: the first outlet's opening.
const CHATTER: [(&str, &str, f64); 6] = [
    ("orchard-cottage", "tank.torn_bladder=0.5", 0.6),
    ("orchard-cottage", "tank.torn_bladder=2", 1.0),
    ("hill-farm", "tank.torn_bladder=0.5", 0.3),
    ("garden-shed", "tank.torn_bladder=1", 0.3),
    ("garden-shed", "check_valve.stuck_open=0.2", 0.0),
    ("hill-farm", "tank.torn_bladder=3", 0.5),
];

fn plant((site, fault, opening): (&str, &str, f64), is_shut_off: bool) -> Plant {
    let mut site = sites::shipped(site);
    if let Some(wiring) = &mut site.wiring {
        wiring.low_pressure_cut_off = None;
    }
    let faults = [Fault::parse(fault).unwrap()];
    let mut plant = Plant::build(&site, &faults, Start::Charged).unwrap();
    plant.advance_to(Tick(50)).unwrap();
    if is_shut_off {
        plant.apply(Command::SetTankValve(0.0)).unwrap();
    }
    let fixture = 0;
    plant
        .apply(Command::SetFixture { fixture, opening })
        .unwrap();
    plant
}

const END: Tick = Tick(1_800 * Tick::PER_SECOND);

#[test]
fn a_chattering_pump_does_as_it_does_with_every_cycle_integrated() {
    let mut repeated_somewhere = 0;
    for case in CHATTER {
        for is_shut_off in [false, true] {
            let mut quick = plant(case, is_shut_off);
            let mut whole = plant(case, is_shut_off).without_repeats();
            quick.advance_to(END).unwrap();
            whole.advance_to(END).unwrap();
            let what = format!("{case:?}, tank valve shut: {is_shut_off}");
            assert_eq!(whole.work().repeated, 0, "{what}");
            if quick.work().repeated > 0 {
                repeated_somewhere += 1;
            }

            let (a, b) = (quick.totals(), whole.totals());
            assert_eq!(a.pump_starts, b.pump_starts, "{what}");
            let close = |x: f64, y: f64, least: f64, total: &str| {
                let off = (x - y).abs() / y.abs().max(least);
                assert!(off < 1e-4, "{what}: {total} {x} and {y}, {off:e} apart");
            };
            close(a.pump_run_s, b.pump_run_s, 1.0, "run seconds");
            close(a.used_m3, b.used_m3, 1e-3, "water used");
            close(a.drawn_m3, b.drawn_m3, 1e-3, "water drawn");
            close(a.shaft_energy_j, b.shaft_energy_j, 1e3, "shaft work");
            close(a.supply_energy_j, b.supply_energy_j, 1e3, "energy");

            // The same things happen in the same order, and their times stay together.
            let (a, b) = (quick.events(), whole.events());
            assert_eq!(a.len(), b.len(), "{what}");
            for (a, b) in a.iter().zip(b) {
                assert_eq!(a.kind, b.kind, "{what} at {} s", a.time_s);
                let late = (a.time_s - b.time_s).abs();
                let allowed = 1e-3 + 1e-5 * b.time_s;
                assert!(late < allowed, "{what}: {:?} {late} s apart", a.kind);
            }

            // What only spoils things creeps as it does: heat in the pump and the winding.
            for name in ["pump_water_temperature", "winding_temperature"] {
                let off = channel(&quick, name) - channel(&whole, name);
                assert!(off.abs() < 0.3, "{what}: {name} {off} K apart");
            }

            let (before, after) = (plant(case, is_shut_off).balance(), quick.balance());
            let off = after.water_m3 - before.water_m3;
            assert!(off.abs() < 1e-9, "{what}: {off} m³ of water");
        }
    }
    assert!(repeated_somewhere >= 8, "{repeated_somewhere} of 12 repeat");
}

#[test]
fn repeats_make_chatter_several_times_cheaper() {
    let case = ("garden-shed", "check_valve.stuck_open=0.2", 0.0);
    let mut quick = plant(case, true);
    let mut whole = plant(case, true).without_repeats();
    quick.advance_to(END).unwrap();
    whole.advance_to(END).unwrap();
    assert!(
        5 * quick.work().accepted < whole.work().accepted,
        "{:?} and {:?}",
        quick.work(),
        whole.work()
    );
}

#[test]
fn a_cycle_on_record_goes_on_through_a_snapshot_and_ends_with_a_command() {
    let case = ("garden-shed", "check_valve.stuck_open=0.2", 0.0);
    let mut straight = plant(case, true);
    straight
        .advance_to(Tick(60 * Tick::PER_SECOND + 7))
        .unwrap();
    assert!(straight.work().repeated > 0);
    let text = serde_json::to_string(&straight.snapshot()).unwrap();
    let kept: PlantState = serde_json::from_str(&text).unwrap();
    let mut resumed = plant(case, true);
    resumed.restore(kept);
    for plant in [&mut straight, &mut resumed] {
        plant.advance_to(Tick(80 * Tick::PER_SECOND)).unwrap();
    }
    assert_eq!(straight.digest(), resumed.digest());

    // The tank valve opened: the record of the chatter must not outlive it.
    let repeated = straight.work().repeated;
    straight.apply(Command::SetTankValve(1.0)).unwrap();
    straight.apply(Command::SetBreaker(false)).unwrap();
    straight.advance_to(Tick(90 * Tick::PER_SECOND)).unwrap();
    assert_eq!(straight.work().repeated, repeated);
    assert!(!straight.is_powered());
}
