//! Valves, outlets, the tank's air, and instruments on the water side.

use super::{Built, Rule, Topic, Value, act, ask};
use crate::cli::display::Units;
use crate::cli::practice::grammar::Context;
use crate::cli::practice::grammar::slots::Valve;
use crate::session::Action;
use crate::units::convert::{LITER, US_GALLON};

/// The bucket when no size is said [m³].
const fn bucket(units: Units) -> f64 {
    match units {
        Units::Us => 2.0 * US_GALLON,
        Units::Si => 10.0 * LITER,
    }
}

/// How far "crack" opens a valve: enough to let air and pressure by (a choice of ours).
const CRACK: f64 = 0.1;

fn turn(valve: &Valve, opening: f64) -> Built {
    act(match valve {
        Valve::House => Action::SetHouseValve { opening },
        Valve::Tank => Action::SetTankValve { opening },
        Valve::Source => Action::SetSourceValve { opening },
        Valve::Drain => Action::SetDrain { opening },
        Valve::Outlet(outlet) => Action::SetOutlet {
            outlet: outlet.clone(),
            opening,
        },
    })
}

fn turned(opening: f64, values: &[Value]) -> Built {
    match values {
        [Value::Valve(valve)] => turn(valve, opening),
        _ => Built::No,
    }
}

fn flow(context: &Context<'_>, values: &[Value]) -> Built {
    let (outlet, volume) = match values {
        [Value::Outlet(outlet)] => (outlet, bucket(context.units)),
        [Value::Volume(volume), Value::Outlet(outlet)]
        | [Value::Outlet(outlet), Value::Volume(volume)] => (outlet, *volume),
        _ => return Built::No,
    };
    act(Action::MeasureFlow {
        outlet: outlet.clone(),
        volume,
    })
}

pub(super) const RULES: &[Rule] = &[
    Rule {
        topic: Topic::Water,
        patterns: &["hold|lift|raise ?up lever|switch_lever|low-pressure_lever ?of_switch ?up"],
        example: "hold the lever",
        help: "a low-pressure switch runs only while its lever is held",
        build: |_, _| act(Action::HoldLever { held: true }),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "let_go|release|drop|let_go_of ?of lever|switch_lever",
            "let lever go",
        ],
        example: "let go of the lever",
        help: "",
        build: |_, _| act(Action::HoldLever { held: false }),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "open|set|turn|close ?on <valve> ?open ?to|by <opening>",
            "<valve> ?to <opening>",
        ],
        example: "open the drain a quarter",
        help: "a crack, a quarter, half, 30 %, fully",
        build: |_, values| match values {
            [Value::Valve(valve), Value::Opening(opening)] => turn(valve, *opening),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &["crack ?open <valve> ?open"],
        example: "crack the drain",
        help: "a tenth open",
        build: |_, values| turned(CRACK, values),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "shut|close|turn_off|shut_off|stop ?off <valve>",
            "shut|turn|close <valve> off",
        ],
        example: "shut the house valve",
        help: "house valve, tank valve, source valve, drain, or any outlet",
        build: |_, values| turned(0.0, values),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["open|turn_on|run ?up <valve>", "turn <valve> on"],
        example: "open the kitchen tap",
        help: "wholly, unless you say how far",
        build: |_, values| turned(1.0, values),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["open|close ?pressure switch|contacts"],
        example: "open the switch cover | close the switch cover",
        help: "",
        build: |_, _| ask("The contacts move by themselves. Do you mean the cover?"),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["drain ?down tank|system ?down|out"],
        example: "open the drain",
        help: "",
        build: |_, _| {
            ask("Power off first, then open the drain and wait until the gauge falls to 0.")
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "fit|screw_on|put_on|attach|connect|mount second|test|2nd gauge at|to|on <port>",
            "fit|screw|put|attach second|test|2nd gauge on|in ?at|to|on <port>",
        ],
        example: "fit the second gauge at the tank",
        help: "at the tee, the tank or behind the filter; no pressure there",
        build: |_, values| match values {
            [Value::Port(port)] => act(Action::FitGauge { port: *port }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &["fit|screw_on|put_on|attach|connect second|test|2nd gauge"],
        example: "fit the second gauge at the tee | fit the second gauge at the tank",
        help: "",
        build: |_, _| ask("Where? At the tee, at the tank, or behind the filter (house)."),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["remove|take_off|unscrew|take second|test|2nd gauge ?off"],
        example: "take off the second gauge",
        help: "",
        build: |_, _| act(Action::RemoveGauge),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["?read|check second|test|2nd gauge"],
        example: "read the second gauge",
        help: "",
        build: |_, _| act(Action::ReadSecondGauge),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "?read|check|measure|use|put_on tyre|tire gauge ?on ?air ?valve ?tank",
            "read|check|measure precharge|air|tank_air|air_valve|air_pressure|pre-charge ?pressure ?in|of ?tank",
            "precharge",
        ],
        example: "tyre gauge",
        help: "the tank's air: only an empty tank shows its precharge",
        build: |_, _| act(Action::ReadAirValve),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "press|push|tap ?core|in|pin ?of air|tank|tyre|tire valve ?core|pin|in",
            "press|push core|valve_core",
        ],
        example: "press the air valve",
        help: "for a moment: air or water?",
        build: |_, _| act(Action::PressAirValve),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "set|pump|bring|charge|add|inflate ?up air|precharge|pre-charge|tank|tank_air|air_charge|air_pressure ?in|of|up ?tank to|at|of <pressure>",
            "pump|charge|inflate tank ?up to <pressure>",
            "let|bleed|release air out|down ?to <pressure>",
        ],
        example: "set air to 38 psi",
        help: "pump up, or let out, until the tyre gauge shows it",
        build: |_, values| match values {
            [Value::Pressure(pressure)] => act(Action::SetAir {
                pressure: *pressure,
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "add|set|pump|charge|let|release ?in|up|out ?some air|precharge|tank ?in|up|out|off ?tank",
        ],
        example: "set air to 38 psi",
        help: "",
        build: |_, _| ask("To what on the tyre gauge?"),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "?hold|put|use|measure bucket|flow|timed_bucket|bucket_test ?and_stopwatch ?under|at|from|of|with|test <outlet>",
            "?hold|put|use|measure bucket|flow ?of <volume> under|at|from <outlet>",
            "?hold|put|use|measure <volume> bucket under|at|from <outlet>",
            "?measure flow|bucket under|at|from|of <outlet> with ?bucket_of <volume> ?bucket",
        ],
        example: "bucket at the kitchen tap",
        help: "2 gal or 10 L unless you say: bucket of 5 gal at the shower",
        build: flow,
    },
    Rule {
        topic: Topic::Water,
        patterns: &["bucket|flow|measure_flow|bucket_test|flow_test"],
        example: "bucket at the TAP",
        help: "",
        build: |context, _| Built::Ask(format!("At which outlet? {}.", context.outlets.join(", "))),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "measure|read|check|tape|dip|sound ?water level|depth ?of|in ?water ?in ?source|cistern|well",
            "?level tape|dip",
            "level|water_level",
            "dip source|cistern|well",
        ],
        example: "measure the level",
        help: "tape through the open lid, at the source",
        build: |_, _| act(Action::MeasureLevel),
    },
    Rule {
        topic: Topic::Water,
        patterns: &["?measure|read|check vacuum|suction ?gauge ?on ?suction ?pipe"],
        example: "measure the vacuum",
        help: "on a suction pipe",
        build: |_, _| act(Action::MeasureVacuum),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "?measure|read|take|check temperature|temp of|at|on <part>",
            "thermometer ?on|at|against <part>",
        ],
        example: "temperature of the motor",
        help: "",
        build: |_, values| match values {
            [Value::Part(part)] => act(Action::MeasureTemperature { part: *part }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &["?measure|read|take temperature|temp|thermometer"],
        example: "temperature of the motor | temperature of the tank",
        help: "",
        build: |_, _| ask("Temperature of what?"),
    },
    Rule {
        topic: Topic::Water,
        patterns: &[
            "set|adjust|turn ?pressure switch ?nuts ?to|at <band>",
            "set|adjust cut-in|cut_in ?and ?cut-out|cut_out ?to|at <band>",
            "set|adjust cut <band>",
        ],
        example: "set switch 40 60",
        help: "cut-in and cut-out; or 2.0 3.5 bar",
        build: |_, values| match values {
            [Value::Band(cut_in, cut_out)] => act(Action::AdjustSwitch {
                cut_in: *cut_in,
                cut_out: *cut_out,
            }),
            _ => Built::No,
        },
    },
    Rule {
        topic: Topic::Water,
        patterns: &["set|adjust ?pressure switch"],
        example: "set switch 40 60",
        help: "",
        build: |_, _| ask("Where shall the contacts close, and where open?"),
    },
];
