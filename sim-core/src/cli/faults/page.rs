//! One fault whole, as a page of text.

use std::io::Write;

use anyhow::Result;

use super::NARROW;
use super::severity::{kind_of_number, show};
use super::text::{hang, wrap};
use crate::catalog::Entry;
use crate::cli::display::Units;

/// Columns that a sign's sense takes, its indent included.
const SENSE_COLUMNS: usize = 14;

const CAUTION: &str = "Training values: nameplate, local codes and licensed practice decide. \
                       Lock the power off and prove it dead before anything is opened.";

/// Writes the page.
pub(super) fn write(entry: &Entry, units: Units, out: &mut dyn Write) -> Result<()> {
    let mut page = format!("{}: {}\n", entry.name(), entry.title);
    let (part, group) = (entry.part.label(), entry.part.group().label());
    page += &format!("Part: {part}, under {group}\n");

    section(&mut page, "What happens", &entry.mechanism);
    section(&mut page, "How bad", &severities(entry, units));
    page += &hang("", 2, &to_try(entry), NARROW);

    page += "\nWhat shows\n";
    for sign in &entry.signs {
        let (sense, what) = sign.split_once(": ").unwrap_or(("", sign));
        page += &hang(&format!("  {sense}"), SENSE_COLUMNS, what, NARROW);
    }
    if !entry.look_alikes.is_empty() {
        page += "\nWhat it is mistaken for, and what tells them apart\n";
        for other in &entry.look_alikes {
            page += &format!("  {}\n", other.kind.info().name);
            page += &hang("", 6, &other.splitter, NARROW);
        }
    }

    let mut remedies = entry.remedies.iter().map(ToString::to_string);
    let minutes = entry.minutes;
    let cost = match entry.cost {
        0.0 => "no parts".to_owned(),
        cost => format!("${cost} of parts"),
    };
    let usual = remedies.next().unwrap_or_default();
    let usual = format!("Usually: {usual}. About {minutes} min and {cost}.");
    section(&mut page, "What is done", &usual);
    let others: Vec<String> = remedies.collect();
    if !others.is_empty() {
        page += &hang("", 2, &format!("Or: {}.", others.join("; ")), NARROW);
    }
    section(&mut page, "What proves it", &entry.proof);

    if !entry.also.is_empty() {
        page += "\nIt stands also for\n";
        for situation in &entry.also {
            page += &hang("  -", 4, situation, NARROW);
        }
    }
    section(&mut page, "Where the numbers come from", &numbers(entry));
    page += &format!("\n{}\n", wrap(CAUTION, NARROW).join("\n"));
    out.write_all(page.as_bytes())?;
    Ok(())
}

fn section(page: &mut String, title: &str, text: &str) {
    *page += &format!("\n{title}\n{}", hang("", 2, text, NARROW));
}

fn severities(entry: &Entry, units: Units) -> String {
    let info = entry.kind.info();
    if info.range.0 == info.range.1 {
        return "It is there or it is not.".to_owned();
    }
    let [mild, usual, severe] = entry
        .severities
        .all()
        .map(|severity| show(info, severity, units));
    let of = kind_of_number(info);
    format!("Mild {mild}, usual {usual}, severe {severe}{of}.")
}

/// How the fault is put into a plant, which takes the fault's own unit.
fn to_try(entry: &Entry) -> String {
    let info = entry.kind.info();
    let (name, usual) = (info.name, entry.severities.usual);
    match info.unit {
        _ if info.range.0 == info.range.1 => {
            format!("Try it: shortcycle trace SITE --fault {name}")
        }
        "share" | "ratio" => format!("Try it: shortcycle trace SITE --fault {name}={usual}"),
        unit => format!("Try it: shortcycle trace SITE --fault {name}={usual} (in {unit})"),
    }
}

fn numbers(entry: &Entry) -> String {
    let weight = entry.weight;
    format!(
        "{} How often it is met, against other faults: {} on a cistern, {} on a well, {} with a \
         pump that lifts by suction.",
        entry.numbers, weight.cistern, weight.well, weight.jet
    )
}
