//! A picture as a list of flat shapes, in pixels from the upper left corner.

use crate::cli::palette::Rgb;

/// A place in the picture [px].
pub(in crate::cli) type Point = (f64, f64);

/// Letters to set text in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Face {
    Regular,
    Bold,
    Mono,
}

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Anchor {
    Start,
    Middle,
    End,
}

/// Lengths of ink and gap along a line [px]; a solid line has none.
pub(in crate::cli) type Dash = Option<(f64, f64)>;

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) enum Shape {
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
pub(in crate::cli) struct Text {
    pub(in crate::cli) at: Point,
    pub(in crate::cli) words: String,
    /// Height of the em [px].
    pub(in crate::cli) size: f64,
    pub(in crate::cli) face: Face,
    pub(in crate::cli) anchor: Anchor,
    pub(in crate::cli) color: Rgb,
    /// Words that follow on the same line in regular letters, wherever the first end.
    pub(in crate::cli) tail: Option<(String, Rgb)>,
}

/// Space between a text and its tail [px].
pub(in crate::cli) const TAIL_GAP: f64 = 6.0;

/// A picture.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) struct Figure {
    pub(in crate::cli) width: u32,
    pub(in crate::cli) height: u32,
    /// What a screen reader says about it.
    pub(in crate::cli) description: String,
    pub(in crate::cli) shapes: Vec<Shape>,
}

impl Figure {
    pub(in crate::cli) fn rect(&mut self, from: Point, to: Point, color: Rgb) {
        self.shapes.push(Shape::Rect { from, to, color });
    }

    pub(in crate::cli) fn area(&mut self, points: Vec<Point>, color: Rgb) {
        self.shapes.push(Shape::Area { points, color });
    }

    pub(in crate::cli) fn line(&mut self, from: Point, to: Point, width: f64, color: Rgb) {
        self.path(vec![from, to], width, color, None);
    }

    pub(in crate::cli) fn path(&mut self, points: Vec<Point>, width: f64, color: Rgb, dash: Dash) {
        self.shapes.push(Shape::Stroke {
            points,
            width,
            color,
            dash,
        });
    }

    pub(in crate::cli) fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }
}
