//! What was done and seen so far: a logbook of practice, lived again, or a file of readings
//! that somebody took at a real system.

use std::path::Path;

use anyhow::{Context, Result, anyhow, bail};
use serde::Deserialize;

use super::case::Found;
use crate::cli::sites::read_at_most;
use crate::cues::Cue;
use crate::plant::Tick;
use crate::session::{
    Action, Entry, Logbook, MAX_LOGBOOK_BYTES, Observation, Outcome, Station, replay,
};

/// Version of the file of readings.
const VERSION: u32 = 1;
/// Longest time that an action may have taken [s]: a week.
const MOST_SECONDS: f64 = 604_800.0;

/// First line of a file of readings.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    readings: u32,
}

/// A line after it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    action: Action,
    #[serde(default)]
    seconds: f64,
    #[serde(default)]
    observations: Vec<Observation>,
    #[serde(default)]
    cues: Vec<Cue>,
    #[serde(default)]
    remarks: Vec<String>,
}

/// Reads either; nothing of what a scenario hides comes with it but what was observed.
pub(super) fn read(path: &Path, found: &Found) -> Result<Vec<(Action, Outcome)>> {
    let name = path.display().to_string();
    let bytes = read_at_most(path, MAX_LOGBOOK_BYTES as u64)
        .with_context(|| format!("cannot read {name}"))?;
    let text = String::from_utf8_lossy(&bytes);
    let first = text.lines().next().unwrap_or_default();
    if let Ok(head) = serde_json::from_str::<Head>(first) {
        if head.readings != VERSION {
            bail!(
                "{name}: version {} of readings is not known; {VERSION} is",
                head.readings
            );
        }
        return own(&name, &text);
    }
    let logbook = Logbook::parse(&name, &bytes)?;
    let Some(scenario) = &found.scenario else {
        bail!(
            "{name} is a logbook of scenario {}: name that in place of a site",
            super::debrief::plain(&logbook.header.scenario)
        );
    };
    let (_, done) = replay(&logbook, scenario)?;
    Ok(done
        .into_iter()
        .map(|done| (done.action, done.outcome))
        .collect())
}

fn own(name: &str, text: &str) -> Result<Vec<(Action, Outcome)>> {
    let mut station = Station::Wall;
    let mut seconds = 0.0;
    let mut seen = Vec::new();
    for (at, line) in text.lines().enumerate().skip(1) {
        if line.trim().is_empty() {
            continue;
        }
        let line: Line =
            serde_json::from_str(line).map_err(|error| anyhow!("{name}:{}: {error}", at + 1))?;
        if !(0.0..=MOST_SECONDS).contains(&line.seconds) {
            bail!(
                "{name}:{}: {} seconds; accepted: 0 to {MOST_SECONDS}",
                at + 1,
                line.seconds
            );
        }
        if let Action::Go { to } = &line.action {
            station = *to;
        }
        seconds += line.seconds;
        let tick = Tick::at_or_after(crate::units::Seconds(seconds));
        let entry = |observation| Entry {
            tick,
            station,
            observation,
            state: String::new(),
        };
        let outcome = Outcome {
            seconds: line.seconds,
            readings: line.observations.into_iter().map(entry).collect(),
            cues: line.cues,
            remarks: line.remarks,
            ..Outcome::default()
        };
        seen.push((line.action, outcome));
    }
    Ok(seen)
}
