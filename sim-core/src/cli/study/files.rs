//! Finds a study and the files that it names; keeps copies of them beside the results.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};

use crate::cli::sites::read_at_most;
use crate::demand;
use crate::scenario::{ShippedSites, SiteFile, Sites};
use crate::study::{Demand, Study, StudyFiles, shipped};
use crate::suggest;

/// Largest study or site file [bytes].
const MAX_FILE_BYTES: u64 = 1024 * 1024;
/// Longest name of a file.
const MAX_NAME: usize = 100;
/// Where copies of study, site and draws are kept beside the results.
const INPUT: &str = "input";

/// A study file, not yet read.
#[derive(Debug, Clone)]
pub(super) struct StudyText {
    /// Its name for messages.
    pub(super) file: String,
    pub(super) bytes: Vec<u8>,
    /// Folder in which the files that it names are looked for first.
    folder: Option<PathBuf>,
}

impl StudyText {
    /// Reads it.
    pub(super) fn parse(&self) -> Result<Study> {
        Study::parse(&self.file, &self.bytes, self).map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            anyhow!(lines.join("\n"))
        })
    }

    fn in_folder(
        &self,
        name: &str,
        subfolders: &[&str],
        most_bytes: u64,
    ) -> Option<Result<SiteFile>> {
        let folder = self.folder.as_deref().filter(|_| is_plain(name))?;
        subfolders
            .iter()
            .map(|sub| folder.join(sub).join(name))
            .find(|path| path.is_file())
            .map(|path| {
                Ok(SiteFile {
                    file: path.display().to_string(),
                    bytes: read_at_most(&path, most_bytes)?,
                })
            })
    }
}

impl Sites for StudyText {
    fn site_file(&self, name: &str) -> Result<SiteFile, String> {
        match self.in_folder(
            &format!("{name}.ron"),
            &["sites", ".", "../sites"],
            MAX_FILE_BYTES,
        ) {
            Some(found) => {
                found.map_err(|error| format!("a site file that can be read: {error:#}"))
            }
            None => ShippedSites.site_file(name),
        }
    }
}

impl StudyFiles for StudyText {
    fn draws_file(&self, name: &str) -> Result<Vec<u8>, String> {
        match self.in_folder(name, &["."], demand::MAX_BYTES as u64) {
            Some(found) => found
                .map(|file| file.bytes)
                .map_err(|error| format!("a file that can be read: {error:#}")),
            None => Err("the plain name of a CSV file in the study's own folder".to_owned()),
        }
    }
}

/// Finds a study: a path when it looks like one, else a name of a shipped study.
pub(super) fn find(name_or_path: &str) -> Result<StudyText> {
    if let Some(study) = shipped().iter().find(|study| study.name == name_or_path) {
        return Ok(StudyText {
            file: format!("{}.ron", study.name),
            bytes: study.text.as_bytes().to_vec(),
            folder: None,
        });
    }
    let path = Path::new(name_or_path);
    let looks_like_path = path.components().count() > 1 || path.extension().is_some();
    if !looks_like_path && !path.is_file() {
        let names = || shipped().iter().map(|study| study.name);
        let hint = suggest::nearest(name_or_path, names())
            .map_or_else(String::new, |name| format!(" (did you mean `{name}`?)"));
        let names: Vec<&str> = names().collect();
        bail!(
            "no study `{name_or_path}`{hint}; studies that come with the program: {}; or give \
             the path of a study file",
            names.join(", ")
        );
    }
    let bytes = read_at_most(path, MAX_FILE_BYTES)
        .with_context(|| format!("cannot read study file {name_or_path}"))?;
    let parent = path.parent().unwrap_or(Path::new("."));
    let folder = if parent.as_os_str().is_empty() {
        Path::new(".")
    } else {
        parent
    };
    Ok(StudyText {
        file: name_or_path.to_owned(),
        bytes,
        folder: Some(folder.to_owned()),
    })
}

/// The study whose results stand in a folder.
pub(super) fn kept_in(folder: &Path, name: &str) -> Result<StudyText> {
    let path = folder.join(INPUT).join(format!("{name}.ron"));
    if !is_plain(name) {
        bail!("{} does not name its study", folder.display());
    }
    find(&path.display().to_string())
}

/// Keeps copies of study, site and draws, so that the results explain themselves.
pub(super) fn keep_inputs(text: &StudyText, study: &Study, folder: &Path) -> Result<()> {
    let input = folder.join(INPUT);
    let site = &study.site.name;
    let site_file = text
        .site_file(site)
        .map_err(|accepted| anyhow!("the site is gone; accepted: {accepted}"))?;
    let write = |path: PathBuf, bytes: &[u8]| -> Result<()> {
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)
                .with_context(|| format!("cannot create {}", parent.display()))?;
        }
        // A merge may read the copies that it would write.
        if std::fs::read(&path).is_ok_and(|there| there == bytes) {
            return Ok(());
        }
        std::fs::write(&path, bytes).with_context(|| format!("cannot write {}", path.display()))
    };
    write(input.join(format!("{}.ron", study.name)), &text.bytes)?;
    write(
        input.join("sites").join(format!("{site}.ron")),
        &site_file.bytes,
    )?;
    if let Demand::Measured { file, .. } = &study.demand {
        let draws = text
            .draws_file(file)
            .map_err(|accepted| anyhow!("the draws are gone; accepted: {accepted}"))?;
        write(input.join(file), &draws)?;
    }
    Ok(())
}

/// Whether a name can be a file's name and nothing more.
fn is_plain(name: &str) -> bool {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    !name.is_empty()
        && name.len() <= MAX_NAME
        && !name.starts_with('.')
        && name.chars().all(is_plain)
}
