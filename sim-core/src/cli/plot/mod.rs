//! Pictures of a run: laid out once as flat shapes, then written as SVG or PNG.
//!
//! Fonts are built in, so that a picture is the same wherever it is drawn.

mod axis;
mod decimate;
pub(super) mod figure;
mod font;
mod panels;
mod png;
mod svg;
#[cfg(test)]
mod tests;

pub(super) use self::axis::{Scale, TimeAxis};
pub(super) use self::font::fitted;
pub(super) use self::panels::figure;
pub(super) use self::png::png;
pub(super) use self::svg::svg;
