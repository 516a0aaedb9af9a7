//! From a line of plain English to something to do.
//!
//! A table of phrases, each with places for names and amounts.  A line either fits one of
//! them as a whole, or nothing is done: there is no acting on a guess.

mod amounts;
mod faults;
mod names;
mod pattern;
mod rules;
mod slots;
mod suggest;
mod words;

use self::pattern::{Attempt, attempt};
use self::words::split;
use crate::cli::display::Units;
use crate::session::{Action, Station};

pub(super) use self::amounts::capital;
pub(super) use self::faults::title as fault_title;
pub(super) use self::rules::{Topic, examples};

/// Longest line that is read as more than a note [bytes].
const MAX_LINE_BYTES: usize = 400;
/// Longest note [bytes].
const MAX_NOTE_BYTES: usize = 2_000;

/// What a line asks for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Line {
    /// Something to do at the site.
    Act(Action),
    /// Something to show; takes no time.
    Show(Show),
    /// Nothing: an empty line or a remark behind `#`.
    Nothing,
}

/// What can be shown or set without anything happening at the site.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Show {
    /// Everything written down so far.
    Notebook,
    /// The person's own list of what may be wrong.
    Suspects,
    /// Where one is and how things were left.
    Status,
    /// The places to stand.
    Map,
    /// What is carried.
    Kit,
    /// What the customer said.
    Complaint,
    /// What the troubleshooter would read next, practice only.
    Advice,
    /// Where a probe can touch from here.
    Points,
    /// Faults that can be called.
    Faults,
    /// How to say things, all or about one topic.
    Help(Option<Topic>),
    /// Units to show from now on.
    Units(Units),
    /// The end of this session; the exercise can be gone on with.
    Quit,
}

/// What the words of a line are read against.
#[derive(Debug, Clone, Copy)]
pub(super) struct Context<'a> {
    /// Where the person stands.
    pub(super) station: Station,
    /// Names of the site's outlets.
    pub(super) outlets: &'a [String],
    /// What a number without a unit is taken in.
    pub(super) units: Units,
}

/// Why a line was not understood.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Misunderstood {
    /// What is unclear, one sentence or two.
    pub(super) message: String,
    /// A line that may have been meant.
    pub(super) suggestion: Option<String>,
    /// Lines that would be understood.
    pub(super) accepted: Vec<String>,
}

/// Reads one line.
///
/// # Errors
/// When no phrase fits; nothing is guessed.
pub(super) fn read(line: &str, context: &Context<'_>) -> Result<Line, Misunderstood> {
    let trimmed = line.trim();
    if trimmed.is_empty() || trimmed.starts_with('#') {
        return Ok(Line::Nothing);
    }
    if trimmed == "?" {
        return Ok(Line::Show(Show::Help(None)));
    }
    if let Some(text) = note(trimmed) {
        return note_line(text);
    }
    if trimmed.len() > MAX_LINE_BYTES {
        return Err(Misunderstood {
            message: format!(
                "That line is longer than the {MAX_LINE_BYTES} letters that are read."
            ),
            suggestion: None,
            accepted: vec!["note WHAT YOU SAW, up to 2000 letters".to_owned()],
        });
    }
    let words = split(trimmed);
    match attempt(&words, context) {
        Attempt::Fits(line) => Ok(line),
        Attempt::Asks(question) => Err(question),
        Attempt::Fails(problem) => Err(suggest::explain(trimmed, &words, context, problem)),
    }
}

/// The text of a note, as written.
fn note(line: &str) -> Option<&str> {
    ["note down", "write down", "note", "write"]
        .into_iter()
        .find_map(|verb| {
            let head = line.get(..verb.len())?;
            let rest = line.get(verb.len()..)?;
            let ends = rest.is_empty() || rest.starts_with([' ', '\t', ':']);
            (head.eq_ignore_ascii_case(verb) && ends).then_some(rest)
        })
        .map(|rest| rest.trim_start_matches(':').trim())
}

fn note_line(text: &str) -> Result<Line, Misunderstood> {
    let refuse = |message: String| Misunderstood {
        message,
        suggestion: None,
        accepted: vec!["note the pump hums and does not turn".to_owned()],
    };
    if text.is_empty() {
        return Err(refuse("What is to be written down?".to_owned()));
    }
    if text.len() > MAX_NOTE_BYTES {
        return Err(refuse(format!(
            "A note has at most {MAX_NOTE_BYTES} letters."
        )));
    }
    Ok(Line::Act(Action::Note {
        text: text.to_owned(),
    }))
}

#[cfg(test)]
mod tests;
