//! A picture as a list of flat shapes, in pixels from the upper left corner.

use crate::cli::palette::Rgb;

/// A place in the picture [px].
pub(super) type Point = (f64, f64);

/// Letters to set text in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    Regular,
    Bold,
    Mono,
}

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// Lengths of ink and gap along a line [px]; a solid line has none.
pub(super) type Dash = Option<(f64, f64)>;

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Shape {
    /// A filled rectangle.
    Rect { from: Point, to: Point, color: Rgb },
    /// A filled polygon.
    Area { points: Vec<Point>, color: Rgb },
    /// A line.
    Stroke {
        points: Vec<Point>,
        width: f64,
        color: Rgb,
        dash: Dash,
    },
    /// Text on its base line.
    Text(Text),
}

/// Text on its base line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Text {
    pub(super) at: Point,
    pub(super) words: String,
    /// Height of the em [px].
    pub(super) size: f64,
    pub(super) face: Face,
    pub(super) anchor: Anchor,
    pub(super) color: Rgb,
    /// Words that follow on the same line in regular letters, wherever the first end.
    pub(super) tail: Option<(String, Rgb)>,
}

/// Space between a text and its tail [px].
pub(super) const TAIL_GAP: f64 = 6.0;

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    pub(super) width: u32,
    pub(super) height: u32,
    /// What a screen reader says about it.
    pub(super) description: String,
    pub(super) shapes: Vec<Shape>,
}

impl Figure {
    pub(super) fn rect(&mut self, from: Point, to: Point, color: Rgb) {
        self.shapes.push(Shape::Rect { from, to, color });
    }

    pub(super) fn area(&mut self, points: Vec<Point>, color: Rgb) {
        self.shapes.push(Shape::Area { points, color });
    }

    pub(super) fn line(&mut self, from: Point, to: Point, width: f64, color: Rgb) {
        self.path(vec![from, to], width, color, None);
    }

    pub(super) fn path(&mut self, points: Vec<Point>, width: f64, color: Rgb, dash: Dash) {
        self.shapes.push(Shape::Stroke {
            points,
            width,
            color,
            dash,
        });
    }

    pub(super) fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }
}
