//! `shortcycle faults`: the fault catalogue, as a list or one fault whole.

mod json;
mod list;
mod page;
mod severity;
#[cfg(test)]
mod tests;
mod text;

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Result, bail};

use super::args::{FaultsArgs, Format};
use crate::catalog::{Catalog, Entry, PartId};
use crate::suggest;

/// Columns of a list where there is room.
const WIDE: usize = 100;
/// Columns of a list elsewhere, and of a page of text.
const NARROW: usize = 80;

/// What was asked for.
enum Asked<'a> {
    /// Everything, or the faults of one part.
    List(Vec<&'a Entry>),
    /// One fault.
    One(&'a Entry),
}

/// Runs the subcommand.
pub(super) fn run(args: &FaultsArgs, out: &mut dyn Write) -> Result<ExitCode> {
    let columns = match terminal_size::terminal_size() {
        Some((columns, _)) if usize::from(columns.0) < WIDE => NARROW,
        _ => WIDE,
    };
    run_at(args, columns, out)
}

fn run_at(args: &FaultsArgs, columns: usize, out: &mut dyn Write) -> Result<ExitCode> {
    let catalog = Catalog::shipped();
    let asked = asked(&catalog, args.name.as_deref())?;
    match (args.format, asked) {
        (Format::Json, Asked::List(entries)) => json::write(&entries, out)?,
        (Format::Json, Asked::One(entry)) => json::write(&[entry], out)?,
        (Format::Text, Asked::List(entries)) => list::write(&entries, columns, out)?,
        (Format::Text, Asked::One(entry)) => page::write(entry, args.units, out)?,
    }
    Ok(ExitCode::SUCCESS)
}

fn asked<'a>(catalog: &'a Catalog, name: Option<&str>) -> Result<Asked<'a>> {
    let entries = catalog.entries();
    let Some(name) = name else {
        return Ok(Asked::List(entries.iter().collect()));
    };
    let name = name.trim().to_lowercase();
    if let Some(entry) = entries.iter().find(|entry| entry.name() == name) {
        return Ok(Asked::One(entry));
    }
    let of_part: Vec<&Entry> = entries
        .iter()
        .filter(|entry| entry.part.name() == name || prefix(entry) == name)
        .collect();
    if !of_part.is_empty() {
        return Ok(Asked::List(of_part));
    }
    if let Some(part) = PartId::from_name(&name) {
        bail!("the catalogue has no fault of the {part}; `shortcycle faults` lists what it has");
    }
    let names = || {
        let parts = entries.iter().map(prefix);
        entries.iter().map(Entry::name).chain(parts)
    };
    let hint = suggest::nearest(&name, names())
        .map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
    bail!("no fault or part `{name}`{hint}; `shortcycle faults` without a name lists them all")
}

/// What stands before the point in a fault's name.
fn prefix(entry: &Entry) -> &'static str {
    let name = entry.name();
    name.split_once('.').map_or(name, |(part, _)| part)
}
