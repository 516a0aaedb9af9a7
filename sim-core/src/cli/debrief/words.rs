//! Actions and observations in words, quantities in both unit systems.

use crate::cli::display::{DisplayUnit, Units, fixed, span};
use crate::marking::{Report, Row};
use crate::session::{Action, Entry, Moment, Observation, Port, Probe, Proof, Repair, Until};
use crate::trace::Quantity;

/// A quantity in US units and, in brackets, in SI.
pub(super) fn both(quantity: Quantity, value: f64) -> String {
    format!(
        "{} ({})",
        DisplayUnit::of(quantity, Units::Us).show(value),
        DisplayUnit::of(quantity, Units::Si).show(value)
    )
}

fn pressure(value: f64) -> String {
    both(Quantity::GaugePressure, value)
}

/// Points, to a tenth where they need it.
pub(super) fn points(points: f64) -> String {
    let text = fixed(points, 1);
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// A time since arrival: hours, minutes, seconds.
pub(super) fn when(seconds: f64) -> String {
    let whole = seconds.round().max(0.0) as u64;
    format!("{}:{:02}:{:02}", whole / 3_600, whole / 60 % 60, whole % 60)
}

/// What came of it, in a few words.
pub(super) fn result(report: &Report) -> &'static str {
    match (report.passes, report.is_capped) {
        (true, _) => "passed",
        (false, true) => "not passed: a dangerous act holds the mark below the pass mark",
        (false, false) => "not passed",
    }
}

/// A finding with what it brought, and the action it rests on.
pub(super) fn finding(finding: &crate::marking::Finding, weight: f64) -> (String, String) {
    let gained = finding.share * weight;
    let head = if finding.share > 0.0 {
        format!("+{}", points(gained))
    } else if finding.share < 0.0 {
        format!("\u{2212}{}", points(-gained))
    } else {
        "note".to_owned()
    };
    let action = finding
        .action
        .map_or_else(String::new, |n| format!(" (action {n})"));
    (head, format!("{}{action}", finding.sentence))
}

fn opening(what: &str, opening: f64) -> String {
    if opening <= 0.0 {
        format!("shut {what}")
    } else if opening >= 1.0 {
        format!("open {what}")
    } else {
        format!("open {what} {} %", fixed(100.0 * opening, 0))
    }
}

/// What was done.
pub(super) fn action(action: &Action) -> String {
    match action {
        Action::Go { to } => format!("go to {}", to.label()),
        Action::Wait { seconds } => format!("wait {}", span(*seconds)),
        Action::WaitUntil {
            until: what,
            at_most,
        } => {
            format!("wait until {}, at most {}", until(*what), span(*at_most))
        }
        Action::Look { at: Some(part) } => format!("look at the {}", part.label()),
        Action::Look { at: None } => "look round".to_owned(),
        Action::Listen => "listen".to_owned(),
        Action::Feel { part } => format!("lay a hand on the {}", part.label()),
        Action::Smell => "smell".to_owned(),
        Action::KnockTank => "knock on the tank".to_owned(),
        Action::ReadGauge => "read the gauge".to_owned(),
        Action::TapGauge => "tap the gauge and read it".to_owned(),
        Action::LogGauge { seconds, every } => format!(
            "watch the gauge for {}, a reading every {}",
            span(*seconds),
            span(*every)
        ),
        Action::SetBreaker { on } => {
            format!("switch the breaker {}", if *on { "on" } else { "off" })
        }
        Action::SetHouseValve { opening: o } => opening("the house valve", *o),
        Action::SetTankValve { opening: o } => opening("the tank valve", *o),
        Action::SetSourceValve { opening: o } => opening("the source valve", *o),
        Action::SetDrain { opening: o } => opening("the drain", *o),
        Action::SetOutlet { outlet, opening: o } => opening(&format!("the outlet {outlet}"), *o),
        Action::HoldLever { held: true } => "hold the switch's lever up".to_owned(),
        Action::HoldLever { held: false } => "let the switch's lever go".to_owned(),
        Action::OpenCover { cover } => format!("open {}", cover.label()),
        Action::CloseCover { cover } => format!("close {}", cover.label()),
        Action::DressForLiveWork => "dress for live work".to_owned(),
        Action::LockOut => "lock the breaker off and tag it".to_owned(),
        Action::RemoveLock => "take lock and tag away".to_owned(),
        Action::ProveDead => "prove dead".to_owned(),
        Action::DischargeCapacitor => "discharge the capacitor".to_owned(),
        Action::TakeLeadsApart => "take the conductors apart in the splice box".to_owned(),
        Action::JoinLeads => "join the conductors in the splice box".to_owned(),
        Action::Measure {
            meter,
            from,
            to,
            moment,
        } => {
            let to = to
                .as_ref()
                .map_or_else(String::new, |to| format!(" to {to}"));
            let moment = match moment {
                Moment::Now => "",
                Moment::Starting => ", while the motor starts",
            };
            format!("measure {} at {from}{to}{moment}", probe(*meter))
        }
        Action::FitGauge { port: at } => format!("fit the second gauge {}", port(*at)),
        Action::RemoveGauge => "take the second gauge off".to_owned(),
        Action::ReadSecondGauge => "read the second gauge".to_owned(),
        Action::ReadAirValve => "put the tyre gauge on the tank's air valve".to_owned(),
        Action::PressAirValve => "press the core of the tank's air valve".to_owned(),
        Action::SetAir { pressure: p } => format!("set the tank's air to {}", pressure(*p)),
        Action::MeasureFlow { outlet, volume } => format!(
            "hold a bucket of {} under the outlet {outlet}",
            both(Quantity::Volume, *volume)
        ),
        Action::MeasureLevel => "let a tape down to the water".to_owned(),
        Action::MeasureVacuum => "read a vacuum gauge on the suction".to_owned(),
        Action::MeasureTemperature { part } => {
            format!("hold a thermometer against the {}", part.label())
        }
        Action::AdjustSwitch { cut_in, cut_out } => format!(
            "set the switch to cut-in {}, cut-out {}",
            pressure(*cut_in),
            pressure(*cut_out)
        ),
        Action::Repair { part, how } => format!("{} the {}", repair(*how), part.label()),
        Action::Replace { part } => format!("put in a new {}", part.label()),
        Action::PullPump => "pull the pump up".to_owned(),
        Action::LowerPump { vented: true } => "lower the pump, vented on the way".to_owned(),
        Action::LowerPump { vented: false } => "lower the pump".to_owned(),
        Action::Vent => "open the vent until solid water comes".to_owned(),
        Action::Prime => "fill the pump by its plug".to_owned(),
        Action::CallHelper => "have a second person come".to_owned(),
        Action::CallQualified => "have a qualified electrician come".to_owned(),
        Action::Disinfect => "disinfect what was opened, arrange for a sample".to_owned(),
        Action::EnterSource => "climb into the source".to_owned(),
        Action::Explain { about: None } => "explain to the owner how the system works".to_owned(),
        Action::Explain { about: Some(about) } => {
            format!("explain to the owner: {}", about.0.info().name)
        }
        Action::Note { .. } => "write a note".to_owned(),
        Action::Suspect { fault, keep: true } => format!("suspect {}", fault.0.info().name),
        Action::Suspect { fault, keep: false } => format!("strike out {}", fault.0.info().name),
        Action::Call { faults } if faults.is_empty() => "call the system sound".to_owned(),
        Action::Call { faults } => {
            let names: Vec<&str> = faults.iter().map(|fault| fault.0.info().name).collect();
            format!("call {}", names.join(", "))
        }
        Action::Prove => "run the proof".to_owned(),
        Action::CloseUp => "close up".to_owned(),
        Action::Hint => "ask for a hint".to_owned(),
        Action::Undo => "undo the last action".to_owned(),
    }
}

fn until(until: Until) -> String {
    match until {
        Until::PumpStarts => "the pump starts".to_owned(),
        Until::PumpStops => "the pump stops".to_owned(),
        Until::NeedleStill => "the needle stands still".to_owned(),
        Until::GaugeAbove(p) => format!("the gauge shows {} or more", pressure(p)),
        Until::GaugeBelow(p) => format!("the gauge shows {} or less", pressure(p)),
        Until::SolidWater => "solid water comes".to_owned(),
    }
}

const fn probe(probe: Probe) -> &'static str {
    match probe {
        Probe::Volts => "volts",
        Probe::LowImpedanceVolts => "volts at low impedance",
        Probe::Clamp => "amperes",
        Probe::Inrush => "the peak of a start",
        Probe::Ohms => "ohms",
        Probe::Insulation => "insulation",
        Probe::Capacitance => "capacitance",
        Probe::Power => "watts",
    }
}

const fn port(port: Port) -> &'static str {
    match port {
        Port::Tee => "at the tee",
        Port::Switch => "at the switch's own port",
        Port::Tank => "at the tank",
        Port::House => "behind house valve and filter",
    }
}

const fn repair(how: Repair) -> &'static str {
    match how {
        Repair::Tighten => "tighten or remake",
        Repair::Clean => "clean",
        Repair::Refit => "refit",
        Repair::Rewire => "rewire",
        Repair::Reset => "reset",
        Repair::Thaw => "thaw",
        Repair::Fit => "fit",
        Repair::Refill => "refill",
    }
}

/// What was observed.
pub(super) fn observation(entry: &Entry) -> String {
    match &entry.observation {
        Observation::Reading {
            instrument,
            place,
            value,
            unit,
            shown,
            ..
        } => format!(
            "{}: {}",
            at(instrument, place),
            quantity(*value, unit, shown)
        ),
        Observation::NoReading {
            instrument,
            place,
            shown,
        } => format!("{}: {shown}", at(instrument, place)),
        Observation::Log { points, .. } => log(points),
        Observation::Perceived { caption, .. } => caption.clone(),
        Observation::Proof(run) => proof(run),
        Observation::Note(text) => format!("Note: {text}"),
    }
}

fn at(instrument: &str, place: &[String]) -> String {
    let instrument = instrument.replace('_', " ");
    if place.is_empty() {
        instrument
    } else {
        format!("{instrument} at {}", place.join(" to "))
    }
}

/// A value with its unit, in both systems where they differ.
fn quantity(value: f64, unit: &str, shown: &str) -> String {
    let known = match unit {
        "Pa" => Some(Quantity::GaugePressure),
        "m" => Some(Quantity::Length),
        "K" => Some(Quantity::Temperature),
        "m3" | "m³" => Some(Quantity::Volume),
        "m3/s" | "m³/s" => Some(Quantity::Flow),
        _ => None,
    };
    match known {
        Some(quantity) => both(quantity, value),
        None if !shown.is_empty() => shown.to_owned(),
        None => format!("{} {unit}", fixed(value, 2)),
    }
}

fn log(points: &[(f64, f64)]) -> String {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return "gauge watched, nothing read".to_owned();
    };
    let least = points
        .iter()
        .fold(first.1, |least, point| least.min(point.1));
    let most = points.iter().fold(first.1, |most, point| most.max(point.1));
    format!(
        "gauge over {}: from {} to {}, lowest {}, highest {}",
        span(last.0 - first.0),
        pressure(first.1),
        pressure(last.1),
        pressure(least),
        pressure(most)
    )
}

fn proof(proof: &Proof) -> String {
    let mut words = Vec::new();
    let or_none = |value: Option<f64>, none: &str| value.map_or_else(|| none.to_owned(), pressure);
    words.push(format!("cut-in {}", or_none(proof.cut_in, "not reached")));
    words.push(format!("cut-out {}", or_none(proof.cut_out, "not reached")));
    if let Some(seconds) = proof.run_s {
        words.push(format!("run {}", span(seconds)));
    }
    words.push(proof.hold.map_or_else(
        || "not held".to_owned(),
        |(begun, ended)| format!("held from {} to {}", pressure(begun), pressure(ended)),
    ));
    words.push(proof.drawdown.map_or_else(
        || "drawdown not measured".to_owned(),
        |volume| {
            format!(
                "drawdown {}, expected {}",
                both(Quantity::Volume, volume),
                both(Quantity::Volume, proof.drawdown_expected)
            )
        },
    ));
    if let Some(ohm) = proof.earth_ohm {
        words.push(format!("earth {} ohm", fixed(ohm, 2)));
    }
    format!("Proof: {}", words.join("; "))
}

/// Everything that an action showed, a sentence each.
pub(super) fn shown(row: &Row) -> Vec<String> {
    let readings = row.readings.iter().map(observation);
    let cues = row.cues.iter().map(|cue| cue.caption.clone());
    let mut lines: Vec<String> = readings.chain(cues).chain(row.remarks.clone()).collect();
    lines.dedup();
    lines
}

/// The dangerous act of a row, told in full.
pub(super) fn hazard(row: &Row) -> Option<String> {
    row.hazard.as_ref().map(|hazard| {
        format!(
            "Dangerous act. {} Instead: {} Basis: {}",
            hazard.consequence,
            hazard.instead,
            full_stop(&hazard.basis)
        )
    })
}

/// A text that ends as a sentence does.
pub(super) fn full_stop(text: &str) -> String {
    let text = text.trim_end();
    if text.ends_with(['.', '!', '?']) {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}

/// Text of the person's, without what would steer a terminal or turn the direction of the
/// text round, which could pass one name for another.
pub(super) fn plain(text: &str) -> String {
    let is_turn = |c| matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}');
    text.chars()
        .map(|c| if c.is_control() || is_turn(c) { ' ' } else { c })
        .collect::<String>()
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// How the person is called in a debrief.
pub(super) fn person(report: &Report) -> String {
    let name = plain(&report.person);
    if name.is_empty() {
        "no name given".to_owned()
    } else {
        name
    }
}

/// What every debrief says of itself.
pub(super) const CAUTIONS: [&str; 4] = [
    "Numbers, limits and times are training values: the nameplate and local codes govern.",
    "Readings on live equipment are for people who are trained and allowed to take them; lock out and prove dead before hands go in.",
    "Nobody enters a cistern or a well, not even to help.",
    "This is a record of practice on a simulator, not a certificate of competence.",
];
