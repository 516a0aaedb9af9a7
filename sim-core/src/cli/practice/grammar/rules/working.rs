//! Covers, joints, repairs, pulling the pump, help.

use super::{Built, Rule, Topic, Value, act, ask};
use crate::catalog::PartId;
use crate::session::{Action, Repair};

fn repair(how: Repair, values: &[Value]) -> Built {
    match values {
        [Value::Part(part)] => act(Action::Repair { part: *part, how }),
        _ => Built::No,
    }
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "open|remove|take_off|lift|unscrew ?up|off <cover>",
            "take <cover> off",
        ],
        example: "open the switch cover",
        help: "panel cover, switch cover, splice box, source lid",
        build: |_, values| match values {
            [Value::Cover(cover)] => act(Action::OpenCover { cover: *cover }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "close|put_on|put_back|shut ?up|back <cover>",
            "put <cover> back|on ?on",
        ],
        example: "close the switch cover",
        help: "",
        build: |_, values| match values {
            [Value::Cover(cover)] => act(Action::CloseCover { cover: *cover }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "take|pull leads|conductors|wires|splice|joint|joints apart|off",
            "disconnect|separate|part leads|conductors|wires|pump|motor",
            "leads off|apart",
        ],
        example: "take the leads apart",
        help: "in the splice box, dead and locked out",
        build: |_, _| act(Action::TakeLeadsApart),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "join|rejoin|reconnect|connect|put leads|conductors|wires ?back ?together|again",
            "leads on|together",
        ],
        example: "join the leads",
        help: "",
        build: |_, _| act(Action::JoinLeads),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["pull|lift|raise|hoist|bring ?up|out pump ?up|out"],
        example: "pull the pump",
        help: "two people, power locked off; the last thing to do, not the first",
        build: |_, _| act(Action::PullPump),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "lower|drop|put ?back pump ?down|back|in ?again vented|tilted|and_vent|venting_it ?and_vented",
            "lower|drop|put ?back pump ?down|back|in ?and|with|while tilt|vent|venting|tilting ?it ?on_way_down",
        ],
        example: "lower the pump vented",
        help: "tilted on the way, so that no air stays in it",
        build: |_, _| act(Action::LowerPump { vented: true }),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["lower|drop|put ?back pump ?down|back|in ?again"],
        example: "lower the pump",
        help: "straight down",
        build: |_, _| act(Action::LowerPump { vented: false }),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "vent ?pump|line|air|run",
            "bleed ?air|pump|line ?from|out ?pump|line",
            "open vent",
        ],
        example: "vent",
        help: "above the pump, until solid water comes",
        build: |_, _| act(Action::Vent),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["prime ?pump", "fill pump"],
        example: "prime",
        help: "fill a pump above the water by its plug",
        build: |_, _| act(Action::Prime),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "call|get|fetch|phone|ask ?for helper|help_hand|second_person|hand|mate|colleague ?to_come",
        ],
        example: "call a helper",
        help: "what needs two people needs two",
        build: |_, _| act(Action::CallHelper),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "call|get|fetch|phone|ask ?for ?qualified|licensed electrician|qualified_person|person",
            "electrician",
        ],
        example: "call an electrician",
        help: "for live or wired work that you are not qualified for: always a right choice",
        build: |_, _| act(Action::CallQualified),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["disinfect|chlorinate ?and_sample|source|system|cistern|well|pump"],
        example: "disinfect",
        help: "after anything wet was opened; and a sample",
        build: |_, _| act(Action::Disinfect),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "replace|change|renew|swap|exchange ?out <part>",
            "put|fit|install ?in new <part> ?in",
        ],
        example: "replace the check valve",
        help: "costs the part",
        build: |_, values| match values {
            [Value::Part(part)] => act(Action::Replace { part: *part }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &[
            "fill|refill|top_up ?up source|cistern|well",
            "order|bring|haul|get|have water ?brought ?in",
        ],
        example: "fill the cistern",
        help: "have water brought",
        build: |_, _| {
            act(Action::Repair {
                part: PartId::Source,
                how: Repair::Refill,
            })
        },
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["tighten|seal|patch|remake|fasten|re-make|make_good <part>"],
        example: "tighten the splice",
        help: "or seal, patch, remake",
        build: |_, values| repair(Repair::Tighten, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["clean|clear|unclog|unblock|unplug|flush|brush|clean_out <part>"],
        example: "clean the switch port",
        help: "",
        build: |_, values| repair(Repair::Clean, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["free|unstick|refit|reseat|rehang|hang|untangle|loosen|free_up|reverse <part>"],
        example: "free the float switch",
        help: "free it, set it in its right place again",
        build: |_, values| repair(Repair::Refit, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["rewire|reconnect|connect|re-wire|restore <part>"],
        example: "rewire the motor",
        help: "connect it as it should be",
        build: |_, values| repair(Repair::Rewire, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["reset <part>"],
        example: "reset the breaker",
        help: "once; a second time only after a test",
        build: |_, values| repair(Repair::Reset, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["thaw|defrost|warm|unfreeze <part>"],
        example: "thaw the switch port",
        help: "gently, never with a flame",
        build: |_, values| repair(Repair::Thaw, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["fit|install|add|put_in <part>"],
        example: "fit a check valve",
        help: "where there is none",
        build: |_, values| repair(Repair::Fit, values),
    },
    Rule {
        topic: Topic::Repairs,
        patterns: &["repair|fix|mend <part>", "repair|fix|mend"],
        example: "tighten the splice | clean the switch port | free the float switch | replace the check valve",
        help: "",
        build: |_, _| ask("How? Say what you do to it."),
    },
];
