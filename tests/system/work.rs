//! What runs cost, pinned in steps: a wrong Jacobian gives right answers and twenty times
//! the work, and no other test would notice.
//!
//! Update with `INSTA_UPDATE=always` when a change means to alter steps; its message says
//! which runs became cheaper or dearer, and why that is worth it.

use std::fmt::Write as _;

use sim_core::faults::Fault;
use sim_core::plant::{Command, Plant, Start, Tick};
use sim_core::site::SiteSpec;

use crate::support::sites;

/// A site whose pump answers to pressure alone.
fn plain(name: &str) -> SiteSpec {
    let mut site = sites::shipped(name);
    if let Some(wiring) = &mut site.wiring {
        wiring.low_pressure_cut_off = None;
    }
    site
}

fn charged(site: &SiteSpec, fault: Option<&str>) -> Plant {
    let faults: Vec<Fault> = fault
        .iter()
        .map(|text| Fault::parse(text).unwrap())
        .collect();
    Plant::build(site, &faults, Start::Charged).unwrap()
}

fn go(plant: &mut Plant, seconds: u64) {
    let ticks = seconds * Tick::PER_SECOND;
    plant.advance_to(Tick(plant.now().0 + ticks)).unwrap();
}

/// A fixture open for a time.
fn draw(plant: &mut Plant, fixture: usize, opening: f64, seconds: u64) {
    let set = |opening| Command::SetFixture { fixture, opening };
    plant.apply(set(opening)).unwrap();
    go(plant, seconds);
    plant.apply(set(0.0)).unwrap();
}

/// A day of a household's draws, evenly strewn, each fixture in turn.
fn day(plant: &mut Plant, draws: u64) {
    let every_s = 86_400 / draws;
    for i in 0..draws {
        let fixture = i as usize % plant.controls().fixture_openings.len();
        let length_s = (10 + 37 * (i % 5)).min(every_s / 2);
        draw(plant, fixture, 0.6, length_s);
        go(plant, every_s - length_s);
    }
}

fn first_fill(site: &SiteSpec) -> Plant {
    let mut plant = Plant::build(site, &[], Start::Dry).unwrap();
    for command in [
        Command::Prime,
        Command::SetDrain(1.0),
        Command::SetBreaker(true),
    ] {
        plant.apply(command).unwrap();
    }
    go(&mut plant, 600);
    plant.apply(Command::SetDrain(0.0)).unwrap();
    go(&mut plant, 300);
    plant
}

#[test]
fn standard_runs_take_the_steps_they_took() {
    let mut table = String::from(
        "site             run                          accepted  rejected   rates  repeated  starts\n",
    );
    for name in ["orchard-cottage", "hill-farm", "garden-shed"] {
        let site = plain(name);
        let mut row = |what: &str, plant: &Plant| {
            let (work, starts) = (plant.work(), plant.totals().pump_starts);
            writeln!(
                table,
                "{name:<16} {what:<28} {:>8}  {:>8}  {:>6}  {:>8}  {starts:>6}",
                work.accepted, work.rejected, work.rates, work.repeated
            )
            .unwrap();
        };

        let mut plant = charged(&site, None);
        go(&mut plant, 86_400);
        row("idle day", &plant);

        let mut plant = charged(&site, None);
        draw(&mut plant, 0, 1.0, 120);
        go(&mut plant, 600);
        row("a draw of two minutes", &plant);

        row("first fill", &first_fill(&site));

        for draws in [60, 240] {
            let mut plant = charged(&site, None);
            day(&mut plant, draws);
            row(&format!("a day of {draws} draws"), &plant);
        }

        let mut plant = charged(&site, Some("tank.torn_bladder=2"));
        draw(&mut plant, 0, 1.0, 600);
        row("waterlogged, 10 min of draw", &plant);

        let mut plant = charged(&site, Some("house.leak=0.5"));
        go(&mut plant, 600);
        row("leak of 0.5 gpm, 10 min", &plant);

        let mut plant = charged(&site, Some("check_valve.stuck_open"));
        draw(&mut plant, 0, 1.0, 600);
        row("check stuck open, 10 min", &plant);
    }
    insta::assert_snapshot!(table);
}

#[test]
fn an_idle_day_costs_next_to_nothing_and_a_draw_little() {
    // Bounds beside the snapshot, so that an update out of habit is caught.
    for name in ["orchard-cottage", "hill-farm", "garden-shed"] {
        let site = plain(name);
        let mut idle = charged(&site, None);
        go(&mut idle, 86_400);
        assert!(idle.work().accepted < 100, "{name}: {:?}", idle.work());
        let mut busy = charged(&site, None);
        day(&mut busy, 60);
        assert!(busy.work().accepted < 60 * 200, "{name}: {:?}", busy.work());
    }
}
