//! The sheet as CSV.

use std::io::Write;

use anyhow::Result;
use csv::{Terminator, WriterBuilder};

use super::Done;
use super::sheet::{self, Cell};
use crate::cli::display::significant;

/// Writes the sheet with its head, row by row.
pub(super) fn write(done: &Done<'_>, out: impl Write) -> Result<()> {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::Any(b'\n'))
        .from_writer(out);
    let columns = sheet::columns(done.study);
    writer.write_record(columns.iter().map(|column| &column.name))?;
    sheet::rows(done, &mut |cells| {
        Ok(writer.write_record(cells.iter().map(text))?)
    })?;
    Ok(writer.flush()?)
}

fn text(cell: &Cell) -> String {
    match cell {
        Cell::Whole(n) => n.to_string(),
        Cell::Number(n) => significant(*n),
        Cell::Text(text) => text.clone(),
        Cell::None => String::new(),
    }
}
