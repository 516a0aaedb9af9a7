//! What a practice begins with: scenario, visit, logbook.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context as _, Result, anyhow, bail};

use super::keeping::Keeper;
use crate::cli::args::PracticeArgs;
use crate::cli::sites::read_at_most;
use crate::file::MAX_FILE_BYTES;
use crate::scenario::{Scenario, ShippedSites, SiteFile, Sites, shipped};
use crate::session::{Action, Header, Logbook, Mode, Outcome, Visit, replay};
use crate::suggest;

/// Scenario when none is named.
const FIRST: &str = "first-steps";

/// A visit with its logbook.
#[derive(Debug)]
pub(super) struct Begun {
    /// The visit.
    pub(super) visit: Visit,
    /// What was done so far.
    pub(super) logbook: Logbook,
    /// Its file; none when it cannot be written and practice goes on without.
    pub(super) keeper: Option<Keeper>,
    /// What to tell before anything else, one sentence each.
    pub(super) remarks: Vec<String>,
    /// What was done before and what came of it, where a visit is gone on with.
    pub(super) seen: Vec<(Action, Outcome)>,
}

/// Begins a visit, or goes on with one.
///
/// # Errors
/// When scenario or logbook cannot be read, or the visit cannot be begun.
pub(super) fn begin(args: &PracticeArgs, err: &mut dyn Write) -> Result<Begun> {
    match &args.resume {
        Some(path) => resume(args, path),
        None => fresh(args, err),
    }
}

/// The visit as it begins, with no logbook: to look at.
///
/// # Errors
/// When the scenario cannot be read or the visit not be begun.
pub(super) fn without_logbook(args: &PracticeArgs) -> Result<Begun> {
    let visit = arrive(args)?;
    Ok(Begun {
        logbook: empty(Header::of(&visit, &args.person)),
        visit,
        keeper: None,
        remarks: Vec::new(),
        seen: Vec::new(),
    })
}

fn arrive(args: &PracticeArgs) -> Result<Visit> {
    let scenario = find(args.scenario.as_deref().unwrap_or(FIRST))?;
    let mode = if args.graded {
        Mode::Graded
    } else {
        Mode::Practice
    };
    Ok(Visit::begin(&scenario, args.seed, mode)?)
}

fn fresh(args: &PracticeArgs, err: &mut dyn Write) -> Result<Begun> {
    let visit = arrive(args)?;
    let mode = visit.mode();
    let header = Header::of(&visit, &args.person);
    let keeper = match Keeper::begin(args.log.as_deref(), &header) {
        Ok(keeper) => Some(keeper),
        Err(error) if args.no_log && mode == Mode::Practice => {
            writeln!(
                err,
                "shortcycle: {error:#}; practice goes on without a logbook"
            )?;
            None
        }
        Err(error) if mode == Mode::Graded => {
            return Err(error.context("a graded exercise needs its logbook"));
        }
        Err(error) => {
            return Err(error.context(
                "the logbook cannot be kept; name another with --log FILE, or practise without \
                 one by --no-log",
            ));
        }
    };
    Ok(Begun {
        logbook: empty(header),
        visit,
        keeper,
        remarks: Vec::new(),
        seen: Vec::new(),
    })
}

fn resume(args: &PracticeArgs, path: &Path) -> Result<Begun> {
    let (keeper, logbook) = Keeper::resume(path)?;
    let name = args
        .scenario
        .clone()
        .unwrap_or_else(|| logbook.header.scenario.clone());
    let scenario = find(&name)?;
    let (visit, done) = replay(&logbook, &scenario)
        .with_context(|| format!("cannot go on with {}", path.display()))?;
    let mut remarks = Vec::new();
    if logbook.is_torn {
        remarks.push(
            "The last line of the logbook was cut off in the middle; it was removed, and what it \
             held was not done."
                .to_owned(),
        );
    }
    remarks.push(match done.len() {
        0 => "The logbook holds no action yet; you are where you arrived.".to_owned(),
        1 => "One action lived again from the logbook; go on from here.".to_owned(),
        n => format!("{n} actions lived again from the logbook; go on from here."),
    });
    Ok(Begun {
        logbook,
        visit,
        keeper: Some(keeper),
        remarks,
        seen: done
            .into_iter()
            .map(|done| (done.action, done.outcome))
            .collect(),
    })
}

const fn empty(header: Header) -> Logbook {
    Logbook {
        header,
        records: Vec::new(),
        is_torn: false,
    }
}

/// Finds a scenario: a path when it looks like one, else a name of a shipped one.
pub(in crate::cli) fn find(name_or_path: &str) -> Result<Arc<Scenario>> {
    let path = Path::new(name_or_path);
    let looks_like_path = path.components().count() > 1 || path.extension().is_some();
    let (file, bytes, folder) = if let Some(scenario) = shipped()
        .iter()
        .find(|scenario| scenario.name == name_or_path)
    {
        let bytes = scenario.text.as_bytes().to_vec();
        (format!("{}.ron", scenario.name), bytes, None)
    } else if looks_like_path || path.is_file() {
        let bytes = read_at_most(path, MAX_FILE_BYTES as u64)
            .with_context(|| format!("cannot read scenario {name_or_path}"))?;
        let folder = path.parent().map(Path::to_owned);
        (name_or_path.to_owned(), bytes, folder)
    } else {
        let names = || shipped().iter().map(|scenario| scenario.name);
        let hint = suggest::nearest(name_or_path, names())
            .map_or_else(String::new, |name| format!(" (did you mean `{name}`?)"));
        bail!(
            "no scenario `{name_or_path}`{hint}; scenarios that come with the program: {}; or \
             give the path of a scenario file",
            names().collect::<Vec<_>>().join(", ")
        );
    };
    let sites = Nearby { folder };
    Scenario::parse(&file, bytes, &sites)
        .map(Arc::new)
        .map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            anyhow!(lines.join("\n"))
        })
}

/// Sites beside a scenario's file, and those that come with the program.
struct Nearby {
    folder: Option<PathBuf>,
}

impl Sites for Nearby {
    fn site_file(&self, name: &str) -> Result<SiteFile, String> {
        let shipped = ShippedSites.site_file(name);
        let (Err(accepted), Some(folder)) = (&shipped, &self.folder) else {
            return shipped;
        };
        let is_plain = name
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_'));
        let file = folder.join(format!("{name}.ron"));
        if is_plain && file.is_file() {
            let bytes = read_at_most(&file, MAX_FILE_BYTES as u64).map_err(|e| format!("{e:#}"))?;
            return Ok(SiteFile {
                file: file.display().to_string(),
                bytes,
            });
        }
        Err(format!("{accepted}; or a site file beside the scenario's"))
    }
}
