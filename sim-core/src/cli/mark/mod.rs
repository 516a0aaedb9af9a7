//! `shortcycle mark`: a folder of logbooks, one line and one page each.

mod names;
mod table;

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::{Context, Result, bail};

use self::names::Names;
use super::args::{MarkArgs, TableFormat};
use super::library::Library;
use super::sites::read_at_most;
use super::{COULD_NOT, FAILED, debrief};
use crate::marking::{self, Report};
use crate::session::{Logbook, MAX_LOGBOOK_BYTES};

/// Endings of logbooks in a folder.
const ENDINGS: [&str; 2] = ["jsonl", "log"];
/// Most logbooks of one folder.
const MAX_FILES: usize = 10_000;

/// One logbook and what came of it.
struct Marked {
    /// Its path.
    path: PathBuf,
    /// Its mark, or why it has none.
    result: Result<Report>,
}

/// Runs `shortcycle mark`.
pub(super) fn run(args: &MarkArgs, out: &mut dyn Write, err: &mut dyn Write) -> Result<ExitCode> {
    let files = logbooks(&args.path)?;
    let library = Library::new(args.scenarios.as_deref());
    let folder = args.out.clone().unwrap_or_else(|| beside(&args.path));
    fs::create_dir_all(&folder)
        .with_context(|| format!("--out: cannot make the folder {}", folder.display()))?;
    let mut names = Names::default();
    let mut marked = Vec::with_capacity(files.len());
    for path in files {
        let result = mark_file(&path, &library);
        if let Ok(report) = &result {
            let file = folder.join(names.page(&path, report));
            fs::write(&file, debrief::page(report)?)
                .with_context(|| format!("cannot write {}", file.display()))?;
        }
        marked.push(Marked { path, result });
    }
    let csv = folder.join("marks.csv");
    let mut sheet = Vec::new();
    table::csv(&marked, &mut sheet)?;
    fs::write(&csv, &sheet).with_context(|| format!("cannot write {}", csv.display()))?;
    match args.format {
        TableFormat::Text => out.write_all(table::text(&marked).as_bytes())?,
        TableFormat::Json => table::json(&marked, out)?,
        TableFormat::Csv => out.write_all(&sheet)?,
    }
    let n_pages = marked.iter().filter(|marked| marked.result.is_ok()).count();
    writeln!(
        err,
        "wrote {} and {n_pages} {} in {}",
        csv.display(),
        if n_pages == 1 { "page" } else { "pages" },
        folder.display()
    )?;
    Ok(code(&marked))
}

/// 0 when all pass, 1 when some do not, 2 when some could not be marked.
fn code(marked: &[Marked]) -> ExitCode {
    if marked.iter().any(|marked| marked.result.is_err()) {
        return ExitCode::from(COULD_NOT);
    }
    let passes = |marked: &Marked| marked.result.as_ref().is_ok_and(|report| report.passes);
    if marked.iter().all(passes) {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(FAILED)
    }
}

/// Marks one logbook.
pub(super) fn mark_file(path: &Path, library: &Library) -> Result<Report> {
    let name = path.display().to_string();
    let bytes = read_at_most(path, MAX_LOGBOOK_BYTES as u64)
        .with_context(|| format!("cannot read {name}"))?;
    let logbook = Logbook::parse(&name, &bytes)?;
    let scenario = library.find(&logbook.header.scenario)?;
    Ok(marking::mark(&scenario, &logbook)?)
}

/// The logbooks of a path, in order of name.
fn logbooks(path: &Path) -> Result<Vec<PathBuf>> {
    if !path.is_dir() {
        return Ok(vec![path.to_owned()]);
    }
    let cannot = || format!("cannot read folder {}", path.display());
    let mut files = Vec::new();
    for entry in fs::read_dir(path).with_context(cannot)? {
        let file = entry.with_context(cannot)?.path();
        let ending = file.extension().and_then(|ending| ending.to_str());
        if file.is_file() && ending.is_some_and(|ending| ENDINGS.contains(&ending)) {
            files.push(file);
        }
        if files.len() > MAX_FILES {
            bail!("more than {MAX_FILES} logbooks in {}", path.display());
        }
    }
    if files.is_empty() {
        bail!(
            "no logbook in {}: looked for files that end in .jsonl or .log",
            path.display()
        );
    }
    files.sort();
    Ok(files)
}

/// `debrief` beside a file, or in a folder.
fn beside(path: &Path) -> PathBuf {
    if path.is_dir() {
        path.join("debrief")
    } else {
        path.parent().unwrap_or(Path::new("")).join("debrief")
    }
}

#[cfg(test)]
mod tests;
