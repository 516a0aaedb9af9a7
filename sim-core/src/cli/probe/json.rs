//! A reading as JSON, SI units; the form is described in `docs/probe-output.md`.

use std::io::Write;

use anyhow::Result;
use serde::Serialize;

use super::{Probing, report};
use crate::cli::args::FaultArg;
use crate::instruments::{Breaker, Figure, Meter, MeterQuantity, NoReading};

/// Version of the form.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: &'static str,
    version: u32,
    site: &'a str,
    at_s: f64,
    tick: u64,
    faults: Vec<String>,
    seed: u64,
    meter: &'static str,
    place: &'a [&'a str],
    reading: Option<Vec<FigureRow>>,
    no_reading: Option<NoReadingRow>,
    conditions: ConditionsRow,
    may_be_live: bool,
}

#[derive(Serialize)]
struct FigureRow {
    quantity: &'static str,
    unit: &'static str,
    value: f64,
    display: String,
    range: f64,
    resolution: f64,
    accuracy_percent: f64,
    accuracy_digits: f64,
}

#[derive(Serialize)]
struct NoReadingRow {
    reason: &'static str,
    message: String,
    volt: Option<f64>,
    harm_to_person: Option<&'static str>,
    harm_to_meter: Option<&'static str>,
}

#[derive(Serialize)]
struct ConditionsRow {
    breaker: &'static str,
    contacts_closed: bool,
    motor_powered: bool,
    leads_off: bool,
}

impl From<&Figure> for FigureRow {
    fn from(figure: &Figure) -> Self {
        Self {
            quantity: match figure.quantity {
                MeterQuantity::Voltage => "voltage",
                MeterQuantity::Current => "current",
                MeterQuantity::Resistance => "resistance",
                MeterQuantity::Capacitance => "capacitance",
                MeterQuantity::Power => "power",
                MeterQuantity::ApparentPower => "apparent_power",
                MeterQuantity::PowerFactor => "power_factor",
                MeterQuantity::Pressure => "pressure",
                MeterQuantity::Flow => "flow",
                MeterQuantity::Level => "level",
                MeterQuantity::Temperature => "temperature",
                MeterQuantity::Time => "time",
            },
            unit: match figure.quantity.unit() {
                "Ω" => "ohm",
                "" => "1",
                unit => unit,
            },
            value: figure.value,
            display: figure.display(),
            range: figure.range,
            resolution: figure.resolution,
            accuracy_percent: figure.accuracy.percent,
            accuracy_digits: figure.accuracy.digits,
        }
    }
}

impl From<&NoReading> for NoReadingRow {
    fn from(why: &NoReading) -> Self {
        let hazard = match why {
            NoReading::UnsafeToMeasure { hazard } => Some(hazard),
            NoReading::NoSuchPoint { .. }
            | NoReading::NotConnected { .. }
            | NoReading::PoweredOff { .. }
            | NoReading::OverRange { .. }
            | NoReading::Hidden { .. }
            | NoReading::NoAnswer { .. } => None,
        };
        Self {
            reason: match why {
                NoReading::NoSuchPoint { .. } => "no_such_point",
                NoReading::NotConnected { .. } => "not_connected",
                NoReading::PoweredOff { .. } => "powered_off",
                NoReading::OverRange { .. } => "over_range",
                NoReading::Hidden { .. } => "hidden",
                NoReading::UnsafeToMeasure { .. } => "unsafe_to_measure",
                NoReading::NoAnswer { .. } => "no_answer",
            },
            message: why.to_string(),
            volt: hazard.map(|hazard| hazard.volt.round()),
            harm_to_person: hazard.and_then(|hazard| hazard.to_person),
            harm_to_meter: hazard.and_then(|hazard| hazard.to_meter),
        }
    }
}

/// Writes the document and a line end.
pub(super) fn write(probing: &Probing<'_>, out: &mut dyn Write) -> Result<()> {
    let conditions = &probing.conditions;
    let document = Document {
        format: "shortcycle-probe",
        version: VERSION,
        site: probing.site,
        at_s: conditions.tick.seconds(),
        tick: conditions.tick.0,
        faults: probing
            .args
            .conditions
            .faults
            .iter()
            .map(FaultArg::to_string)
            .collect(),
        seed: probing.args.seed,
        meter: match probing.meter {
            Meter::Volts => "volts",
            Meter::LowImpedanceVolts => "low-impedance",
            Meter::Clamp => "clamp",
            Meter::Inrush => "inrush",
            Meter::Ohms => "ohms",
            Meter::Insulation => "insulation",
            Meter::Capacitance => "capacitance",
            Meter::Power => "watts",
            other => other.label(),
        },
        place: &probing.place,
        reading: probing.answer.as_ref().ok().map(|reading| {
            let figures = std::iter::once(&reading.figure).chain(&reading.also);
            figures.map(FigureRow::from).collect()
        }),
        no_reading: probing.answer.as_ref().err().map(NoReadingRow::from),
        conditions: ConditionsRow {
            breaker: match conditions.breaker {
                Breaker::On => "on",
                Breaker::Off => "off",
                Breaker::Tripped => "tripped",
            },
            contacts_closed: conditions.contacts_closed,
            motor_powered: conditions.pump_running,
            leads_off: conditions.leads_off,
        },
        may_be_live: report::may_be_live(probing),
    };
    serde_json::to_writer_pretty(&mut *out, &document)?;
    Ok(writeln!(out)?)
}
