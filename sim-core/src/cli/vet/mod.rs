//! `shortcycle vet`: is a scenario fair, for trainers.

mod text;

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result};
use serde::Serialize;

use super::FAILED;
use super::args::{Format, VetArgs};
use super::practice::setup;
use crate::vetting::{Vetted, vet};

/// Version of the JSON form; a change that would break a reader raises it.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    scenario: &'a str,
    members: &'a [Vetted],
}

/// Runs `shortcycle vet`: 0 when nothing is amiss, 1 when something is.
pub(super) fn run(args: &VetArgs, out: &mut dyn Write, err: &mut dyn Write) -> Result<ExitCode> {
    let scenario = setup::find(&args.scenario)?;
    let seeds = match args.seed {
        Some(seed) => vec![seed],
        None => scenario.seeds_of_members(),
    };
    let mut members = Vec::with_capacity(seeds.len());
    for (at, seed) in seeds.iter().enumerate() {
        writeln!(
            err,
            "working {} with seed {seed} ({} of {}); this takes a while",
            scenario.name,
            at + 1,
            seeds.len()
        )?;
        let vetted = vet(&scenario, *seed)
            .with_context(|| format!("cannot vet {} with seed {seed}", scenario.name))?;
        members.push(vetted);
    }
    match args.format {
        Format::Text => out.write_all(text::text(&scenario, &members).as_bytes())?,
        Format::Json => {
            let document = Document {
                format: "shortcycle-vet",
                version: VERSION,
                scenario: &scenario.name,
                members: &members,
            };
            writeln!(out, "{}", serde_json::to_string_pretty(&document)?)?;
        }
    }
    Ok(if members.iter().any(Vetted::has_errors) {
        ExitCode::from(FAILED)
    } else {
        ExitCode::SUCCESS
    })
}
