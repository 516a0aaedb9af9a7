//! Writes a picture as PNG.

use anyhow::{Context, Result};
use tiny_skia::{
    FillRule, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash, Transform,
};

use super::figure::{Anchor, Face, Figure, Point, Shape, TAIL_GAP, Text};
use super::font::Letters;
use crate::cli::palette::Rgb;

/// Writes the picture.
pub(crate) fn png(figure: &Figure) -> Result<Vec<u8>> {
    let mut pixmap = Pixmap::new(figure.width, figure.height).context("the plot has no size")?;
    for shape in &figure.shapes {
        draw(&mut pixmap, shape)?;
    }
    pixmap.encode_png().context("cannot encode the plot")
}

/// Draws a shape; one without extent, such as an area of no height, leaves no trace.
fn draw(pixmap: &mut Pixmap, shape: &Shape) -> Result<()> {
    let upright = Transform::identity();
    match shape {
        Shape::Rect { from, to, color } => {
            let rect = Rect::from_ltrb(from.0 as f32, from.1 as f32, to.0 as f32, to.1 as f32);
            if let Some(rect) = rect {
                pixmap.fill_rect(rect, &paint(*color), upright, None);
            }
        }
        Shape::Area { points, color } => {
            if let Some(path) = path(points, true) {
                pixmap.fill_path(&path, &paint(*color), FillRule::Winding, upright, None);
            }
        }
        Shape::Stroke {
            points,
            width,
            color,
            dash,
        } => {
            let stroke = Stroke {
                width: *width as f32,
                line_join: LineJoin::Round,
                dash: dash
                    .and_then(|(ink, gap)| StrokeDash::new(vec![ink as f32, gap as f32], 0.0)),
                ..Stroke::default()
            };
            if let Some(path) = path(points, false) {
                pixmap.stroke_path(&path, &paint(*color), &stroke, upright, None);
            }
        }
        Shape::Text(text) => set_text(pixmap, text)?,
    }
    Ok(())
}

fn paint((red, green, blue): Rgb) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(red, green, blue, 0xFF);
    paint
}

fn path(points: &[Point], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (i, &(x, y)) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(x as f32, y as f32);
        } else {
            path.line_to(x as f32, y as f32);
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

fn set_text(pixmap: &mut Pixmap, text: &Text) -> Result<()> {
    let letters = Letters::new(text.face, text.size)?;
    let back = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => letters.width(&text.words) / 2.0,
        Anchor::End => letters.width(&text.words),
    };
    let begin = text.at.0 - back;
    blend(
        pixmap,
        &letters,
        &text.words,
        (begin, text.at.1),
        text.color,
    );
    if let Some((words, color)) = &text.tail {
        let at = (begin + letters.width(&text.words) + TAIL_GAP, text.at.1);
        blend(
            pixmap,
            &Letters::new(Face::Regular, text.size)?,
            words,
            at,
            *color,
        );
    }
    Ok(())
}

fn blend(pixmap: &mut Pixmap, letters: &Letters, words: &str, at: Point, color: Rgb) {
    let (width, height) = (pixmap.width(), pixmap.height());
    let (red, green, blue) = color;
    // The page is opaque, so that mixing needs no alpha.
    let pixels = pixmap.data_mut();
    letters.draw(words, at, |x, y, covered| {
        if x < 0 || y < 0 || x as u32 >= width || y as u32 >= height {
            return;
        }
        let first = 4 * (y as usize * width as usize + x as usize);
        for (under, over) in pixels[first..first + 3].iter_mut().zip([red, green, blue]) {
            let (a, b) = (f32::from(*under), f32::from(over));
            *under = (a + (b - a) * covered.clamp(0.0, 1.0)).round() as u8;
        }
    });
}
