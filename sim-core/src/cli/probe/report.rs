//! A reading for people.

use std::io::Write;

use anyhow::Result;

use super::Probing;
use crate::cli::args::FaultArg;
use crate::cli::display::span;
use crate::instruments::{Breaker, Conditions, NoReading};
use crate::wiring::POINTS;

/// Shown with every reading where hands come near 50 V or more.
pub(super) const CAUTION: &str = "50 V or more are, or can at any moment be, where the hands \
     are.\nLive readings are for people trained to take them; local codes and licensed\n\
     practice decide.";

/// Writes the report.
pub(super) fn write(probing: &Probing<'_>, out: &mut dyn Write) -> Result<()> {
    let Probing { args, meter, .. } = probing;
    let faults: Vec<String> = args
        .conditions
        .faults
        .iter()
        .map(FaultArg::to_string)
        .collect();
    let faults = if faults.is_empty() {
        "no faults".to_owned()
    } else {
        format!("faults: {}", faults.join(", "))
    };
    writeln!(out, "{} ({})", probing.title, probing.site)?;
    writeln!(out, "{} after the start; {faults}", span(args.at_s))?;
    writeln!(out)?;
    writeln!(out, "  {:<11}{}", "meter", meter.label())?;
    let ends = if args.to.is_some() {
        ["red", "black"]
    } else {
        ["conductor", "and"]
    };
    for (i, name) in probing.place.iter().enumerate() {
        let label = POINTS
            .iter()
            .find(|point| point.name == *name)
            .map_or("", |point| point.label);
        writeln!(out, "  {:<11}{name} ({label})", ends[i.min(1)])?;
    }
    match &probing.answer {
        Ok(reading) => {
            writeln!(out, "  {:<11}{}", "reading", reading.figure)?;
            for figure in &reading.also {
                writeln!(out, "  {:<11}{figure}", "")?;
            }
        }
        Err(NoReading::UnsafeToMeasure { hazard }) => {
            writeln!(
                out,
                "  {:<11}none: not to be measured as things stand",
                "reading"
            )?;
            writeln!(out, "  {:<11}{:.0} V in the way", "why", hazard.volt)?;
            writeln!(out, "  {:<11}{}", "", hazard.what_happens)?;
            if let Some(harm) = hazard.to_person {
                writeln!(out, "  {:<11}{harm}", "to you")?;
            }
            if let Some(harm) = hazard.to_meter {
                writeln!(out, "  {:<11}{harm}", "to meter")?;
            }
            writeln!(
                out,
                "  {:<11}switch off, lock out, prove dead, then measure",
                "instead"
            )?;
        }
        Err(why @ NoReading::OverRange { .. }) => writeln!(out, "  {:<11}{why}", "reading")?,
        Err(why) => writeln!(out, "  {:<11}none: {why}", "reading")?,
    }
    writeln!(
        out,
        "  {:<11}{}",
        "while",
        circumstances(&probing.conditions)
    )?;
    if may_be_live(probing) {
        writeln!(out, "\n{CAUTION}")?;
    }
    Ok(())
}

/// Whether hands come near 50 V or more.
pub(super) fn may_be_live(probing: &Probing<'_>) -> bool {
    match &probing.answer {
        Ok(reading) => reading.conditions.may_be_live,
        Err(NoReading::UnsafeToMeasure { .. }) => true,
        Err(_) => probing.conditions.breaker == Breaker::On,
    }
}

fn circumstances(conditions: &Conditions) -> String {
    let breaker = match conditions.breaker {
        Breaker::On => "breaker on",
        Breaker::Off => "breaker off",
        Breaker::Tripped => "breaker tripped",
    };
    let contacts = if conditions.contacts_closed {
        "contacts closed"
    } else {
        "contacts open"
    };
    let pump = if conditions.pump_running {
        "motor powered"
    } else {
        "motor without power"
    };
    let leads = if conditions.leads_off {
        ", conductors apart in the splice box"
    } else {
        ""
    };
    let tick = conditions.tick.0;
    format!("{breaker}, {contacts}, {pump}{leads}; tick {tick}")
}
