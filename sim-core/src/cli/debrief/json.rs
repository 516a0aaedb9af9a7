//! The debrief as JSON, SI units; described in `docs/marking.md`.

use serde::Serialize;

use super::worth::Worths;
use crate::marking::Report;

/// Version of the form; a change that would break a reader raises it.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    #[serde(flatten)]
    report: &'a Report,
    #[serde(skip_serializing_if = "Option::is_none")]
    worths: Option<&'a Worths>,
}

/// The debrief and a line end.
///
/// # Errors
/// Never in practice: a report holds texts and numbers only.
pub(super) fn json(report: &Report, worths: Option<&Worths>) -> serde_json::Result<String> {
    let document = Document {
        format: "shortcycle-debrief",
        version: VERSION,
        report,
        worths,
    };
    Ok(serde_json::to_string_pretty(&document)? + "\n")
}
