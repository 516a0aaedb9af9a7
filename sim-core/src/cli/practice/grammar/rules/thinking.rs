//! Suspects, the call, the proof, the end.

use super::{Built, Rule, Topic, Value, act, ask};
use crate::session::{Action, FaultName};

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "suspect|might_be|maybe|could_be|perhaps <fault>",
            "it could|might|may be <fault>",
        ],
        example: "suspect check valve weeping",
        help: "put it on your list",
        build: |_, values| match values {
            [Value::Fault(kind)] => act(Action::Suspect {
                fault: FaultName(*kind),
                keep: true,
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "cross|strike|rule|cross_off|strike_off ?out <fault> ?out|off",
            "it is not|isnt <fault>",
            "its not <fault>",
            "not <fault>",
        ],
        example: "cross out bladder torn",
        help: "strike it from your list",
        build: |_, values| match values {
            [Value::Fault(kind)] => act(Action::Suspect {
                fault: FaultName(*kind),
                keep: false,
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "?i call|diagnose|say|conclude ?it|that|its ?is <faults>",
            "it is <faults>",
            "its <faults>",
        ],
        example: "call splice.high_resistance | it is the splice, a bad joint | call healthy",
        help: "state what is wrong: one fault, several with `and`, or healthy",
        build: |_, values| match values {
            [Value::Faults(kinds)] => act(Action::Call {
                faults: kinds.iter().copied().map(FaultName).collect(),
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Calling,
        patterns: &["call|suspect|cross_out|diagnose"],
        example: "call splice.high_resistance | suspect check valve weeping | faults",
        help: "",
        build: |_, _| ask("Which fault?"),
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "explain|tell|show ?to ?owner|customer",
            "explain|tell|show ?to ?owner|customer ?how|that ?healthy system|pump|cycle|it ?works|runs|is ?healthy|sound ?to ?owner|customer",
        ],
        example: "explain the system to the owner",
        help: "how it works, what is normal, what to look out for",
        build: |_, _| act(Action::Explain { about: None }),
    },
    Rule {
        topic: Topic::Calling,
        patterns: &["explain|tell|show ?owner|customer ?about <fault> ?to ?owner|customer"],
        example: "explain low source to the owner",
        help: "what the owner can do about it",
        build: |_, values| match values {
            [Value::Fault(kind)] => act(Action::Explain {
                about: Some(FaultName(*kind)),
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "prove|proof|prove_it|prove_repair|run_proof|test_repair|prove_fix ?repair|run|it",
        ],
        example: "prove",
        help: "draw to cut-in, build to cut-out, hold, compare the drawdown",
        build: |_, _| act(Action::Prove),
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "close|tidy|finish|wrap up",
            "finish|done|close-up",
            "leave site",
            "hand over",
        ],
        example: "close up",
        help: "leave the site as it should be; ends the exercise",
        build: |_, _| act(Action::CloseUp),
    },
    Rule {
        topic: Topic::Calling,
        patterns: &[
            "hint",
            "give|need|i_need hint",
            "give hint",
            "help i_am_stuck",
            "stuck",
        ],
        example: "hint",
        help: "practice only",
        build: |_, _| act(Action::Hint),
    },
    Rule {
        topic: Topic::Calling,
        patterns: &["undo", "take_back|take_that_back|go_back_to_safe_point"],
        example: "undo",
        help: "back to the last safe point, practice only",
        build: |_, _| act(Action::Undo),
    },
];
