//! The table of phrases, topic by topic.

mod electric;
mod moving;
mod perceiving;
mod showing;
mod thinking;
mod water;
mod working;

use super::slots::{Problem, Value};
use super::{Context, Line, Show};
use crate::session::{Action, Station};

/// One thing to say, in several forms.
pub(in crate::cli::practice) struct Rule {
    /// What it is about.
    pub(super) topic: Topic,
    /// The forms.
    pub(super) patterns: &'static [&'static str],
    /// A line that fits.
    pub(super) example: &'static str,
    /// What it does, for help.
    pub(super) help: &'static str,
    /// Makes of the values what is meant.
    pub(super) build: fn(&Context<'_>, &[Value]) -> Built,
}

/// What a phrase with its values makes.
pub(super) enum Built {
    /// Something to do.
    Line(Line),
    /// A question back.
    Ask(String),
    /// Not this phrase after all.
    No,
}

/// What help can be asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli::practice) enum Topic {
    /// Walking and waiting.
    Moving,
    /// Looking, listening, reading the gauge.
    Senses,
    /// Electrical meters.
    Meters,
    /// Valves, outlets, tank, water-side instruments.
    Water,
    /// Covers, lockout, breaker.
    Safety,
    /// Repairs and parts.
    Repairs,
    /// Suspects, call, proof, close-up.
    Calling,
    /// What can be shown.
    Showing,
}

impl Topic {
    /// Every topic, in the order of a visit.
    pub(in crate::cli::practice) const ALL: [Self; 8] = [
        Self::Moving,
        Self::Senses,
        Self::Water,
        Self::Safety,
        Self::Meters,
        Self::Repairs,
        Self::Calling,
        Self::Showing,
    ];

    /// As one says it behind `help`.
    pub(in crate::cli::practice) const fn name(self) -> &'static str {
        match self {
            Self::Moving => "moving",
            Self::Senses => "senses",
            Self::Water => "water",
            Self::Safety => "safety",
            Self::Meters => "meters",
            Self::Repairs => "repairs",
            Self::Calling => "calling",
            Self::Showing => "showing",
        }
    }

    /// What it holds.
    pub(in crate::cli::practice) const fn title(self) -> &'static str {
        match self {
            Self::Moving => "Going about and waiting",
            Self::Senses => "Looking, listening, reading the gauge",
            Self::Water => "Valves, taps, tank and water",
            Self::Safety => "Breaker, lockout and covers",
            Self::Meters => "Electrical meters",
            Self::Repairs => "Repairs and parts",
            Self::Calling => "Suspects, call, proof, close-up",
            Self::Showing => "What takes no time",
        }
    }

    /// The topic of a word.
    pub(super) fn of(text: &str) -> Result<Self, Problem> {
        Self::ALL
            .into_iter()
            .find(|topic| topic.name() == text)
            .or(match text {
                "walking" | "waiting" | "wait" | "time" => Some(Self::Moving),
                "gauge" | "look" | "looking" | "listening" => Some(Self::Senses),
                "valves" | "tank" | "air" | "taps" | "instruments" => Some(Self::Water),
                "lockout" | "breaker" | "covers" | "safe work" => Some(Self::Safety),
                "meter" | "volts" | "ohms" | "clamp" | "points" | "measuring" => Some(Self::Meters),
                "repair" | "parts" | "replace" | "pump" => Some(Self::Repairs),
                "call" | "suspects" | "proof" | "prove" | "ending" | "faults" => {
                    Some(Self::Calling)
                }
                "notebook" | "status" => Some(Self::Showing),
                _ => None,
            })
            .ok_or_else(|| {
                Problem::new(
                    format!("There is no help about `{text}`."),
                    Self::ALL
                        .iter()
                        .map(|topic| format!("help {}", topic.name()))
                        .collect(),
                )
            })
    }
}

impl Rule {
    /// Lines that fit, for messages.
    pub(super) fn accepted(&self) -> Vec<String> {
        self.example.split(" | ").map(str::to_owned).collect()
    }
}

const TABLES: [&[Rule]; 7] = [
    moving::RULES,
    perceiving::RULES,
    electric::RULES,
    water::RULES,
    working::RULES,
    thinking::RULES,
    showing::RULES,
];

/// Every phrase; where two fit, the earlier counts.
pub(super) fn all() -> impl Iterator<Item = &'static Rule> {
    TABLES.into_iter().flatten()
}

/// Example lines and what they do, of one topic.
pub(in crate::cli::practice) fn examples(
    topic: Topic,
) -> impl Iterator<Item = (&'static str, &'static str)> {
    all()
        .filter(move |rule| rule.topic == topic)
        .map(|rule| (rule.example, rule.help))
}

/// What one usually does at a station.
pub(super) const fn here(station: Station) -> &'static [&'static str] {
    match station {
        Station::Panel => &[
            "look",
            "breaker off",
            "lock out",
            "volts line1 to neutral",
            "go to the wall",
        ],
        Station::Wall => &[
            "look",
            "read the gauge",
            "listen",
            "open the switch cover",
            "wait until the pump stops",
            "go to the panel",
        ],
        Station::Splice => &[
            "look",
            "open the splice box",
            "prove dead",
            "volts line1 to line2",
            "go to the wall",
        ],
        Station::Source => &[
            "look",
            "open the source lid",
            "measure level",
            "listen",
            "go to the wall",
        ],
        Station::House => &[
            "look",
            "open the TAP",
            "close the TAP",
            "bucket at the TAP",
            "go to the wall",
        ],
    }
}

fn act(action: Action) -> Built {
    Built::Line(Line::Act(action))
}

fn show(show: Show) -> Built {
    Built::Line(Line::Show(show))
}

fn ask(question: &str) -> Built {
    Built::Ask(question.to_owned())
}
