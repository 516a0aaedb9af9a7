//! The list for people.

use std::io::Write;

use anyhow::Result;

use crate::cli::faults::text::wrap;
use crate::parts::{PumpPlacement, SourceSpec};
use crate::scenario::Scenario;
use crate::site::SiteSpec;

/// Columns of minutes and of money.
const MINUTES: usize = 4;
const MONEY: usize = 6;

/// Writes scenarios by level, then sites.
pub(super) fn write(
    scenarios: &[Scenario],
    sites: &[SiteSpec],
    columns: usize,
    out: &mut dyn Write,
) -> Result<()> {
    let longest = |names: &mut dyn Iterator<Item = &str>| {
        names.map(|name| name.chars().count()).max().unwrap_or(0)
    };
    let name = longest(&mut scenarios.iter().map(|s| s.name.as_str()));
    let site = longest(&mut sites.iter().map(|s| s.name.as_str()));
    let title = columns.saturating_sub(2 + name + 2 + 2 + site + 2 + MINUTES + MONEY);
    let row = |cells: [&str; 5]| {
        let [a, b, c, d, e] = cells;
        let line = format!("  {a:<name$}  {b:<title$}  {c:<site$}  {d:>MINUTES$}{e:>MONEY$}");
        line.trim_end().to_owned()
    };
    writeln!(out, "Scenarios, easiest first\n")?;
    writeln!(
        out,
        "{}",
        row(["name", "what is reported", "site", "min", "$"])
    )?;
    let mut level = 0;
    for scenario in scenarios {
        if scenario.level != level {
            level = scenario.level;
            writeln!(out, "\n  Level {level}{}", remark(level))?;
        }
        let minutes = format!("{:.0}", scenario.budget.minutes);
        let money = format!("{:.0}", scenario.budget.money);
        let mut cells = [
            scenario.name.as_str(),
            "",
            scenario.site.name.as_str(),
            &minutes,
            &money,
        ];
        for line in wrap(&scenario.title, title) {
            cells[1] = &line;
            writeln!(out, "{}", row(cells))?;
            cells = [""; 5];
        }
    }
    writeln!(
        out,
        "\n  min and $ are what a visit may take. `shortcycle practice NAME` begins one."
    )?;
    writeln!(out, "\nSites\n")?;
    for place in sites {
        writeln!(out, "  {:<site$}  {}", place.name, place.title)?;
        writeln!(out, "  {:<site$}  {}", "", in_short(place))?;
    }
    writeln!(
        out,
        "\n  `shortcycle site NAME` tells what is installed at one."
    )?;
    Ok(())
}

fn remark(level: u8) -> &'static str {
    match level {
        1 => ", for newcomers",
        5 => ", for those who have done the rest",
        _ => "",
    }
}

/// A site in half a line.
fn in_short(site: &SiteSpec) -> String {
    let source = match site.source {
        SourceSpec::Cistern { .. } => "cistern",
        SourceSpec::Well { .. } => "well",
    };
    let pump = match site.pump.placement {
        PumpPlacement::Submersible => "submersible pump",
        PumpPlacement::SuctionLift => "jet pump",
    };
    let switch = &site.wall.pressure_switch;
    let bar = |pa: f64| pa / crate::units::convert::BAR;
    let psi = |pa: f64| pa / crate::units::convert::PSI;
    let (cut_in, cut_out) = (switch.cut_in.si(), switch.cut_out.si());
    format!(
        "{source}, {pump}, {:.0} V, {:.0}/{:.0} psi ({:.1}/{:.1} bar)",
        site.supply.voltage.si(),
        psi(cut_in),
        psi(cut_out),
        bar(cut_in),
        bar(cut_out),
    )
}
