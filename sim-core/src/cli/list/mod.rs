//! `shortcycle list`: the scenarios and sites that come with the program.

mod json;
mod table;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Result, anyhow};

use super::args::{Format, ListArgs};
use crate::scenario::{self, Scenario, ShippedSites};
use crate::site::{self, SiteSpec};

/// Columns of the table where there is room.
const WIDE: usize = 100;
/// Columns of the table elsewhere.
const NARROW: usize = 80;

/// Runs the subcommand.
pub(super) fn run(args: &ListArgs, out: &mut dyn Write) -> Result<ExitCode> {
    let columns = match terminal_size::terminal_size() {
        Some((columns, _)) if usize::from(columns.0) < WIDE => NARROW,
        _ => WIDE,
    };
    run_at(args, columns, out)
}

fn run_at(args: &ListArgs, columns: usize, out: &mut dyn Write) -> Result<ExitCode> {
    let scenarios = scenarios()?;
    let sites = sites()?;
    match args.format {
        Format::Text => table::write(&scenarios, &sites, columns, out)?,
        Format::Json => json::write(&scenarios, &sites, out)?,
    }
    Ok(ExitCode::SUCCESS)
}

/// Every scenario that comes with the program, easiest first.
fn scenarios() -> Result<Vec<Scenario>> {
    scenario::shipped()
        .iter()
        .map(|shipped| {
            let file = format!("{}.ron", shipped.name);
            Scenario::parse(&file, shipped.text, &ShippedSites).map_err(told)
        })
        .collect()
}

/// Every site that comes with the program, in order of name.
fn sites() -> Result<Vec<SiteSpec>> {
    site::shipped()
        .iter()
        .map(|shipped| {
            let file = format!("{}.ron", shipped.name);
            site::parse(&file, shipped.text).map_err(told)
        })
        .collect()
}

fn told(problems: Vec<site::Problem>) -> anyhow::Error {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    anyhow!(lines.join("\n"))
}
