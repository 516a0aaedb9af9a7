//! Every sample as CSV (RFC 4180): names, units, then one row per sample.

use std::io::Write;

use anyhow::Result;
use csv::{Terminator, WriterBuilder};

use crate::cli::display::{DisplayUnit, Units, significant};
use crate::trace::{CHANNELS, Channel, Recording};

/// Writes the chosen channels, time first.
pub(super) fn write(
    recording: &Recording,
    channels: &[&Channel],
    units: Units,
    out: &mut dyn Write,
) -> Result<()> {
    let mut csv = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(out);
    // Position among all channels and display unit of each column.
    let columns: Vec<(usize, DisplayUnit)> = channels
        .iter()
        .filter_map(|&channel| {
            let position = CHANNELS.iter().position(|other| other == channel)?;
            Some((position, DisplayUnit::of(channel.quantity, units)))
        })
        .collect();
    csv.write_field("time")?;
    csv.write_record(channels.iter().map(|channel| channel.name))?;
    csv.write_field("s")?;
    csv.write_record(columns.iter().map(|(_, unit)| unit.symbol))?;
    for sample in &recording.samples {
        csv.write_field(significant(sample.time_s))?;
        csv.write_record(columns.iter().map(|&(position, unit)| {
            let value = sample.values.get(position).copied().unwrap_or(f64::NAN);
            significant(unit.convert(value))
        }))?;
    }
    csv.flush()?;
    Ok(())
}
