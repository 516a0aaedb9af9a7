//! The site for programs: its parts as the site file's validated form has them (SI units),
//! and the points of its wiring.

use std::io::Write;

use anyhow::Result;
use serde::Serialize;

use super::plan::Plan;
use crate::site::SiteSpec;

/// Version of the form.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    site: &'a SiteSpec,
    points: Vec<PointRow>,
}

#[derive(Serialize)]
struct PointRow {
    name: &'static str,
    label: &'static str,
    station: &'static str,
}

/// Writes the document and a line end.
pub(super) fn write(site: &SiteSpec, plan: Option<&Plan>, out: &mut dyn Write) -> Result<()> {
    let points = plan.map_or(&[][..], |plan| &plan.points);
    let document = Document {
        format: "shortcycle-site",
        version: VERSION,
        site,
        points: points
            .iter()
            .map(|point| PointRow {
                name: point.name,
                label: point.label,
                station: point.station,
            })
            .collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}
