//! The catalogue for programs, severities in SI units; docs/faults.md describes it.

use std::io::Write;

use anyhow::Result;
use serde::Serialize;

use crate::catalog::{Entry, Remedy};

/// Version of the form.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    entries: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    name: &'static str,
    title: &'a str,
    part: &'static str,
    mechanism: &'a str,
    severity: SeverityRow,
    weight: WeightRow,
    remedies: Vec<RemedyRow>,
    proof: &'a str,
    minutes: f64,
    cost_usd: f64,
    signs: &'a [String],
    look_alikes: Vec<LookAlikeRow<'a>>,
    numbers: &'a str,
    also: &'a [String],
}

#[derive(Serialize)]
struct SeverityRow {
    mild_si: f64,
    usual_si: f64,
    severe_si: f64,
    /// Unit on the command line.
    unit: &'static str,
    si_per_unit: f64,
}

#[derive(Serialize)]
struct WeightRow {
    cistern: f64,
    well: f64,
    jet: f64,
}

#[derive(Serialize)]
struct RemedyRow {
    action: &'static str,
    part: Option<&'static str>,
    words: String,
}

#[derive(Serialize)]
struct LookAlikeRow<'a> {
    name: &'static str,
    splitter: &'a str,
}

/// Writes the document and a line end.
pub(super) fn write(entries: &[&Entry], out: &mut dyn Write) -> Result<()> {
    let document = Document {
        format: "shortcycle-faults",
        version: VERSION,
        entries: entries.iter().map(|entry| row(entry)).collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}

fn row(entry: &Entry) -> Row<'_> {
    let info = entry.kind.info();
    let [mild_si, usual_si, severe_si] = entry.severities.all().map(|s| s * info.si_per_unit);
    Row {
        name: info.name,
        title: &entry.title,
        part: entry.part.name(),
        mechanism: &entry.mechanism,
        severity: SeverityRow {
            mild_si,
            usual_si,
            severe_si,
            unit: info.unit,
            si_per_unit: info.si_per_unit,
        },
        weight: WeightRow {
            cistern: entry.weight.cistern,
            well: entry.weight.well,
            jet: entry.weight.jet,
        },
        remedies: entry.remedies.iter().map(remedy).collect(),
        proof: &entry.proof,
        minutes: entry.minutes,
        cost_usd: entry.cost,
        signs: &entry.signs,
        look_alikes: entry
            .look_alikes
            .iter()
            .map(|other| LookAlikeRow {
                name: other.kind.info().name,
                splitter: &other.splitter,
            })
            .collect(),
        numbers: &entry.numbers,
        also: &entry.also,
    }
}

fn remedy(remedy: &Remedy) -> RemedyRow {
    RemedyRow {
        action: remedy.name(),
        part: remedy.part().map(|part| part.name()),
        words: remedy.to_string(),
    }
}
