//! The list for programs.

use std::io::Write;

use anyhow::Result;
use serde::Serialize;

use crate::scenario::Scenario;
use crate::site::SiteSpec;

/// Version of the form.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    scenarios: Vec<ScenarioRow<'a>>,
    sites: Vec<SiteRow<'a>>,
}

#[derive(Serialize)]
struct ScenarioRow<'a> {
    name: &'a str,
    title: &'a str,
    level: u8,
    site: &'a str,
    /// What a visit may take [min].
    budget_minutes: f64,
    /// What a visit may take [USD].
    budget_money: f64,
    /// As logbooks have it, 16 hex digits.
    digest: String,
}

#[derive(Serialize)]
struct SiteRow<'a> {
    name: &'a str,
    title: &'a str,
}

/// Writes the document and a line end.
pub(super) fn write(scenarios: &[Scenario], sites: &[SiteSpec], out: &mut dyn Write) -> Result<()> {
    let document = Document {
        format: "shortcycle-list",
        version: VERSION,
        scenarios: scenarios
            .iter()
            .map(|scenario| ScenarioRow {
                name: &scenario.name,
                title: &scenario.title,
                level: scenario.level,
                site: &scenario.site.name,
                budget_minutes: scenario.budget.minutes,
                budget_money: scenario.budget.money,
                digest: format!("{:016x}", scenario.digest),
            })
            .collect(),
        sites: sites
            .iter()
            .map(|site| SiteRow {
                name: &site.name,
                title: &site.title,
            })
            .collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}
