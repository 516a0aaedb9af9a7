//! What an outcome shows, as things that can be compared: numbers, words, cues.
//!
//! Numbers are put on a scale on which their errors are even: ohms and times by their
//! logarithm, since both go over decades.

use crate::math::{self, Fnv};
use crate::session::{Action, Observation, Outcome, Refusal};
use crate::units::convert::PSI;

/// What kind of thing is shown; it says how far it can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sort {
    /// The needle of the gauge at the wall: hangs on how full the tank is.
    Needle,
    /// A change of that needle.
    NeedleChange,
    /// What another instrument shows.
    Meter,
    /// How long something took.
    Time,
    /// What is said of a wait: whether what was waited for came.
    Said,
    /// A word: no number, or what is said besides.
    Word,
    /// A word that a hair decides.
    SoftWord,
    /// A cue that comes and goes with the pump.
    PassingCue,
    /// A cue of how things are.
    LastingCue,
}

/// What is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Shown {
    /// A number on its scale, with the error of the instrument there (one standard
    /// deviation) and the width over which a surprise may lie.
    Number {
        /// On its scale.
        value: f64,
        /// One standard deviation.
        error: f64,
        /// Over which anything may turn up that nobody expects.
        span: f64,
    },
    /// A word, by its digest.
    Word(u64),
    /// A cue: its level and its words, by digest.
    Cue {
        /// 0 to 1.
        level: f64,
        /// Digest of the caption without its digits.
        words: u64,
    },
}

/// One thing shown, under a key that is the same on every twin.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Feature {
    pub(super) key: u64,
    pub(super) sort: Sort,
    pub(super) shown: Shown,
    /// For people: what it is, and as what it is shown.
    pub(super) label: String,
    pub(super) text: String,
}

/// Share of a class of accuracy that is one standard deviation of a meter (training value:
/// a calibrated meter keeps well inside its class).
const SHARE_OF_CLASS: f64 = 0.25;
/// Error of the model beside the meter's, as a share of the number (training value).
const MODEL_SHARE: f64 = 0.01;
/// One standard deviation of an eye on the dial [Pa] (training value).
const EYE_PA: f64 = 0.3 * PSI;
/// Resistance below which ohms are all the same [ohm].
const LEAST_OHM: f64 = 0.2;
/// Times below which all are the same [s].
const LEAST_S: f64 = 3.0;
/// Error of a time as a share of it (training value).
const TIME_SHARE: f64 = 0.08;
/// Error of a change of the needle as a share of it, and by how much twin and site may
/// differ in time [s] (training values).
const CHANGE_SHARE: f64 = 0.04;
const MOMENT_S: f64 = 3.0;
const AHEAD_S: f64 = 8.0;
/// Points of a log that are compared.
const LOG_POINTS: usize = 6;

/// Everything that an action's outcome shows, sorted by key; `number` is the place of the
/// action in a script, so that keys of two actions differ.
pub(super) fn shown(
    number: usize,
    action: &Action,
    outcome: &Result<Outcome, Refusal>,
) -> Vec<Feature> {
    let mut list = List {
        number,
        features: Vec::new(),
    };
    match outcome {
        Err(refusal) => list.word("refused", Sort::Word, &digitless(&refusal.to_string())),
        Ok(outcome) => list.outcome(action, outcome),
    }
    let mut features = list.features;
    features.sort_by_key(|feature| feature.key);
    features.dedup_by_key(|feature| feature.key);
    features
}

struct List {
    number: usize,
    features: Vec<Feature>,
}

impl List {
    fn push(&mut self, name: &str, sort: Sort, shown: Shown, text: String) {
        let mut key = Fnv::new();
        key.word(self.number as u64);
        key.text(name);
        self.features.push(Feature {
            key: key.finish(),
            sort,
            shown,
            label: name.to_owned(),
            text,
        });
    }

    fn word(&mut self, name: &str, sort: Sort, word: &str) {
        let mut digest = Fnv::new();
        digest.text(word);
        self.push(name, sort, Shown::Word(digest.finish()), word.to_owned());
    }

    fn number(
        &mut self,
        name: &str,
        sort: Sort,
        (value, error, span): (f64, f64, f64),
        text: String,
    ) {
        let shown = Shown::Number { value, error, span };
        self.push(name, sort, shown, text);
    }

    fn time(&mut self, name: &str, seconds: f64) {
        let scaled = math::ln(seconds.max(0.0) + LEAST_S);
        self.number(
            name,
            Sort::Time,
            (scaled, TIME_SHARE, 6.0),
            format!("{seconds:.0} s"),
        );
    }

    fn needle(&mut self, name: &str, sort: Sort, pa: f64) {
        let error = if sort == Sort::NeedleChange {
            1.4 * EYE_PA + CHANGE_SHARE * pa.abs()
        } else {
            EYE_PA
        };
        let text = format!("{:.1} psi ({:.2} bar)", pa / PSI, pa / 1e5);
        self.number(name, sort, (pa, error, 100.0 * PSI), text);
    }

    fn outcome(&mut self, action: &Action, outcome: &Outcome) {
        if let Some(hazard) = &outcome.hazard {
            self.word("hazard", Sort::Word, &format!("{:?}", hazard.kind));
            return;
        }
        for entry in &outcome.readings {
            self.observation(&entry.observation);
        }
        for cue in &outcome.cues {
            let mut words = Fnv::new();
            words.text(&digitless(&cue.caption));
            let shown = Shown::Cue {
                level: cue.level,
                words: words.finish(),
            };
            let sort = if is_passing(&cue.name) {
                Sort::PassingCue
            } else {
                Sort::LastingCue
            };
            self.push(
                &format!("cue {}", cue.name),
                sort,
                shown,
                cue.caption.clone(),
            );
        }
        match action {
            Action::WaitUntil { .. } => {
                let said = outcome.remarks.join(" ");
                self.word("said", Sort::Said, &said);
                self.time("waited", outcome.seconds);
            }
            Action::TapGauge => {
                let said = outcome.remarks.join(" ");
                self.word("said", Sort::SoftWord, &said);
            }
            _ => {}
        }
    }

    fn observation(&mut self, observation: &Observation) {
        match observation {
            Observation::Reading {
                instrument,
                place,
                value,
                error,
                unit,
                shown,
            } => {
                let name = format!("{instrument} {}", place.join(" "));
                if instrument == "dial_gauge" {
                    self.needle(&name, Sort::Needle, *value);
                } else {
                    let text = in_words(*value, unit, shown);
                    self.number(&name, Sort::Meter, scaled(*value, *error, unit), text);
                }
            }
            Observation::NoReading {
                instrument,
                place,
                shown,
            } => {
                let name = format!("{instrument} {}", place.join(" "));
                self.word(&name, Sort::Word, shown);
            }
            Observation::Log { points, .. } => self.log(points),
            Observation::Proof(proof) => {
                let some = |value: Option<f64>| if value.is_some() { "yes" } else { "no" };
                self.word("proof starts", Sort::Word, some(proof.cut_in));
                self.word("proof stops", Sort::Word, some(proof.cut_out));
                if let Some(pa) = proof.cut_in {
                    self.needle("cut-in", Sort::NeedleChange, pa);
                }
                if let Some(pa) = proof.cut_out {
                    self.needle("cut-out", Sort::NeedleChange, pa);
                }
                if let Some(seconds) = proof.run_s {
                    self.time("run", seconds);
                }
                if let Some((begun, ended)) = proof.hold {
                    self.needle("fall while held", Sort::NeedleChange, ended - begun);
                }
                if let Some(volume) = proof.drawdown {
                    let scaled = math::ln(volume * 1e3 + 0.5);
                    self.number(
                        "drawdown",
                        Sort::Meter,
                        (scaled, 0.08, 5.0),
                        format!("{:.1} L", volume * 1e3),
                    );
                }
            }
            // What is perceived comes with the cues; that nothing was is their absence.
            _ => {}
        }
    }

    fn log(&mut self, points: &[(f64, f64)]) {
        let (Some(first), true) = (points.first(), points.len() >= 2) else {
            return;
        };
        // How much water is about is not known to a twin: where the needle moves fast from the
        // first, it may be some seconds ahead.
        let second = points[1];
        let slope = (second.1 - first.1).abs() / (second.0 - first.0).max(1.0);
        let text = format!("{:.1} psi ({:.2} bar)", first.1 / PSI, first.1 / 1e5);
        let shown = (first.1, EYE_PA + AHEAD_S * slope, 100.0 * PSI);
        self.number("dial_gauge log", Sort::Needle, shown, text);
        let last = points.len() - 1;
        let step = last.div_ceil(LOG_POINTS).max(1);
        let mut at = last;
        let mut kept = Vec::new();
        while at > 0 {
            kept.push(at);
            at = at.saturating_sub(step);
        }
        for at in kept.into_iter().rev() {
            let (time_s, pa) = points[at];
            let name = format!("change after {time_s:.0} s");
            // Where the needle moves fast a moment more or less makes a difference.
            let (before, after) = (points[at - 1], points[(at + 1).min(last)]);
            let slope = (after.1 - before.1).abs() / (after.0 - before.0).max(1.0);
            let change = pa - first.1;
            let error = 1.4 * EYE_PA + CHANGE_SHARE * change.abs() + MOMENT_S * slope;
            let text = format!("{:.1} psi ({:.2} bar)", change / PSI, change / 1e5);
            let shown = (change, error, 100.0 * PSI);
            self.number(&name, Sort::NeedleChange, shown, text);
        }
    }
}

/// A reading on its scale: value, error, span.
fn scaled(value: f64, error: f64, unit: &str) -> (f64, f64, f64) {
    let error = SHARE_OF_CLASS * error + MODEL_SHARE * value.abs();
    match unit {
        "Ω" => {
            let from = value.max(0.0) + LEAST_OHM;
            (math::ln(from), error / from + 0.02, 22.0)
        }
        "Pa" => (value, error + 0.2 * PSI, 100.0 * PSI),
        "V" => (value, error + 0.5, 300.0),
        "A" => (value, error + 0.05, 60.0),
        "W" => (value, error + 5.0, 3_000.0),
        "m³/s" => (value, error + 2e-6, 1e-3),
        "m" => (value, error + 0.02, 5.0),
        "K" => (value, error + 1.0, 100.0),
        "F" => (value, error + 1e-6, 3e-4),
        _ => (value, error + 1e-9, 10.0 * (value.abs() + 1.0)),
    }
}

/// A reading for people.
fn in_words(value: f64, unit: &str, shown: &str) -> String {
    match unit {
        "Pa" => format!("{:.1} psi ({:.2} bar)", value / PSI, value / 1e5),
        "m³/s" => format!("{:.1} L/min", value * 60_000.0),
        "K" => format!("{:.0} °C", value - 273.15),
        _ => shown.to_owned(),
    }
}

/// Whether a cue comes and goes with the pump or with what is drawn.
fn is_passing(name: &str) -> bool {
    const PASSING: [&str; 21] = [
        "motor_hum",
        "silent_motor",
        "pump_started",
        "pump_stopped",
        "pump_vibrates",
        "pipe_vibrates",
        "switch_click",
        "switch_chatter",
        "contacts_apart",
        "contacts_together",
        "contact_buzz",
        "needle_",
        "outlet_",
        "water_rush",
        "water_arrived",
        "water_in_house",
        "water_running_back",
        "check_valve_thump",
        "tank_tone",
        "locked_rotor_growl",
        "float_click",
    ];
    PASSING.iter().any(|start| name.starts_with(start))
}

fn digitless(text: &str) -> String {
    text.chars()
        .filter(|letter| !letter.is_ascii_digit() && *letter != '.')
        .collect()
}
