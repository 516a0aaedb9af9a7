//! The sheet, and one panel of it: field, figures, lines and their names.

use super::LABEL_ANCHOR;
use super::labels::{LINE_HEIGHT, Label, placed};
use crate::cli::palette::{HAIR, INK, INK2, PAPER, RAISED, RULE, Rgb, WATER1};
use crate::cli::plot::axis::{Scale, TimeAxis};
use crate::cli::plot::decimate::{by_column, ranges};
use crate::cli::plot::figure::{Anchor, Dash, Face, Figure, Point, Text};
use crate::cli::plot::font;

const LEFT: f64 = 84.0;
/// Room for names at the right.
const RIGHT: f64 = 176.0;
const HEAD_HEIGHT: f64 = 76.0;
/// Room that the first panel's name takes [px].
const NAME_WIDTH: f64 = 96.0;
/// From the foot of one panel to the field of the next.
const PANEL_GAP: f64 = 40.0;
const FLAG_LANE: f64 = 18.0;
/// Room under the last panel for the time axis.
const AXIS_HEIGHT: f64 = 48.0;
/// A line that moves less than this is easily followed, however often it does [px].
const LEAST_RANGE: f64 = 4.0;
/// More flags than this would be a fence.
const MOST_FLAGS: usize = 8;
/// Type sizes [px].
const TITLE: f64 = 24.0;
const BODY: f64 = 14.0;
const NOTE: f64 = 13.0;

/// A line to draw, in display units against seconds.
pub(super) struct Series {
    pub(super) points: Vec<(f64, f64)>,
    pub(super) width: f64,
    pub(super) color: Rgb,
    pub(super) dash: Dash,
    pub(super) name: &'static str,
    /// Name that leaves room for a word about a range.
    pub(super) short_name: &'static str,
}

/// How hard a line is to follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Density {
    /// Easily.
    Open,
    /// With a thinner pen.
    Close,
    /// Not at all: the line covers an area.
    Solid,
}

/// The sheet.
pub(super) struct Frame {
    pub(super) figure: Figure,
    duration_s: f64,
    time: TimeAxis,
    /// Foot of the last panel [px].
    foot: f64,
    /// Top and foot of every panel's field so far [px].
    fields: Vec<(f64, f64)>,
    /// Where flags stand, and how deep their poles begin [px].
    poles: Vec<Point>,
}

impl Frame {
    pub(super) fn new(size: (u32, u32), description: String, duration_s: f64) -> Self {
        let mut figure = Figure {
            width: size.0,
            height: size.1,
            description,
            shapes: Vec::new(),
        };
        figure.rect((0.0, 0.0), (f64::from(size.0), f64::from(size.1)), PAPER);
        Self {
            figure,
            duration_s,
            time: TimeAxis::of(duration_s),
            foot: HEAD_HEIGHT,
            fields: Vec::new(),
            poles: Vec::new(),
        }
    }

    /// Title and what was run.
    pub(super) fn head(&mut self, title: &str, subtitle: &str) {
        let width = f64::from(self.figure.width) - 2.0 * 32.0;
        for (y, words, size, face, color) in [
            (44.0, title, TITLE, Face::Bold, INK),
            (68.0, subtitle, BODY, Face::Regular, INK2),
        ] {
            let words = font::fitted(words, face, size, width).unwrap_or_else(|_| words.to_owned());
            self.text((32.0, y), words, size, face, Anchor::Start, color);
        }
    }

    /// Flags for single events, in lanes so that their words do not overlap.
    pub(super) fn flags<'w>(&mut self, events: impl Iterator<Item = (f64, &'w str)>) {
        let events: Vec<(f64, &str)> = events.collect();
        if events.is_empty() || events.len() > MOST_FLAGS {
            return;
        }
        let right = f64::from(self.figure.width) - RIGHT;
        let mut lane_ends: Vec<f64> = Vec::new();
        let mut placed = Vec::new();
        for (time_s, words) in events {
            let x = self.x(time_s);
            let width = font::Letters::new(Face::Regular, NOTE)
                .map_or(8.0 * words.len() as f64, |letters| letters.width(words));
            // Words stand right of the pole, or left of it near the right side.
            let to_left = x + 12.0 + width > right + RIGHT - 12.0;
            let from = if to_left { x - 6.0 - width } else { x };
            let lane = lane_ends
                .iter()
                .position(|&end| end + 12.0 <= from)
                .unwrap_or(lane_ends.len());
            if lane == lane_ends.len() {
                lane_ends.push(0.0);
            }
            lane_ends[lane] = if to_left { x + 8.0 } else { x + 12.0 + width };
            placed.push((x, lane, words, to_left));
        }
        let first_base = self.foot + 24.0;
        for (x, lane, words, to_left) in placed {
            let base = first_base + lane as f64 * FLAG_LANE;
            let (words_x, anchor) = if to_left {
                (x - 6.0, Anchor::End)
            } else {
                (x + 12.0, Anchor::Start)
            };
            let at = (words_x, base);
            self.text(at, words.to_owned(), NOTE, Face::Regular, anchor, INK);
            self.poles.push((x, base - 10.0));
        }
        self.foot = first_base + (lane_ends.len() - 1) as f64 * FLAG_LANE - 8.0;
    }

    /// Height that so many panels may share [px].
    pub(super) fn height_left(&self, n_panels: usize) -> f64 {
        f64::from(self.figure.height) - AXIS_HEIGHT - self.foot - n_panels as f64 * PANEL_GAP
    }

    /// Time axis, poles of the flags, and the figure.
    pub(super) fn finish(mut self) -> Figure {
        let foot = self.foot;
        for (x, top) in std::mem::take(&mut self.poles) {
            // Between panels, and above the first one's name, the pole would cross words.
            let crosses_name = x < LEFT + NAME_WIDTH;
            for (i, &(field_top, field_foot)) in self.fields.iter().enumerate() {
                let from = if i == 0 && !crosses_name {
                    top
                } else {
                    field_top
                };
                let pole = vec![(x, from), (x, field_foot)];
                self.figure.path(pole, 1.0, INK2, Some((1.0, 3.0)));
            }
            if crosses_name {
                let pole = vec![(x, top), (x, top + 14.0)];
                self.figure.path(pole, 1.0, INK2, Some((1.0, 3.0)));
            }
            let flag = vec![(x, top), (x + 9.0, top + 4.5), (x, top + 9.0)];
            self.figure.area(flag, INK);
        }
        let base = foot + 20.0;
        let figures = std::mem::take(&mut self.time.figures);
        for (time_s, words) in figures {
            let x = self.x(time_s);
            self.figure.line((x, foot), (x, foot + 5.0), 1.0, RULE);
            let at = (x, base);
            self.text(at, words, NOTE, Face::Mono, Anchor::Middle, INK2);
        }
        let (_, right) = self.sides();
        let unit = self.time.unit.to_owned();
        let at = (right + 24.0, base);
        self.text(at, unit, NOTE, Face::Regular, Anchor::Start, INK2);
        self.figure
    }

    fn sides(&self) -> (f64, f64) {
        (LEFT, f64::from(self.figure.width) - RIGHT)
    }

    pub(super) fn x(&self, time_s: f64) -> f64 {
        let (left, right) = self.sides();
        left + (right - left) * time_s / self.duration_s
    }

    fn text(
        &mut self,
        at: Point,
        words: String,
        size: f64,
        face: Face,
        anchor: Anchor,
        color: Rgb,
    ) {
        self.figure.text(Text {
            at,
            words,
            size,
            face,
            anchor,
            color,
            tail: None,
        });
    }
}

/// One panel.
pub(super) struct Panel<'f> {
    pub(super) frame: &'f mut Frame,
    pub(super) scale: Scale,
    pub(super) labels: Vec<Label>,
    top: f64,
    foot: f64,
}

impl<'f> Panel<'f> {
    /// A panel with a ruled field and figures at the left.
    pub(super) fn new(
        frame: &'f mut Frame,
        name: &str,
        unit: &str,
        height: f64,
        scale: Scale,
    ) -> Self {
        let panel = Self::bare(frame, name, unit, height, scale);
        let (left, right) = panel.sides();
        let (top, foot) = (panel.top, panel.foot);
        panel.frame.figure.rect((left, top), (right, foot), RAISED);
        let times: Vec<f64> = panel.frame.time.figures.iter().map(|(t, _)| *t).collect();
        for time_s in times {
            let x = panel.frame.x(time_s).floor() + 0.5;
            panel.frame.figure.line((x, top), (x, foot), 1.0, HAIR);
        }
        for (value, words) in panel.scale.figures() {
            let y = panel.y(value).floor() + 0.5;
            let color = if value == 0.0 { RULE } else { HAIR };
            panel.frame.figure.line((left, y), (right, y), 1.0, color);
            let at = (left - 10.0, y + 4.5);
            panel
                .frame
                .text(at, words, NOTE, Face::Mono, Anchor::End, INK2);
        }
        panel
    }

    /// A panel with a name and no field.
    pub(super) fn bare(
        frame: &'f mut Frame,
        name: &str,
        unit: &str,
        height: f64,
        scale: Scale,
    ) -> Self {
        let top = (frame.foot + PANEL_GAP).round();
        let foot = top + height;
        frame.foot = foot;
        frame.fields.push((top, foot));
        let base = top - 10.0;
        frame.figure.text(Text {
            at: (LEFT, base),
            words: name.to_owned(),
            size: BODY,
            face: Face::Bold,
            anchor: Anchor::Start,
            color: INK,
            tail: Some((unit.to_owned(), INK2)),
        });
        Self {
            frame,
            scale,
            labels: Vec::new(),
            top,
            foot,
        }
    }

    pub(super) fn sides(&self) -> (f64, f64) {
        self.frame.sides()
    }

    pub(super) fn y(&self, value: f64) -> f64 {
        let share = (value - self.scale.low) / (self.scale.high - self.scale.low);
        self.foot - share * (self.foot - self.top)
    }

    /// A level across the whole panel.
    pub(super) fn level(&mut self, value: f64, color: Rgb, dash: Dash, words: String) {
        let (left, right) = self.sides();
        let y = self.y(value);
        self.frame
            .figure
            .path(vec![(left, y), (right, y)], 1.25, color, dash);
        self.labels.push(Label {
            y,
            words,
            face: Face::Regular,
            color,
            dash,
            marked: true,
        });
    }

    /// A line with its name at the end.
    ///
    /// A solid line that goes up and down too often to follow is drawn as the range
    /// that it covers, a broken one as the upper edge of its range.
    pub(super) fn line(&mut self, series: Series) -> Density {
        let points = self.pixels(&series.points);
        let Some(&(_, last_y)) = points.last() else {
            return Density::Open;
        };
        let density = self.density_of(&points);
        let mut end_y = last_y;
        let mut name = series.name.to_owned();
        let figure = &mut self.frame.figure;
        match density {
            Density::Open => figure.path(points, series.width, series.color, series.dash),
            Density::Close => {
                let width = series.width.min(1.25);
                figure.path(points, width, series.color, series.dash);
            }
            Density::Solid => {
                let (upper, lower) = ranges(&points);
                let end = |edge: &[Point]| edge.last().map_or(last_y, |&(_, y)| y);
                if series.dash.is_none() {
                    name = format!("{}, range", series.short_name);
                    end_y = (end(&upper) + end(&lower)) / 2.0;
                    let outline = upper.iter().chain(lower.iter().rev()).copied().collect();
                    figure.area(outline, WATER1);
                    figure.path(lower, 1.0, series.color, None);
                } else {
                    name = format!("{}, highest", series.short_name);
                    end_y = end(&upper);
                }
                figure.path(upper, 1.0, series.color, series.dash);
            }
        }
        self.labels.push(Label {
            y: end_y,
            words: name,
            face: Face::Bold,
            color: series.color,
            dash: series.dash,
            marked: true,
        });
        density
    }

    /// How hard a line is to follow, in display units against seconds.
    pub(super) fn density(&self, points: &[(f64, f64)]) -> Density {
        self.density_of(&self.pixels(points))
    }

    /// How hard a line is to follow, from how far it travels up and down in a pixel.
    fn density_of(&self, points: &[Point]) -> Density {
        let (left, right) = self.sides();
        let ys = || points.iter().map(|point| point.1);
        let range = ys().fold(f64::NEG_INFINITY, f64::max) - ys().fold(f64::INFINITY, f64::min);
        let travel: f64 = points
            .windows(2)
            .map(|pair| (pair[1].1 - pair[0].1).abs())
            .sum();
        let ranges_per_pixel = travel / range.max(LEAST_RANGE) / (right - left);
        if ranges_per_pixel > 0.5 {
            Density::Solid
        } else if ranges_per_pixel > 0.03 {
            Density::Close
        } else {
            Density::Open
        }
    }

    /// The area between a line and zero, unless the line fills its own range.
    pub(super) fn fill(&mut self, points: &[(f64, f64)], color: Rgb) {
        let mut points = self.pixels(points);
        if self.density_of(&points) == Density::Solid {
            return;
        }
        if let (Some(&first), Some(&last)) = (points.first(), points.last()) {
            let foot = self.y(0.0);
            points.extend([(last.0, foot), (first.0, foot)]);
            self.frame.figure.area(points, color);
        }
    }

    /// Sets the names.
    pub(super) fn finish(self) {
        let (_, right) = self.sides();
        let wanted: Vec<f64> = self.labels.iter().map(|label| label.y).collect();
        let heights = placed(&wanted, self.top, self.foot.max(self.top + LINE_HEIGHT));
        for (label, y) in self.labels.into_iter().zip(heights) {
            let mut x = right + 10.0;
            if label.marked {
                // A short piece of the line itself, bent to where the name stands.
                let lead = vec![(right, label.y), (right + 8.0, y), (right + 30.0, y)];
                self.frame.figure.path(lead, 1.5, label.color, label.dash);
                x = right + 36.0;
            }
            let at = (x, y + 4.5);
            self.frame
                .text(at, label.words, NOTE, label.face, LABEL_ANCHOR, label.color);
        }
    }

    /// Points in pixels, thinned out where there are more than pixels.
    fn pixels(&self, points: &[(f64, f64)]) -> Vec<Point> {
        let points: Vec<Point> = points
            .iter()
            .filter(|(_, value)| value.is_finite())
            .map(|&(time_s, value)| (self.frame.x(time_s), self.y(value)))
            .collect();
        let (left, right) = self.sides();
        if points.len() as f64 > 2.0 * (right - left) {
            by_column(points)
        } else {
            points
        }
    }
}
