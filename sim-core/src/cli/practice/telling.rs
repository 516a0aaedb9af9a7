//! An outcome in words: readings, what was perceived, cautions, a dangerous act.

use super::page::{Ink, Page};
use super::{chart, dial};
use crate::cli::display::{DisplayUnit, Units, fixed};
use crate::plant::Tick;
use crate::session::{Entry, Hazard, Observation, Outcome, Proof};
use crate::trace::Quantity;
use crate::units::convert::PSI;

/// Least width for a dial [columns].
const DIAL_COLUMNS: usize = 48;

/// How things are told.
#[derive(Debug, Clone, Copy)]
pub(super) struct Telling {
    /// Page that is written on.
    pub(super) page: Page,
    /// Units that are shown.
    pub(super) units: Units,
    /// Full scale of the wall's gauge [Pa].
    pub(super) full_scale: f64,
}

impl Telling {
    /// What an action came to.
    pub(super) fn outcome(&self, outcome: &Outcome) -> String {
        let mut text = String::new();
        for caution in &outcome.cautions {
            let paragraph = self.page.paragraph("  Caution: ", caution);
            text.push_str(&self.page.inked(Ink::Caution, &paragraph));
        }
        for entry in &outcome.readings {
            text.push_str(&self.entry(entry));
        }
        // What was perceived and not written down besides.
        for cue in &outcome.cues {
            let is_told = outcome.readings.iter().any(|entry| {
                matches!(&entry.observation, Observation::Perceived { cue: name, .. } if *name == cue.name)
            });
            if !is_told {
                text.push_str(&self.page.paragraph("  ", &cue.caption));
            }
        }
        for remark in &outcome.remarks {
            text.push_str(&self.page.paragraph("  ", remark));
        }
        if let Some(hazard) = &outcome.hazard {
            text.push_str(&self.hazard(hazard));
        }
        text
    }

    /// A dangerous act, as a block of its own.
    fn hazard(&self, hazard: &Hazard) -> String {
        let rule = "=".repeat(self.page.columns().min(72));
        let mut text = format!("{rule}\n");
        text.push_str(&self.page.paragraph("STOP. ", &hazard.consequence));
        text.push_str(&self.page.paragraph("Instead: ", &hazard.instead));
        text.push_str(&self.page.paragraph("Basis: ", &hazard.basis));
        text.push_str(&rule);
        text.push('\n');
        self.page.inked(Ink::Stop, &text)
    }

    /// One line of the notebook as it is taken, gauge drawn.
    fn entry(&self, entry: &Entry) -> String {
        let mut text = String::new();
        match &entry.observation {
            Observation::Reading {
                instrument, value, ..
            } if instrument == "dial_gauge" && self.page.columns() >= DIAL_COLUMNS => {
                let unit = DisplayUnit::of(Quantity::GaugePressure, self.units);
                for row in dial::draw(
                    unit.convert(*value),
                    unit.convert(self.full_scale),
                    unit.symbol,
                ) {
                    text.push_str(&row);
                    text.push('\n');
                }
            }
            Observation::Log { points, .. } => {
                let unit = DisplayUnit::of(Quantity::GaugePressure, self.units);
                let shown: Vec<(f64, f64)> =
                    points.iter().map(|&(t, p)| (t, unit.convert(p))).collect();
                for row in chart::draw(&shown, unit.symbol, self.page.columns()) {
                    text.push_str(&row);
                    text.push('\n');
                }
            }
            _ => {}
        }
        let when = format!("  {}  ", clock(entry.tick));
        text.push_str(&self.page.paragraph(&when, &self.observation(entry)));
        text
    }

    /// What was observed, in words.
    pub(super) fn observation(&self, entry: &Entry) -> String {
        match &entry.observation {
            Observation::Reading {
                instrument,
                place,
                value,
                error,
                unit,
                shown,
            } => format!(
                "{}: {}",
                instrument_words(instrument, place),
                self.value(*value, *error, unit, shown)
            ),
            Observation::NoReading {
                instrument,
                place,
                shown,
            } => format!("{}: {shown}", instrument_words(instrument, place)),
            Observation::Log { points, .. } => {
                let unit = DisplayUnit::of(Quantity::GaugePressure, self.units);
                let shown: Vec<(f64, f64)> =
                    points.iter().map(|&(t, p)| (t, unit.convert(p))).collect();
                format!("Gauge watched. {}", chart::words(&shown, unit.symbol))
            }
            Observation::Perceived { caption, .. } => caption.clone(),
            Observation::Proof(proof) => self.proof(proof),
            Observation::Note(note) => format!("Note: {note}"),
        }
    }

    /// A value in the units shown, with how far the truth may lie off it; electrical meters
    /// as their display shows it.
    fn value(&self, value: f64, error: f64, unit: &str, shown: &str) -> String {
        let quantity = match unit {
            "Pa" => Quantity::GaugePressure,
            "m3/s" | "m³/s" => Quantity::Flow,
            "m3" | "m³" => Quantity::Volume,
            "m" => Quantity::Length,
            "K" => Quantity::Temperature,
            _ => return shown.to_owned(),
        };
        let display = DisplayUnit::of(quantity, self.units);
        // A spread is a difference: the zero of the scale does not count.
        let spread = display.convert(error) - display.convert(0.0);
        let decimals = if spread >= 0.45 {
            display.decimals.min(1)
        } else {
            display.decimals
        };
        let symbol = display.symbol;
        format!(
            "{} {symbol}, give or take {} {symbol}",
            fixed(display.convert(value), decimals),
            fixed(spread, decimals.max(usize::from(spread < 0.95)))
        )
    }

    fn proof(&self, proof: &Proof) -> String {
        let pressure =
            |value: f64| DisplayUnit::of(Quantity::GaugePressure, self.units).show(value);
        let volume = |value: f64| DisplayUnit::of(Quantity::Volume, self.units).show(value);
        let mut parts = vec![match proof.cut_in {
            Some(value) => format!("Pump started at {}.", pressure(value)),
            None => "The pump did not start.".to_owned(),
        }];
        parts.push(match (proof.cut_out, proof.run_s) {
            (Some(value), Some(run)) => format!(
                "It stopped by itself at {} after {}.",
                pressure(value),
                crate::cli::display::span(run)
            ),
            (Some(value), None) => format!("It stopped by itself at {}.", pressure(value)),
            (None, _) => "It did not stop by itself.".to_owned(),
        });
        if let Some((first, last)) = proof.hold {
            parts.push(format!("Hold: {} to {}.", pressure(first), pressure(last)));
        }
        if let Some(drawdown) = proof.drawdown {
            parts.push(format!(
                "Drawdown {}; the tank's air should give {}.",
                volume(drawdown),
                volume(proof.drawdown_expected)
            ));
        }
        parts.push(match proof.earth_ohm {
            Some(ohm) => format!("Earth conductor: {ohm:.2} ohm when it was measured."),
            None => "Earth conductor: not measured.".to_owned(),
        });
        format!("Proof. {}", parts.join(" "))
    }
}

/// The last gauge reading in a notebook, for the status line.
pub(super) fn last_gauge(notebook: &[Entry], units: Units) -> Option<String> {
    notebook
        .iter()
        .rev()
        .find_map(|entry| match &entry.observation {
            Observation::Reading {
                instrument, value, ..
            } if instrument == "dial_gauge" => Some((entry.tick, *value)),
            Observation::Log { points, .. } => points.last().map(|&(_, value)| (entry.tick, value)),
            _ => None,
        })
        .map(|(tick, value)| {
            let shown = match units {
                Units::Us => format!("{} psi", fixed(value / PSI, 0)),
                Units::Si => format!("{} kPa", fixed(value / 1_000.0, 0)),
            };
            format!("gauge {shown} at {}", clock(tick))
        })
}

fn instrument_words(instrument: &str, place: &[String]) -> String {
    if instrument == "level_tape" {
        return "Level tape, water in the source".to_owned();
    }
    if instrument == "tyre_gauge" {
        return "Tyre gauge, the tank's air valve".to_owned();
    }
    let name = super::grammar::capital(&instrument.replace('_', " "));
    let places: Vec<&str> = place
        .iter()
        .map(String::as_str)
        .filter(|place| !place.is_empty())
        .collect();
    if places.is_empty() {
        name
    } else {
        format!("{name}, {}", places.join(" to "))
    }
}

/// A point of time of the visit: minutes and seconds, hours when there are some.
pub(super) fn clock(tick: Tick) -> String {
    let seconds = tick.seconds().floor() as u64;
    let (hours, minutes, seconds) = (seconds / 3_600, seconds / 60 % 60, seconds % 60);
    if hours > 0 {
        format!("{hours}:{minutes:02}:{seconds:02}")
    } else {
        format!("{minutes}:{seconds:02}")
    }
}
