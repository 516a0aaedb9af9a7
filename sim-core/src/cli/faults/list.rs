//! The catalogue as a list, by where the parts belong.

use std::io::Write;

use anyhow::Result;

use super::text::{capital, hang};
use super::{NARROW, WIDE};
use crate::catalog::{Entry, PartGroup};

/// Writes the list; the usual remedy stands in it where there is room.
pub(super) fn write(entries: &[&Entry], columns: usize, out: &mut dyn Write) -> Result<()> {
    let longest = |text: fn(&Entry) -> &str| {
        entries
            .iter()
            .map(|entry| text(entry).chars().count())
            .max()
            .unwrap_or(0)
    };
    let name_columns = longest(|entry| entry.name());
    let title_columns = longest(|entry| &entry.title);
    writeln!(out, "{}", head(entries.len()))?;
    for group in PartGroup::ALL {
        let mut of_group = entries
            .iter()
            .filter(|entry| entry.part.group() == *group)
            .peekable();
        if of_group.peek().is_none() {
            continue;
        }
        writeln!(out, "\n{}", capital(group.label()))?;
        for entry in of_group {
            let (name, title) = (entry.name(), &entry.title);
            let row = format!("  {name:<name_columns$}  ");
            if columns < WIDE {
                writeln!(out, "{}", format!("{row}{title}").trim_end())?;
                continue;
            }
            let row = format!("{row}{title:<title_columns$}  ");
            let remedy = entry.remedies.first().map(ToString::to_string);
            let indent = row.chars().count();
            out.write_all(hang(&row, indent, &remedy.unwrap_or_default(), columns).as_bytes())?;
        }
    }
    let advice = "`shortcycle faults NAME` tells all about one; a part in place of a name lists \
                  the faults of that part.";
    out.write_all(format!("\n{}", hang("", 0, advice, NARROW)).as_bytes())?;
    Ok(())
}

fn head(n: usize) -> String {
    match n {
        1 => "1 fault".to_owned(),
        _ => format!("{n} faults, by where the part belongs"),
    }
}
