//! The report for people: what was run, what happened, what it came to; 80 columns.
//!
//! A short run lists every event.  In a long one the pump's ordinary comings and goings
//! are told as a table of runs, and both lists keep their first and last rows.

use std::io::Write;

use anyhow::Result;
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, Table, Width, presets};

use super::Settings;
use crate::cli::display::{DisplayUnit, Units, clock, fixed, interval, span};
use crate::cli::words::{event_words, is_routine};
use crate::plant::Event;
use crate::trace::{PumpRun, Quantity, Recording, pump_runs};

/// Up to so many events are listed one by one.
const FEW_EVENTS: usize = 40;
/// Rows of a folded list, first and last.
const FIRST_ROWS: usize = 12;
const LAST_ROWS: usize = 4;

/// Writes the report.
pub(super) fn write(
    recording: &Recording,
    settings: &Settings,
    units: Units,
    out: &mut dyn Write,
) -> Result<()> {
    let report = Report {
        recording,
        pressure: DisplayUnit::of(Quantity::GaugePressure, units),
        flow: DisplayUnit::of(Quantity::Flow, units),
        volume: DisplayUnit::of(Quantity::Volume, units),
        units,
    };
    let mut text = report.head(settings);
    let runs = pump_runs(recording);
    if recording.events.len() <= FEW_EVENTS {
        text += &report.events("What happened", recording.events.iter(), Listing::Whole);
    } else {
        text += &report.runs(&runs);
        let rare = recording
            .events
            .iter()
            .filter(|event| !is_routine(event.kind));
        text += &report.events("What else happened", rare, Listing::Folded);
    }
    text += &report.totals(&runs);
    out.write_all(text.as_bytes())?;
    Ok(())
}

/// How much of a list is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Listing {
    /// Every row.
    Whole,
    /// First and last rows.
    Folded,
}

struct Report<'a> {
    recording: &'a Recording,
    pressure: DisplayUnit,
    flow: DisplayUnit,
    volume: DisplayUnit,
    units: Units,
}

impl Report<'_> {
    fn head(&self, settings: &Settings) -> String {
        let Recording {
            title,
            site,
            cut_in_pa,
            cut_out_pa,
            ..
        } = self.recording;
        format!(
            "{title} ({site})\n{}\nCut-in {}, cut-out {}; a sample every {}\n",
            settings.sentence(),
            self.both(Quantity::GaugePressure, *cut_in_pa),
            self.both(Quantity::GaugePressure, *cut_out_pa),
            interval(settings.interval_s),
        )
    }

    fn events<'e>(
        &self,
        title: &str,
        events: impl Iterator<Item = &'e Event>,
        listing: Listing,
    ) -> String {
        let mut rows: Vec<[String; 4]> = events
            .map(|event| {
                [
                    self.clock(event.time_s),
                    event_words(event.kind).to_owned(),
                    self.pressure.number(event.tee_pressure_pa),
                    self.flow.number(event.pump_flow_m3_per_s),
                ]
            })
            .collect();
        if rows.is_empty() {
            return format!("\n{title}\n  nothing\n");
        }
        let header = [
            "time".to_owned(),
            "event".to_owned(),
            format!("tee {}", self.pressure.symbol),
            format!("pump {}", self.flow.symbol),
        ];
        if listing == Listing::Folded {
            rows = fold(rows);
        }
        section(title, &header, &rows, 1)
    }

    fn runs(&self, runs: &[PumpRun]) -> String {
        if runs.is_empty() {
            return "\nPump runs\n  none\n".to_owned();
        }
        let mut rested_from = None;
        let rows: Vec<[String; 6]> = runs
            .iter()
            .enumerate()
            .map(|(i, run)| {
                let rest = rested_from.map_or_else(String::new, |end_s| span(run.start_s - end_s));
                rested_from = Some(run.end_s);
                [
                    (i + 1).to_string(),
                    self.clock(run.start_s),
                    rest,
                    span(run.length_s()),
                    self.pressure.number(run.from_pa),
                    run.to_pa.map_or_else(
                        || "still on".to_owned(),
                        |to_pa| self.pressure.number(to_pa),
                    ),
                ]
            })
            .collect();
        let header = [
            "run".to_owned(),
            "starts at".to_owned(),
            "after a rest of".to_owned(),
            "runs for".to_owned(),
            format!("from {}", self.pressure.symbol),
            format!("to {}", self.pressure.symbol),
        ];
        let mut text = section("Pump runs", &header, &fold(rows), usize::MAX);
        let mut lengths: Vec<f64> = runs.iter().map(PumpRun::length_s).collect();
        lengths.sort_by(f64::total_cmp);
        text += &format!(
            "  shortest {}, middle {}, longest {}\n",
            span(lengths[0]),
            span(lengths[lengths.len() / 2]),
            span(lengths[lengths.len() - 1]),
        );
        text
    }

    fn totals(&self, runs: &[PumpRun]) -> String {
        let totals = &self.recording.totals;
        let days = totals.duration_s / 86_400.0;
        let mut rows: Vec<[String; 3]> = Vec::new();
        let mut row = |name: &str, value: String, note: String| {
            rows.push([name.to_owned(), value, note]);
        };
        let per_day = if days >= 1.0 {
            let starts_per_day = totals.pump_starts as f64 / days;
            format!("{} a day", fixed(starts_per_day, 1))
        } else {
            let starts_per_hour = totals.pump_starts as f64 / (days * 24.0);
            format!("{} an hour", fixed(starts_per_hour, 1))
        };
        row("pump starts", totals.pump_starts.to_string(), per_day);
        let share = 100.0 * totals.pump_run_s / totals.duration_s;
        row(
            "pump running",
            span(totals.pump_run_s),
            format!("{} % of the time", fixed(share, 1)),
        );
        if !runs.is_empty() {
            let average_s = totals.pump_run_s / runs.len() as f64;
            row("average run", span(average_s), String::new());
        }
        for (name, volume_m3) in [
            ("used in the house", totals.used_m3),
            ("run off at the drain cock", totals.drained_m3),
            ("let go by the relief valve", totals.relieved_m3),
            ("lost to leaks", totals.leaked_m3),
            ("taken from the source", totals.drawn_m3),
        ] {
            row(
                name,
                self.volume.show(volume_m3),
                DisplayUnit::of(Quantity::Volume, self.units.other()).show(volume_m3),
            );
        }
        let energy = DisplayUnit::of(Quantity::Energy, self.units).show(totals.shaft_energy_j);
        row("work at the shaft", energy, String::new());
        if totals.supply_energy_j > 0.0 {
            let energy = DisplayUnit::of(Quantity::Energy, self.units).show(totals.supply_energy_j);
            row("energy from the supply", energy, String::new());
        }
        if let Some(lowest_pa) = totals.lowest_house_pressure_pa {
            row(
                "lowest house pressure, drawing",
                self.pressure.show(lowest_pa),
                DisplayUnit::of(Quantity::GaugePressure, self.units.other()).show(lowest_pa),
            );
        }
        format!("\nWhat it came to\n{}", table(None, &rows, 0))
    }

    fn clock(&self, time_s: f64) -> String {
        clock(time_s, self.recording.totals.duration_s)
    }

    /// A value in the chosen system, and in the other one in brackets.
    fn both(&self, quantity: Quantity, value: f64) -> String {
        format!(
            "{} ({})",
            DisplayUnit::of(quantity, self.units).show(value),
            DisplayUnit::of(quantity, self.units.other()).show(value)
        )
    }
}

/// Rows that a list of so many leaves out; folding one or two would save nothing.
fn n_folded(n_rows: usize) -> usize {
    let n_folded = n_rows.saturating_sub(FIRST_ROWS + LAST_ROWS);
    if n_folded > 2 { n_folded } else { 0 }
}

/// Keeps first and last rows and tells between them how many are left out.
fn fold<const N: usize>(mut rows: Vec<[String; N]>) -> Vec<[String; N]> {
    let n_folded = n_folded(rows.len());
    if n_folded > 0 {
        let mut between = [const { String::new() }; N];
        between[0] = "…".to_owned();
        between[1] = format!("{n_folded} more");
        rows.splice(FIRST_ROWS..FIRST_ROWS + n_folded, [between]);
    }
    rows
}

fn section<const N: usize>(
    title: &str,
    header: &[String; N],
    rows: &[[String; N]],
    words_column: usize,
) -> String {
    format!("\n{title}\n{}", table(Some(header), rows, words_column))
}

/// A plain table: numbers to the right, the column of words to the left.
fn table<const N: usize>(
    header: Option<&[String; N]>,
    rows: &[[String; N]],
    words_column: usize,
) -> String {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled);
    if let Some(header) = header {
        table.set_header(header);
    }
    table.add_rows(rows.iter().map(|row| row.iter()));
    for (i, column) in table.column_iter_mut().enumerate() {
        if i == words_column {
            column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(32)));
        } else {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table
        .lines()
        .map(|line| format!(" {}\n", line.trim_end()))
        .collect()
}
