//! The visit as a picture: the gauge above the ground line, what was done below it.
//!
//! Every kind of act has a lane, a shape and words; color repeats what they say.

use std::fmt::{self, Write};

use super::html::escaped;
use super::words;
use crate::cli::display::{DisplayUnit, Units, fixed};
use crate::cli::plot::{Scale, TimeAxis};
use crate::marking::{Report, Row};
use crate::session::Action;
use crate::trace::Quantity;
use crate::units::convert::PSI;

const WIDTH: f64 = 860.0;
const LEFT: f64 = 96.0;
const RIGHT: f64 = 800.0;
const SKY_TOP: f64 = 34.0;
const GROUND: f64 = 234.0;
const LANE: f64 = 32.0;
/// Half the height of a mark.
const HALF: f64 = 10.0;
/// Width of a figure of 12 px [px].
const DIGIT: f64 = 7.2;

/// What kind of act, which is a lane and a shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Lane {
    Read,
    Perceived,
    Repair,
    Call,
    Proof,
    Hazard,
}

impl Lane {
    const ALL: [Self; 6] = [
        Self::Read,
        Self::Perceived,
        Self::Repair,
        Self::Call,
        Self::Proof,
        Self::Hazard,
    ];

    const fn label(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Perceived => "perceived",
            Self::Repair => "repaired",
            Self::Call => "called",
            Self::Proof => "proved",
            Self::Hazard => "dangerous",
        }
    }

    fn of(row: &Row) -> Option<Self> {
        if row.hazard.is_some() {
            return Some(Self::Hazard);
        }
        match &row.action {
            Action::Prove => Some(Self::Proof),
            Action::Call { .. } => Some(Self::Call),
            Action::Repair { .. }
            | Action::Replace { .. }
            | Action::SetAir { .. }
            | Action::AdjustSwitch { .. }
            | Action::Vent
            | Action::Prime
            | Action::Explain { .. } => Some(Self::Repair),
            Action::Note { .. } => None,
            _ if !row.readings.is_empty() => Some(Self::Read),
            _ if !row.cues.is_empty() => Some(Self::Perceived),
            _ => None,
        }
    }
}

/// One or several acts that stand too close for a mark each.
struct Mark {
    x: f64,
    numbers: Vec<u64>,
    words: Vec<String>,
}

impl Mark {
    fn label(&self) -> String {
        match (self.numbers.first(), self.numbers.last()) {
            (Some(first), Some(last)) if first != last => format!("{first}\u{2013}{last}"),
            (Some(only), _) => only.to_string(),
            (None, _) => String::new(),
        }
    }

    fn half_width(&self) -> f64 {
        (self.label().chars().count() as f64 * DIGIT / 2.0 + 6.0).max(HALF + 2.0)
    }

    fn overlaps(&self, next: &Self) -> bool {
        next.x - next.half_width() < self.x + self.half_width() + 2.0
    }
}

fn px(length: f64) -> String {
    let text = fixed(length, 1);
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// Writes the picture.
pub(super) fn svg(page: &mut String, report: &Report) -> fmt::Result {
    let end_s = (report.minutes * 60.0).max(60.0);
    let x = |seconds: f64| LEFT + (RIGHT - LEFT) * (seconds / end_s).clamp(0.0, 1.0);
    let psi: Vec<f64> = report.gauge.iter().map(|point| point.1 / PSI).collect();
    let set_points = [
        report.scenario.cut_in_pa / PSI,
        report.scenario.cut_out_pa / PSI,
    ];
    let scale = Scale::holding(psi.iter().copied().chain(set_points), 5.0);
    let y = |value: f64| {
        GROUND
            - (GROUND - SKY_TOP) * ((value - scale.low) / (scale.high - scale.low)).clamp(0.0, 1.0)
    };
    let lanes: Vec<Lane> = Lane::ALL
        .into_iter()
        .filter(|lane| {
            report
                .timeline
                .iter()
                .any(|row| Lane::of(row) == Some(*lane))
        })
        .collect();
    let foot = GROUND + 12.0 + LANE * lanes.len().max(1) as f64;
    let height = foot + 44.0;
    writeln!(
        page,
        "<svg viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" font-size=\"12\" stroke-linejoin=\"round\"><title>{}</title>",
        escaped(&description(report))
    )?;
    let rect = |y: f64, height: f64, role: &str| {
        format!(
            "<rect x=\"{LEFT}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"var(--{role})\"/>\n",
            px(y),
            px(RIGHT - LEFT),
            px(height)
        )
    };
    *page += &rect(SKY_TOP - 14.0, GROUND - SKY_TOP + 14.0, "sky3");
    *page += &rect(GROUND, foot - GROUND, "soil2");
    *page += &rect(GROUND, 3.0, "grass");
    *page += &rect(GROUND + 3.0, 4.0, "soil1");
    pressure_axis(page, &scale, &y)?;
    set_point_lines(page, set_points, &y)?;
    needle(page, report, (&x, &y))?;
    time_axis(page, end_s, (&x, foot))?;
    for (i, lane) in lanes.iter().enumerate() {
        let middle = GROUND + 12.0 + LANE * (i as f64 + 0.5);
        write_lane(page, report, *lane, (middle, &x))?;
    }
    *page += "</svg>\n";
    Ok(())
}

fn description(report: &Report) -> String {
    format!(
        "Gauge pressure over {:.0} minutes, and below it what was read, perceived, repaired, called and proved, by number of the action",
        report.minutes
    )
}

fn pressure_axis(page: &mut String, scale: &Scale, y: &dyn Fn(f64) -> f64) -> fmt::Result {
    writeln!(
        page,
        "<text x=\"{}\" y=\"13\" text-anchor=\"end\">gauge psi</text><text x=\"{}\" y=\"13\">kPa</text>",
        px(LEFT - 8.0),
        px(RIGHT + 8.0)
    )?;
    for (value, figure) in scale.figures() {
        let at = y(value);
        if at < GROUND - 1.0 {
            writeln!(
                page,
                "<path d=\"M{LEFT} {0}H{RIGHT}\" stroke=\"var(--hair)\"/>",
                px(at)
            )?;
        }
        let kilopascal = DisplayUnit::of(Quantity::GaugePressure, Units::Si).number(value * PSI);
        writeln!(
            page,
            "<text class=\"figures\" x=\"{}\" y=\"{1}\" text-anchor=\"end\">{figure}</text><text class=\"figures\" x=\"{2}\" y=\"{1}\">{kilopascal}</text>",
            px(LEFT - 8.0),
            px(at + 4.0),
            px(RIGHT + 8.0)
        )?;
    }
    Ok(())
}

fn set_point_lines(page: &mut String, psi: [f64; 2], y: &dyn Fn(f64) -> f64) -> fmt::Result {
    for (name, value) in [("cut-in", psi[0]), ("cut-out", psi[1])] {
        let at = y(value);
        writeln!(
            page,
            "<path d=\"M{LEFT} {0}H{RIGHT}\" stroke=\"var(--accent)\" stroke-width=\"1.25\" stroke-dasharray=\"6 4\"/><text x=\"{1}\" y=\"{2}\" text-anchor=\"end\" fill=\"var(--accent)\" style=\"fill:var(--accent)\">{name}</text>",
            px(at),
            px(RIGHT - 4.0),
            px(at - 4.0)
        )?;
    }
    Ok(())
}

type Map<'a> = &'a dyn Fn(f64) -> f64;

fn needle(page: &mut String, report: &Report, (x, y): (Map<'_>, Map<'_>)) -> fmt::Result {
    if report.gauge.len() < 2 {
        return writeln!(
            page,
            "<text x=\"{}\" y=\"{}\">The visit was over before the needle could move.</text>",
            px(LEFT + 12.0),
            px(SKY_TOP + 12.0)
        );
    }
    let mut data = String::new();
    for (i, (seconds, pascal)) in report.gauge.iter().enumerate() {
        let command = if i == 0 { 'M' } else { 'L' };
        write!(data, "{command}{} {}", px(x(*seconds)), px(y(pascal / PSI)))?;
    }
    writeln!(
        page,
        "<path d=\"{data}\" fill=\"none\" stroke=\"var(--water_ink)\" stroke-width=\"2\"/>"
    )
}

fn time_axis(page: &mut String, end_s: f64, (x, foot): (Map<'_>, f64)) -> fmt::Result {
    let axis = TimeAxis::of(end_s);
    for (seconds, figure) in &axis.figures {
        let at = px(x(*seconds));
        writeln!(
            page,
            "<path d=\"M{at} {0}v5\" stroke=\"var(--edge)\"/><text class=\"figures\" x=\"{at}\" y=\"{1}\" text-anchor=\"middle\">{figure}</text>",
            px(foot),
            px(foot + 19.0)
        )?;
    }
    writeln!(
        page,
        "<text x=\"{}\" y=\"{}\" text-anchor=\"end\">{} since arrival</text>",
        px(RIGHT),
        px(foot + 38.0),
        axis.unit
    )
}

fn write_lane(
    page: &mut String,
    report: &Report,
    lane: Lane,
    (middle, x): (f64, Map<'_>),
) -> fmt::Result {
    writeln!(
        page,
        "<text x=\"{}\" y=\"{}\" text-anchor=\"end\" font-weight=\"700\">{}</text>",
        px(LEFT - 8.0),
        px(middle + 4.0),
        lane.label()
    )?;
    for mark in marks(report, lane, x) {
        let half = mark.half_width();
        let at = mark.x.clamp(LEFT + half, RIGHT - half);
        write!(
            page,
            "<g><title>{}</title>",
            escaped(&mark.words.join("; "))
        )?;
        shape(page, lane, (at, middle), half)?;
        let ink = match lane {
            Lane::Call | Lane::Proof => "on_accent",
            Lane::Hazard => "unsafe",
            Lane::Read | Lane::Perceived | Lane::Repair => "ink",
        };
        writeln!(
            page,
            "<text class=\"figures\" x=\"{}\" y=\"{}\" text-anchor=\"middle\" style=\"fill:var(--{ink})\">{}</text></g>",
            px(at),
            px(middle + 4.2),
            mark.label()
        )?;
    }
    Ok(())
}

fn marks(report: &Report, lane: Lane, x: Map<'_>) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::new();
    let rows = report
        .timeline
        .iter()
        .filter(|row| Lane::of(row) == Some(lane));
    for row in rows {
        let next = Mark {
            x: x(row.ended.seconds()),
            numbers: vec![row.n],
            words: vec![format!("{} {}", row.n, words::action(&row.action))],
        };
        match marks.last_mut() {
            Some(last) if last.overlaps(&next) => {
                let n = last.numbers.len() as f64;
                last.x = (last.x * n + next.x) / (n + 1.0);
                last.numbers.extend(next.numbers);
                last.words.extend(next.words);
            }
            _ => marks.push(next),
        }
        // A wider label may reach back to the mark before.
        while let [.., before, last] = marks.as_slice()
            && before.overlaps(last)
        {
            let Some(last) = marks.pop() else { break };
            if let Some(before) = marks.last_mut() {
                let (n, m) = (before.numbers.len() as f64, last.numbers.len() as f64);
                before.x = (before.x * n + last.x * m) / (n + m);
                before.numbers.extend(last.numbers);
                before.words.extend(last.words);
            }
        }
    }
    marks
}

/// The lane's shape: round, dashed round, square, pointed at both ends, a flag, cut corners.
fn shape(page: &mut String, lane: Lane, (x, y): (f64, f64), half: f64) -> fmt::Result {
    let (left, right, top, foot) = (x - half, x + half, y - HALF, y + HALF);
    let fill = |role: &str, edge: &str| {
        format!("fill=\"var(--{role})\" stroke=\"var(--{edge})\" stroke-width=\"1.5\"")
    };
    match lane {
        Lane::Read | Lane::Perceived => {
            let dash = if lane == Lane::Perceived {
                " stroke-dasharray=\"3 2\""
            } else {
                ""
            };
            write!(
                page,
                "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{HALF}\" {}{dash}/>",
                px(left),
                px(top),
                px(2.0 * half),
                px(2.0 * HALF),
                fill("raised", "edge")
            )
        }
        Lane::Repair => write!(
            page,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" {}/>",
            px(left),
            px(top),
            px(2.0 * half),
            px(2.0 * HALF),
            fill("water1", "edge")
        ),
        Lane::Call => write!(
            page,
            "<path d=\"M{} {}H{}L{} {}L{2} {5}H{0}L{6} {4}Z\" {7}/>",
            px(left),
            px(top),
            px(right),
            px(right + 6.0),
            px(y),
            px(foot),
            px(left - 6.0),
            fill("accent", "edge")
        ),
        Lane::Proof => write!(
            page,
            "<path d=\"M{} {}H{}L{} {}L{2} {5}H{0}Z\" {6}/>",
            px(left),
            px(top),
            px(right),
            px(right + 6.0),
            px(y),
            px(foot),
            fill("accent", "edge")
        ),
        Lane::Hazard => {
            let cut = 5.0;
            write!(
                page,
                "<path d=\"M{} {}H{}L{} {}V{}L{2} {6}H{0}L{7} {5}V{4}Z\" {8}/>",
                px(left + cut),
                px(top),
                px(right - cut),
                px(right),
                px(top + cut),
                px(foot - cut),
                px(foot),
                px(left),
                fill("unsafe_wash", "unsafe")
            )
        }
    }
}
