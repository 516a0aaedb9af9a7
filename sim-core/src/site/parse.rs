//! From the bytes of a file to a validated site, or to everything that is wrong with it.
//!
//! Steps: size, UTF-8, tree with positions, fields with units and ranges, checks
//! across fields.  Each goes on after a problem, so that one run shows them all.
//!
//! Invariants: any byte string ends in one or the other, in time linear in its
//! length and memory bounded by [`MAX_FILE_BYTES`](crate::file::MAX_FILE_BYTES); a site is only handed out
//! when there is no problem at all.

use super::check::check_site;
use super::draft::{SITE_FIELDS, SiteDraft};
use super::spec::SiteSpec;
use crate::file::fields::Fields;
use crate::file::overlay::overlay;
use crate::file::problem::{Form, Position, Problem, Problems};
use crate::file::{self, Value};

/// What problems call a site file and its parts.
const SITE: Form = Form {
    noun: "site",
    outline: "a site in parentheses: (version: 1, name: \"..\", ..)",
    fields: SITE_FIELDS,
};

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
    let problems = Problems::new(file_name, &SITE);
    match file::tree(text.as_ref(), &problems) {
        Some(tree) => validate(file_name, &tree, problems),
        None => Err(problems.into_sorted()),
    }
}

/// As [`parse()`], with values of another file laid over the site's before they are
/// validated; a problem with one of those is told where it stands in that file.
///
/// # Errors
/// As [`parse()`], problems of the other file first.
pub(crate) fn parse_over(
    file_name: &str,
    text: &[u8],
    (over_file, over): (&str, &Value),
) -> Result<SiteSpec, Vec<Problem>> {
    let problems = Problems::new(file_name, &SITE).with_overlay(over_file);
    match file::tree(text, &problems) {
        Some(tree) => validate(file_name, &overlay(tree, over), problems),
        None => Err(problems.into_sorted()),
    }
}

/// The values of a site file with those of another file laid over them, not yet validated.
///
/// # Errors
/// What is wrong with the notation.
pub(crate) fn tree_over(
    file_name: &str,
    text: &[u8],
    over: Option<&Value>,
) -> Result<Value, Vec<Problem>> {
    let problems = Problems::new(file_name, &SITE);
    match file::tree(text, &problems) {
        Some(tree) if problems.is_empty() => Ok(match over {
            Some(over) => overlay(tree, over),
            None => tree,
        }),
        _ => Err(problems.into_sorted()),
    }
}

/// A site from values that have been read and perhaps changed.
///
/// # Errors
/// As [`parse()`], problems of the other file first.
pub(crate) fn parse_tree(
    file_name: &str,
    tree: &Value,
    over_file: &str,
) -> Result<SiteSpec, Vec<Problem>> {
    let problems = Problems::new(file_name, &SITE).with_overlay(over_file);
    validate(file_name, tree, problems)
}

/// What is wrong with single fields of such values; how fields go together is not looked at.
pub(crate) fn field_problems(file_name: &str, tree: &Value, over_file: &str) -> Vec<Problem> {
    let problems = Problems::new(file_name, &SITE).with_overlay(over_file);
    // Reading reports; what was read is of no use here.
    let _ = SiteDraft::read(&Fields::whole(tree, &problems));
    problems.into_sorted()
}

fn validate(file_name: &str, tree: &Value, problems: Problems) -> Result<SiteSpec, Vec<Problem>> {
    let fields = Fields::whole(tree, &problems);
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
