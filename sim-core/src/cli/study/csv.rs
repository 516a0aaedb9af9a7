//! The sheet as CSV.

use anyhow::{Context, Result};
use csv::{Terminator, WriterBuilder};

use super::sheet::{Cells, Column};
use crate::cli::display::significant;

/// The sheet with its head.
pub(super) fn csv(columns: &[Column]) -> Result<Vec<u8>> {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    writer.write_record(columns.iter().map(|column| &column.name))?;
    let n_rows = columns.first().map_or(0, |column| match &column.cells {
        Cells::Whole(cells) => cells.len(),
        Cells::Number(cells) => cells.len(),
        Cells::Text(cells) => cells.len(),
    });
    for row in 0..n_rows {
        writer.write_record(columns.iter().map(|column| cell(&column.cells, row)))?;
    }
    writer.into_inner().context("cannot write the table")
}

fn cell(cells: &Cells, row: usize) -> String {
    match cells {
        Cells::Whole(cells) => cells[row].map(|n| n.to_string()).unwrap_or_default(),
        Cells::Number(cells) => cells[row].map(significant).unwrap_or_default(),
        Cells::Text(cells) => cells[row].clone().unwrap_or_default(),
    }
}
