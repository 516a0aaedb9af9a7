//! The parts of the wiring picture, each drawn flat with one outline.

use core::f64::consts::PI;

use crate::cli::palette::{
    COPPER1, COPPER2, EDGE, FACE, INK, INK2, RAISED, RULE, Rgb, STEEL1, STEEL2,
};
use crate::cli::plot::figure::{Anchor, Dash, Face, Figure, Point, Text};
use crate::math;

/// Type sizes [px].
pub(super) const BODY: f64 = 14.0;
pub(super) const NOTE: f64 = 13.0;
pub(super) const NAME: f64 = 12.5;

/// Width of a conductor, of outlines and of details [px].
const CONDUCTOR: f64 = 2.5;
const OUTLINE: f64 = 1.5;
/// Radius of a terminal [px].
pub(super) const TERMINAL: f64 = 7.0;
/// Half the gap between the pads of a contact [px].
const HALF_GAP: f64 = 24.0;
/// Gap under the bar of an open contact [px].
const OPEN: f64 = 9.0;

/// Puts text on its base line.
pub(super) fn text(figure: &mut Figure, at: Point, words: &str, style: (f64, Face, Anchor, Rgb)) {
    let (size, face, anchor, color) = style;
    figure.text(Text {
        at,
        words: words.to_owned(),
        size,
        face,
        anchor,
        color,
        tail: None,
    });
}

/// A note in quiet letters, centered.
pub(super) fn note(figure: &mut Figure, at: Point, words: &str) {
    text(
        figure,
        at,
        words,
        (NOTE, Face::Regular, Anchor::Middle, INK2),
    );
}

/// A closed outline filled.
fn body(figure: &mut Figure, mut points: Vec<Point>, fill: Rgb, outline: (f64, Rgb)) {
    figure.area(points.clone(), fill);
    points.extend([points[0], points[1]]);
    figure.path(points, outline.0, outline.1, None);
}

/// Corner points of a rectangle with round corners.
fn rounded(from: Point, to: Point, radius: f64) -> Vec<Point> {
    const STEPS: u32 = 6;
    let corners = [
        ((to.0 - radius, from.1 + radius), -0.5 * PI),
        ((to.0 - radius, to.1 - radius), 0.0),
        ((from.0 + radius, to.1 - radius), 0.5 * PI),
        ((from.0 + radius, from.1 + radius), PI),
    ];
    let mut points = Vec::new();
    for ((x, y), first) in corners {
        for step in 0..=STEPS {
            let angle = first + 0.5 * PI * f64::from(step) / f64::from(STEPS);
            points.push((x + radius * math::cos(angle), y + radius * math::sin(angle)));
        }
    }
    points
}

fn disc_points(at: Point, radius: f64) -> Vec<Point> {
    (0..32)
        .map(|i| {
            let angle = 2.0 * PI * f64::from(i) / 32.0;
            (
                at.0 + radius * math::cos(angle),
                at.1 + radius * math::sin(angle),
            )
        })
        .collect()
}

/// A station: a sheet with its name and what stands there.
pub(super) fn station(figure: &mut Figure, from: Point, to: Point, name: &str, what: &str) {
    body(figure, rounded(from, to, 8.0), RAISED, (OUTLINE, EDGE));
    let at = (from.0 + 16.0, from.1 + 26.0);
    text(figure, at, name, (16.0, Face::Bold, Anchor::Start, INK));
    let at = (from.0 + 16.0, from.1 + 45.0);
    text(figure, at, what, (NOTE, Face::Regular, Anchor::Start, INK2));
}

/// Where the name of a terminal stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Above,
    Below,
}

/// A terminal screw with its name.
pub(super) fn terminal(figure: &mut Figure, at: Point, name: &str, side: Side) {
    body(figure, disc_points(at, TERMINAL), FACE, (2.0, EDGE));
    figure.line(
        (at.0 - 3.5, at.1 + 3.5),
        (at.0 + 3.5, at.1 - 3.5),
        1.5,
        EDGE,
    );
    let y = match side {
        Side::Above => at.1 - 15.0,
        Side::Below => at.1 + 24.0,
    };
    text(
        figure,
        (at.0, y),
        name,
        (NAME, Face::Mono, Anchor::Middle, INK),
    );
}

/// A conductor from terminal to terminal.
pub(super) fn wire(figure: &mut Figure, points: Vec<Point>) {
    figure.path(points, CONDUCTOR, EDGE, None);
}

/// The bare earth conductor: copper, and dashed.
pub(super) fn earth_wire(figure: &mut Figure, points: Vec<Point>) {
    const DASHED: Dash = Some((12.0, 5.0));
    figure.path(points, 3.0, COPPER2, DASHED);
}

/// A copper strap between two bars.
pub(super) fn strap(figure: &mut Figure, from: Point, to: Point) {
    figure.path(vec![from, to], 9.0, COPPER2, None);
    figure.path(vec![from, to], 6.0, COPPER1, None);
}

/// Earth itself: three dashes that shrink downwards.
pub(super) fn ground(figure: &mut Figure, at: Point) {
    for (i, half) in [16.0, 10.0, 4.0].into_iter().enumerate() {
        let y = at.1 + 6.0 * i as f64;
        figure.line((at.0 - half, y), (at.0 + half, y), 2.5, COPPER2);
    }
}

/// A link that moves, drawn hollow: it carries no current.
pub(super) fn link(figure: &mut Figure, from: Point, to: Point) {
    figure.path(vec![from, to], 6.0, RULE, None);
    figure.path(vec![from, to], 3.0, RAISED, None);
}

/// Width that a breaker pole takes [px].
pub(super) const POLE: f64 = 56.0;

/// A breaker pole in a conductor: case, and a tab to the right for on.
pub(super) fn breaker_pole(figure: &mut Figure, at: Point) {
    let half = POLE / 2.0;
    let (from, to) = ((at.0 - half, at.1 - 13.0), (at.0 + half, at.1 + 13.0));
    body(figure, rounded(from, to, 4.0), STEEL1, (OUTLINE, EDGE));
    let from = (at.0 + 2.0, at.1 - 8.0);
    let to = (at.0 + half - 6.0, at.1 + 8.0);
    body(figure, rounded(from, to, 2.0), EDGE, (1.0, EDGE));
    let at = (at.0 - 13.0, at.1 + 4.5);
    text(figure, at, "on", (12.0, Face::Bold, Anchor::Middle, EDGE));
}

/// How a contact is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Contact {
    Open,
    Closed,
}

/// Pads of a contact and the bar over them.  Wires end at the pads, see [`contact_ends`].
pub(super) fn contact(figure: &mut Figure, at: Point, position: Contact) {
    let lift = match position {
        Contact::Open => OPEN + 4.0,
        Contact::Closed => 6.0,
    };
    for x in contact_ends(at.0) {
        body(
            figure,
            disc_points((x, at.1), 4.0),
            COPPER1,
            (OUTLINE, COPPER2),
        );
    }
    let half = HALF_GAP + 6.0;
    let (from, to) = (
        (at.0 - half, at.1 - lift - 3.0),
        (at.0 + half, at.1 - lift + 3.0),
    );
    body(figure, rounded(from, to, 3.0), COPPER1, (OUTLINE, COPPER2));
}

/// Where wires meet a contact's pads.
pub(super) fn contact_ends(x: f64) -> [f64; 2] {
    [x - HALF_GAP, x + HALF_GAP]
}

/// The funnel through which a pressure switch feels the water.
pub(super) fn funnel(figure: &mut Figure, at: Point) {
    let points = vec![
        (at.0 - 30.0, at.1),
        (at.0 + 30.0, at.1),
        (at.0 + 22.0, at.1 + 14.0),
        (at.0 + 8.0, at.1 + 22.0),
        (at.0 + 8.0, at.1 + 32.0),
        (at.0 - 8.0, at.1 + 32.0),
        (at.0 - 8.0, at.1 + 22.0),
        (at.0 - 22.0, at.1 + 14.0),
    ];
    body(figure, points, STEEL2, (OUTLINE, EDGE));
}

/// A crimped joint in a conductor.
pub(super) fn joint(figure: &mut Figure, at: Point) {
    let (from, to) = ((at.0 - 19.0, at.1 - 7.0), (at.0 + 19.0, at.1 + 7.0));
    body(figure, rounded(from, to, 6.9), STEEL2, (OUTLINE, EDGE));
    for x in [-7.0, 7.0] {
        figure.line((at.0 + x, at.1 - 6.0), (at.0 + x, at.1 + 6.0), 1.25, EDGE);
    }
}

/// The float: a wedge on a slack cord below its contact.
pub(super) fn float(figure: &mut Figure, at: Point) {
    let top = (at.0, at.1 + 30.0);
    figure.path(
        vec![(at.0, at.1 - 4.0), (at.0 - 5.0, at.1 + 12.0), top],
        2.0,
        EDGE,
        None,
    );
    let wedge = vec![
        (top.0 - 4.0, top.1),
        (top.0 + 4.0, top.1),
        (top.0 + 11.0, top.1 + 32.0),
        (top.0 - 11.0, top.1 + 32.0),
    ];
    body(figure, wedge, COPPER1, (OUTLINE, EDGE));
}

/// The motor: a bright shell with the protector and a winding in it, between two rows.
pub(super) fn motor(figure: &mut Figure, x: f64, first: f64, second: f64) {
    let (from, to) = ((x - 46.0, first - 34.0), (x + 46.0, second + 34.0));
    body(figure, rounded(from, to, 20.0), STEEL1, (2.0, EDGE));
    let band = rounded((x - 36.0, first - 20.0), (x - 28.0, second + 20.0), 4.0);
    figure.area(band, FACE);
    let top = first + 26.0;
    wire(figure, vec![(x - 46.0, first), (x, first), (x, top - 8.0)]);
    // The protector, a bimetal strip over two pads.
    for y in [top - 8.0, top + 8.0] {
        body(figure, disc_points((x, y), 3.0), COPPER1, (1.25, COPPER2));
    }
    body(
        figure,
        rounded((x + 3.0, top - 12.0), (x + 8.0, top + 12.0), 2.4),
        COPPER1,
        (1.25, COPPER2),
    );
    let coil_top = top + 14.0;
    let coil_foot = second - 8.0;
    let mut points = vec![(x, top + 8.0), (x, coil_top)];
    let turns = 4;
    let pitch = (coil_foot - coil_top) / f64::from(turns);
    for turn in 0..turns {
        for step in 1..=12_u32 {
            let angle = PI * f64::from(step) / 12.0;
            let y = coil_top + pitch * f64::from(turn) + 0.5 * pitch * (1.0 - math::cos(angle));
            points.push((x + 11.0 * math::sin(angle), y));
        }
    }
    points.extend([(x, second), (x - 46.0, second)]);
    wire(figure, points);
}

/// A cable: from where to where along the drawing, its length and its size.
pub(super) fn cable(figure: &mut Figure, from_x: f64, to_x: f64, y: f64, words: &[String; 2]) {
    let (from, to) = ((from_x, y), (to_x, y));
    figure.line(from, to, 1.25, INK2);
    for (x, _) in [from, to] {
        figure.line((x, y - 6.0), (x, y + 6.0), 1.25, INK2);
    }
    let middle = 0.5 * (from_x + to_x);
    let style = (BODY, Face::Bold, Anchor::Middle, INK);
    text(figure, (middle, y + 22.0), &words[0], style);
    note(figure, (middle, y + 40.0), &words[1]);
}
