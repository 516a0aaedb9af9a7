//! A run laid out: pressure, flow, tank and pump one above the other on one time axis.
//!
//! Every line is named at its right end, in its own color and beside its own dash, and
//! what was set (cut-in, cut-out) is named where it runs; there is no legend to look up.

mod frame;
mod labels;

use self::frame::{Density, Frame, Panel, Series};
use self::labels::Label;
use super::axis::Scale;
use super::figure::{Anchor, Dash, Face, Figure};
use crate::cli::display::{DisplayUnit, Units, fixed, span};
use crate::cli::palette::{ACCENT, INK, INK2, LIVE, SUNK, WATER_INK, WATER1};
use crate::plant::EventKind;
use crate::trace::{PumpRun, Quantity, Recording, pump_runs};

const WIDTH: u32 = 1_200;
const HEIGHT: u32 = 800;
/// Height of the pump's band [px].
const BAND_HEIGHT: f64 = 24.0;
/// Height of the bars that stand for it where runs are too many for a band [px].
const BARS_HEIGHT: f64 = 70.0;
/// More runs than this are counted rather than drawn.
const MOST_RUNS: usize = 150;
/// Shares of pressure, flow and tank in the height that is left [-].
const SHARES: [f64; 3] = [0.48, 0.27, 0.25];

const DASHED: Dash = Some((7.0, 4.0));
const DOTTED: Dash = Some((2.0, 3.0));
const SPARSE: Dash = Some((10.0, 4.0));

/// Lays a recording out; `subtitle` says what was run.
pub(crate) fn figure(recording: &Recording, subtitle: &str, units: Units) -> Figure {
    let runs = pump_runs(recording);
    let description = format!(
        "{}: {subtitle}. Pressure, flow, tank water and pump against time.",
        recording.title
    );
    let mut frame = Frame::new((WIDTH, HEIGHT), description, recording.totals.duration_s);
    frame.head(&recording.title, subtitle);
    frame.flags(
        recording
            .events
            .iter()
            .filter_map(|event| Some((event.time_s, flag_words(event.kind)?))),
    );
    let counted = runs.len() > MOST_RUNS;
    let pump_height = if counted { BARS_HEIGHT } else { BAND_HEIGHT };
    let left = frame.height_left(SHARES.len() + 1) - pump_height;
    let [pressure_height, flow_height, tank_height] = SHARES.map(|share| (share * left).floor());
    pressure(&mut frame, recording, units, pressure_height);
    flow(&mut frame, recording, units, flow_height);
    tank(&mut frame, recording, units, tank_height);
    if counted {
        pump_counts(&mut frame, recording, &runs, pump_height);
    } else {
        pump_band(&mut frame, recording, &runs, pump_height);
    }
    frame.finish()
}

/// Events worth a flag on the time axis: those that tell of air and of the tank's ends.
fn flag_words(kind: EventKind) -> Option<&'static str> {
    match kind {
        EventKind::WaterArrived => Some("water at the wall"),
        EventKind::LineSolid => Some("line solid"),
        EventKind::VoidClosed => Some("void closes"),
        EventKind::AirEntering => Some("air enters"),
        EventKind::BladderFlat => Some("tank empty"),
        EventKind::BladderFull => Some("tank full"),
        EventKind::BreakerTripped => Some("breaker trips"),
        EventKind::GroundFaultTripped => Some("ground-fault trip"),
        EventKind::ProtectorTripped => Some("protector opens"),
        EventKind::ProtectorReset => Some("protector closes"),
        EventKind::FloatDown => Some("float opens"),
        EventKind::FloatUp => Some("float closes"),
        EventKind::LowPressureTripped => Some("lever drops"),
        EventKind::JointBurnt => Some("joint burns"),
        EventKind::SealFailed => Some("seal spoilt"),
        EventKind::WindingFailed => Some("winding spoilt"),
        EventKind::ImpellersWarped => Some("impellers spoilt"),
        EventKind::ContactsClosed
        | EventKind::ContactsOpened
        | EventKind::PumpStarted
        | EventKind::PumpStopped
        | EventKind::ShaftStopped
        | EventKind::CheckOpened
        | EventKind::CheckShut
        | EventKind::BladderFilling
        | EventKind::BladderGiving
        | EventKind::StartSwitchOpened => None,
    }
}

fn series(recording: &Recording, name: &str, unit: DisplayUnit) -> Vec<(f64, f64)> {
    let times = recording.samples.iter().map(|sample| sample.time_s);
    times
        .zip(recording.values(name).map(|value| unit.convert(value)))
        .collect()
}

fn values<'a>(all: &'a [&'a [(f64, f64)]]) -> impl Iterator<Item = f64> + 'a {
    all.iter().copied().flatten().map(|&(_, value)| value)
}

fn pressure(frame: &mut Frame, recording: &Recording, units: Units, height: f64) {
    let unit = DisplayUnit::of(Quantity::GaugePressure, units);
    let tee = series(recording, "tee_pressure", unit);
    let gauge = series(recording, "gauge_pressure", unit);
    let (cut_in, cut_out) = (
        unit.convert(recording.cut_in_pa),
        unit.convert(recording.cut_out_pa),
    );
    let scale = Scale::holding(values(&[&tee, &gauge]).chain([cut_in, cut_out * 1.04]), 6.0);
    let apart = tee
        .iter()
        .zip(&gauge)
        .map(|(tee, gauge)| (tee.1 - gauge.1).abs())
        .fold(0.0, f64::max);
    let mut panel = Panel::new(frame, "Pressure", unit.symbol, height, scale);
    // Two lines that lie on one another are one line to the reader.
    let together = apart < 0.02 * (panel.scale.high - panel.scale.low);
    let gauge_needle = Series {
        points: gauge,
        width: 1.5,
        color: INK,
        dash: DOTTED,
        name: "gauge needle",
        short_name: "gauge",
    };
    let dense = panel.line(Series {
        points: tee,
        width: 2.0,
        color: WATER_INK,
        dash: None,
        name: if together { "tee and gauge" } else { "tee" },
        short_name: "tee",
    });
    if !together && dense == Density::Open {
        panel.line(gauge_needle);
    }
    for (value, name) in [(cut_out, "cut-out"), (cut_in, "cut-in")] {
        let figure = fixed(value, 0);
        panel.level(value, ACCENT, DASHED, format!("{name} {figure}"));
    }
    panel.finish();
}

fn flow(frame: &mut Frame, recording: &Recording, units: Units, height: f64) {
    let unit = DisplayUnit::of(Quantity::Flow, units);
    let all = [
        ("pump_flow", "pump", 2.0, WATER_INK, None),
        ("house_flow", "house", 1.5, INK, DASHED),
        ("drain_flow", "drain cock", 1.5, INK2, DOTTED),
        ("leak_flow", "leak", 1.5, ACCENT, SPARSE),
    ]
    .map(|(channel, name, width, color, dash)| Series {
        points: series(recording, channel, unit),
        width,
        color,
        dash,
        name,
        short_name: name,
    });
    let scale = Scale::holding(
        all.iter()
            .flat_map(|series| series.points.iter().map(|&(_, value)| value)),
        4.0,
    );
    let mut panel = Panel::new(frame, "Flow", unit.symbol, height, scale);
    let [pump, others @ ..] = all;
    let mut drawn: Vec<Series> = others
        .into_iter()
        .filter(|series| series.points.iter().any(|&(_, value)| value.abs() > 1e-6))
        .collect();
    // The pump comes last: where all lie at zero, its line is the one to see.  As a filled
    // range it comes first, or it would hide the others.
    let pump_at = match panel.density(&pump.points) {
        Density::Solid => 0,
        Density::Open | Density::Close => drawn.len(),
    };
    drawn.insert(pump_at, pump);
    for series in drawn {
        panel.line(series);
    }
    panel.finish();
}

fn tank(frame: &mut Frame, recording: &Recording, units: Units, height: f64) {
    let unit = DisplayUnit::of(Quantity::Volume, units);
    let water = series(recording, "tank_water", unit);
    let scale = Scale::holding(values(&[&water]), 4.0);
    let mut panel = Panel::new(frame, "Water in the tank", unit.symbol, height, scale);
    panel.fill(&water, WATER1);
    panel.line(Series {
        points: water,
        width: 2.0,
        color: WATER_INK,
        dash: None,
        name: "tank",
        short_name: "tank",
    });
    panel.finish();
}

/// A band, filled while the motor is powered.
fn pump_band(frame: &mut Frame, recording: &Recording, runs: &[PumpRun], height: f64) {
    let totals = &recording.totals;
    let note = match totals.pump_starts {
        0 if runs.is_empty() => "never on".to_owned(),
        1 => format!("1 start, on for {}", span(totals.pump_run_s)),
        n => format!("{n} starts, on for {}", span(totals.pump_run_s)),
    };
    let scale = Scale::holding([1.0], 1.0);
    let mut panel = Panel::bare(frame, "Pump", &note, height, scale);
    let (left, right) = panel.sides();
    let (top, foot) = (panel.y(1.0), panel.y(0.0));
    panel.frame.figure.rect((left, top), (right, foot), SUNK);
    for run in runs {
        let (from, to) = (panel.frame.x(run.start_s), panel.frame.x(run.end_s));
        // Never thinner than a hairline.
        let to = to.max(from + 1.0);
        panel.frame.figure.rect((from, top), (to, foot), LIVE);
    }
    panel.labels.push(Label {
        y: (top + foot) / 2.0,
        words: "filled: on".to_owned(),
        face: Face::Regular,
        color: LIVE,
        dash: None,
        marked: false,
    });
    panel.finish();
}

/// Bars for the starts in each minute, hour or day.
fn pump_counts(frame: &mut Frame, recording: &Recording, runs: &[PumpRun], height: f64) {
    let totals = &recording.totals;
    let (bin_s, name) = match totals.duration_s {
        short if short <= 4.0 * 3_600.0 => (60.0, "Pump starts a minute"),
        middling if middling <= 4.0 * 86_400.0 => (3_600.0, "Pump starts an hour"),
        _ => (86_400.0, "Pump starts a day"),
    };
    let n_bins = (totals.duration_s / bin_s).ceil().max(1.0) as usize;
    let mut counts = vec![0.0_f64; n_bins];
    for run in runs {
        let bin = (run.start_s / bin_s) as usize;
        counts[bin.min(n_bins - 1)] += 1.0;
    }
    let note = format!(
        "{} starts in all, on for {}",
        totals.pump_starts,
        span(totals.pump_run_s)
    );
    let scale = Scale::holding(counts.iter().copied(), 3.0);
    let panel = Panel::new(frame, name, &note, height, scale);
    let foot = panel.y(0.0);
    for (bin, &count) in counts.iter().enumerate() {
        let from_s = bin as f64 * bin_s;
        let to_s = (from_s + bin_s).min(totals.duration_s);
        let (from, to) = (panel.frame.x(from_s), panel.frame.x(to_s));
        // Bars wide enough to be told apart stand apart.
        let gap = if to - from >= 4.0 { 1.0 } else { 0.0 };
        let top = panel.y(count);
        panel.frame.figure.rect((from, top), (to - gap, foot), LIVE);
    }
    panel.finish();
}

/// Anchor of every label at a line's end.
const LABEL_ANCHOR: Anchor = Anchor::Start;
