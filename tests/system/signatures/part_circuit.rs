//! Meters on the live circuit, and what is perceived while the pump runs.

use sim_core::catalog::PartId;
use sim_core::session::{Action, Cover, Probe, Station, Until};

use super::exam::Exam;
use super::grounds::Ground;
use super::hands::{Cut, Hands, points, rises};

pub(super) const RUNNING: &[&str] = &[
    "run_gauge",
    "run_volts_line",
    "run_volts_load",
    "run_volts_contact",
    "run_amps",
    "run_watts",
    "run_volts_panel",
    "run_volts_panel_1n",
    "run_volts_panel_2n",
    "run_earth_amps",
    "run_volts_splice",
    "run_volts_pump",
    "run_volts_joint",
    "run_lowz_pump",
    "run_vacuum",
    "run_level",
    "long_starts",
    "long_low",
];

/// Drain and outlet open so that the pump runs on: meters, ears and eyes at each station.
pub(super) fn running(exam: &mut Exam, hands: &mut Hands, ground: &Ground) -> Result<(), Cut> {
    hands.act(Action::DressForLiveWork)?;
    hands.open(Cover::Switch)?;
    hands.go(Station::House)?;
    hands.act(Action::SetOutlet {
        outlet: ground.widest.to_owned(),
        opening: ground.keeps_running,
    })?;
    hands.go(Station::Wall)?;
    hands.act(Action::SetDrain { opening: 1.0 })?;
    if !hands.hears_motor()? {
        hands.until(Until::PumpStarts, 300.0)?;
        hands.act(Action::Wait { seconds: 20.0 })?;
    }
    let begun = hands.clone();
    exam.put_number("run_gauge", hands.gauge()?);
    hands.measure(exam, "run_amps", Probe::Clamp, ["switch.load1", ""])?;
    hands.measure(
        exam,
        "run_volts_load",
        Probe::Volts,
        ["switch.load1", "switch.load2"],
    )?;
    hands.measure(
        exam,
        "run_volts_line",
        Probe::Volts,
        ["switch.line1", "switch.line2"],
    )?;
    hands.measure(
        exam,
        "run_volts_contact",
        Probe::Volts,
        ["switch.line1", "switch.load1"],
    )?;
    hands.read(exam, "run_vacuum", Action::MeasureVacuum)?;
    hands.measure(exam, "run_watts", Probe::Power, ["switch.load1", ""])?;
    hands.sense(exam, "wall running", Action::Listen)?;
    hands.sense(exam, "wall running", Action::Look { at: None })?;
    // Nobody lays a hand on open terminals: the cover goes on first.
    hands.act(Action::CloseCover {
        cover: Cover::Switch,
    })?;
    for part in [PartId::Pump, PartId::Motor, PartId::PressureSwitch] {
        hands.sense(exam, "wall running", Action::Feel { part })?;
    }
    hands.sense(exam, "wall running", Action::Smell)?;
    let long = hands.sense(
        exam,
        "wall long",
        Action::LogGauge {
            seconds: 2_400.0,
            every: 5.0,
        },
    )?;
    let long = points(&long);
    exam.put_number("long_starts", rises(&long, 5.0) as f64);
    exam.put_number(
        "long_low",
        long.iter().fold(f64::MAX, |low, point| low.min(point.1)),
    );
    let mut hands = begun.clone();
    hands.go(Station::Splice)?;
    hands.open(Cover::Splice)?;
    for (name, meter, at) in [
        (
            "run_volts_pump",
            Probe::Volts,
            ["splice.pump1", "splice.pump2"],
        ),
        (
            "run_volts_joint",
            Probe::Volts,
            ["splice.line1", "splice.pump1"],
        ),
        (
            "run_lowz_pump",
            Probe::LowImpedanceVolts,
            ["splice.pump1", "splice.pump2"],
        ),
        (
            "run_volts_splice",
            Probe::Volts,
            ["splice.line1", "splice.line2"],
        ),
    ] {
        hands.measure(exam, name, meter, at)?;
    }
    hands.sense(exam, "splice running", Action::Look { at: None })?;
    hands.act(Action::CloseCover {
        cover: Cover::Splice,
    })?;
    let part = PartId::Splice;
    hands.sense(exam, "splice running", Action::Feel { part })?;
    hands.sense(exam, "splice running", Action::Smell)?;
    let mut hands = begun.clone();
    hands.go(Station::Panel)?;
    hands.open(Cover::Panel)?;
    for (name, meter, at) in [
        (
            "run_volts_panel",
            Probe::Volts,
            ["breaker.load1", "breaker.load2"],
        ),
        (
            "run_volts_panel_1n",
            Probe::Volts,
            ["panel.line1", "panel.neutral"],
        ),
        (
            "run_volts_panel_2n",
            Probe::Volts,
            ["panel.line2", "panel.neutral"],
        ),
        ("run_earth_amps", Probe::Clamp, ["panel.earth", ""]),
    ] {
        hands.measure(exam, name, meter, at)?;
    }
    hands.sense(exam, "panel running", Action::Look { at: None })?;
    hands.act(Action::CloseCover {
        cover: Cover::Panel,
    })?;
    let part = PartId::Breaker;
    hands.sense(exam, "panel running", Action::Feel { part })?;
    hands.sense(exam, "panel running", Action::Smell)?;
    let mut hands = begun;
    hands.go(Station::Source)?;
    hands.open(Cover::Source)?;
    hands.sense(exam, "source running", Action::Look { at: None })?;
    hands.sense(exam, "source running", Action::Listen)?;
    hands.sense(exam, "source running", Action::Feel { part: PartId::Pump })?;
    hands.read(exam, "run_level", Action::MeasureLevel)
}

pub(super) const STARTING: &[&str] = &[
    "start_inrush",
    "start_volts_panel",
    "start_volts_load",
    "start_volts_splice",
    "start_volts_pump",
];

/// Meters held on through a start.
pub(super) fn starting(exam: &mut Exam, hands: &mut Hands) -> Result<(), Cut> {
    hands.act(Action::DressForLiveWork)?;
    hands.act(Action::SetDrain { opening: 0.25 })?;
    hands.open(Cover::Switch)?;
    let wall = hands.clone();
    hands.measure_start(exam, "start_inrush", Probe::Inrush, ["switch.load1", ""])?;
    let mut hands = wall.clone();
    hands.measure_start(
        exam,
        "start_volts_load",
        Probe::Volts,
        ["switch.load1", "switch.load2"],
    )?;
    let mut splice = wall.clone();
    splice.go(Station::Splice)?;
    splice.open(Cover::Splice)?;
    let mut hands = splice.clone();
    hands.measure_start(
        exam,
        "start_volts_splice",
        Probe::Volts,
        ["splice.line1", "splice.line2"],
    )?;
    let mut hands = splice;
    hands.measure_start(
        exam,
        "start_volts_pump",
        Probe::Volts,
        ["splice.pump1", "splice.pump2"],
    )?;
    let mut hands = wall;
    hands.go(Station::Panel)?;
    hands.open(Cover::Panel)?;
    hands.measure_start(
        exam,
        "start_volts_panel",
        Probe::Volts,
        ["breaker.load1", "breaker.load2"],
    )
}
