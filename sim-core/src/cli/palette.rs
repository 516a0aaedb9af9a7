//! Colors by role, one source for every picture that the command draws.
//!
//! Names say what a color is for; the light values are those of the practice yard.  A
//! line's role is always also told by its dash and by a label at its end.

/// A color, red, green, blue.
pub(super) type Rgb = (u8, u8, u8);

/// The page.
pub(super) const PAPER: Rgb = (0xF4, 0xF0, 0xE6);
/// A surface let into the page.
pub(super) const SUNK: Rgb = (0xE6, 0xDF, 0xCF);
/// A surface laid on the page.
pub(super) const RAISED: Rgb = (0xFF, 0xFC, 0xF5);
/// Text.
pub(super) const INK: Rgb = (0x1E, 0x28, 0x2B);
/// Quiet text.
pub(super) const INK2: Rgb = (0x4A, 0x55, 0x57);
/// Outlines of fields.
pub(super) const RULE: Rgb = (0x7A, 0x7F, 0x78);
/// Ornament that carries nothing: grid lines.
pub(super) const HAIR: Rgb = (0xCF, 0xC8, 0xB8);
/// What somebody has set: cut-in and cut-out.
pub(super) const ACCENT: Rgb = (0x6B, 0x2C, 0x5C);
/// Water, shallow.
pub(super) const WATER1: Rgb = (0xA9, 0xD2, 0xD6);
/// Lines about water.
pub(super) const WATER_INK: Rgb = (0x1B, 0x53, 0x61);
/// Energized.
pub(super) const LIVE: Rgb = (0xAD, 0x4A, 0x06);
/// Outline of every part.
pub(super) const EDGE: Rgb = (0x2A, 0x34, 0x36);
/// Steel, light and middle.
pub(super) const STEEL1: Rgb = (0xDA, 0xDE, 0xDD);
/// Steel in shade.
pub(super) const STEEL2: Rgb = (0xB4, 0xBC, 0xBD);
/// Copper.
pub(super) const COPPER1: Rgb = (0xC9, 0x85, 0x55);
/// Outline of copper, and bare earth conductors.
pub(super) const COPPER2: Rgb = (0x9C, 0x55, 0x2C);
/// Face of dials and terminals.
pub(super) const FACE: Rgb = (0xFF, 0xFD, 0xF7);
