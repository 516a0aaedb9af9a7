//! Where lines come from: a script, a pipe, or a person at a terminal.

use std::fs::File;
use std::io::{BufRead, BufReader, IsTerminal, Read, Write, stdin, stdout};
use std::path::Path;

use anyhow::{Context as _, Result};
use rustyline::DefaultEditor;
use rustyline::error::ReadlineError;

use super::page::Page;

/// Longest line that is read from a pipe or script [bytes].
const MAX_LINE_BYTES: u64 = 8_192;
/// Width where none is known [columns].
const USUAL_COLUMNS: usize = 80;

/// What came in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Input {
    /// A line.
    Line(String),
    /// The person pressed Ctrl-C.
    Interrupted,
    /// There is no more.
    End,
}

/// A source of lines.
pub(super) trait Lines {
    /// The next line; what is not typed at a terminal is written out, so that a
    /// transcript shows it.
    fn next(&mut self, out: &mut dyn Write) -> Result<Input>;

    /// The page that its reader looks at.
    fn page(&self) -> Page;
}

/// Opens the script if there is one, else what stands at standard input.
pub(super) fn open(script: Option<&Path>) -> Result<Box<dyn Lines>> {
    if let Some(path) = script {
        let file =
            File::open(path).with_context(|| format!("cannot read script {}", path.display()))?;
        return Ok(Box::new(Written::new(BufReader::new(file))));
    }
    if stdin().is_terminal() && stdout().is_terminal() {
        // Without an editor, plain lines do.
        if let Ok(editor) = DefaultEditor::new() {
            return Ok(Box::new(Typed { editor }));
        }
    }
    Ok(Box::new(Written::new(BufReader::new(stdin()))))
}

/// Lines from a file or pipe.
pub(super) struct Written<R> {
    reader: R,
}

impl<R: BufRead> Written<R> {
    pub(super) const fn new(reader: R) -> Self {
        Self { reader }
    }
}

impl<R: BufRead> Lines for Written<R> {
    fn next(&mut self, out: &mut dyn Write) -> Result<Input> {
        let mut bytes = Vec::new();
        let read = (&mut self.reader)
            .take(MAX_LINE_BYTES)
            .read_until(b'\n', &mut bytes)
            .context("cannot read the next line")?;
        if read == 0 {
            return Ok(Input::End);
        }
        let line = String::from_utf8_lossy(&bytes);
        let line: String = line.chars().filter(|c| !c.is_control()).collect();
        writeln!(out, "> {}", line.trim())?;
        Ok(Input::Line(line))
    }

    fn page(&self) -> Page {
        let columns = std::env::var("COLUMNS")
            .ok()
            .and_then(|columns| columns.parse().ok())
            .unwrap_or(USUAL_COLUMNS);
        Page::plain(columns)
    }
}

/// Lines typed at a terminal, with history and editing.
struct Typed {
    editor: DefaultEditor,
}

impl Lines for Typed {
    fn next(&mut self, out: &mut dyn Write) -> Result<Input> {
        out.flush()?;
        match self.editor.readline("> ") {
            Ok(line) => {
                if !line.trim().is_empty() {
                    // History is a comfort; without it, practice goes on.
                    let _ = self.editor.add_history_entry(line.as_str());
                }
                Ok(Input::Line(line))
            }
            Err(ReadlineError::Interrupted) => Ok(Input::Interrupted),
            Err(ReadlineError::Eof) => Ok(Input::End),
            Err(error) => Err(error).context("cannot read from the terminal"),
        }
    }

    fn page(&self) -> Page {
        // The width of the window when practice begins; a narrower one wraps by itself.
        let columns =
            terminal_size::terminal_size().map_or(USUAL_COLUMNS, |(width, _)| usize::from(width.0));
        Page::terminal(columns)
    }
}
