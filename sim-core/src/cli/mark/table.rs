//! The table of marks: on screen, as CSV and as JSON.

use std::io::Write;

use anyhow::Result;
use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use csv::{Terminator, WriterBuilder};
use serde::Serialize;

use super::Marked;
use crate::cli::debrief::{person, plain, points};
use crate::cli::display::fixed;
use crate::marking::Report;
use crate::session::Mode;

/// Stands where there is no mark.
const NONE: &str = "\u{2013}";
/// Columns of the CSV file.
const COLUMNS: [&str; 14] = [
    "file",
    "person",
    "scenario",
    "mark",
    "pass",
    "call",
    "repair",
    "proof",
    "safety",
    "economy",
    "minutes",
    "money_usd",
    "mode",
    "remark",
];

/// A line of the table.
#[derive(Serialize)]
struct Line {
    file: String,
    #[serde(flatten)]
    marks: Option<Marks>,
    remark: String,
}

/// What a line has when its logbook could be marked.
#[derive(Serialize)]
struct Marks {
    person: String,
    scenario: String,
    mark: f64,
    pass: bool,
    call: f64,
    repair: f64,
    proof: f64,
    safety: f64,
    economy: f64,
    minutes: f64,
    money_usd: f64,
    mode: Mode,
}

impl Line {
    fn of(marked: &Marked) -> Self {
        let file = marked.path.file_name().map_or_else(
            || marked.path.display().to_string(),
            |name| name.to_string_lossy().into_owned(),
        );
        let (marks, remark) = match &marked.result {
            Ok(report) => (Some(Marks::of(report)), remark(report)),
            Err(error) => (None, plain(&format!("not marked: {error:#}"))),
        };
        Self {
            file: plain(&file),
            marks,
            remark,
        }
    }
}

impl Marks {
    fn of(report: &Report) -> Self {
        let part = |name: &str| {
            let mut parts = report.parts.iter();
            parts
                .find(|part| part.name == name)
                .map_or(0.0, |part| part.earned)
        };
        Self {
            person: person(report),
            scenario: report.scenario.name.clone(),
            mark: report.total,
            pass: report.passes,
            call: part("call"),
            repair: part("repair"),
            proof: part("proof"),
            safety: part("safety"),
            economy: part("economy"),
            minutes: report.minutes,
            money_usd: report.money,
            mode: report.mode,
        }
    }

    fn pass(&self) -> &'static str {
        if self.pass { "yes" } else { "no" }
    }

    fn parts(&self) -> [f64; 5] {
        [
            self.call,
            self.repair,
            self.proof,
            self.safety,
            self.economy,
        ]
    }
}

/// What a trainer should know beside the numbers.
fn remark(report: &Report) -> String {
    let mut remarks = Vec::new();
    if report.counts.hazards > 0 {
        remarks.push("dangerous act".to_owned());
    }
    if !report.is_over {
        remarks.push("not closed up".to_owned());
    }
    if report.is_torn {
        remarks.push("last line cut off".to_owned());
    }
    match report.unneeded.len() {
        0 => {}
        1 => remarks.push("1 part not needed".to_owned()),
        n => remarks.push(format!("{n} parts not needed")),
    }
    if report.mode == Mode::Practice {
        remarks.push("practice".to_owned());
    }
    remarks.join(", ")
}

/// The table for a screen; why something has no mark stands below it.
pub(super) fn text(marked: &[Marked]) -> String {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header([
            "person", "scenario", "mark", "pass", "call", "repair", "proof", "safety", "economy",
            "min", "USD", "remark",
        ]);
    let mut below = String::new();
    for marked in marked {
        let Line {
            file,
            marks,
            remark,
        } = Line::of(marked);
        let Some(marks) = marks else {
            below += &format!("{file}: {remark}\n");
            let mut row = vec![file];
            row.resize(11, NONE.to_owned());
            row.push("not marked, see below".to_owned());
            table.add_row(row);
            continue;
        };
        let mut row = vec![
            marks.person.clone(),
            marks.scenario.clone(),
            points(marks.mark),
            marks.pass().to_owned(),
        ];
        row.extend(marks.parts().map(points));
        row.extend([fixed(marks.minutes, 0), fixed(marks.money_usd, 0), remark]);
        table.add_row(row);
    }
    for (i, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, 2));
        if i == 2 || (4..11).contains(&i) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let mut text: String = table
        .lines()
        .map(|line| format!("{}\n", line.trim_end()))
        .collect();
    if !below.is_empty() {
        text.push('\n');
        text += &below;
    }
    text
}

/// The table as CSV (RFC 4180).
pub(super) fn csv(marked: &[Marked], out: &mut dyn Write) -> Result<()> {
    let mut csv = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(out);
    csv.write_record(COLUMNS)?;
    for marked in marked {
        let line = Line::of(marked);
        csv.write_field(harmless(&line.file))?;
        match &line.marks {
            None => csv.write_record(std::iter::repeat_n("", 12).chain([line.remark.as_str()]))?,
            Some(marks) => {
                let mode = match marks.mode {
                    Mode::Practice => "practice",
                    Mode::Graded => "graded",
                };
                csv.write_field(harmless(&marks.person))?;
                csv.write_field(&marks.scenario)?;
                csv.write_field(fixed(marks.mark, 1))?;
                csv.write_field(marks.pass())?;
                for part in marks.parts() {
                    csv.write_field(fixed(part, 1))?;
                }
                csv.write_field(fixed(marks.minutes, 1))?;
                csv.write_field(fixed(marks.money_usd, 2))?;
                csv.write_record([mode, line.remark.as_str()])?;
            }
        }
    }
    csv.flush()?;
    Ok(())
}

/// Keeps a spreadsheet from taking a person's text for a formula.
fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The table as JSON and a line end.
pub(super) fn json(marked: &[Marked], out: &mut dyn Write) -> Result<()> {
    let lines: Vec<Line> = marked.iter().map(Line::of).collect();
    serde_json::to_writer_pretty(&mut *out, &lines)?;
    writeln!(out)?;
    Ok(())
}
