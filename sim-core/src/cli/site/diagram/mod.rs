//! The wiring as a picture: stations from left to right as the current goes, the two
//! conductors and the earth conductor from top to bottom, every terminal by the name that
//! `probe` takes.
//!
//! It shows what is installed, not what flows: contacts are drawn as they stand when the
//! system rests at cut-out.  Earth is told by its dashes and its copper, a moving link by
//! being hollow, never by color alone.

mod shapes;

use self::shapes::{
    BODY, Contact, POLE, Side, TERMINAL, breaker_pole, cable, contact, contact_ends, earth_wire,
    float, funnel, ground, joint, link, motor, note, station, strap, terminal, text, wire,
};
use super::plan::{Plan, both};
use crate::cli::palette::{INK, INK2, PAPER};
use crate::cli::plot::figure::{Anchor, Face, Figure};
use crate::site::SiteSpec;
use crate::trace::Quantity;

const WIDTH: u32 = 1_520;
const HEIGHT: u32 = 640;
/// Top and foot of the stations [px].
const TOP: f64 = 104.0;
const FOOT: f64 = 528.0;
/// Left and right side of each station: panel, wall, splice, source [px].
const SHEETS: [(f64, f64); 4] = [
    (120.0, 392.0),
    (446.0, 728.0),
    (782.0, 998.0),
    (1_052.0, 1_488.0),
];
/// Rows: a leg that the circuit does not use, first and second conductor, neutral where
/// it is a row of its own, earth [px].
const SPARE: f64 = 188.0;
const FIRST: f64 = 252.0;
const SECOND: f64 = 344.0;
const NEUTRAL: f64 = 416.0;
const EARTH: f64 = 476.0;
/// Terminals along the rows [px].
const LUG: f64 = 188.0;
const POLE_AT: f64 = 262.0;
const BREAKER_LOAD: f64 = 337.0;
const SWITCH_LINE: f64 = 502.0;
const CONTACT_AT: f64 = 587.0;
const SWITCH_LOAD: f64 = 672.0;
const SPLICE_LINE: f64 = 836.0;
const JOINT_AT: f64 = 890.0;
const SPLICE_PUMP: f64 = 944.0;
const FLOAT_AT: f64 = 1_112.0;
const FLOAT_LOAD: f64 = 1_192.0;
const LEAD: f64 = 1_296.0;
const MOTOR: f64 = 1_400.0;
/// Where the service comes in [px].
const SERVICE: f64 = 40.0;
/// The band of cables below the stations [px].
const CABLES: f64 = 556.0;

/// Draws the wiring of a site.
pub(super) fn figure(site: &SiteSpec, plan: &Plan) -> Figure {
    let names: Vec<&str> = plan.points.iter().map(|point| point.name).collect();
    let mut figure = Figure {
        width: WIDTH,
        height: HEIGHT,
        description: format!(
            "{}: wiring from the panel to the motor. Points: {}.",
            site.title,
            names.join(", ")
        ),
        shapes: Vec::new(),
    };
    let size = (f64::from(WIDTH), f64::from(HEIGHT));
    figure.rect((0.0, 0.0), size, PAPER);
    head(&mut figure, site, plan);
    stations(&mut figure, plan);
    panel(&mut figure, plan);
    conductors(&mut figure, plan);
    wall(&mut figure, site);
    earth(&mut figure);
    let ends = [
        (BREAKER_LOAD, SWITCH_LINE),
        (SWITCH_LOAD, SPLICE_LINE),
        (SPLICE_PUMP, LEAD),
    ];
    for ((from, to), words) in ends.into_iter().zip(&plan.cables) {
        cable(&mut figure, from, to, CABLES, words);
    }
    figure
}

fn head(figure: &mut Figure, site: &SiteSpec, plan: &Plan) {
    let style = (24.0, Face::Bold, Anchor::Start, INK);
    let title = format!("{}: wiring of the pump", site.title);
    text(figure, (SERVICE, 48.0), &title, style);
    let words = format!(
        "{}. Drawn at rest at cut-out: breaker on, contacts open.",
        plan.supply
    );
    let style = (BODY, Face::Regular, Anchor::Start, INK2);
    text(figure, (SERVICE, 74.0), &words, style);
}

fn stations(figure: &mut Figure, plan: &Plan) {
    let breaker = match &plan.ground_fault {
        Some(trip) => format!("breaker {}, ground fault {trip}", plan.breaker),
        None => format!("breaker {}", plan.breaker),
    };
    let motor = format!("motor {}", plan.motor);
    let what = [
        ("panel", breaker.as_str()),
        ("wall", "pressure switch"),
        ("splice", "splice box"),
        ("source", motor.as_str()),
    ];
    for ((from, to), (name, what)) in SHEETS.into_iter().zip(what) {
        station(figure, (from, TOP), (to, FOOT), name, what);
    }
}

fn panel(figure: &mut Figure, plan: &Plan) {
    let mut service = vec![("line 1", FIRST)];
    service.push((plan.second_name(), SECOND));
    if plan.has_spare_leg {
        service.push(("line 2", SPARE));
    }
    if plan.has_two_legs {
        service.push(("neutral", NEUTRAL));
    }
    for (name, y) in service {
        wire(figure, vec![(SERVICE, y), (LUG, y)]);
        let style = (BODY, Face::Regular, Anchor::Start, INK);
        text(figure, (SERVICE, y - 10.0), name, style);
    }
    let neutral = if plan.has_two_legs { NEUTRAL } else { SECOND };
    strap(figure, (LUG, neutral), (LUG, EARTH));
    let style = (shapes::NOTE, Face::Regular, Anchor::Start, INK2);
    text(
        figure,
        (LUG + 14.0, 0.5 * (neutral + EARTH) + 5.0),
        "bond",
        style,
    );
    // Conductors up to the load terminals, the breaker's poles in them.
    wire(figure, vec![(LUG, FIRST), (POLE_AT - POLE / 2.0, FIRST)]);
    wire(
        figure,
        vec![(POLE_AT + POLE / 2.0, FIRST), (BREAKER_LOAD, FIRST)],
    );
    wire(figure, vec![(LUG, SECOND), (BREAKER_LOAD, SECOND)]);
    if plan.has_two_legs {
        link(figure, (POLE_AT + 13.0, FIRST), (POLE_AT + 13.0, SECOND));
        breaker_pole(figure, (POLE_AT, SECOND));
        terminal(figure, (LUG, NEUTRAL), "panel.neutral", Side::Above);
    }
    breaker_pole(figure, (POLE_AT, FIRST));
    if plan.has_spare_leg {
        terminal(figure, (LUG, SPARE), "panel.line2", Side::Above);
        let style = (shapes::NOTE, Face::Regular, Anchor::Start, INK2);
        text(figure, (LUG + 16.0, SPARE + 5.0), "to the house", style);
    }
    terminal(figure, (LUG, FIRST), plan.feeds[0], Side::Above);
    terminal(figure, (LUG, SECOND), plan.feeds[1], Side::Above);
}

/// Both conductors from the breaker's load terminals to the motor.
fn conductors(figure: &mut Figure, plan: &Plan) {
    for (n, y) in [(1, FIRST), (2, SECOND)] {
        let [pad_in, pad_out] = contact_ends(CONTACT_AT);
        wire(figure, vec![(BREAKER_LOAD, y), (pad_in, y)]);
        wire(figure, vec![(pad_out, y), (SPLICE_LINE, y)]);
        wire(figure, vec![(SPLICE_LINE, y), (SPLICE_PUMP, y)]);
        if n == 1 && plan.has_float {
            let [pad_in, pad_out] = contact_ends(FLOAT_AT);
            wire(figure, vec![(SPLICE_PUMP, y), (pad_in, y)]);
            wire(figure, vec![(pad_out, y), (LEAD, y)]);
        } else {
            wire(figure, vec![(SPLICE_PUMP, y), (LEAD, y)]);
        }
        wire(figure, vec![(LEAD, y), (MOTOR - 46.0, y)]);
        for (x, name) in [
            (BREAKER_LOAD, "breaker.load"),
            (SWITCH_LINE, "switch.line"),
            (SWITCH_LOAD, "switch.load"),
            (SPLICE_LINE, "splice.line"),
            (SPLICE_PUMP, "splice.pump"),
            (LEAD, "pump.lead"),
        ] {
            terminal(figure, (x, y), &format!("{name}{n}"), Side::Above);
        }
        joint(figure, (JOINT_AT, y));
    }
    if plan.has_float {
        contact(figure, (FLOAT_AT, FIRST), Contact::Closed);
        float(figure, (FLOAT_AT, FIRST));
        note(figure, (FLOAT_AT + 58.0, FIRST + 52.0), "float switch");
        terminal(figure, (FLOAT_LOAD, FIRST), "float.load1", Side::Above);
    }
    motor(figure, MOTOR, FIRST, SECOND);
    note(figure, (MOTOR, FIRST - 46.0), "motor, protector inside");
}

/// The pressure switch: two poles on one yoke over the funnel.
fn wall(figure: &mut Figure, site: &SiteSpec) {
    let foot = SECOND + 30.0;
    link(figure, (CONTACT_AT, FIRST - 13.0), (CONTACT_AT, foot));
    for y in [FIRST, SECOND] {
        contact(figure, (CONTACT_AT, y), Contact::Open);
    }
    funnel(figure, (CONTACT_AT, foot));
    let switch = &site.wall.pressure_switch;
    for (y, word, pa) in [
        (foot + 50.0, "closes below", switch.cut_in.si()),
        (foot + 68.0, "opens above", switch.cut_out.si()),
    ] {
        let words = format!("{word} {}", both(Quantity::GaugePressure, pa));
        note(figure, (CONTACT_AT, y), &words);
    }
}

/// The earth conductor along all stations, and earth.
fn earth(figure: &mut Figure) {
    let electrode = 80.0;
    earth_wire(
        figure,
        vec![(electrode, EARTH + 20.0), (electrode, EARTH), (LUG, EARTH)],
    );
    ground(figure, (electrode, EARTH + 22.0));
    let style = (BODY, Face::Regular, Anchor::Start, INK);
    text(figure, (SERVICE, EARTH - 10.0), "earth", style);
    let stops = [
        (LUG, "panel.earth"),
        (CONTACT_AT, "switch.frame"),
        (JOINT_AT, "splice.earth"),
        (MOTOR, "pump.frame"),
    ];
    for pair in stops.windows(2) {
        earth_wire(
            figure,
            vec![(pair[0].0 + TERMINAL, EARTH), (pair[1].0 - TERMINAL, EARTH)],
        );
    }
    earth_wire(
        figure,
        vec![(MOTOR, SECOND + 35.0), (MOTOR, EARTH - TERMINAL)],
    );
    for (x, name) in stops {
        terminal(figure, (x, EARTH), name, Side::Below);
    }
}
