//! `shortcycle debrief`: what one visit was worth, for people.

pub(super) mod html;
mod json;
mod text;
mod timeline;
mod words;
mod worth;

use std::fs;
use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result};

use super::args::{DebriefArgs, Format};
use super::library::Library;
use super::{FAILED, mark};
use crate::marking::Report;

/// Runs `shortcycle debrief`.
pub(super) fn run(
    args: &DebriefArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<ExitCode> {
    let library = Library::new(args.scenarios.as_deref());
    let report = mark::mark_file(&args.logbook, &library)?;
    let worths = if args.worth {
        writeln!(err, "following the visit; this takes a while")?;
        let scenario = library.find(&report.scenario.name)?;
        Some(worth::follow(&scenario, &report))
    } else {
        None
    };
    let worths = worths.as_ref();
    if let Some(path) = &args.html {
        let page = html::html(&report, worths)?;
        fs::write(path, page)
            .with_context(|| format!("--html: cannot write {}", path.display()))?;
        writeln!(err, "wrote {}", path.display())?;
    }
    match args.format {
        Format::Text => out.write_all(text::text(&report, worths).as_bytes())?,
        Format::Json => out.write_all(json::json(&report, worths)?.as_bytes())?,
    }
    Ok(if report.passes {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(FAILED)
    })
}

/// The debrief as plain text, 80 columns.
pub(super) fn in_text(report: &Report) -> String {
    text::text(report, None)
}

/// The debrief as one HTML page.
pub(super) fn page(report: &Report) -> Result<String> {
    Ok(html::html(report, None)?)
}

/// The person's name as a table shows it, without what would steer a terminal.
pub(super) fn person(report: &Report) -> String {
    words::person(report)
}

/// The person's text without what would steer a terminal.
pub(super) fn plain(text: &str) -> String {
    words::plain(text)
}

/// An action in words.
pub(super) fn action(action: &crate::session::Action) -> String {
    words::action(action)
}

/// Points, to a tenth where they need it.
pub(super) fn points(points: f64) -> String {
    words::points(points)
}

#[cfg(test)]
mod tests;
