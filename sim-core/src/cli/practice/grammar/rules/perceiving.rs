//! Looking, listening, feeling, smelling, reading the gauge.

use super::{Built, Rule, Topic, Value, act};
use crate::session::Action;

/// Readings that a watch has when no interval is said.
const READINGS_OF_A_WATCH: f64 = 15.0;

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Senses,
        patterns: &["look|l|look_around|look_round|see ?here"],
        example: "look",
        help: "look round from where you stand",
        build: |_, values| match values {
            [] => act(Action::Look { at: None }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["read|check ?pressure gauge|pressure", "gauge", "pressure"],
        example: "read the gauge",
        help: "",
        build: |_, _| act(Action::ReadGauge),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &[
            "look|inspect|examine|see|check ?at|into|in|over <part>",
            "x <part>",
        ],
        example: "look at the switch",
        help: "",
        build: |_, values| match values {
            [Value::Part(part)] => act(Action::Look { at: Some(*part) }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Senses,
        patterns: &[
            "listen|hear|listen_for_pump|listen_to_pump|listen_closely",
            "listen to|at <part>",
        ],
        example: "listen",
        help: "what can be heard from here",
        build: |_, _| act(Action::Listen),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["feel|touch_housing_of|lay_hand_on|hand_on|put_hand_on <part>"],
        example: "feel the motor",
        help: "lay a hand on a housing or pipe, never on terminals",
        build: |_, values| match values {
            [Value::Part(part)] => act(Action::Feel { part: *part }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["feel|touch"],
        example: "feel the motor | feel the tank | feel the cable",
        help: "",
        build: |_, _| super::ask("Feel what?"),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["smell|sniff ?air|here"],
        example: "smell",
        help: "",
        build: |_, _| act(Action::Smell),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["knock|rap|tap ?on ?against tank", "knock"],
        example: "knock on the tank",
        help: "high and low: air rings, water is dull",
        build: |_, _| act(Action::KnockTank),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["tap|flick ?on gauge|needle ?glass"],
        example: "tap the gauge",
        help: "and read it: a needle can stick",
        build: |_, _| act(Action::TapGauge),
    },
    Rule {
        topic: Topic::Senses,
        patterns: &[
            "watch|log|follow|record gauge|needle|pressure ?for <time> ?and_read|and_write_down|reading every <time>",
            "watch|log|follow|record gauge|needle|pressure every <time> for <time>",
            "watch|log|follow|record gauge|needle|pressure ?for <time>",
        ],
        example: "watch the gauge for 15 min every 1 min",
        help: "written down at even intervals, by itself 15 times",
        build: |_, values| match values {
            [Value::Time(first), Value::Time(second)] => act(Action::LogGauge {
                seconds: first.max(*second),
                every: first.min(*second),
            }),
            [Value::Time(seconds)] => act(Action::LogGauge {
                seconds: *seconds,
                every: (seconds / READINGS_OF_A_WATCH).max(1.0),
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Senses,
        patterns: &["watch|log gauge|needle|pressure"],
        example: "watch the gauge for 15 min every 1 min",
        help: "",
        build: |_, _| super::ask("For how long?"),
    },
];
