//! Whoever does something dangerous rightly is told what makes it so, each time.

use std::sync::Arc;

use sim_core::catalog::PartId;
use sim_core::scenario::{Role, Scenario, ShippedSites, shipped};
use sim_core::session::{
    Action, Cover, Mode, Moment, Observation, Probe, Repair, Station, Tool, Visit,
};
use sim_core::units::convert::PSI;

/// A site without a fault, or with one, for a qualified person who carries everything.
fn visit(site: &str, faults: &str) -> Visit {
    let first = shipped()
        .iter()
        .find(|scenario| scenario.name == "first-steps")
        .unwrap();
    let text = first.text.replacen("orchard-cottage", site, 1).replacen(
        "(fault: \"house_valve.left_shut\")",
        faults,
        1,
    );
    let mut scenario = Scenario::parse("first-steps.ron", text, &ShippedSites).unwrap();
    scenario.role = Role::Qualified;
    scenario.kit = Tool::ALL.to_vec();
    Visit::begin(&Arc::new(scenario), 1, Mode::Practice).unwrap()
}

fn go(to: Station) -> Action {
    Action::Go { to }
}

fn open(cover: Cover) -> Action {
    Action::OpenCover { cover }
}

fn measure(meter: Probe, from: &str, to: Option<&str>) -> Action {
    Action::Measure {
        meter,
        from: from.to_owned(),
        to: to.map(str::to_owned),
        moment: Moment::Now,
    }
}

/// From the wall: the breaker locked off, back at the wall.
fn locked() -> Vec<Action> {
    vec![go(Station::Panel), Action::LockOut, go(Station::Wall)]
}

/// From the wall: locked off, the switch's cover open, proved dead.
fn dead_at_the_wall() -> Vec<Action> {
    [locked(), vec![open(Cover::Switch), Action::ProveDead]].concat()
}

/// From the wall: locked off and proved dead at the splice box.
fn dead_at_the_splice() -> Vec<Action> {
    vec![
        go(Station::Panel),
        Action::LockOut,
        go(Station::Splice),
        open(Cover::Splice),
        Action::ProveDead,
    ]
}

/// From the wall: locked off and the water let out.
fn without_pressure() -> Vec<Action> {
    let drain = Action::SetDrain { opening: 1.0 };
    [locked(), vec![drain, Action::Wait { seconds: 1_200.0 }]].concat()
}

/// From the wall: the pump out of the cistern.
fn pump_out() -> Vec<Action> {
    let pull = [
        Action::CallHelper,
        go(Station::Source),
        open(Cover::Source),
        Action::PullPump,
    ];
    [dead_at_the_splice(), pull.to_vec()].concat()
}

/// Does what goes before and then the act; its cautions must say all of `words`.
#[track_caller]
fn warned(visit: &mut Visit, before: &[Action], act: &Action, words: &[&str]) {
    for action in before.iter().chain([act]) {
        let outcome = visit
            .perform(action)
            .unwrap_or_else(|refusal| panic!("{action:?}: {refusal}"));
        assert!(
            outcome.hazard.is_none(),
            "{action:?}: {:?}",
            outcome.hazard.map(|hazard| hazard.kind)
        );
        if action == act {
            let told = outcome.cautions.join(" ");
            assert!(!outcome.cautions.is_empty(), "{act:?} has no caution");
            for word in words {
                assert!(
                    told.contains(word),
                    "{act:?} says nothing of {word}: {told}"
                );
            }
        }
    }
}

/// The same on a healthy cottage: a submersible pump in a cistern.
#[track_caller]
fn at_the_cottage(before: &[Action], act: &Action, words: &[&str]) {
    warned(&mut visit("orchard-cottage", ""), before, act, words);
}

#[test]
fn at_covers() {
    let dress = Action::DressForLiveWork;
    let live = ["mains voltage", "licensed practice"];
    at_the_cottage(
        &[dress.clone(), go(Station::Panel)],
        &open(Cover::Panel),
        &["mains voltage", "stay live whatever is locked"],
    );
    at_the_cottage(std::slice::from_ref(&dress), &open(Cover::Switch), &live);
    at_the_cottage(&[dress, go(Station::Splice)], &open(Cover::Splice), &live);
    at_the_cottage(
        &[go(Station::Source)],
        &open(Cover::Source),
        &["disinfection", "local authority", "Nobody climbs in"],
    );
    at_the_cottage(
        &[go(Station::Source), open(Cover::Source)],
        &Action::Look { at: None },
        &["from outside", "Nobody climbs in"],
    );
}

#[test]
fn at_lock_and_proof() {
    at_the_cottage(
        &[go(Station::Panel)],
        &Action::LockOut,
        &["not yet proved dead"],
    );
    at_the_cottage(
        &[locked(), vec![open(Cover::Switch)]].concat(),
        &Action::ProveDead,
        &["this place and this lock"],
    );
    at_the_cottage(&locked(), &Action::DischargeCapacitor, &["resistor"]);
    at_the_cottage(
        &[locked(), vec![go(Station::Panel)]].concat(),
        &Action::RemoveLock,
        &["everybody clear"],
    );
    at_the_cottage(
        &dead_at_the_splice(),
        &Action::TakeLeadsApart,
        &["lock stays on"],
    );
    at_the_cottage(
        &[dead_at_the_splice(), vec![Action::TakeLeadsApart]].concat(),
        &Action::JoinLeads,
        &["wet places", "earth conductor"],
    );
}

#[test]
fn at_meters() {
    let dressed = [Action::DressForLiveWork, open(Cover::Switch)];
    let live = ["qualified", "rated", "one hand", "29 CFR 1910.333"];
    for meter in [Probe::Volts, Probe::LowImpedanceVolts] {
        let act = measure(meter, "switch.line1", Some("switch.load1"));
        at_the_cottage(&dressed, &act, &live);
    }
    for meter in [Probe::Clamp, Probe::Inrush, Probe::Power] {
        at_the_cottage(&dressed, &measure(meter, "switch.line1", None), &live);
    }
    // Locked off is not proved, and the panel stays live above its breaker.
    at_the_cottage(
        &[locked(), vec![open(Cover::Switch)]].concat(),
        &measure(Probe::Volts, "switch.line1", Some("switch.load1")),
        &live,
    );
    at_the_cottage(
        &[
            Action::DressForLiveWork,
            go(Station::Panel),
            Action::LockOut,
            open(Cover::Panel),
            Action::ProveDead,
        ],
        &measure(Probe::Volts, "panel.line1", Some("panel.neutral")),
        &live,
    );
    at_the_cottage(
        &[dead_at_the_splice(), vec![Action::TakeLeadsApart]].concat(),
        &measure(Probe::Insulation, "splice.pump1", Some("splice.earth")),
        &["Announce", "500 V", "discharged after"],
    );
    at_the_cottage(
        &[dead_at_the_wall(), vec![Action::DischargeCapacitor]].concat(),
        &measure(Probe::Capacitance, "switch.load1", Some("switch.load2")),
        &["charged until"],
    );
    at_the_cottage(
        &[],
        &Action::Feel {
            part: PartId::PressureSwitch,
        },
        &["Back of the hand", "lost its earth"],
    );
}

#[test]
fn a_circuit_that_is_locked_out_and_proved_dead_is_not_called_live() {
    let mut visit = visit("orchard-cottage", "");
    for action in dead_at_the_wall() {
        visit.perform(&action).unwrap();
    }
    let volts = measure(Probe::Volts, "switch.line1", Some("switch.load1"));
    assert_eq!(visit.perform(&volts).unwrap().cautions, [] as [String; 0]);
}

#[test]
fn at_tank_switch_and_drain() {
    let air = Action::SetAir {
        pressure: 38.0 * PSI,
    };
    at_the_cottage(&without_pressure(), &air, &["tank drained", "rating"]);
    at_the_cottage(&[], &Action::PressAirValve, &["Face aside"]);
    at_the_cottage(
        &dead_at_the_wall(),
        &Action::AdjustSwitch {
            cut_in: 30.0 * PSI,
            cut_out: 50.0 * PSI,
        },
        &[
            "beside the terminals",
            "ratings",
            "precharge",
            "common practice",
        ],
    );
    let tank = Action::Replace { part: PartId::Tank };
    let helped = [without_pressure(), vec![Action::CallHelper]].concat();
    at_the_cottage(
        &helped,
        &tank,
        &["two people", "under pressure", "maker's air"],
    );
    at_the_cottage(
        &[],
        &Action::SetDrain { opening: 0.3 },
        &["under pressure", "lock the power off"],
    );
    let port = sim_core::session::Port::Tee;
    at_the_cottage(
        &without_pressure(),
        &Action::FitGauge { port },
        &["under pressure"],
    );
    at_the_cottage(
        &dead_at_the_splice(),
        &Action::Repair {
            part: PartId::Splice,
            how: Repair::Tighten,
        },
        &["proved dead", "qualified person"],
    );
}

#[test]
fn at_the_source() {
    let pull = [
        dead_at_the_splice(),
        vec![Action::CallHelper, go(Station::Source), open(Cover::Source)],
    ]
    .concat();
    let hoist = ["Two people", "hoist", "nobody leans in"];
    at_the_cottage(&pull, &Action::PullPump, &hoist);
    at_the_cottage(&pump_out(), &Action::LowerPump { vented: true }, &hoist);
    let at_source = [go(Station::Source), open(Cover::Source)];
    at_the_cottage(
        &at_source,
        &Action::Disinfect,
        &["local authority", "never mix chlorine with acid"],
    );
    at_the_cottage(
        &at_source,
        &Action::Repair {
            part: PartId::Source,
            how: Repair::Refill,
        },
        &["local authority", "above the water"],
    );
    at_the_cottage(
        &[go(Station::Source)],
        &Action::Vent,
        &["under pressure", "scald"],
    );
}

#[test]
fn at_a_jet_pump() {
    warned(
        &mut visit("garden-shed", ""),
        &without_pressure(),
        &Action::Prime,
        &["Power off", "drinking water"],
    );
    warned(
        &mut visit("garden-shed", "(fault: \"pressure_switch.frozen_port\")"),
        &[
            without_pressure(),
            vec![open(Cover::Switch), Action::ProveDead],
        ]
        .concat(),
        &Action::Repair {
            part: PartId::PressureSwitch,
            how: Repair::Thaw,
        },
        &["never a flame"],
    );
    warned(
        &mut visit("hill-farm", "(fault: \"pressure_switch.cut_off_tripped\")"),
        &[],
        &Action::HoldLever { held: true },
        &["running dry", "common practice"],
    );
}

#[test]
fn at_a_breaker_that_has_tripped() {
    for act in [
        Action::SetBreaker { on: true },
        Action::Repair {
            part: PartId::Breaker,
            how: Repair::Reset,
        },
    ] {
        warned(
            &mut visit("orchard-cottage", "(fault: \"breaker.tripped\")"),
            &[go(Station::Panel)],
            &act,
            &["Reset once", "lock out and measure"],
        );
    }
}

#[test]
fn readings_by_eye_need_none() {
    let mut visit = visit("orchard-cottage", "");
    for act in [Action::ReadGauge, Action::Look { at: None }, Action::Listen] {
        let outcome = visit.perform(&act).unwrap();
        assert!(outcome.cautions.is_empty(), "{act:?} cries wolf");
        let is_dial = |entry: &sim_core::session::Entry| {
            matches!(entry.observation, Observation::Reading { .. })
        };
        assert!(act != Action::ReadGauge || outcome.readings.iter().any(is_dial));
    }
}
