//! What is wrong with a file: where, which part, what, and what would be accepted.
//!
//! Problems are collected, never first-only, and their number is bounded: a file
//! of garbage must not fill the memory or the screen.

use std::cell::{Cell, RefCell};
use std::fmt;

/// Most problems that one file reports one by one; the rest are only counted.
pub(crate) const MAX_PROBLEMS: usize = 100;

/// Most characters of a file's own text that a message repeats.
const MAX_QUOTED_CHARS: usize = 48;

/// One thing wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// File as the caller named it.
    pub file: String,
    /// Line, counted from 1.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
    /// Part that it is about, such as `wall.pressure_switch.cut_out`.
    pub part: String,
    /// What is wrong.
    pub message: String,
    /// What would be accepted in its place.
    pub accepted: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            file,
            line,
            column,
            part,
            message,
            accepted,
        } = self;
        write!(
            f,
            "{file}:{line}:{column}: {part}: {message}; accepted: {accepted}"
        )
    }
}

/// A place in a file, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Position {
    /// Whether it lies in the file whose values are laid over those of the first.
    pub(crate) in_overlay: bool,
    /// Line.
    pub(crate) line: usize,
    /// Column in characters.
    pub(crate) column: usize,
}

impl Position {
    /// Where a file begins.
    pub(crate) const START: Self = Self {
        in_overlay: false,
        line: 1,
        column: 1,
    };
}

/// A place in a file together with the part that stands there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Spot {
    /// Place.
    pub(crate) at: Position,
    /// Part, such as `wall.pressure_switch.cut_out`.
    pub(crate) part: String,
}

/// What sort of file is read, for messages.
#[derive(Debug)]
pub(crate) struct Form {
    /// What the whole file describes, such as `site`.
    pub(crate) noun: &'static str,
    /// The whole, in outline, as messages show what is accepted.
    pub(crate) outline: &'static str,
    /// Fields of the whole; one of them inside a group hints at a missing bracket.
    pub(crate) fields: &'static [&'static str],
}

/// Collects the problems of one file.
///
/// Readers and checks share it by plain reference, so that a check can report
/// while it holds values read from the same file.
#[derive(Debug)]
pub(crate) struct Problems {
    file: String,
    overlay: Option<String>,
    form: &'static Form,
    kept: RefCell<Vec<Problem>>,
    left_out: Cell<usize>,
}

impl Problems {
    /// No problems yet with `file`.
    pub(crate) fn new(file: &str, form: &'static Form) -> Self {
        Self {
            file: file.to_owned(),
            overlay: None,
            form,
            kept: RefCell::new(Vec::new()),
            left_out: Cell::new(0),
        }
    }

    /// The same with values of a second file laid over those of the first.
    pub(crate) fn with_overlay(mut self, file: &str) -> Self {
        self.overlay = Some(file.to_owned());
        self
    }

    /// What sort of file it is.
    pub(crate) fn form(&self) -> &'static Form {
        self.form
    }

    /// Notes one problem; a part without a name is the whole file.
    pub(crate) fn report(
        &self,
        at: Position,
        part: &str,
        message: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        let mut kept = self.kept.borrow_mut();
        if kept.len() >= MAX_PROBLEMS {
            self.left_out.set(self.left_out.get().saturating_add(1));
            return;
        }
        let file = match &self.overlay {
            Some(overlay) if at.in_overlay => overlay,
            _ => &self.file,
        };
        kept.push(Problem {
            file: file.clone(),
            line: at.line,
            column: at.column,
            part: if part.is_empty() {
                self.form.noun
            } else {
                part
            }
            .to_owned(),
            message: message.into(),
            accepted: accepted.into(),
        });
    }

    /// Notes one problem at a spot.
    pub(crate) fn report_spot(
        &self,
        spot: &Spot,
        message: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.report(spot.at, &spot.part, message, accepted);
    }

    /// Whether further problems would only be counted.
    pub(crate) fn is_full(&self) -> bool {
        self.kept.borrow().len() >= MAX_PROBLEMS
    }

    /// Whether nothing has been noted.
    pub(crate) fn is_empty(&self) -> bool {
        self.kept.borrow().is_empty()
    }

    /// Everything noted, in file order, an overlay's first; a last entry counts what was
    /// left out.
    pub(crate) fn into_sorted(self) -> Vec<Problem> {
        let mut kept = self.kept.into_inner();
        kept.sort_by_key(|problem| (problem.file == self.file, problem.line, problem.column));
        let left_out = self.left_out.get();
        if left_out > 0 {
            let (line, column) = kept
                .last()
                .map_or((1, 1), |problem| (problem.line, problem.column));
            kept.push(Problem {
                file: self.file,
                line,
                column,
                part: self.form.noun.to_owned(),
                message: format!("and {left_out} more problems"),
                accepted: "a file with the problems above put right".to_owned(),
            });
        }
        kept
    }
}

/// The file's own text in quotes, short and without control characters, for a message.
pub(crate) fn quoted(text: &str) -> String {
    let mut shown = String::from("\"");
    for (idx, character) in text.chars().enumerate() {
        if idx == MAX_QUOTED_CHARS {
            shown.push('…');
            break;
        }
        if character.is_control() {
            shown.extend(character.escape_default());
        } else {
            shown.push(character);
        }
    }
    shown.push('"');
    shown
}

/// `a, b or c`, for a message.
pub(crate) fn one_of(names: impl IntoIterator<Item = impl AsRef<str>>) -> String {
    let mut shown = String::new();
    let mut names = names.into_iter().peekable();
    while let Some(name) = names.next() {
        if !shown.is_empty() {
            shown.push_str(if names.peek().is_some() { ", " } else { " or " });
        }
        shown.push_str(name.as_ref());
    }
    shown
}

/// The name nearest to what was written, if any is near enough to be a slip.
pub(crate) fn nearest<'a>(
    written: &str,
    names: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    const MAX_NAME_CHARS: usize = 40;
    if written.chars().count() > MAX_NAME_CHARS {
        return None;
    }
    let written = written.to_lowercase();
    names
        .into_iter()
        .map(|name| (edit_distance(&written, &name.to_lowercase()), name))
        .filter(|(distance, name)| *distance <= 1 + name.chars().count() / 4)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// Fewest single-character insertions, deletions and replacements between two
/// words (Levenshtein 1966), by one row of the usual table.
fn edit_distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (a_idx, a_char) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = a_idx + 1;
        for (b_idx, b_char) in b.iter().enumerate() {
            let replace = diagonal + usize::from(a_char != *b_char);
            diagonal = row[b_idx + 1];
            row[b_idx + 1] = replace.min(diagonal + 1).min(row[b_idx] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    const FORM: Form = Form {
        noun: "list",
        outline: "a list in parentheses: (a: 1)",
        fields: &["a"],
    };

    #[test]
    fn a_slip_of_one_letter_finds_its_name() {
        let names = ["cut_in", "cut_out", "port_lag"];
        assert_eq!(nearest("cutout", names), Some("cut_out"));
        assert_eq!(nearest("Cut_Inn", names), Some("cut_in"));
        assert_eq!(nearest("banana", names), None);
    }

    #[test]
    fn problems_beyond_the_bound_are_counted_not_kept() {
        let problems = Problems::new("a.ron", &FORM);
        for line in 1..=MAX_PROBLEMS + 7 {
            let at = Position {
                line,
                ..Position::START
            };
            problems.report(at, "", "wrong", "right");
        }
        let sorted = problems.into_sorted();
        assert_eq!(sorted.len(), MAX_PROBLEMS + 1);
        assert_eq!(sorted[MAX_PROBLEMS].message, "and 7 more problems");
    }

    #[test]
    fn quoted_text_is_short_and_printable() {
        let shown = quoted(&"a\u{7}".repeat(500));
        assert!(shown.chars().count() < 200);
        assert!(!shown.chars().any(char::is_control));
    }

    #[test]
    fn names_are_listed_as_people_list_them() {
        assert_eq!(one_of(["a", "b", "c"]), "a, b or c");
        assert_eq!(one_of(["a"]), "a");
    }
}
