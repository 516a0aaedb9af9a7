//! From the bytes of a file to a validated site, or to everything that is wrong with it.
//!
//! Steps: size, UTF-8, tree with positions, fields with units and ranges, checks
//! across fields.  Each goes on after a problem, so that one run shows them all.
//!
//! Invariants: any byte string ends in one or the other, in time linear in its
//! length and memory bounded by [`MAX_FILE_BYTES`]; a site is only handed out
//! when there is no problem at all.

use super::check::check_site;
use super::draft::{SITE_FIELDS, SiteDraft};
use super::fields::Fields;
use super::problem::{Position, Problem, Problems};
use super::ron_text;
use super::spec::SiteSpec;

/// Largest site file [bytes]; real ones have about five thousand.
pub const MAX_FILE_BYTES: usize = 1 << 20;

/// Reads and validates a site file.
///
/// `file_name` is what problems call the file; when it ends in `.ron`, the site's
/// `name` must be the rest of it.  `text` may be any bytes.
///
/// ```
/// let problems = sim_core::site::parse("empty.ron", "").unwrap_err();
/// assert_eq!(
///     problems[0].to_string(),
///     "empty.ron:1:1: site: the file ends where a value should stand; \
///      accepted: a site in parentheses: (version: 1, name: \"..\", ..)"
/// );
/// ```
///
/// # Errors
/// Every problem with the file, in file order, at most about a hundred; the last
/// one counts those left out.
pub fn parse(file_name: &str, text: impl AsRef<[u8]>) -> Result<SiteSpec, Vec<Problem>> {
    let bytes = text.as_ref();
    let problems = Problems::new(file_name);
    if bytes.len() > MAX_FILE_BYTES {
        problems.report(
            Position::START,
            "site",
            format!("the file has {} bytes", bytes.len()),
            format!("at most {MAX_FILE_BYTES} bytes"),
        );
        return Err(problems.into_sorted());
    }
    // Editors of some systems put a byte order mark in front.
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = String::from_utf8_lossy(bytes);
    if let Err(error) = std::str::from_utf8(bytes) {
        let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
        problems.report(
            position_after(&before),
            "site",
            "the bytes here are not UTF-8 text",
            "a file saved as UTF-8",
        );
    }
    let tree = ron_text::read(&text, &problems);
    let fields = Fields::open(&tree, String::new(), SITE_FIELDS, &problems);
    let draft = SiteDraft::read(&fields);
    check_site(&draft, file_name, &problems);
    if !problems.is_empty() {
        return Err(problems.into_sorted());
    }
    match draft.finish() {
        Some(site) => Ok(site),
        None => {
            // Every refusal reports; this is the net below that rule.
            problems.report(
                Position::START,
                "site",
                "a part of the site could not be read",
                "a complete site",
            );
            Err(problems.into_sorted())
        }
    }
}

/// Where the next character after `before` stands.
fn position_after(before: &str) -> Position {
    let last_line = before.rsplit('\n').next().unwrap_or(before);
    Position {
        line: before.matches('\n').count() + 1,
        column: last_line.chars().count() + 1,
    }
}
