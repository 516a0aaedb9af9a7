//! The site for people.

use std::io::Write;

use anyhow::Result;

use super::ladder::ladder;
use super::parts::parts;
use super::plan::{Plan, both};
use crate::site::SiteSpec;
use crate::trace::Quantity;

/// Writes the report.
pub(super) fn write(site: &SiteSpec, plan: Option<&Plan>, out: &mut dyn Write) -> Result<()> {
    writeln!(out, "{} ({})", site.title, site.name)?;
    writeln!(
        out,
        "{} above sea level; water {}, air {}",
        both(Quantity::Length, site.altitude.si()),
        both(Quantity::Temperature, site.water_temperature.si()),
        both(Quantity::Temperature, site.air_temperature.si()),
    )?;
    writeln!(out, "\nParts")?;
    for part in parts(site, plan) {
        let mut name = part.name;
        for line in part.lines {
            writeln!(out, "  {name:<8}{line}")?;
            name = "";
        }
    }
    let Some(plan) = plan else {
        writeln!(
            out,
            "\nNo wiring: the site file says nothing about the pump's circuit."
        )?;
        return Ok(());
    };
    writeln!(out, "\nWiring: o is a point that a probe can touch")?;
    for line in ladder(plan) {
        writeln!(out, "{}", format!("  {line}").trim_end())?;
    }
    writeln!(out, "\nPoints, by where one must stand")?;
    let mut station = "";
    for point in &plan.points {
        let head = if point.station == station {
            ""
        } else {
            point.station
        };
        station = point.station;
        writeln!(out, "  {head:<8}{:<15}{}", point.name, point.label)?;
    }
    Ok(())
}
