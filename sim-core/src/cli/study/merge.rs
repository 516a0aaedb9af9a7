//! Puts the shards of a study together: the bytes are those of one run.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

use super::files::{self, StudyText};
use super::store::{Header, Lines, RESULTS, Store};
use crate::cli::args::Shard;
use crate::study::{SettingRow, Study};

/// One shard, read row by row.
struct Part {
    folder: PathBuf,
    lines: Lines,
    /// Its next row.
    next: Option<SettingRow>,
}

/// The study of these folders, and a file with all its rows; in `out` when it is given.
pub(super) fn merged(folders: &[PathBuf], out: Option<&Path>) -> Result<(StudyText, Study, Store)> {
    let mut parts = Vec::new();
    let mut first: Option<Header> = None;
    for folder in folders {
        let mut lines = Lines::open(&folder.join(RESULTS))?;
        let header: Header = lines
            .next_as()?
            .with_context(|| format!("{} holds no results of a study", folder.display()))?;
        header.check_engine(folder)?;
        match &first {
            Some(first) if !first.is_of_same_study(&header) => bail!(
                "{} and {} hold results of different studies, or of one that was changed in \
                 between",
                folders[0].display(),
                folder.display()
            ),
            Some(_) => {}
            None => first = Some(header),
        }
        let next = lines.next_as()?;
        parts.push(Part {
            folder: folder.clone(),
            lines,
            next,
        });
    }
    let Some(first) = first else {
        bail!("--merge needs folders with results");
    };
    let text = files::kept_in(&folders[0], &first.study)?;
    let study = text.parse()?;
    let header = Header::of(&study, Shard::default());
    if !first.is_of_same_study(&header) {
        bail!(
            "the study kept in {} is not the one that its results are of, or another version of \
             the program made them",
            folders[0].display()
        );
    }
    let mut store = match out {
        Some(folder) => Store::create(folder, &header)?,
        None => Store::unnamed(&header)?,
    };
    for setting in header.own_settings() {
        store.append(&take(&mut parts, setting)?)?;
    }
    if let Some(folder) = out {
        files::keep_inputs(&text, &study, folder)?;
    }
    Ok((text, study, store))
}

/// The row of a setting from whichever part has it; parts may overlap where they agree.
fn take(parts: &mut [Part], setting: usize) -> Result<SettingRow> {
    let mut found: Option<SettingRow> = None;
    for part in parts.iter_mut() {
        let is_it = part.next.as_ref().is_some_and(|row| row.setting == setting);
        if !is_it {
            continue;
        }
        let row = std::mem::replace(&mut part.next, part.lines.next_as()?);
        if found.is_some() && found != row {
            bail!(
                "{} has other results for setting {setting} than another folder",
                part.folder.display()
            );
        }
        found = row;
    }
    found.with_context(|| {
        format!(
            "no folder has setting {setting}: a shard is missing, or not finished (run it again \
             with --resume)"
        )
    })
}
