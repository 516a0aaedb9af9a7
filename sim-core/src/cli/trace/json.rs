//! A recording as JSON, SI units with the unit in each field's name.
//!
//! The form is described in `docs/trace-output.md`; a change that would break a reader
//! raises [`VERSION`].

use std::io::Write;

use anyhow::Result;
use serde::Serialize;
use serde::ser::{SerializeMap, Serializer};

use super::Settings;
use crate::cli::words::event_id;
use crate::trace::{CHANNELS, Channel, Quantity, Recording, Totals};

/// Version of the form.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    site: Site<'a>,
    run: Run<'a>,
    samples: Samples<'a>,
    events: Vec<EventRow>,
    totals: &'a Totals,
}

#[derive(Serialize)]
struct Site<'a> {
    name: &'a str,
    title: &'a str,
    cut_in_pa: f64,
    cut_out_pa: f64,
}

#[derive(Serialize)]
struct Run<'a> {
    duration_s: f64,
    interval_s: f64,
    start: &'a str,
    demand: &'a str,
    faults: &'a [String],
}

#[derive(Serialize)]
struct EventRow {
    time_s: f64,
    event: &'static str,
    tee_pressure_pa: f64,
    pump_flow_m3_per_s: f64,
}

/// One array per channel, without a copy of the recording.
struct Samples<'a> {
    recording: &'a Recording,
    channels: &'a [&'a Channel],
}

impl Serialize for Samples<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("time_s", &Column(self.recording, None))?;
        for &channel in self.channels {
            let position = CHANNELS.iter().position(|other| other == channel);
            let name = format!("{}{}", channel.name, suffix(channel.quantity));
            map.serialize_entry(&name, &Column(self.recording, position))?;
        }
        map.end()
    }
}

/// The values of one channel, or the times.
struct Column<'a>(&'a Recording, Option<usize>);

impl Serialize for Column<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.samples.iter().map(|sample| match self.1 {
            None => Some(sample.time_s),
            Some(position) => sample.values.get(position).copied(),
        }))
    }
}

/// The SI unit as it ends a field's name.
fn suffix(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::GaugePressure => "_pa",
        Quantity::Flow => "_m3_per_s",
        Quantity::Volume => "_m3",
        Quantity::Length => "_m",
        Quantity::ShaftSpeed => "_rad_per_s",
        Quantity::Temperature => "_k",
        Quantity::Power => "_w",
        Quantity::Energy => "_j",
        Quantity::Voltage => "_v",
        Quantity::Current => "_a",
        Quantity::MassFlow => "_kg_per_s",
        Quantity::Fraction | Quantity::Switch => "",
    }
}

/// Writes the document and a line end.
pub(super) fn write(
    recording: &Recording,
    settings: &Settings,
    channels: &[&Channel],
    out: &mut dyn Write,
) -> Result<()> {
    let document = Document {
        format: "shortcycle-trace",
        version: VERSION,
        site: Site {
            name: &recording.site,
            title: &recording.title,
            cut_in_pa: recording.cut_in_pa,
            cut_out_pa: recording.cut_out_pa,
        },
        run: Run {
            duration_s: settings.duration_s,
            interval_s: settings.interval_s,
            start: settings.start,
            demand: &settings.demand,
            faults: &settings.faults,
        },
        samples: Samples {
            recording,
            channels,
        },
        events: recording
            .events
            .iter()
            .map(|event| EventRow {
                time_s: event.time_s,
                event: event_id(event.kind),
                tee_pressure_pa: event.tee_pressure_pa,
                pump_flow_m3_per_s: event.pump_flow_m3_per_s,
            })
            .collect(),
        totals: &recording.totals,
    };
    let mut out = std::io::BufWriter::new(out);
    serde_json::to_writer(&mut out, &document)?;
    writeln!(out)?;
    Ok(out.flush()?)
}
