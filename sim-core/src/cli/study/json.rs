//! The study as JSON, SI units; described in `docs/study-format.md`.

use std::io::Write;

use anyhow::Result;
use serde::ser::{Error, SerializeSeq};
use serde::{Serialize, Serializer};

use super::{Done, answer, table, words};
use crate::cli::display::Units;
use crate::study::{ENGINE_VERSION, Outcome, Recommendation, SettingRow, judge};

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
    engine: u32,
    days: f64,
    seeds: &'a [u64],
    parameters: Vec<&'a str>,
    limits: Vec<LimitRow<'a>>,
    /// Whether the first setting keeps every limit.
    meets_limits: bool,
    /// What the one varied parameter does, in sentences.
    answers: Vec<String>,
    /// Numbers of the settings, best first: those that keep every limit, or the nearest.
    recommended: Vec<usize>,
    settings: Settings<'a>,
}

/// Every setting, best first; read as it is written.
struct Settings<'a>(&'a Done<'a>);

impl Serialize for Settings<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut list = serializer.serialize_seq(Some(self.0.rows.len()))?;
        for row in table::order(self.0) {
            let row = self.0.rows.get(row).map_err(S::Error::custom)?;
            list.serialize_element(&row_of(self.0, &row))?;
        }
        list.end()
    }
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
pub(super) fn write(done: &Done<'_>, units: Units, out: &mut dyn Write) -> Result<()> {
    let study = done.study;
    let recommended: Vec<usize> = match &done.recommendation {
        Recommendation::Meets { rows } | Recommendation::Nearest { rows } => rows.clone(),
        Recommendation::Nothing => Vec::new(),
    };
    let document = Document {
        format: "shortcycle-study",
        version: VERSION,
        study: &study.name,
        title: &study.title,
        site: &study.site.name,
        digest: format!("{:016x}", study.digest),
        engine: ENGINE_VERSION,
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
        answers: answer::sentences(done, units),
        recommended,
        settings: Settings(done),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}

fn row_of<'a>(done: &Done<'_>, row: &'a SettingRow) -> Row<'a> {
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
