//! The logbook's file: one line per action, on disk before the next is taken.

use std::fs::{self, File, OpenOptions};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::session::{Header, Logbook, MAX_LOGBOOK_BYTES, Record};

/// Folder for logbooks that are given no name.
const FOLDER: &str = "logbooks";
/// Most logbooks of one scenario and seed in one folder.
const MOST_NUMBERS: u32 = 9_999;

/// A logbook being written.
#[derive(Debug)]
pub(super) struct Keeper {
    path: PathBuf,
    file: File,
}

impl Keeper {
    /// Begins a logbook; never writes over a file that is there.
    ///
    /// # Errors
    /// When the file exists or cannot be written.
    pub(super) fn begin(path: Option<&Path>, header: &Header) -> Result<Self> {
        let (path, file) = match path {
            Some(path) => {
                let file = create(path)
                    .with_context(|| format!("cannot begin logbook {}", path.display()))?;
                (path.to_owned(), file)
            }
            None => create_numbered(header)?,
        };
        let mut keeper = Self { path, file };
        keeper.write(&header.to_line())?;
        Ok(keeper)
    }

    /// Opens a logbook to go on with it; a line that was cut off is cut away.
    ///
    /// # Errors
    /// When it cannot be read, is none, or cannot be written.
    pub(super) fn resume(path: &Path) -> Result<(Self, Logbook)> {
        let name = path.display().to_string();
        let mut bytes = Vec::new();
        File::open(path)
            .and_then(|file| {
                file.take(MAX_LOGBOOK_BYTES as u64 + 1)
                    .read_to_end(&mut bytes)
            })
            .with_context(|| format!("cannot read logbook {name}"))?;
        let logbook = Logbook::parse(&name, &bytes)?;
        let file = OpenOptions::new()
            .append(true)
            .open(path)
            .with_context(|| format!("cannot go on with logbook {name}"))?;
        let mut keeper = Self {
            path: path.to_owned(),
            file,
        };
        let whole = bytes
            .iter()
            .rposition(|byte| *byte == b'\n')
            .map_or(0, |at| at + 1);
        if logbook.is_torn {
            keeper
                .file
                .set_len(whole as u64)
                .and_then(|()| keeper.file.sync_data())
                .with_context(|| format!("cannot cut the torn line off {name}"))?;
        } else if whole < bytes.len() {
            // The last record is whole and only its line end is missing.
            keeper.write("\n")?;
        }
        Ok((keeper, logbook))
    }

    /// Writes a record and waits until it is on disk.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn keep(&mut self, record: &Record) -> Result<()> {
        self.write(&record.to_line())
    }

    fn write(&mut self, line: &str) -> Result<()> {
        self.file
            .write_all(line.as_bytes())
            .and_then(|()| self.file.sync_data())
            .with_context(|| format!("cannot write logbook {}", self.path.display()))
    }

    /// Where it is.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }
}

fn create(path: &Path) -> std::io::Result<File> {
    if let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    {
        fs::create_dir_all(folder)?;
    }
    OpenOptions::new().append(true).create_new(true).open(path)
}

/// The first `logbooks/scenario-seed-number.jsonl` that is free.
fn create_numbered(header: &Header) -> Result<(PathBuf, File)> {
    for number in 1..=MOST_NUMBERS {
        let name = format!("{}-{}-{number}.jsonl", header.scenario, header.seed);
        let path = Path::new(FOLDER).join(name);
        match create(&path) {
            Ok(file) => return Ok((path, file)),
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => {}
            Err(error) => {
                return Err(error)
                    .with_context(|| format!("cannot begin logbook {}", path.display()));
            }
        }
    }
    bail!("folder {FOLDER} is full of logbooks of this scenario; name another with --log FILE")
}
