//! Each cue with the state that makes it, and the healthy twin that is silent.

use super::*;
use crate::faults::Fault;
use crate::parts::{CheckValveSpec, FlowRating};
use crate::plant::{Command, EventKind, Start, Tick};
use crate::site::SiteSpec;
use crate::units::{CubicMetersPerSecond, Meters, Pascals, Seconds};

const SITES: [(&str, &str); 3] = [
    (
        "orchard-cottage",
        include_str!("../../../scenarios/sites/orchard-cottage.ron"),
    ),
    (
        "hill-farm",
        include_str!("../../../scenarios/sites/hill-farm.ron"),
    ),
    (
        "garden-shed",
        include_str!("../../../scenarios/sites/garden-shed.ron"),
    ),
];

fn site(name: &str) -> SiteSpec {
    let (name, text) = SITES.iter().find(|(n, _)| *n == name).unwrap();
    crate::site::parse(&format!("{name}.ron"), text).unwrap()
}

fn cottage() -> SiteSpec {
    site("orchard-cottage")
}

/// A plant with a person at it, who has heard everything since they came.
struct Person {
    plant: Plant,
    events: Vec<Event>,
    ticks: u64,
    pump_is_out: bool,
}

impl Person {
    fn at(site: &SiteSpec, faults: &[&str], start: Start) -> Self {
        let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
        Self {
            plant: Plant::build(site, &faults, start).unwrap(),
            events: Vec::new(),
            ticks: 0,
            pump_is_out: false,
        }
    }

    fn charged(site: &SiteSpec, faults: &[&str]) -> Self {
        Self::at(site, faults, Start::Charged)
    }

    fn does(&mut self, command: Command) {
        self.plant.apply(command).unwrap();
    }

    fn outlet(&mut self, name: &str, opening: f64) {
        let fixtures = &self.plant.site().house.fixtures;
        let fixture = fixtures.iter().position(|f| f.name == name).unwrap();
        self.does(Command::SetFixture { fixture, opening });
    }

    /// Lets time pass, with new ears.
    fn waits(&mut self, seconds: f64) -> &mut Self {
        let from = self.plant.now();
        let to = Tick::at_or_after(Seconds(from.seconds() + seconds));
        self.plant.take_events();
        self.plant.advance_to(to).unwrap();
        self.events = self.plant.take_events();
        self.ticks = to.0 - from.0;
        self
    }

    /// Waits for something, with new ears, at most an hour.
    fn waits_for(&mut self, kind: EventKind) -> &mut Self {
        let from = self.plant.now();
        self.plant.take_events();
        let limit = Tick(from.0 + 3_600 * Tick::PER_SECOND);
        let event = self.plant.advance_until(limit, |e| e.kind == kind).unwrap();
        assert!(event.is_some(), "no {kind:?} within an hour");
        self.events = self.plant.take_events();
        self.ticks = self.plant.now().0 - from.0;
        self
    }

    fn attention<'a>(&'a self, station: Station, open: &'a [Cover]) -> Attention<'a> {
        Attention {
            station,
            open,
            events: &self.events,
            ticks: self.ticks,
            pump_is_out: self.pump_is_out,
        }
    }

    fn perceives(&self, station: Station, sense: Sense) -> Vec<Cue> {
        perceive(&self.plant, &self.attention(station, &Cover::ALL), sense)
    }

    #[track_caller]
    fn finds(&self, station: Station, sense: Sense, name: &str) -> Cue {
        let cues = self.perceives(station, sense);
        let found = cues.iter().find(|cue| cue.name == name).cloned();
        found.unwrap_or_else(|| panic!("no {name} at {}: {cues:#?}", station.name()))
    }

    #[track_caller]
    fn lacks(&self, station: Station, sense: Sense, name: &str) {
        let cues = self.perceives(station, sense);
        assert!(cues.iter().all(|cue| cue.name != name), "{cues:#?}");
    }
}

use Sense::{Hearing, Sight, Smell, Touch};
use Station::{House, Panel, Source, Splice, Wall};

/// Cues that nobody need worry about.
const CALM: &[&str] = &[
    "motor_hum",
    "motor_starting",
    "motor_coasting",
    "water_rush",
    "outlet_running",
    "switch_click",
    "needle_rising",
    "needle_falling",
    "needle_steady",
    "house_valve_handle",
    "tank_valve_handle",
    "drain_handle",
    "source_valve_handle",
    "lever_up",
    "contacts_together",
    "contacts_apart",
    "breaker_on",
    "tank_plate",
    "motor_nameplate",
    "filter_clear",
    "outlets_shut",
    "outlet_flowing",
    "joints_clean",
    "source_level",
    "intake_under_water",
    "float_as_the_water",
    "pump_vibrates",
    "pipe_vibrates",
    "motor_warm",
    "pipe_cold",
];

#[test]
fn a_healthy_system_gives_no_alarm_at_rest_running_or_stopping() {
    for (name, _) in SITES {
        let check = |person: &Person, when: &str| {
            for station in Station::ALL {
                for sense in Sense::ALL {
                    for cue in person.perceives(station, sense) {
                        assert!(
                            CALM.contains(&cue.name.as_str()),
                            "{name} {when} at {}: {cue:#?}",
                            station.name()
                        );
                    }
                }
            }
        };
        let mut person = Person::charged(&site(name), &[]);
        check(person.waits(60.0), "at rest");
        let outlet = person.plant.site().house.fixtures[0].name.clone();
        person.outlet(&outlet, 1.0);
        check(person.waits_for(EventKind::PumpStarted), "starting");
        for _ in 0..20 {
            check(person.waits(0.1), "running up");
        }
        check(person.waits(10.0), "running");
        person.outlet(&outlet, 0.0);
        check(person.waits_for(EventKind::PumpStopped), "stopping");
        for _ in 0..20 {
            check(person.waits(0.1), "running down");
        }
        check(person.waits(600.0), "at rest again");
    }
}

/// Draws until the pump starts, and a little longer.
fn running(site: &SiteSpec, faults: &[&str], seconds: f64) -> Person {
    let mut person = Person::charged(site, faults);
    let outlet = site.house.fixtures.last().unwrap().name.clone();
    person.outlet(&outlet, 1.0);
    person.waits_for(EventKind::ContactsClosed);
    let events = person.events.clone();
    person.waits(seconds);
    person.events.splice(0..0, events);
    person
}

#[test]
fn a_submersible_is_clear_under_its_open_lid_and_faint_at_the_wall() {
    let person = running(&cottage(), &[], 10.0);
    let at_source = person.finds(Source, Hearing, "motor_hum").level;
    let at_wall = person.finds(Wall, Hearing, "motor_hum").level;
    let lid_shut = perceive(&person.plant, &person.attention(Source, &[]), Hearing);
    let shut = lid_shut
        .iter()
        .find(|c| c.name == "motor_hum")
        .unwrap()
        .level;
    assert!(
        at_source > shut && shut > at_wall,
        "{at_source} {shut} {at_wall}"
    );
    assert!(at_wall < 0.15);
    person.lacks(House, Hearing, "motor_hum");
}

#[test]
fn a_jet_pump_stands_at_the_wall_and_shows_its_plate() {
    let person = running(&site("garden-shed"), &[], 10.0);
    assert!(person.finds(Wall, Hearing, "motor_hum").level > 0.4);
    person.finds(Wall, Sight, "motor_nameplate");
    person.finds(Wall, Touch, "pump_vibrates");
}

#[test]
fn a_held_shaft_growls_and_an_open_start_winding_too() {
    for fault in ["pump.jammed", "motor.open_start_capacitor"] {
        let person = running(&cottage(), &[fault], 1.0);
        person.finds(Source, Hearing, "locked_rotor_growl");
        person.lacks(Source, Hearing, "motor_hum");
    }
}

#[test]
fn an_air_bound_pump_hums_lightly_and_moves_nothing() {
    let person = running(&cottage(), &["pump.air_lock"], 10.0);
    person.finds(Source, Hearing, "motor_hum_light");
    person.lacks(Wall, Hearing, "water_rush");
}

#[test]
fn low_voltage_is_heard_as_labour_or_as_a_growl() {
    let person = running(&cottage(), &["supply.wrong_voltage=75"], 3.0);
    let names: Vec<String> = person
        .perceives(Source, Hearing)
        .into_iter()
        .map(|c| c.name)
        .collect();
    let laboured = ["motor_hum_laboured", "locked_rotor_growl"];
    assert!(
        names.iter().any(|n| laboured.contains(&n.as_str())),
        "{names:?}"
    );
}

#[test]
fn an_open_circuit_leaves_the_click_without_a_hum() {
    let person = running(&cottage(), &["splice.open"], 1.0);
    person.finds(Wall, Hearing, "switch_click");
    person.finds(Wall, Hearing, "silent_motor");
    person.lacks(Source, Hearing, "motor_hum");
    // With the main winding open the start winding alone still growls.
    let person = running(&cottage(), &["motor.open_winding"], 1.0);
    person.finds(Source, Hearing, "locked_rotor_growl");
    running(&cottage(), &[], 1.0).lacks(Wall, Hearing, "silent_motor");
}

#[test]
fn burnt_contacts_buzz_and_look_it_and_welded_ones_look_sound() {
    let burnt = running(&cottage(), &["pressure_switch.burnt_contacts=2"], 5.0);
    burnt.finds(Wall, Hearing, "contact_buzz");
    burnt.finds(Wall, Sight, "contacts_pitted");
    let covered = perceive(&burnt.plant, &burnt.attention(Wall, &[]), Sight);
    assert!(covered.iter().all(|c| !c.name.starts_with("contacts")));
    let welded = running(&cottage(), &["pressure_switch.welded_contacts"], 5.0);
    welded.finds(Wall, Sight, "contacts_together");
    welded.lacks(Wall, Sight, "contacts_pitted");
    welded.lacks(Wall, Hearing, "contact_buzz");
}

#[test]
fn a_pump_that_cannot_be_stopped_makes_the_relief_valve_run() {
    let mut person = running(&cottage(), &["pressure_switch.welded_contacts"], 5.0);
    person.outlet("washer", 0.0);
    person.waits(300.0);
    person.finds(Wall, Hearing, "relief_running");
    person.finds(Wall, Sight, "relief_discharging");
}

#[test]
fn a_bad_joint_is_warm_and_smells_before_it_is_seen() {
    let mut person = running(&cottage(), &["splice.high_resistance=1.5"], 60.0);
    for _ in 0..40 {
        person.waits(60.0);
        if person
            .perceives(Splice, Smell)
            .iter()
            .any(|c| c.name == "hot_joint_smell")
        {
            break;
        }
    }
    person.finds(Splice, Touch, "box_warm");
    person.finds(Splice, Smell, "hot_joint_smell");
    person.lacks(Wall, Touch, "box_warm");
}

#[test]
fn water_running_back_is_heard_at_the_source_and_faintly_at_the_wall() {
    let mut person = Person::charged(&cottage(), &["check_valve.stuck_open"]);
    person.waits(2.0);
    let source = person.finds(Source, Hearing, "water_running_back").level;
    let wall = person.finds(Wall, Hearing, "water_running_back").level;
    assert!(source > 0.3 && wall < 0.2, "{source} {wall}");
    person.lacks(House, Hearing, "water_running_back");
}

#[test]
fn a_house_leak_is_heard_in_the_house_alone_and_a_buried_one_wets_the_ground() {
    let mut person = Person::charged(&cottage(), &["house.leak=0.5"]);
    person.waits(5.0);
    person.finds(House, Hearing, "water_in_house");
    person.finds(House, Sight, "wet_patch_in_house");
    person.lacks(Source, Hearing, "water_in_house");
    person.waits(3_600.0);
    person.lacks(Source, Sight, "wet_ground");

    let mut buried = Person::charged(&cottage(), &["run.leak=0.5"]);
    buried.waits(60.0);
    buried.lacks(Source, Sight, "wet_ground");
    buried.waits(3_600.0);
    buried.finds(Source, Sight, "wet_ground");
    buried.finds(Splice, Sight, "wet_ground");
    buried.lacks(Source, Hearing, "jet_in_source");
}

#[test]
fn a_hole_in_the_riser_is_a_jet_in_the_source() {
    // The same hole, with a riser that reaches above it.
    let mut site = cottage();
    site.run[0].rise = Meters(site.run[0].rise.si() + 0.4);
    site.run[1].rise = Meters(site.run[1].rise.si() - 0.4);
    let mut person = Person::charged(&site, &["run.leak=0.5"]);
    person.waits(5.0);
    person.finds(Source, Hearing, "jet_in_source");
    person.finds(Source, Sight, "jet_seen_in_source");
    person.waits(3_600.0);
    person.lacks(Source, Sight, "wet_ground");
}

#[test]
fn a_waterlogged_tank_swings_the_needle_and_gives_water_at_its_air_valve() {
    let mut person = Person::charged(&cottage(), &["tank.torn_bladder=0.5"]);
    person.outlet("kitchen-tap", 1.0);
    person.waits(120.0);
    let heard = heard_while(&person.plant, &person.attention(Source, &[]));
    assert!(heard.iter().any(|c| c.name == "pump_started_often"));
    person.finds(Wall, Sight, "needle_swinging");
    assert_eq!(press_air_valve(&person.plant).name, "air_valve_water");
    assert!(knock_tank(&person.plant).caption.contains("dull and heavy"));
}

#[test]
fn without_a_tank_the_switch_chatters_and_the_needle_is_a_blur() {
    let mut person = Person::charged(&cottage(), &[]);
    person.does(Command::SetTankValve(0.0));
    person.outlet("kitchen-tap", 1.0);
    person.waits(20.0);
    person.finds(Wall, Hearing, "switch_chatter");
    person.lacks(Wall, Hearing, "switch_click");
    person.finds(Wall, Sight, "needle_blurred");
}

#[test]
fn a_sound_tank_gives_air_and_turns_its_tone_part_of_the_way_up() {
    let mut person = Person::charged(&cottage(), &[]);
    person.waits(1.0);
    assert_eq!(press_air_valve(&person.plant).name, "air_valve_air");
    let knock = knock_tank(&person.plant);
    let share = person.plant.conditions().tank_water_share;
    assert!((knock.level - share).abs() < 1e-12 && (0.2..0.5).contains(&share));
    assert!(knock.caption.contains("tenths"), "{}", knock.caption);
    let empty = Person::at(&cottage(), &[], Start::Primed);
    assert!(knock_tank(&empty.plant).caption.contains("hollow from top"));
}

#[test]
fn low_water_shows_at_intake_and_float() {
    let mut low = Person::charged(&site("garden-shed"), &["source.low=0.2"]);
    low.waits(1.0);
    low.finds(Source, Sight, "intake_above_water");
    let mut stuck = Person::charged(&cottage(), &["float_switch.stuck_open"]);
    stuck.waits(1.0);
    stuck.finds(Source, Sight, "float_down_in_high_water");
    let mut held = Person::charged(&cottage(), &["float_switch.stuck_closed", "source.low=0.2"]);
    held.waits(1.0);
    held.finds(Source, Sight, "float_up_in_low_water");
    let shut = perceive(&held.plant, &held.attention(Source, &[]), Sight);
    assert!(
        shut.iter()
            .all(|c| c.part != crate::catalog::PartId::FloatSwitch)
    );
}

#[test]
fn a_choked_suction_rattles() {
    let person = running(&site("garden-shed"), &["intake.clogged_screen=0.98"], 20.0);
    let at_wall = person.finds(Wall, Hearing, "cavitation_rattle").level;
    assert!(at_wall > 0.2);
    assert!(person.finds(House, Hearing, "cavitation_rattle").level < 0.5 * at_wall);
    // Its healthy twin, drawn as hard.
    running(&site("garden-shed"), &[], 20.0).lacks(Wall, Hearing, "cavitation_rattle");
}

#[test]
fn a_first_fill_hisses_then_spits_then_runs_solid() {
    let mut person = Person::at(&cottage(), &[], Start::Dry);
    person.does(Command::HoldLever(true));
    person.does(Command::SetDrain(1.0));
    person.does(Command::SetBreaker(true));
    person.waits(5.0);
    person.finds(Wall, Hearing, "air_hiss");
    person.waits_for(EventKind::WaterArrived);
    let mut has_spat = false;
    for _ in 0..50 {
        person.waits(0.2);
        has_spat |= person
            .perceives(Wall, Hearing)
            .iter()
            .any(|c| c.name == "spitting");
    }
    assert!(has_spat);
    person.waits(120.0);
    person.lacks(Wall, Hearing, "air_hiss");
    person.finds(Wall, Hearing, "drain_running");
}

#[test]
fn a_dead_headed_pump_warms_its_pipe() {
    let mut person = running(&cottage(), &["check_valve.stuck_shut"], 5.0);
    person.waits(900.0);
    person.finds(Source, Touch, "pump_warm");
    person.lacks(Source, Hearing, "motor_hum_laboured");
}

fn event(time_s: f64, kind: EventKind, flow: f64) -> Event {
    Event {
        time_s,
        kind,
        tee_pressure_pa: 3e5,
        pump_flow_m3_per_s: flow,
    }
}

#[test]
fn a_check_valve_that_shuts_late_thumps_by_its_surge() {
    let level = |flow: f64| {
        let mut person = Person::charged(&cottage(), &[]);
        person.events = vec![event(1.0, EventKind::CheckShut, -flow)];
        let cues = person.perceives(Wall, Hearing);
        cues.iter()
            .find(|c| c.name == "check_valve_thump")
            .map_or(0.0, |c| c.level)
    };
    assert!(level(0.0) == 0.0 && level(2e-4) > 0.2 && level(6e-4) > level(2e-4));
}

#[test]
fn a_void_that_closes_bangs_on_start_but_an_air_cushion_does_not() {
    let mut site = site("hill-farm");
    site.wall.check = Some(CheckValveSpec {
        cracking_pressure: Pascals(2_000.0),
        forward: FlowRating {
            flow: CubicMetersPerSecond(8e-4),
            drop: Pascals(4_000.0),
        },
    });
    let mut person = Person::charged(&site, &[]);
    person.events = vec![
        event(1.0, EventKind::PumpStarted, 0.0),
        event(2.0, EventKind::WaterArrived, 8e-4),
    ];
    person.finds(Wall, Hearing, "bang_on_start");
    person.events[1].time_s = 200.0;
    person.lacks(Wall, Hearing, "bang_on_start");
    let mut dry = Person::at(&site, &[], Start::Dry);
    dry.events = person.events.clone();
    dry.events[1].time_s = 2.0;
    dry.lacks(Wall, Hearing, "bang_on_start");
}

#[test]
fn a_breaker_that_trips_snaps_and_stands_in_the_middle() {
    let mut person = Person::charged(&cottage(), &["pump.jammed"]);
    person.outlet("washer", 1.0);
    let from = person.plant.now();
    for _ in 0..360 {
        person.waits(10.0);
        if person
            .events
            .iter()
            .any(|e| e.kind == EventKind::BreakerTripped)
        {
            break;
        }
    }
    assert!(person.plant.now() > from);
    if person
        .events
        .iter()
        .any(|e| e.kind == EventKind::BreakerTripped)
    {
        person.finds(Panel, Hearing, "breaker_snap");
        person.finds(Panel, Sight, "breaker_tripped");
    } else {
        // The motor's own protector was quicker all the time.
        person.finds(Panel, Sight, "breaker_on");
    }
    person.does(Command::SetBreaker(false));
    person.finds(Panel, Sight, "breaker_off");
}

#[test]
fn many_starts_boil_down_to_one_cue_with_count_and_period() {
    let mut person = Person::charged(&cottage(), &[]);
    person.events = (0..14)
        .flat_map(|i| {
            let start = f64::from(i) * 130.0;
            [
                event(start, EventKind::PumpStarted, 0.0),
                event(start + 20.0, EventKind::PumpStopped, 0.0),
            ]
        })
        .collect();
    let cues = heard_while(&person.plant, &person.attention(Source, &[]));
    assert_eq!(cues.len(), 1);
    assert_eq!(
        cues[0].caption,
        "The pump started 14 times, about every 2 min 10 s, each time for about 20 s."
    );
    assert!(heard_while(&person.plant, &person.attention(House, &[])).is_empty());
}

#[test]
fn perceiving_changes_nothing_and_says_the_same_twice() {
    let person = running(&cottage(), &["house.leak=0.5"], 5.0);
    let before = person.plant.digest();
    for station in Station::ALL {
        for sense in Sense::ALL {
            assert_eq!(
                person.perceives(station, sense),
                person.perceives(station, sense)
            );
        }
    }
    assert_eq!(person.plant.digest(), before);
}

#[test]
fn a_spoilt_winding_is_smelt_where_the_motor_can_be_reached() {
    let mut person = Person::charged(&cottage(), &[]);
    person.plant.state.modes.damage.winding = true;
    person.lacks(Source, Smell, "burnt_winding_smell");
    person.pump_is_out = true;
    person.finds(Source, Smell, "burnt_winding_smell");
    person.lacks(Wall, Smell, "burnt_winding_smell");
}
