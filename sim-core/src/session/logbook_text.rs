//! The logbook as text: JSON Lines, read from any bytes, written a line at a time.
//!
//! A logbook comes from outside: any bytes give a logbook or one problem with its line,
//! in bounded time and memory.  Whether it is true is no matter of reading: `replay` tells.

use serde_json::Value;

use super::logbook::{Header, LOGBOOK_VERSION, Logbook, Record};

/// Largest logbook that is read [bytes]; an hour's visit has some ten thousand.
pub const MAX_LOGBOOK_BYTES: usize = 8 * 1024 * 1024;
/// Longest line that is read [bytes].
pub const MAX_LINE_BYTES: usize = 64 * 1024;
/// Most actions that are read.
pub const MAX_RECORDS: usize = 20_000;
/// Most characters of a person's name.
pub const MAX_PERSON_CHARS: usize = 200;

/// Why bytes are no logbook.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}{at}: {why}", at = line.map_or_else(String::new, |line| format!(":{line}")))]
pub struct LogbookProblem {
    /// Name of the file, as given.
    pub file: String,
    /// Line, from 1; none when the whole file is meant.
    pub line: Option<usize>,
    /// What is wrong.
    pub why: LogbookFlaw,
}

/// What is wrong with a logbook, or with a line of it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LogbookFlaw {
    /// Larger than is read.
    #[error("the file has {bytes} bytes; accepted are up to {MAX_LOGBOOK_BYTES}")]
    TooLarge {
        /// Size of the file [bytes].
        bytes: usize,
    },
    /// More actions than are read.
    #[error("more than {MAX_RECORDS} actions")]
    TooManyRecords,
    /// A line longer than is read.
    #[error("the line has {bytes} bytes; accepted are up to {MAX_LINE_BYTES}")]
    LongLine {
        /// Length of the line [bytes].
        bytes: usize,
    },
    /// No text.
    #[error("not UTF-8 text")]
    NotText,
    /// Nothing in it.
    #[error("the file is empty; a logbook begins with a header line")]
    Empty,
    /// The first line is no header.
    #[error("not a logbook: its first line is no header with a field `logbook` ({what})")]
    NoHeader {
        /// What was found.
        what: String,
    },
    /// Another version of the format.
    #[error("logbook format {found}; accepted is {LOGBOOK_VERSION}")]
    OtherVersion {
        /// As written.
        found: String,
    },
    /// A line that is no header or record.
    #[error("{what}")]
    BadLine {
        /// What is wrong, where in the line, and what is accepted.
        what: String,
    },
    /// A name longer than is read.
    #[error("the person's name has {chars} characters; accepted are up to {MAX_PERSON_CHARS}")]
    LongName {
        /// Length of the name.
        chars: usize,
    },
}

impl Header {
    /// The header as a line with its line end.
    ///
    /// # Panics
    /// Never: texts and whole numbers are always JSON.
    #[must_use]
    pub fn to_line(&self) -> String {
        let line = serde_json::to_string(self).expect("a header is JSON");
        line + "\n"
    }
}

impl Record {
    /// The record as a line with its line end.
    ///
    /// # Panics
    /// Never: an action holds texts and numbers only, which are always JSON.
    #[must_use]
    pub fn to_line(&self) -> String {
        let line = serde_json::to_string(self).expect("a record is JSON");
        line + "\n"
    }
}

impl Logbook {
    /// Reads a logbook.
    ///
    /// Blank lines are skipped.  A last line without line end that cannot be read is what
    /// a crash leaves: it is left out and [`Logbook::is_torn`] says so.
    ///
    /// # Errors
    /// When the bytes are no logbook of this version; tells the first problem.
    pub fn parse(file_name: &str, bytes: &[u8]) -> Result<Self, LogbookProblem> {
        let problem = |line, why| LogbookProblem {
            file: file_name.to_owned(),
            line,
            why,
        };
        if bytes.len() > MAX_LOGBOOK_BYTES {
            let bytes = bytes.len();
            return Err(problem(None, LogbookFlaw::TooLarge { bytes }));
        }
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let is_whole = bytes.ends_with(b"\n");
        let mut lines = bytes
            .split(|byte| *byte == b'\n')
            .map(|line| line.trim_ascii())
            .enumerate()
            .filter(|(_, line)| !line.is_empty())
            .map(|(index, line)| (index + 1, line))
            .peekable();

        let Some((first, line)) = lines.next() else {
            return Err(problem(None, LogbookFlaw::Empty));
        };
        let header = read_header(line).map_err(|why| problem(Some(first), why))?;
        let mut records = Vec::new();
        let mut is_torn = false;
        while let Some((number, line)) = lines.next() {
            if records.len() >= MAX_RECORDS {
                return Err(problem(Some(number), LogbookFlaw::TooManyRecords));
            }
            match read_record(line) {
                Ok(record) => records.push(record),
                Err(_) if !is_whole && lines.peek().is_none() => is_torn = true,
                Err(why) => return Err(problem(Some(number), why)),
            }
        }
        Ok(Self {
            header,
            records,
            is_torn,
        })
    }
}

fn text(line: &[u8]) -> Result<&str, LogbookFlaw> {
    if line.len() > MAX_LINE_BYTES {
        return Err(LogbookFlaw::LongLine { bytes: line.len() });
    }
    std::str::from_utf8(line).map_err(|_| LogbookFlaw::NotText)
}

fn read_header(line: &[u8]) -> Result<Header, LogbookFlaw> {
    let line = text(line)?;
    let no_header = |what: &str| LogbookFlaw::NoHeader {
        what: what.to_owned(),
    };
    // The version is looked at first: another version may have other fields.
    let value: Value = serde_json::from_str(line).map_err(|_| no_header("no JSON object"))?;
    let version = value
        .as_object()
        .ok_or_else(|| no_header("no JSON object"))?
        .get("logbook")
        .ok_or_else(|| no_header("a JSON object without it"))?;
    if version.as_u64() != Some(u64::from(LOGBOOK_VERSION)) {
        return Err(LogbookFlaw::OtherVersion {
            found: version.to_string().chars().take(40).collect(),
        });
    }
    let header: Header = serde_json::from_str(line).map_err(|error| bad_line(&error))?;
    let chars = header.person.chars().count();
    if chars > MAX_PERSON_CHARS {
        return Err(LogbookFlaw::LongName { chars });
    }
    Ok(header)
}

fn read_record(line: &[u8]) -> Result<Record, LogbookFlaw> {
    let line = text(line)?;
    let record: Record = serde_json::from_str(line).map_err(|error| bad_line(&error))?;
    refuse_idle_fields(line, &record)?;
    Ok(record)
}

/// An action without fields of its own is read by serde whatever stands beside its name;
/// what would not be written again is refused here.
fn refuse_idle_fields(line: &str, record: &Record) -> Result<(), LogbookFlaw> {
    let written = serde_json::from_str::<Value>(line).map_err(|error| bad_line(&error))?;
    let known = serde_json::to_value(&record.action).map_err(|error| bad_line(&error))?;
    let (Some(written), Some(known)) = (
        written.get("action").and_then(Value::as_object),
        known.as_object(),
    ) else {
        return Ok(());
    };
    match written.keys().find(|key| !known.contains_key(*key)) {
        None => Ok(()),
        Some(key) => {
            let accepted: Vec<String> = known.keys().map(|key| format!("`{key}`")).collect();
            let accepted = accepted.join(", ");
            Err(LogbookFlaw::BadLine {
                what: format!("unknown field `{key}` of the action; accepted: {accepted}"),
            })
        }
    }
}

/// The words of the JSON reader without its line, which is 1 always here.
fn bad_line(error: &serde_json::Error) -> LogbookFlaw {
    let words = error.to_string();
    let words = words
        .rsplit_once(" at line ")
        .map_or(words.as_str(), |(words, _)| words);
    let what = match error.column() {
        0 => words.to_owned(),
        column => format!("column {column}: {words}"),
    };
    LogbookFlaw::BadLine { what }
}

#[cfg(test)]
mod tests;
