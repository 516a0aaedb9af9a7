//! What the gauge at the wall tells: idle, in the proof's run, under a steady draw,
//! building, and falling with valves shut one after another.

use sim_core::session::{Action, Cover, Observation, Station, Until};
use sim_core::units::convert::{LITER, PSI};

use super::exam::{Exam, Finding};
use super::examine::part;
use super::grounds::Ground;
use super::hands::{Cut, Hands, points, rises};

/// Least swing of the needle that counts as a cycle [psi].
pub(super) const SWING_PSI: f64 = 2.0;

/// How long a start or stop of the pump is waited for [s].
pub(super) const PATIENCE_S: f64 = 900.0;

/// Opening of the drain that calls the pump and leaves it to build.
pub(super) const SMALL_DRAW: f64 = 0.1;

pub(super) const IDLE: &[&str] = &[
    "gauge_arrival",
    "idle_high",
    "idle_low",
    "idle_starts_h",
    "idle_change",
];

/// Three hours by the gauge with nobody drawing; less when the pump is seen to cycle often,
/// and a minute when it chatters.
pub(super) fn idle(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    exam.put_number("gauge_arrival", hands.gauge()?);
    hands.sense(exam, "wall idle", Action::Listen)?;
    let mut all: Vec<(f64, f64)> = Vec::new();
    for (seconds, every) in [(60.0, 0.5), (1_740.0, 2.0), (9_000.0, 10.0)] {
        let watched = hands.sense(exam, "wall idle", log(seconds, every))?;
        let from = all.last().map_or(0.0, |point| point.0);
        all.extend(points(&watched).iter().map(|(s, psi)| (from + s, *psi)));
        let chatters = watched.cues.iter().any(|cue| cue.name == "switch_chatter");
        if chatters || rises(&all, SWING_PSI) >= 5 {
            break;
        }
    }
    let psi = || all.iter().map(|point| point.1);
    exam.put_number("idle_high", psi().fold(f64::MIN, f64::max));
    exam.put_number("idle_low", psi().fold(f64::MAX, f64::min));
    let hours = all.last().map_or(0.0, |point| point.0) / 3_600.0;
    exam.put_number("idle_starts_h", rises(&all, SWING_PSI) as f64 / hours);
    let change = all.last().map_or(0.0, |p| p.1) - all.first().map_or(0.0, |p| p.1);
    exam.put_number("idle_change", change);
    Ok(())
}

pub(super) fn log(seconds: f64, every: f64) -> Action {
    Action::LogGauge { seconds, every }
}

pub(super) const PROOF: &[&str] = &[
    "cut_in",
    "cut_out",
    "run_s",
    "drawdown",
    "drawdown_due",
    "hold_fall",
    "hold_end",
];

/// The run that proves a repair, run on what is there.
pub(super) fn proof(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    let outcome = hands.sense(exam, "proof", Action::Prove)?;
    let proof = outcome
        .readings
        .iter()
        .find_map(|entry| match &entry.observation {
            Observation::Proof(proof) => Some(proof.clone()),
            _ => None,
        });
    let Some(proof) = proof else {
        return Err("no proof".to_owned());
    };
    for (name, value) in [
        ("cut_in", proof.cut_in.map(|pa| pa / PSI)),
        ("cut_out", proof.cut_out.map(|pa| pa / PSI)),
        ("run_s", proof.run_s),
        ("drawdown", proof.drawdown.map(|m3| m3 / LITER)),
        ("drawdown_due", Some(proof.drawdown_expected / LITER)),
        ("hold_end", proof.hold.map(|(_, to)| to / PSI)),
        ("hold_fall", proof.hold.map(|(from, to)| (from - to) / PSI)),
    ] {
        let finding = value.map_or_else(
            || Finding::None("it did not come to that".into()),
            Finding::Number,
        );
        exam.put(name, finding);
    }
    Ok(())
}

pub(super) const CYCLE: &[&str] = &["draw_low", "draw_high", "draw_cycles", "draw_steepest"];

/// A steady draw at the drain for ten minutes, the gauge under the eye.
pub(super) fn cycle(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    hands.act(Action::SetDrain { opening: 0.4 })?;
    let mut all: Vec<(f64, f64)> = Vec::new();
    for _ in 0..10 {
        let watched = hands.sense(exam, "wall draw", log(60.0, 0.5))?;
        let from = all.last().map_or(0.0, |point| point.0);
        all.extend(points(&watched).iter().map(|(s, psi)| (from + s, *psi)));
        if watched.cues.iter().any(|cue| cue.name == "switch_chatter") {
            break;
        }
    }
    let psi = || all.iter().map(|point| point.1);
    exam.put_number("draw_low", psi().fold(f64::MAX, f64::min));
    exam.put_number("draw_high", psi().fold(f64::MIN, f64::max));
    let minutes = all.last().map_or(0.0, |point| point.0) / 60.0;
    exam.put_number(
        "draw_cycles",
        rises(&all, SWING_PSI) as f64 * 10.0 / minutes,
    );
    let steepest = all
        .windows(2)
        .filter(|w| w[1].0 > w[0].0)
        .map(|w| (w[0].1 - w[1].1) / (w[1].0 - w[0].0))
        .fold(0.0, f64::max);
    exam.put_number("draw_steepest", steepest);
    Ok(())
}

pub(super) const BUILD: &[&str] = &["build_end", "build_s"];

/// The pump called by a small draw at the drain, and left to build; hands it out as it
/// stands then.  What never stops is given five minutes.
pub(super) fn build(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    hands.act(Action::SetDrain {
        opening: SMALL_DRAW,
    })?;
    hands.sense(exam, "wall start", wait_start())?;
    let begun = hands.visit.now().seconds();
    hands.clone().sense(exam, "wall started", Action::Listen)?;
    hands.sense(exam, "wall start", Action::Wait { seconds: 2.0 })?;
    let stops = Action::WaitUntil {
        until: Until::PumpStops,
        at_most: 300.0,
    };
    let stopped = hands.sense(exam, "wall stop", stops)?;
    if stopped.remarks.is_empty() {
        exam.put_number("build_s", hands.visit.now().seconds() - begun);
    } else {
        exam.put(
            "build_s",
            Finding::None("not within five minutes".to_owned()),
        );
    }
    exam.put_number("build_end", hands.gauge()?);
    let mut listener = hands.clone();
    listener.sense(exam, "wall stop", Action::Listen)?;
    let mut listener = hands.clone();
    listener.go(Station::Source)?;
    listener.sense(exam, "source after stop", Action::Listen)?;
    listener.open(Cover::Source)?;
    listener.sense(exam, "source after stop", Action::Look { at: None })?;
    hands.act(Action::SetDrain { opening: 0.0 })?;
    let built = hands.clone();
    part(exam, &built, FALLS, leak_downs);
    part(exam, &built, ADJUSTED, adjusted);
    part(exam, &built, SHUT, house_shut);

    Ok(())
}

pub(super) fn wait_start() -> Action {
    Action::WaitUntil {
        until: Until::PumpStarts,
        at_most: PATIENCE_S,
    }
}

pub(super) const FALLS: &[&str] = &[
    "fall_open",
    "fall_house_shut",
    "fall_source_shut",
    "end_open",
    "end_house_shut",
    "end_source_shut",
];

/// Leak-downs of twenty minutes with the breaker off: everything open, house valve shut,
/// house valve and source valve shut.
pub(super) fn leak_downs(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    let built = hands.clone();
    for (fall, end, house, source) in [
        ("fall_open", "end_open", false, false),
        ("fall_house_shut", "end_house_shut", true, false),
        ("fall_source_shut", "end_source_shut", true, true),
    ] {
        let mut hands = built.clone();
        if house {
            hands.act(Action::SetHouseValve { opening: 0.0 })?;
        }
        hands.go(Station::Panel)?;
        hands.act(Action::SetBreaker { on: false })?;
        if source {
            hands.go(Station::Source)?;
            hands.act(Action::SetSourceValve { opening: 0.0 })?;
        }
        hands.go(Station::Wall)?;
        let watched = hands.log(1_200.0, 30.0)?;
        let (from, to) = (watched.first(), watched.last());
        let psi = |point: Option<&(f64, f64)>| point.map_or(0.0, |p| p.1);
        exam.put_number(fall, psi(from) - psi(to));
        exam.put_number(end, psi(to));
    }
    Ok(())
}

pub(super) const ADJUSTED: &[&str] = &["runs_after_adjusting"];

/// The switch set back to its design, cover off: does what runs stop?
pub(super) fn adjusted(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    let switch = hands.visit.scenario().site.wall.pressure_switch;
    hands.act(Action::DressForLiveWork)?;
    hands.open(Cover::Switch)?;
    hands.act(Action::AdjustSwitch {
        cut_in: switch.cut_in.si(),
        cut_out: switch.cut_out.si(),
    })?;
    hands.act(Action::Wait { seconds: 120.0 })?;
    let runs = hands.hears_motor()?;
    exam.put_number("runs_after_adjusting", f64::from(u8::from(runs)));
    Ok(())
}

pub(super) const SHUT: &[&str] = &["shut_top", "shut_stops"];

/// The house valve shut on a pump that runs or has just stopped: does it come to rest?
pub(super) fn house_shut(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    hands.act(Action::SetHouseValve { opening: 0.0 })?;
    hands.act(Action::Wait { seconds: 300.0 })?;
    exam.put_number("shut_top", hands.gauge()?);
    let runs = hands.hears_motor()?;
    exam.put_number("shut_stops", f64::from(u8::from(!runs)));
    Ok(())
}

pub(super) const FIRST: &[&str] = &["first_gauge", "first_tyre", "first_least", "first_tone"];

/// The first filling of a new tank: drain and widest outlet open, so that the pressure
/// stays short of cut-out; then the drain shut, and the needle watched for a minute.
pub(super) fn first_start(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    let turn = |opening: f64| Action::SetOutlet {
        outlet: ground.widest.to_owned(),
        opening,
    };
    hands.act(Action::SetDrain { opening: 1.0 })?;
    hands.go(Station::House)?;
    hands.act(turn(ground.keeps_running))?;
    hands.go(Station::Panel)?;
    hands.act(Action::SetBreaker { on: true })?;
    hands.go(Station::Wall)?;
    hands.read(exam, "first_tyre", Action::ReadAirValve)?;
    exam.put_number("first_gauge", hands.gauge()?);
    let knock = hands.act(Action::KnockTank)?;
    let tone = knock.cues.first().map_or("", |cue| &cue.caption);
    exam.put("first_tone", Finding::Text(tone.to_owned()));
    hands.act(Action::SetDrain { opening: 0.0 })?;
    let watched = hands.log(60.0, 0.5)?;
    let least = watched.iter().fold(f64::MAX, |low, point| low.min(point.1));
    exam.put_number("first_least", least);
    hands.go(Station::House)?;
    hands.act(turn(0.0))?;
    hands.go(Station::Wall)?;
    hands.act(Action::Wait { seconds: 300.0 })?;
    Ok(())
}
