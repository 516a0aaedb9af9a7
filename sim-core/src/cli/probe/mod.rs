//! `shortcycle probe`: run a site up to a time, put a meter on its circuit, tell what it
//! shows.

mod json;
mod report;
#[cfg(test)]
mod tests;

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Result, bail};

use super::args::{BreakerArg, Format, MeterArg, ProbeArgs};
use super::progress::Progress;
use super::wiring::{Engine, Plant, TraceRun, run_plant};
use super::{FAILED, sites, trace};
use crate::instruments::{Bench, Breaker, Conditions, Meter, NoReading, Reading};
use crate::plant::Command;

/// Longest time between the samples that a run to the reading keeps [s].
const INTERVAL_S: f64 = 3_600.0;

/// One reading asked for, and what came of it.
pub(super) struct Probing<'a> {
    args: &'a ProbeArgs,
    site: &'a str,
    title: &'a str,
    meter: Meter,
    /// Red and black probe, or the conductors in the jaws.
    place: Vec<&'a str>,
    conditions: Conditions,
    answer: Result<Reading, NoReading>,
}

/// Runs the subcommand.
pub(super) fn run(args: &ProbeArgs, out: &mut dyn Write) -> Result<ExitCode> {
    let (meter, place) = place(args)?;
    let site_text = sites::find(&args.site)?;
    let site = Plant.read_site(&site_text.file, &site_text.text)?;
    let demand = trace::schedule(&args.conditions.demand, args.at_s, &site.house.fixtures)?;
    let progress = Progress::new(args.at_s);
    let (mut plant, _) = run_plant(
        &TraceRun {
            site: &site,
            faults: &args.conditions.faults,
            start: args.conditions.start,
            demand: &demand,
            duration_s: args.at_s,
            interval_s: INTERVAL_S,
        },
        &mut |share| progress.set(share),
    )?;
    drop(progress);
    if let Some(breaker) = args.breaker {
        plant.apply(Command::SetBreaker(breaker == BreakerArg::On))?;
        plant.advance_to(plant.now())?;
    }
    let mut bench = Bench::of(&plant, args.seed)?;
    if args.leads_off {
        if bench.conditions().breaker == Breaker::On {
            bail!("--leads-off: nobody takes a live joint apart; add --breaker off");
        }
        bench = bench.with_leads_off()?;
    }
    let answer = match meter {
        Meter::Volts => bench.volts(place[0], place[1]),
        Meter::LowImpedanceVolts => bench.low_impedance_volts(place[0], place[1]),
        Meter::Clamp | Meter::Inrush => bench.clamp(&place),
        Meter::Ohms => bench.ohms(place[0], place[1]),
        Meter::Insulation => bench.insulation(place[0], place[1]),
        Meter::Capacitance => bench.capacitance(place[0], place[1]),
        Meter::Power => bench.power(place[0]),
        other => bail!("--meter: the {} is not put on a circuit", other.label()),
    };
    match &answer {
        // A slip in the command, not something that a meter shows.
        Err(slip @ NoReading::NoSuchPoint { name, .. }) => {
            let is_to = args.to.as_deref() == Some(name);
            bail!("{}: {slip}", if is_to { "--to" } else { "--from" });
        }
        Err(broken @ NoReading::NoAnswer { .. }) => bail!("{broken}"),
        Ok(_) | Err(_) => {}
    }
    let probing = Probing {
        args,
        site: &site.name,
        title: &site.title,
        meter,
        place,
        conditions: *bench.conditions(),
        answer,
    };
    match args.format {
        Format::Text => report::write(&probing, out)?,
        Format::Json => json::write(&probing, out)?,
    }
    Ok(match probing.answer {
        // What a display shows is an answer, OL included.
        Ok(_) | Err(NoReading::OverRange { .. }) => ExitCode::SUCCESS,
        Err(_) => ExitCode::from(FAILED),
    })
}

/// The meter, and where it is put.
fn place(args: &ProbeArgs) -> Result<(Meter, Vec<&str>)> {
    let meter = match args.meter {
        MeterArg::Volts => Meter::Volts,
        MeterArg::LowImpedance => Meter::LowImpedanceVolts,
        MeterArg::Clamp => Meter::Clamp,
        MeterArg::Ohms => Meter::Ohms,
        MeterArg::Insulation => Meter::Insulation,
        MeterArg::Capacitance => Meter::Capacitance,
        MeterArg::Watts => Meter::Power,
    };
    let takes_conductor = matches!(meter, Meter::Clamp | Meter::Power);
    let place = match (&args.to, takes_conductor) {
        (Some(_), true) => bail!("--to: clamp and watts take the conductor at --from alone"),
        (None, true) => args.from.split(',').map(str::trim).collect(),
        (Some(to), false) => vec![args.from.as_str(), to.as_str()],
        (None, false) => bail!("--to: this meter has two probes; give the black one's point too"),
    };
    if meter == Meter::Power && place.len() > 1 {
        bail!("--from: watts are read in one conductor");
    }
    Ok((meter, place))
}
