//! Walking and waiting.

use super::{Built, Rule, Topic, Value, act, ask};
use crate::session::{Action, Until};

/// Longest wait for something when none is said [s]: long enough to fill a big tank.
const AT_MOST_S: f64 = 30.0 * 60.0;

fn until(what: Until, values: &[Value]) -> Built {
    let at_most = match values {
        [] => AT_MOST_S,
        [Value::Time(at_most)] => *at_most,
        _ => return Built::No,
    };
    act(Action::WaitUntil {
        until: what,
        at_most,
    })
}

fn until_gauge(what: fn(f64) -> Until, values: &[Value]) -> Built {
    match values {
        [Value::Pressure(pressure), rest @ ..] => until(what(*pressure), rest),
        _ => Built::No,
    }
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "go|get ?down into|in|inside source|cistern|well|tank",
            "climb|step ?down|in|into",
        ],
        example: "go to the source | climb into the source",
        help: "stand at it; climbing in is never right",
        build: |_, _| ask("Do you mean to stand at the source, or to climb into it?"),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "enter|climb_into|climb_down_into|climb_in|get_into|go_down_into ?source|cistern|well|tank|it",
            "climb ?down into source|cistern|well|tank|it",
        ],
        example: "climb into the source",
        help: "never right: it ends the exercise",
        build: |_, _| act(Action::EnterSource),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "go|walk|head|move|return|come ?over|back|up|down|out|on ?to|at|into|in <station>",
            "to <station>",
            "<place>",
        ],
        example: "go to the panel | panel",
        help: "panel, wall, splice, source or house; walking takes time",
        build: |_, values| match values {
            [Value::Station(to)] => act(Action::Go { to: *to }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Moving,
        patterns: &["go|walk|head|move ?to"],
        example: "go to the panel | go to the wall | go to the house",
        help: "",
        build: |_, _| ask("Where to?"),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &["wait|pause|stand_by|stay ?for <time>"],
        example: "wait 5 minutes",
        help: "let time pass; what you hear meanwhile is told",
        build: |_, values| match values {
            [Value::Time(seconds)] => act(Action::Wait { seconds: *seconds }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for pump|motor|it ?to stops|stop|is_off|cuts_out|cut_out",
            "wait ?until|till|for pump|motor|it ?to stops|stop|is_off|cuts_out|cut_out ?at_most|up_to|for <time>",
            "wait until|till|for cut_out|cutout|cut-out",
        ],
        example: "wait until the pump stops",
        help: "at most half an hour; or say: wait until the pump stops, at most 10 min",
        build: |_, values| until(Until::PumpStops, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for pump|motor|it ?to starts|start|is_on|runs|cuts_in|cut_in",
            "wait ?until|till|for pump|motor|it ?to starts|start|is_on|runs|cuts_in|cut_in ?at_most|up_to|for <time>",
            "wait until|till|for cut_in|cutin|cut-in",
        ],
        example: "wait until the pump starts",
        help: "",
        build: |_, values| until(Until::PumpStarts, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for gauge|needle|pressure|it ?to is|stands|be|stand ?still|steady|settled",
            "wait ?until|till|for gauge|needle|pressure|it ?to settles|settle|stops|stop ?moving",
            "wait ?until|till|for gauge|needle|pressure|it ?to is|stands|be|stand still|steady|settled at_most|up_to <time>",
        ],
        example: "wait until the needle stands still",
        help: "",
        build: |_, values| until(Until::NeedleStill, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for gauge|needle|pressure|it ?to falls|fall|drops|drop|sinks|is_down|is_below|is_under|below|goes_down ?to|below|under <pressure>",
            "wait ?until|till|for gauge|needle|pressure|it ?to falls|fall|drops|drop|sinks|is_down|is_below|is_under|below|goes_down ?to|below|under <pressure> at_most|up_to <time>",
        ],
        example: "wait until the gauge falls to 40 psi",
        help: "",
        build: |_, values| until_gauge(Until::GaugeBelow, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for gauge|needle|pressure|it ?to reads|read|shows|show|reaches|reach|rises|rise|climbs|is|is_above|is_over|above|gets|goes_up ?to|above|over <pressure>",
            "wait ?until|till|for gauge|needle|pressure|it ?to reads|read|shows|show|reaches|reach|rises|rise|climbs|is|is_above|is_over|above|gets|goes_up ?to|above|over <pressure> at_most|up_to <time>",
            "wait until|till|for <pressure>",
        ],
        example: "wait until the gauge reads 60 psi",
        help: "waits for this or more; say `falls to` for this or less",
        build: |_, values| until_gauge(Until::GaugeAbove, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &[
            "wait ?until|till|for solid water ?comes|runs|flows",
            "wait ?until|till|for water|it ?to comes|runs|run|flows|is ?solid|without_air",
            "wait ?until|till|for air ?to is|be|comes|come out|gone",
            "wait ?until|till|for solid water ?comes|runs|flows at_most|up_to <time>",
        ],
        example: "wait for solid water",
        help: "until what is open runs without air",
        build: |_, values| until(Until::SolidWater, values),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &["wait until|till|for <any>"],
        example: "wait until the pump stops | wait until the needle stands still | wait until the gauge reads 60 psi",
        help: "",
        build: |_, _| ask("You can wait for the pump, the needle, a pressure, or solid water."),
    },
    Rule {
        topic: Topic::Moving,
        patterns: &["wait|pause", "wait until|till|for"],
        example: "wait 5 minutes | wait until the pump stops | wait until the gauge reads 60 psi",
        help: "",
        build: |_, _| ask("How long, or for what?"),
    },
];
