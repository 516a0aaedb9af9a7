//! What is looked at, listened to and measured as the system is found; the outlets.

use sim_core::catalog::PartId;
use sim_core::session::{Action, Cover, Observation, Outcome, Probe, Station};
use sim_core::units::convert::LITER;

use super::exam::{Exam, Finding};
use super::grounds::Ground;
use super::hands::{Cut, Hands};

pub(super) const REST: &[&str] = &[
    "tyre_wet",
    "air_valve_wet",
    "tank_tone",
    "tap_moves",
    "volts_panel_legs",
    "volts_panel_1n",
    "volts_panel_2n",
    "volts_breaker",
    "volts_switch_line",
    "volts_switch_load",
    "level",
    "vacuum_rest",
];

/// Everything that is looked at, listened to and measured as the system is found.
pub(super) fn at_rest(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    let arrived = hands.clone();
    hands.sense(exam, "wall rest", Action::Look { at: None })?;
    let knock = hands.act(Action::KnockTank)?;
    let caption = knock.cues.first().or(None).map(|cue| cue.caption.clone());
    exam.put(
        "tank_tone",
        Finding::Text(caption.unwrap_or_else(|| told(&knock))),
    );
    hands.sense(exam, "air valve wet", Action::PressAirValve)?;
    hands.read(exam, "tyre_wet", Action::ReadAirValve)?;
    let before = hands.gauge()?;
    hands.act(Action::TapGauge)?;
    exam.put_number("tap_moves", hands.gauge()? - before);
    hands.act(Action::DressForLiveWork)?;
    hands.open(Cover::Switch)?;
    hands.sense(
        exam,
        "switch rest",
        Action::Look {
            at: Some(PartId::PressureSwitch),
        },
    )?;
    hands.measure(
        exam,
        "volts_switch_line",
        Probe::Volts,
        ["switch.line1", "switch.line2"],
    )?;
    hands.measure(
        exam,
        "volts_switch_load",
        Probe::Volts,
        ["switch.load1", "switch.load2"],
    )?;
    hands.read(exam, "vacuum_rest", Action::MeasureVacuum)?;
    hands.go(Station::Panel)?;
    hands.open(Cover::Panel)?;
    hands.sense(exam, "panel rest", Action::Look { at: None })?;
    for (name, at) in [
        ("volts_panel_legs", ["panel.line1", "panel.line2"]),
        ("volts_panel_1n", ["panel.line1", "panel.neutral"]),
        ("volts_panel_2n", ["panel.line2", "panel.neutral"]),
        ("volts_breaker", ["breaker.load1", "breaker.load2"]),
    ] {
        hands.measure(exam, name, Probe::Volts, at)?;
    }
    let mut hands = arrived.clone();
    hands.go(Station::House)?;
    hands.sense(exam, "house rest", Action::Look { at: None })?;
    hands.sense(exam, "house rest", Action::Listen)?;
    let mut hands = arrived;
    hands.go(Station::Source)?;
    hands.open(Cover::Source)?;
    hands.sense(exam, "source rest", Action::Look { at: None })?;
    hands.sense(exam, "source rest", Action::Listen)?;
    hands.read(exam, "level", Action::MeasureLevel)
}

/// The first caption in an outcome's notes.
pub(super) fn told(outcome: &Outcome) -> String {
    outcome
        .readings
        .iter()
        .find_map(|entry| match &entry.observation {
            Observation::Perceived { caption, .. } => Some(caption.clone()),
            _ => None,
        })
        .unwrap_or_default()
}

pub(super) const OUTLETS: &[&str] = &["flow_widest", "flow_highest"];

/// Bucket and eye at the outlets.
pub(super) fn outlets(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    hands.go(Station::House)?;
    let mut high = hands.clone();
    let flow = |outlet: &str| Action::MeasureFlow {
        outlet: outlet.to_owned(),
        volume: 10.0 * LITER,
    };
    hands.read(exam, "flow_widest", flow(ground.widest))?;
    high.read(exam, "flow_highest", flow(ground.highest))?;
    high.act(Action::SetOutlet {
        outlet: ground.widest.to_owned(),
        opening: 1.0,
    })?;
    high.sense(exam, "house flowing", Action::Look { at: None })?;
    high.act(Action::Wait { seconds: 240.0 })?;
    high.sense(exam, "house flowing", Action::Look { at: None })?;
    high.sense(exam, "house flowing", Action::Listen)?;
    Ok(())
}

/// Every outlet and the drain open, and then a trickle: what comes out, and what the intake
/// does at the greatest flow.
pub(super) fn wide_open(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    hands.act(Action::SetDrain { opening: 1.0 })?;
    hands.go(Station::House)?;
    let turn = |outlet: &str, opening: f64| Action::SetOutlet {
        outlet: outlet.to_owned(),
        opening,
    };
    for fixture in &ground.site.house.fixtures {
        hands.act(turn(&fixture.name, 1.0))?;
    }
    hands.act(Action::Wait { seconds: 180.0 })?;
    hands.sense(exam, "house wide open", Action::Look { at: None })?;
    let mut source = hands.clone();
    source.go(Station::Source)?;
    source.open(Cover::Source)?;
    source.sense(exam, "source wide open", Action::Look { at: None })?;
    source.sense(exam, "source wide open", Action::Listen)?;
    for fixture in &ground.site.house.fixtures {
        hands.act(turn(&fixture.name, 0.0))?;
    }
    hands.act(turn(ground.widest, 0.3))?;
    hands.go(Station::Wall)?;
    hands.act(Action::SetDrain { opening: 0.0 })?;
    hands.go(Station::House)?;
    hands.act(Action::Wait { seconds: 600.0 })?;
    hands.sense(exam, "house throttled", Action::Look { at: None })?;
    Ok(())
}
