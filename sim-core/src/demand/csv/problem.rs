//! What can be wrong with a demand file.

use std::fmt;

use thiserror::Error;

use super::{COLUMNS, MAX_BYTES, MAX_DRAWS};
use crate::demand::DurationError;

/// Most problems kept of one file; the rest are counted.
pub const MAX_PROBLEMS: usize = 50;

/// One problem and where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandProblem {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is wrong.
    pub kind: DemandProblemKind,
}

/// What is wrong at one place of a demand file.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "each variant's message says what it means")]
pub enum DemandProblemKind {
    #[error("the file has {bytes} bytes; at most {MAX_BYTES} are read")]
    TooLarge { bytes: usize },
    #[error("the file has more than {MAX_DRAWS} draws")]
    TooManyDraws,
    #[error("not UTF-8 text; save the file as UTF-8")]
    NotUtf8,
    #[error("no header line; the first line names the columns: {}", COLUMNS.join(", "))]
    NoHeader,
    #[error("no column `{name}`; needed are start, fixture, and duration or volume")]
    MissingColumn { name: &'static str },
    #[error("neither column `duration` nor column `volume`; at least one is needed")]
    NoAmountColumn,
    #[error("unknown column `{name}`{}; accepted: {}", hint(*nearest), COLUMNS.join(", "))]
    UnknownColumn {
        name: String,
        nearest: Option<&'static str>,
    },
    #[error("column `{name}` is given twice")]
    ColumnTwice { name: String },
    #[error("{found} fields where the header has {expected}")]
    FieldCount { found: usize, expected: usize },
    #[error("a quoted field must end with a quote on the same line")]
    OpenQuote,
    #[error("after a quoted field comes a comma or the end of the line")]
    AfterQuote,
    #[error("{column} `{found}`: {reason}")]
    Time {
        column: &'static str,
        found: String,
        reason: DurationError,
    },
    #[error("{column} `{found}`: accepted is {accepted}")]
    Cell {
        column: &'static str,
        found: String,
        accepted: &'static str,
    },
    #[error("no outlet `{found}` at this site{}; accepted: {}", hint(nearest.as_deref()), accepted.join(", "))]
    UnknownFixture {
        found: String,
        nearest: Option<String>,
        accepted: Vec<String>,
    },
    #[error("no amount; give duration or volume")]
    NoAmount,
    #[error("duration, opening and volume together say too much; leave one empty")]
    AllThree,
    #[error("`{fixture}` gives at most {most_liters:.1} L in that time at its rated flow")]
    MoreThanOutletGives { fixture: String, most_liters: f64 },
}

fn hint(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |name| format!(" (did you mean `{name}`?)"))
}

/// Every problem of one file.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandProblems {
    file: String,
    problems: Vec<DemandProblem>,
    n_unlisted: usize,
}

impl DemandProblems {
    pub(super) fn new(file: &str) -> Self {
        Self {
            file: file.to_owned(),
            problems: Vec::new(),
            n_unlisted: 0,
        }
    }

    pub(super) fn push(&mut self, problem: DemandProblem) {
        if self.problems.len() < MAX_PROBLEMS {
            self.problems.push(problem);
        } else {
            self.n_unlisted += 1;
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.problems.is_empty()
    }

    pub(super) fn len(&self) -> usize {
        self.problems.len() + self.n_unlisted
    }

    /// The problems, in order of place, at most [`MAX_PROBLEMS`].
    #[must_use]
    pub fn problems(&self) -> &[DemandProblem] {
        &self.problems
    }
}

/// One line per problem: `file:line:column: what is wrong`.
impl fmt::Display for DemandProblems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, problem) in self.problems.iter().enumerate() {
            let DemandProblem { line, column, kind } = problem;
            let newline = if i == 0 { "" } else { "\n" };
            write!(f, "{newline}{}:{line}:{column}: {kind}", self.file)?;
        }
        if self.n_unlisted > 0 {
            write!(f, "\nand {} more problems", self.n_unlisted)?;
        }
        Ok(())
    }
}

impl std::error::Error for DemandProblems {}
