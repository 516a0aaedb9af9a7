//! The built-in letters: Fira Sans and Fira Mono (SIL Open Font License, see `fonts/`).

use ab_glyph::{Font, FontRef, GlyphId, Point, ScaleFont, point};
use anyhow::{Context, Result};

use super::figure::Face;

/// Family as named in an SVG file, with stand-ins where it is not installed.
pub(super) fn family(face: Face) -> &'static str {
    match face {
        Face::Regular | Face::Bold => {
            "Fira Sans, Segoe UI, Noto Sans, Liberation Sans, Helvetica, Arial, sans-serif"
        }
        Face::Mono => "Fira Mono, Menlo, Consolas, monospace",
    }
}

/// One of the built-in fonts at a size.
pub(super) struct Letters {
    font: FontRef<'static>,
    /// Height between the lowest and the highest line that `ab_glyph` scales by [px].
    height: f32,
}

impl Letters {
    /// The letters of a face at a height of the em [px].
    pub(super) fn new(face: Face, size: f64) -> Result<Self> {
        let bytes: &'static [u8] = match face {
            Face::Regular => include_bytes!("../fonts/FiraSans-Regular.ttf"),
            Face::Bold => include_bytes!("../fonts/FiraSans-Bold.ttf"),
            Face::Mono => include_bytes!("../fonts/FiraMono-Medium.ttf"),
        };
        let font = FontRef::try_from_slice(bytes).context("a built-in font is damaged")?;
        let em = font.units_per_em().context("a built-in font has no size")?;
        let height = size as f32 * font.height_unscaled() / em;
        Ok(Self { font, height })
    }

    /// Width of a text [px].
    pub(super) fn width(&self, words: &str) -> f64 {
        let (_, width) = self.lay_out(words);
        f64::from(width)
    }

    /// Tells, for every pixel that the text covers when its base line begins at `at`,
    /// how much of it is covered, 0 to 1.
    pub(super) fn draw(&self, words: &str, at: (f64, f64), mut cover: impl FnMut(i32, i32, f32)) {
        let (glyphs, _) = self.lay_out(words);
        for (glyph, shift) in glyphs {
            let place = point(at.0 as f32 + shift.x, at.1 as f32);
            let glyph = glyph.with_scale_and_position(self.height, place);
            if let Some(outline) = self.font.outline_glyph(glyph) {
                let corner = outline.px_bounds().min;
                outline.draw(|x, y, covered| {
                    cover(
                        corner.x as i32 + x as i32,
                        corner.y as i32 + y as i32,
                        covered,
                    );
                });
            }
        }
    }

    /// Glyphs with their places along the base line, kerned, and the width of all.
    fn lay_out(&self, words: &str) -> (Vec<(GlyphId, Point)>, f32) {
        let scaled = self.font.as_scaled(self.height);
        let mut glyphs: Vec<(GlyphId, Point)> = Vec::new();
        let mut pen = 0.0;
        for letter in words.chars() {
            let glyph = scaled.glyph_id(letter);
            if let Some(&(before, _)) = glyphs.last() {
                pen += scaled.kern(before, glyph);
            }
            glyphs.push((glyph, point(pen, 0.0)));
            pen += scaled.h_advance(glyph);
        }
        (glyphs, pen)
    }
}

/// A text cut to a width [px], with an ellipsis where something is left out.
pub(in crate::cli) fn fitted(words: &str, face: Face, size: f64, width: f64) -> Result<String> {
    let letters = Letters::new(face, size)?;
    if letters.width(words) <= width {
        return Ok(words.to_owned());
    }
    let mut cut: Vec<char> = words.chars().collect();
    loop {
        cut.pop();
        let shown: String = cut.iter().chain(&['…']).collect();
        if cut.is_empty() || letters.width(&shown) <= width {
            return Ok(shown);
        }
    }
}
