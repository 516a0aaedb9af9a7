//! Texts for people: complaint, hints, teaching notes, references.
//!
//! A text may stand on several lines of the file (as a raw text, `r"..."`); lines are joined,
//! and an empty line begins a new paragraph.

use crate::file::fields::{Fields, Located};
use crate::file::problem::Problems;
use crate::scenario::spec::Reference;

pub(super) const REFERENCE_FIELDS: &[&str] = &["criterion", "evidence", "framework"];

/// Longest complaint [characters].
pub(super) const COMPLAINT: usize = 2_000;
/// Longest teaching notes [characters].
pub(super) const TEACHING: usize = 6_000;
/// Longest hint, criterion, evidence or framework [characters].
const LINE: usize = 600;
/// Most hints.
const MAX_HINTS: usize = 8;
/// Most references.
const MAX_REFERENCES: usize = 12;

/// A text that must be there, its lines joined.
pub(super) fn read_prose(
    fields: &Fields<'_>,
    name: &str,
    most_chars: usize,
    problems: &Problems,
) -> Option<String> {
    let accepted = format!("a text of 1 to {most_chars} characters");
    let text = fields.text(name, &accepted)?;
    joined(&text, most_chars, problems)
}

/// Hints, weakest first.
pub(super) fn read_hints(fields: &Fields<'_>, problems: &Problems) -> Vec<String> {
    if !fields.is_given("hints") {
        return Vec::new();
    }
    fields
        .texts("hints", (0, MAX_HINTS))
        .iter()
        .filter_map(|text| joined(text, LINE, problems))
        .collect()
}

/// What the scenario is evidence of.
pub(super) fn read_references(fields: &Fields<'_>, problems: &Problems) -> Vec<Reference> {
    if !fields.is_given("references") {
        return Vec::new();
    }
    fields
        .groups("references", (0, MAX_REFERENCES), REFERENCE_FIELDS)
        .iter()
        .filter_map(|group| {
            let criterion = read_prose(group, "criterion", LINE, problems);
            let evidence = read_prose(group, "evidence", LINE, problems);
            let framework = read_prose(group, "framework", LINE, problems);
            Some(Reference {
                criterion: criterion?,
                evidence: evidence?,
                framework: framework?,
            })
        })
        .collect()
}

/// Lines joined by single blanks, paragraphs parted by an empty line.
fn joined(text: &Located<String>, most_chars: usize, problems: &Problems) -> Option<String> {
    let mut paragraphs: Vec<String> = vec![String::new()];
    for line in text.value.lines() {
        let line = line.split_whitespace().collect::<Vec<_>>().join(" ");
        let last = paragraphs.last_mut()?;
        match (line.is_empty(), last.is_empty()) {
            (true, true) => {}
            (true, false) => paragraphs.push(String::new()),
            (false, true) => *last = line,
            (false, false) => {
                last.push(' ');
                last.push_str(&line);
            }
        }
    }
    let whole = paragraphs.join("\n\n").trim_end().to_owned();
    let n_chars = whole.chars().count();
    let is_plain = !whole.chars().any(|c| c.is_control() && c != '\n');
    if n_chars == 0 || n_chars > most_chars || !is_plain {
        let message = if !is_plain {
            format!("{} has control characters", text.written)
        } else {
            format!("the text has {n_chars} characters")
        };
        problems.report_spot(
            &text.spot,
            message,
            format!("a plain text of 1 to {most_chars} characters"),
        );
        return None;
    }
    Some(whole)
}
