//! Finds the scenario that a logbook names: among those that come with the program, or in
//! a folder.
//!
//! A name comes from a file of somebody else's, so only plain names are looked for: no
//! path can be made of one.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, Result, bail};

use super::sites::read_at_most;
use crate::scenario::{Scenario, ShippedSites, SiteFile, Sites, shipped};
use crate::suggest;

/// Largest scenario or site file [bytes].
const MAX_FILE_BYTES: u64 = 1024 * 1024;
/// Longest name.
const MAX_NAME: usize = 100;

/// Where scenarios come from.
#[derive(Debug, Clone)]
pub(super) struct Library {
    folder: Option<PathBuf>,
}

impl Library {
    /// Scenarios of a folder, or those that come with the program.
    pub(super) fn new(folder: Option<&Path>) -> Self {
        Self {
            folder: folder.map(Path::to_owned),
        }
    }

    /// The scenario of a name.
    pub(super) fn find(&self, name: &str) -> Result<Arc<Scenario>> {
        if !is_plain(name) {
            bail!(
                "scenario name `{}` is no plain name: accepted are small letters, digits, - and _",
                super::debrief::plain(name)
            );
        }
        let scenario = match &self.folder {
            None => Self::find_shipped(name)?,
            Some(folder) => Self::find_in(folder, name)?,
        };
        Ok(Arc::new(scenario))
    }

    fn find_shipped(name: &str) -> Result<Scenario> {
        let Some(found) = shipped().iter().find(|scenario| scenario.name == name) else {
            let names = || shipped().iter().map(|scenario| scenario.name);
            let hint = suggest::nearest(name, names())
                .map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
            bail!(
                "no scenario `{name}` comes with the program{hint}; name the folder of your own with --scenarios"
            );
        };
        let file = format!("{name}.ron");
        read(&file, found.text.as_bytes(), &ShippedSites)
    }

    fn find_in(folder: &Path, name: &str) -> Result<Scenario> {
        let path = folder.join(format!("{name}.ron"));
        let bytes = read_at_most(&path, MAX_FILE_BYTES)
            .with_context(|| format!("cannot read scenario file {}", path.display()))?;
        let sites = FolderSites { folder };
        read(&path.display().to_string(), &bytes, &sites)
    }
}

fn read(file: &str, bytes: &[u8], sites: &dyn Sites) -> Result<Scenario> {
    Scenario::parse(file, bytes, sites).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        anyhow::anyhow!("{}", lines.join("\n"))
    })
}

/// Whether a name can be a file's name and nothing more.
fn is_plain(name: &str) -> bool {
    let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '_');
    !name.is_empty() && name.len() <= MAX_NAME && name.chars().all(is_plain)
}

/// Sites of a folder's `sites` folder or of the folder itself, then the shipped ones.
struct FolderSites<'a> {
    folder: &'a Path,
}

impl Sites for FolderSites<'_> {
    fn site_file(&self, name: &str) -> Result<SiteFile, String> {
        if is_plain(name) {
            for folder in [self.folder.join("sites"), self.folder.to_owned()] {
                let path = folder.join(format!("{name}.ron"));
                if path.is_file() {
                    let file = path.display().to_string();
                    let bytes = read_at_most(&path, MAX_FILE_BYTES)
                        .map_err(|error| format!("a site file that can be read: {error:#}"))?;
                    return Ok(SiteFile { file, bytes });
                }
            }
        }
        ShippedSites.site_file(name)
    }
}
