//! Station by state: what there is to hear, see, feel and smell, for a person to read.
//!
//! When a threshold or the physics changes, look at what changed here and take the new
//! table with `INSTA_UPDATE=always`.

use std::fmt::Write as _;

use sim_core::cues::{Attention, Sense, heard_while, knock_tank, perceive, press_air_valve};
use sim_core::faults::Fault;
use sim_core::plant::{Command, Event, Plant, Start, Tick};
use sim_core::session::{Cover, Station};
use sim_core::units::Seconds;

use crate::support::sites::shipped;

/// A state: name, site, faults, start, what is opened (outlets by position, the drain), how
/// long one waits, and how long one then listens.
struct State {
    name: &'static str,
    site: &'static str,
    faults: &'static [&'static str],
    start: Start,
    outlet: f64,
    drain: f64,
    wait_s: f64,
    listen_s: f64,
}

const fn charged(
    name: &'static str,
    site: &'static str,
    faults: &'static [&'static str],
    outlet: f64,
    wait_s: f64,
) -> State {
    State {
        name,
        site,
        faults,
        start: Start::Charged,
        outlet,
        drain: 0.0,
        wait_s,
        listen_s: 30.0,
    }
}

const COTTAGE: &str = "orchard-cottage";
const FARM: &str = "hill-farm";
const SHED: &str = "garden-shed";

const STATES: &[State] = &[
    charged("at rest", COTTAGE, &[], 0.0, 60.0),
    charged("drawn from", COTTAGE, &[], 1.0, 300.0),
    charged("drawn from", FARM, &[], 1.0, 300.0),
    charged("drawn from", SHED, &[], 1.0, 300.0),
    State {
        name: "first fill through the drain",
        site: COTTAGE,
        faults: &[],
        start: Start::Dry,
        outlet: 0.0,
        drain: 1.0,
        wait_s: 0.0,
        listen_s: 8.0,
    },
    charged(
        "waterlogged",
        COTTAGE,
        &["tank.torn_bladder=0.5"],
        1.0,
        60.0,
    ),
    charged(
        "short of air",
        COTTAGE,
        &["tank.torn_bladder=10"],
        1.0,
        600.0,
    ),
    charged(
        "check valve open",
        COTTAGE,
        &["check_valve.stuck_open"],
        0.0,
        1.0,
    ),
    charged(
        "leak in the house",
        COTTAGE,
        &["house.leak=0.5"],
        0.0,
        600.0,
    ),
    charged(
        "leak in the ground",
        COTTAGE,
        &["run.leak=0.5"],
        0.0,
        7_200.0,
    ),
    charged("shaft held", COTTAGE, &["pump.jammed"], 1.0, 100.0),
    charged(
        "burnt contacts",
        COTTAGE,
        &["pressure_switch.burnt_contacts"],
        1.0,
        300.0,
    ),
    charged(
        "welded contacts",
        COTTAGE,
        &["pressure_switch.welded_contacts"],
        0.0,
        600.0,
    ),
    charged(
        "bad joint",
        COTTAGE,
        &["splice.high_resistance"],
        1.0,
        1_800.0,
    ),
    charged("open joint", COTTAGE, &["splice.open"], 1.0, 300.0),
    charged("air lock", COTTAGE, &["pump.air_lock"], 1.0, 300.0),
    charged("low source", SHED, &["source.low=0.2"], 1.0, 300.0),
    charged(
        "clogged screen",
        SHED,
        &["intake.clogged_screen=0.98"],
        1.0,
        300.0,
    ),
    charged(
        "float hangs",
        COTTAGE,
        &["float_switch.stuck_open"],
        1.0,
        600.0,
    ),
    charged(
        "check valve shut",
        COTTAGE,
        &["check_valve.stuck_shut"],
        1.0,
        900.0,
    ),
];

fn write_state(table: &mut String, state: &State) {
    let site = shipped(state.site);
    let faults: Vec<Fault> = state
        .faults
        .iter()
        .map(|f| Fault::parse(f).unwrap())
        .collect();
    let mut plant = Plant::build(&site, &faults, state.start).unwrap();
    if state.start == Start::Dry {
        plant.apply(Command::HoldLever(true)).unwrap();
        plant.apply(Command::SetBreaker(true)).unwrap();
    }
    plant.apply(Command::SetDrain(state.drain)).unwrap();
    let fixture = site.house.fixtures.len() - 1;
    let opening = state.outlet;
    plant
        .apply(Command::SetFixture { fixture, opening })
        .unwrap();
    let listen_s = state.listen_s;
    plant
        .advance_to(Tick::at_or_after(Seconds(state.wait_s)))
        .unwrap();
    plant.take_events();
    plant
        .advance_to(Tick::at_or_after(Seconds(state.wait_s + listen_s)))
        .unwrap();
    let events: Vec<Event> = plant.take_events();
    writeln!(table, "## {} ({})", state.name, state.site).unwrap();
    for station in Station::ALL {
        let attention = Attention {
            station,
            open: &Cover::ALL,
            events: &events,
            ticks: (listen_s * Tick::PER_SECOND as f64) as u64,
            pump_is_out: false,
        };
        let mut line = |what: &str, name: &str, level: f64, caption: &str| {
            writeln!(
                table,
                "{:<7}{what:<8}{name:<26}{level:.2}  {caption}",
                station.name()
            )
            .unwrap();
        };
        for (sense, what) in [
            (Sense::Hearing, "hear"),
            (Sense::Sight, "see"),
            (Sense::Touch, "feel"),
            (Sense::Smell, "smell"),
        ] {
            for cue in perceive(&plant, &attention, sense) {
                line(what, &cue.name, cue.level, &cue.caption);
            }
        }
        for cue in heard_while(&plant, &attention) {
            line("heard", &cue.name, cue.level, &cue.caption);
        }
        if station == Station::Wall {
            for cue in [knock_tank(&plant), press_air_valve(&plant)] {
                line("try", &cue.name, cue.level, &cue.caption);
            }
        }
    }
    table.push('\n');
}

#[test]
fn what_is_perceived_where() {
    let mut table = String::new();
    for state in STATES {
        write_state(&mut table, state);
    }
    insta::assert_snapshot!("what_is_perceived_where", table);
}
