//! The file of results: JSON Lines, a header and one row for each setting, in order.
//!
//! Every line is written whole and handed to the system before the next setting counts as
//! done.  A program that is killed leaves at worst a torn last line; going on cuts it off and
//! lives through that setting again.

use std::fs::{File, OpenOptions};
use std::io::{BufRead, BufReader, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use serde::{Deserialize, Serialize};

use crate::cli::args::Shard;
use crate::study::{ENGINE_VERSION, SettingRow, Study};

/// Name of the file in its folder.
pub(super) const RESULTS: &str = "results.jsonl";
const FORMAT: &str = "shortcycle-study-results";
/// Version of the form; a change that would break a reader raises it.
const VERSION: u32 = 2;
/// Longest line that is read [bytes]; one of a site with sixty outlets has ten thousand.
const MAX_LINE_BYTES: u64 = 1 << 20;

/// First line of a file of results.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Header {
    format: String,
    version: u32,
    /// The study's name.
    pub(super) study: String,
    /// What study, site, draws and program come to.
    pub(super) digest: String,
    /// Version of the engine that lived through the settings.
    pub(super) engine: u32,
    /// Settings of the whole study.
    pub(super) settings: usize,
    /// Which part of them.
    pub(super) shard: Shard,
}

impl Header {
    pub(super) fn of(study: &Study, shard: Shard) -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            study: study.name.clone(),
            digest: format!("{:016x}", study.digest),
            engine: ENGINE_VERSION,
            settings: study.n_settings(),
            shard,
        }
    }

    /// Whether another file is of the same study, whatever the shard.
    pub(super) fn is_of_same_study(&self, other: &Self) -> bool {
        let whole = |header: &Self| Self {
            shard: Shard::default(),
            ..header.clone()
        };
        whole(self) == whole(other)
    }

    /// Refuses results that an engine of another version has made.
    pub(super) fn check_engine(&self, path: &Path) -> Result<()> {
        if self.engine != ENGINE_VERSION {
            bail!(
                "{} was made by an engine of version {}, and this program has version \
                 {ENGINE_VERSION}: the rest would not go with it; run the study anew into \
                 another folder",
                path.display(),
                self.engine
            );
        }
        Ok(())
    }

    /// Settings of its shard.
    pub(super) fn own_settings(&self) -> impl Iterator<Item = usize> + use<> {
        (self.shard.number - 1..self.settings).step_by(self.shard.of)
    }
}

/// A file of results that is being written.
#[derive(Debug)]
pub(super) struct Store {
    file: File,
    path: PathBuf,
    n_rows: usize,
}

impl Store {
    /// A file without a name, gone when it is closed: for results that nobody keeps.
    pub(super) fn unnamed(header: &Header) -> Result<Self> {
        let path = std::env::temp_dir();
        let file = tempfile::tempfile()
            .with_context(|| format!("cannot write into {}", path.display()))?;
        let mut store = Self {
            file,
            path,
            n_rows: 0,
        };
        store.line(header)?;
        Ok(store)
    }

    /// Begins a file in a folder that has none.
    pub(super) fn create(folder: &Path, header: &Header) -> Result<Self> {
        std::fs::create_dir_all(folder)
            .with_context(|| format!("--out: cannot create {}", folder.display()))?;
        let path = folder.join(RESULTS);
        if path.exists() {
            bail!(
                "{} is there already; --resume goes on with it, or give --out another folder",
                path.display()
            );
        }
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create_new(true)
            .open(&path)
            .with_context(|| format!("cannot write {}", path.display()))?;
        let mut store = Self {
            file,
            path,
            n_rows: 0,
        };
        store.line(header)?;
        Ok(store)
    }

    /// Goes on with the file of a folder, or begins one where there is none.
    pub(super) fn resume(folder: &Path, header: &Header, settings: &[usize]) -> Result<Self> {
        let path = folder.join(RESULTS);
        if !path.exists() {
            return Self::create(folder, header);
        }
        let mut lines = Lines::open(&path)?;
        let found: Option<Header> = lines.next_as()?;
        if let Some(found) = &found {
            found.check_engine(&path)?;
        }
        match &found {
            Some(found) if found == header => {}
            // Killed before the header was whole: nothing is lost.
            None if lines.is_first() => {
                std::fs::remove_file(&path)
                    .with_context(|| format!("cannot remove {}", path.display()))?;
                return Self::create(folder, header);
            }
            _ => bail!(
                "{} holds results of another study, shard or program than {}; give --out another \
                 folder",
                path.display(),
                header.study
            ),
        }
        let mut n_rows = 0;
        let mut good_bytes = lines.n_bytes;
        while let Some(setting) = settings.get(n_rows) {
            match lines.next_as::<SettingRow>()? {
                Some(row) if row.setting == *setting => {
                    n_rows += 1;
                    good_bytes = lines.n_bytes;
                }
                _ => break,
            }
        }
        let cut = |path: &Path| -> std::io::Result<File> {
            let mut file = OpenOptions::new().read(true).write(true).open(path)?;
            file.set_len(good_bytes)?;
            file.seek(SeekFrom::End(0))?;
            Ok(file)
        };
        let file = cut(&path).with_context(|| format!("cannot write {}", path.display()))?;
        Ok(Self { file, path, n_rows })
    }

    /// Rows in it.
    pub(super) fn n_rows(&self) -> usize {
        self.n_rows
    }

    /// Adds a row.
    pub(super) fn append(&mut self, row: &SettingRow) -> Result<()> {
        self.line(row)?;
        self.n_rows += 1;
        Ok(())
    }

    /// The file as it is now, to be read from its beginning.
    pub(super) fn into_lines(mut self) -> Result<Lines> {
        self.file
            .rewind()
            .with_context(|| format!("cannot read {}", self.path.display()))?;
        Ok(Lines::over(self.file, self.path))
    }

    fn line(&mut self, value: &impl Serialize) -> Result<()> {
        let mut line = serde_json::to_vec(value)?;
        line.push(b'\n');
        self.file
            .write_all(&line)
            .with_context(|| format!("cannot write {}", self.path.display()))
    }
}

/// Lines of a file of results, one at a time.
#[derive(Debug)]
pub(super) struct Lines {
    reader: BufReader<File>,
    path: PathBuf,
    /// Bytes of the whole lines so far.
    n_bytes: u64,
}

impl Lines {
    pub(super) fn open(path: &Path) -> Result<Self> {
        let file = File::open(path).with_context(|| format!("cannot read {}", path.display()))?;
        Ok(Self::over(file, path.to_owned()))
    }

    fn over(file: File, path: PathBuf) -> Self {
        Self {
            reader: BufReader::new(file),
            path,
            n_bytes: 0,
        }
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// Bytes of the whole lines so far.
    pub(super) fn n_bytes(&self) -> u64 {
        self.n_bytes
    }

    /// Goes to where a line begins.
    pub(super) fn go_to(&mut self, byte: u64) -> Result<()> {
        self.reader
            .seek(SeekFrom::Start(byte))
            .with_context(|| format!("cannot read {}", self.path.display()))?;
        self.n_bytes = byte;
        Ok(())
    }

    /// The next line; none at the end and at a line that is torn or no such thing.
    pub(super) fn next_as<T: for<'de> Deserialize<'de>>(&mut self) -> Result<Option<T>> {
        use std::io::Read;
        let mut line = Vec::new();
        let read = (&mut self.reader)
            .take(MAX_LINE_BYTES)
            .read_until(b'\n', &mut line)
            .with_context(|| format!("cannot read {}", self.path.display()))?;
        if line.last() != Some(&b'\n') {
            return Ok(None);
        }
        let value = serde_json::from_slice(&line).ok();
        if value.is_some() {
            self.n_bytes += read as u64;
        }
        Ok(value)
    }

    /// Whether no line was good so far.
    fn is_first(&self) -> bool {
        self.n_bytes == 0
    }
}
