//! `shortcycle site`: what is installed at a site, where a probe can touch its wiring,
//! and the wiring drawn, in characters or as a picture.

mod diagram;
mod json;
mod ladder;
mod parts;
mod plan;
mod report;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result, bail};

use self::plan::Plan;
use super::args::{Format, PlotFile, SiteArgs};
use super::wiring::{Engine, Plant};
use super::{plot, sites};

/// Runs the subcommand.
pub(super) fn run(args: &SiteArgs, out: &mut dyn Write, err: &mut dyn Write) -> Result<ExitCode> {
    let site_text = sites::find(&args.site)?;
    let site = Plant.read_site(&site_text.file, &site_text.text)?;
    let plan = Plan::of(&site);
    if let Some(file) = &args.diagram {
        let Some(plan) = &plan else {
            bail!(
                "--diagram: site `{}` has no wiring: its file says nothing about the pump's circuit",
                site.name
            );
        };
        let figure = diagram::figure(&site, plan);
        let (path, bytes) = match file {
            PlotFile::Svg(path) => (path, plot::svg(&figure)?.into_bytes()),
            PlotFile::Png(path) => (path, plot::png(&figure)?),
        };
        std::fs::write(path, bytes)
            .with_context(|| format!("--diagram: cannot write {}", path.display()))?;
        writeln!(err, "wrote {}", path.display())?;
    }
    match args.format {
        Format::Text => report::write(&site, plan.as_ref(), out)?,
        Format::Json => json::write(&site, plan.as_ref(), out)?,
    }
    Ok(ExitCode::SUCCESS)
}
