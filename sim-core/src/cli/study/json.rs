//! The study as JSON, SI units; described in `docs/study-format.md`.

use std::io::Write;

use anyhow::Result;
use serde::Serialize;

use super::{Done, table, words};
use crate::study::{Outcome, Recommendation, judge};

/// Version of the form; a change that would break a reader raises it.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    study: &'a str,
    title: &'a str,
    site: &'a str,
    digest: String,
    days: f64,
    seeds: &'a [u64],
    parameters: Vec<&'a str>,
    limits: Vec<LimitRow<'a>>,
    /// Whether the first setting keeps every limit.
    meets_limits: bool,
    /// Numbers of the settings, best first: those that keep every limit, or the nearest.
    recommended: Vec<usize>,
    settings: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct LimitRow<'a> {
    asks: String,
    source: &'a str,
}

#[derive(Serialize)]
struct Row<'a> {
    setting: usize,
    values: Vec<Value>,
    #[serde(flatten)]
    outcome: &'a Outcome,
    /// For each limit what the setting has and what is allowed; none where it says nothing.
    limits: Vec<Option<LimitKept>>,
}

#[derive(Serialize)]
struct Value {
    text: String,
    si: Option<f64>,
}

#[derive(Serialize)]
struct LimitKept {
    found: f64,
    allowed: f64,
    kept: bool,
}

/// Writes the document and a line end.
pub(super) fn write(done: &Done<'_>, out: &mut dyn Write) -> Result<()> {
    let study = done.study;
    let recommended: Vec<usize> = match &done.recommendation {
        Recommendation::Meets { rows } | Recommendation::Nearest { rows } => {
            rows.iter().map(|row| done.rows[*row].setting).collect()
        }
        Recommendation::Nothing => Vec::new(),
    };
    let document = Document {
        format: "shortcycle-study",
        version: VERSION,
        study: &study.name,
        title: &study.title,
        site: &study.site.name,
        digest: format!("{:016x}", study.digest),
        days: study.days,
        seeds: &study.seeds,
        parameters: study.parameters.iter().map(|p| p.path.as_str()).collect(),
        limits: study
            .limits
            .iter()
            .map(|limit| LimitRow {
                asks: words::limit(limit, None),
                source: &limit.source,
            })
            .collect(),
        meets_limits: matches!(done.recommendation, Recommendation::Meets { .. }),
        recommended,
        settings: table::order(done)
            .into_iter()
            .map(|row| row_of(done, row))
            .collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}

fn row_of<'a>(done: &Done<'a>, row: usize) -> Row<'a> {
    let row = &done.rows[row];
    Row {
        setting: row.setting,
        values: done
            .study
            .values(row.setting)
            .into_iter()
            .map(|value| Value {
                text: value.text,
                si: value.si,
            })
            .collect(),
        outcome: &row.outcome,
        limits: row.figures().map_or_else(Vec::new, |figures| {
            judge(&done.study.limits, figures)
                .into_iter()
                .map(|kept| {
                    kept.map(|kept| LimitKept {
                        found: kept.found,
                        allowed: kept.allowed,
                        kept: kept.is_kept(),
                    })
                })
                .collect()
        }),
    }
}
