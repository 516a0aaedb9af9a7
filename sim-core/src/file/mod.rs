//! Reads the text files that people write: sites, catalogue, scenarios.
//!
//! A file is untrusted input.  Whoever reads a sort of file describes it by a
//! [`Form`](problem::Form), gets the [`tree()`] of its values, opens the outermost group as
//! [`Fields`](fields::Fields) and takes each field with its unit, range and
//! position; everything wrong is collected in one [`Problems`] and told at once.
//!
//! Invariants: any bytes give a tree or problems, in time linear in their number
//! and memory bounded by [`MAX_FILE_BYTES`]; whatever is refused is reported.

pub(crate) mod fields;
pub(crate) mod names;
pub(crate) mod overlay;
pub(crate) mod problem;
pub(crate) mod quantity;
pub(crate) mod range;
mod ron_text;

pub use problem::Problem;

use problem::{Position, Problems};
pub(crate) use ron_text::{Field, Value, ValueKind};

/// Largest file that is read [bytes]; a site has about five thousand.
pub const MAX_FILE_BYTES: usize = 1 << 20;

/// The values in a file, each with its position, or nothing when the file is too large;
/// what is wrong with size, encoding and notation goes to `problems`.
pub(crate) fn tree(bytes: &[u8], problems: &Problems) -> Option<Value> {
    if bytes.len() > MAX_FILE_BYTES {
        problems.report(
            Position::START,
            "",
            format!("the file has {} bytes", bytes.len()),
            format!("at most {MAX_FILE_BYTES} bytes"),
        );
        return None;
    }
    // Editors of some systems put a byte order mark in front.
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = String::from_utf8_lossy(bytes);
    if let Err(error) = std::str::from_utf8(bytes) {
        let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
        problems.report(
            position_after(&before),
            "",
            "the bytes here are not UTF-8 text",
            "a file saved as UTF-8",
        );
    }
    Some(ron_text::read(&text, problems))
}

/// Where the next character after `before` stands.
fn position_after(before: &str) -> Position {
    let last_line = before.rsplit('\n').next().unwrap_or(before);
    Position {
        in_overlay: false,
        line: before.matches('\n').count() + 1,
        column: last_line.chars().count() + 1,
    }
}
