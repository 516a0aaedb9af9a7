//! What takes no time: lists, help, units, the end of the session.

use super::{Built, Rule, Topic, Value, show};
use crate::cli::display::Units;
use crate::cli::practice::grammar::Show;

const fn rule(
    patterns: &'static [&'static str],
    example: &'static str,
    help: &'static str,
    build: fn(&super::Context<'_>, &[Value]) -> Built,
) -> Rule {
    Rule {
        topic: Topic::Showing,
        patterns,
        example,
        help,
        build,
    }
}

pub(super) const RULES: &[Rule] = &[
    rule(
        &["?show|read notebook|notes|readings", "?show log|history"],
        "notebook",
        "everything written down so far",
        |_, _| show(Show::Notebook),
    ),
    rule(
        &["?show suspects|suspect_list"],
        "suspects",
        "your own list",
        |_, _| show(Show::Suspects),
    ),
    rule(
        &["?show|list faults|catalogue|catalog"],
        "faults",
        "every fault that can be called",
        |_, _| show(Show::Faults),
    ),
    rule(
        &[
            "?show status|state",
            "where am i",
            "where",
            "what time is it",
            "time",
        ],
        "status",
        "where you are and how things were left",
        |_, _| show(Show::Status),
    ),
    rule(
        &["?show map|places|stations", "where can i go"],
        "map",
        "the places to stand",
        |_, _| show(Show::Map),
    ),
    rule(
        &["?show kit|tools|bag|inventory", "what do i have"],
        "kit",
        "what you carry",
        |_, _| show(Show::Kit),
    ),
    rule(
        &["?show complaint|job|story"],
        "complaint",
        "what the customer said",
        |_, _| show(Show::Complaint),
    ),
    rule(
        &[
            "?show points|probe_points|terminals ?here",
            "where can i probe",
        ],
        "points",
        "where a probe can touch from here",
        |_, _| show(Show::Points),
    ),
    rule(
        &["?give advice", "what next"],
        "advice",
        "where to read next, then what, then why; practice only",
        |_, _| show(Show::Advice),
    ),
    rule(
        &["help|commands|how|h", "what can i do|say"],
        "help",
        "how to say things",
        |_, _| show(Show::Help(None)),
    ),
    rule(
        &["help ?with|about <topic>", "how ?do ?i <topic>"],
        "help meters",
        "about one thing: moving, senses, water, safety, meters, repairs, calling",
        |_, values| match values {
            [Value::Topic(topic)] => show(Show::Help(Some(*topic))),
            _ => Built::No,
        },
    ),
    rule(
        &["units us|psi|american", "us units"],
        "units us",
        "psi, gallons, feet",
        |_, _| show(Show::Units(Units::Us)),
    ),
    rule(
        &["units si|metric|kpa", "si|metric units", "metric"],
        "units si",
        "kPa, liters, meters",
        |_, _| show(Show::Units(Units::Si)),
    ),
    rule(
        &["quit|exit|bye|stop|q", "leave"],
        "quit",
        "end this session; the logbook can be gone on with",
        |_, _| show(Show::Quit),
    ),
];
