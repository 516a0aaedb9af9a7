//! Breaker, lockout and electrical meters.

use super::{Built, Rule, Topic, Value, act, ask};
use crate::session::{Action, Moment, Probe};

fn pair(meter: Probe, moment: Moment, values: &[Value]) -> Built {
    match values {
        [Value::Points(from, to)] => act(Action::Measure {
            meter,
            from: from.clone(),
            to: Some(to.clone()),
            moment,
        }),
        _ => Built::No,
    }
}

fn round(meter: Probe, moment: Moment, values: &[Value]) -> Built {
    let (from, to) = match values {
        [Value::Point(from)] => (from.clone(), None),
        [Value::Points(from, to)] => (from.clone(), Some(to.clone())),
        _ => return Built::No,
    };
    act(Action::Measure {
        meter,
        from,
        to,
        moment,
    })
}

const WHICH_POINTS: &str = "Between which two points? `points` lists those you can reach here.";
const WHICH_CONDUCTOR: &str = "Round which conductor? `points` lists those you can reach here.";

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check|test ?low-impedance|low_impedance|low|loaded volts|voltage|v ?between|from|across|of <points> while|during|at|on starting|start|starts|startup|start-up|pump_starts|it_starts",
        ],
        example: "volts line1 to neutral while starting",
        help: "the leads are held on through the next start",
        build: |_, values| pair(Probe::Volts, Moment::Starting, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check|test low-impedance|low_impedance|low|loaded volts|voltage|v ?between|from|across|of <points>",
            "?measure|read|check|test volts|voltage low-impedance|low_impedance ?between|from|across|of <points>",
        ],
        example: "low-impedance volts line1 to neutral",
        help: "about 3 kilohms: ghost voltages vanish",
        build: |_, values| pair(Probe::LowImpedanceVolts, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &["?measure|read|check|test volts|voltage|v ?between|from|across|of <points>"],
        example: "volts between switch.load1 and switch.load2",
        help: "short names (line1, load1, neutral, earth) are those where you stand",
        build: |_, values| pair(Probe::Volts, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check inrush ?current|amps ?of|at|on|round|around|in <point>",
            "?measure|read|check starting|start current|amps ?of|at|on|round|around|in <point>",
            "?measure|read|check clamp|amps|current|clamp_amps ?of|at|on|round|around|in <point> while|during|at|on starting|start|starts|pump_starts|it_starts",
        ],
        example: "inrush line1",
        help: "the peak of the next start",
        build: |_, values| round(Probe::Inrush, Moment::Starting, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check clamp|amps|current|amperes ?of|at|on|round|around|in <point>",
            "?measure|read|check clamp|amps|current|amperes ?of|at|on|round|around|in|both <points>",
        ],
        example: "clamp line1",
        help: "running current; two conductors in the jaws cancel",
        build: |_, values| round(Probe::Clamp, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check|test ohms|resistance|continuity ?between|from|across|of <points>",
        ],
        example: "ohms line1 to earth",
        help: "on a circuit that is locked out and proved dead",
        build: |_, values| pair(Probe::Ohms, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check|test insulation ?resistance|test ?between|from|of <points>",
        ],
        example: "insulation pump1 to earth",
        help: "500 V test, leads apart, nobody on the circuit",
        build: |_, values| pair(Probe::Insulation, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check|test capacitance|microfarads ?between|from|across|of <points>",
        ],
        example: "capacitance load1 to load2",
        help: "a discharged capacitor only",
        build: |_, values| pair(Probe::Capacitance, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check watts|power ?of|at|on|round|around|in|between <points>",
            "?measure|read|check watts|power ?of|at|on|round|around|in <point>",
        ],
        example: "watts line1",
        help: "needs a power meter",
        build: |_, values| round(Probe::Power, Moment::Now, values),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &[
            "?measure|read|check volts|voltage|ohms|resistance|continuity|insulation|capacitance ?test ?between|across|from",
            "?measure|read|check volts|voltage|ohms|resistance|insulation|capacitance ?at|here <station>",
        ],
        example: "volts line1 to neutral | volts across the contacts | points",
        help: "",
        build: |_, _| ask(WHICH_POINTS),
    },
    Rule {
        topic: Topic::Meters,
        patterns: &["?measure|read|check clamp|amps|current|inrush|watts|power ?meter|current"],
        example: "clamp line1 | inrush line1 | points",
        help: "",
        build: |_, _| ask(WHICH_CONDUCTOR),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "breaker|power off",
            "switch|turn|put|throw off breaker|power|pump",
            "switch|turn|put|throw breaker|power|pump off",
            "open breaker",
            "power_down",
        ],
        example: "breaker off",
        help: "",
        build: |_, _| act(Action::SetBreaker { on: false }),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "breaker|power on",
            "switch|turn|put|throw on breaker|power|pump",
            "switch|turn|put|throw breaker|power|pump ?back on",
            "close breaker",
            "power_up",
        ],
        example: "breaker on",
        help: "",
        build: |_, _| act(Action::SetBreaker { on: true }),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &["breaker|throw_breaker|switch_breaker|turn_breaker"],
        example: "breaker off | breaker on | reset the breaker",
        help: "",
        build: |_, _| ask("On or off?"),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "lock|lockout|lock-out ?it|out|off|breaker|power ?out|off ?and ?tag|tagout ?out",
            "lock|put|hang ?on lock|tag ?and ?lock|tag ?on|out ?breaker",
        ],
        example: "lock out",
        help: "breaker locked off and tagged, at the panel",
        build: |_, _| act(Action::LockOut),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "remove|take|take_off|unlock ?off|away lock|tag|breaker|lockout ?and ?lock|tag ?off|away",
            "unlock",
            "lock|tag off",
        ],
        example: "remove the lock",
        help: "",
        build: |_, _| act(Action::RemoveLock),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "prove|test ?it|circuit|for dead|absence_of_voltage|zero_volts|no_voltage ?here",
            "prove ?that ?it is|its dead",
            "absence_of_voltage|dead_test|test_dead",
        ],
        example: "prove dead",
        help: "tester proved, circuit tested, tester proved again",
        build: |_, _| act(Action::ProveDead),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "discharge|bleed capacitor|capacitors|control_box|it",
            "discharge",
        ],
        example: "discharge the capacitor",
        help: "through a resistor",
        build: |_, _| act(Action::DischargeCapacitor),
    },
    Rule {
        topic: Topic::Safety,
        patterns: &[
            "dress|suit_up|gear_up|kit_up ?up|for ?live|work ?work",
            "put_on|wear|don ?live-work|live|insulating|rated|safety gloves|glasses|gear|ppe|protection ?and ?gloves|glasses",
            "gloves|ppe ?on",
        ],
        example: "dress for live work",
        help: "gloves, glasses, rated leads, one hand",
        build: |_, _| act(Action::DressForLiveWork),
    },
];
