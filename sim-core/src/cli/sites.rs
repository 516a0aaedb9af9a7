//! Finds a site by name or path.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::site::shipped;
use crate::suggest;

/// Largest site file [bytes]; a long one has a few thousand.
const MAX_SITE_BYTES: u64 = 1024 * 1024;

/// A site file's name for messages, and its text.
pub(super) struct SiteText {
    pub(super) file: String,
    pub(super) text: Vec<u8>,
}

/// Finds a site: a path when it looks like one, else a name of a shipped site.
pub(super) fn find(name_or_path: &str) -> Result<SiteText> {
    if let Some(site) = shipped().iter().find(|site| site.name == name_or_path) {
        return Ok(SiteText {
            file: format!("{}.ron", site.name),
            text: site.text.as_bytes().to_vec(),
        });
    }
    let path = Path::new(name_or_path);
    let looks_like_path = path.components().count() > 1 || path.extension().is_some();
    if !looks_like_path && !path.is_file() {
        let names = || shipped().iter().map(|site| site.name);
        let hint = suggest::nearest(name_or_path, names())
            .map_or_else(String::new, |name| format!(" (did you mean `{name}`?)"));
        let names: Vec<&str> = names().collect();
        bail!(
            "no site `{name_or_path}`{hint}; sites that come with the program: {}; or give the path of a site file",
            names.join(", ")
        );
    }
    // The reader of site files says itself what it makes of bytes that are no text.
    let bytes = read_at_most(path, MAX_SITE_BYTES)
        .with_context(|| format!("cannot read site file {name_or_path}"))?;
    Ok(SiteText {
        file: name_or_path.to_owned(),
        text: bytes,
    })
}

/// Reads a file that should be small.
pub(super) fn read_at_most(path: &Path, most_bytes: u64) -> Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?
        .take(most_bytes + 1)
        .read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most_bytes {
        bail!("the file is larger than the {most_bytes} bytes that are read");
    }
    Ok(bytes)
}
