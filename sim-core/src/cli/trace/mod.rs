//! `shortcycle trace`: run a site for a while and write down what happened.

mod csv;
mod json;
mod report;

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use anyhow::{Context, Result, bail};

use super::args::{DemandArg, FaultArg, Format, PlotFile, StartArg, TraceArgs};
use super::display::{fixed, interval, span};
use super::plot;
use super::progress::Progress;
use super::sites;
use super::wiring::{Engine, TraceRun};
use crate::demand::{self, DemandSchedule, Household, household};
use crate::parts::FixtureSpec;
use crate::trace::{CHANNELS, Channel};

/// Most samples in one recording; with every channel, about 350 MB.
const MAX_SAMPLES: f64 = 2_000_000.0;
/// Times between samples to choose from when none is asked for [s].
const INTERVALS_S: [f64; 11] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 60.0, 120.0, 300.0];
/// Samples that a chosen interval may come to.
const CHOSEN_SAMPLES: f64 = 300_000.0;

/// What was asked for, in words, for the heads of report and plot.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Settings {
    /// Length of the run [s].
    pub(super) duration_s: f64,
    /// Time between samples [s].
    pub(super) interval_s: f64,
    /// State at the start, one word.
    pub(super) start: &'static str,
    /// Demand as given on the command line.
    pub(super) demand: String,
    /// Demand in words.
    pub(super) demand_words: String,
    /// Faults as given on the command line.
    pub(super) faults: Vec<String>,
}

impl Settings {
    /// One line for people.
    pub(super) fn sentence(&self) -> String {
        let start = match self.start {
            "dry" => "from a dry line",
            "primed" => "from a primed line",
            _ => "from a charged line",
        };
        let demand = &self.demand_words;
        let faults = if self.faults.is_empty() {
            "no faults".to_owned()
        } else {
            format!("faults: {}", self.faults.join(", "))
        };
        let duration = span(self.duration_s);
        format!("{duration} {start}; {demand}; {faults}")
    }
}

/// Runs the subcommand.
pub(super) fn run<E: Engine>(
    engine: &E,
    args: &TraceArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<()> {
    check_together(args)?;
    let site_text = sites::find(&args.site)?;
    let site = engine.read_site(&site_text.file, &site_text.text)?;
    let demand = schedule(
        &args.conditions.demand,
        args.duration_s,
        engine.outlets(&site),
    )?;
    let settings = settings(args)?;
    let progress = Progress::new(args.duration_s);
    let recording = engine.run_trace(
        &TraceRun {
            site: &site,
            faults: &args.conditions.faults,
            start: args.conditions.start,
            demand: &demand,
            duration_s: settings.duration_s,
            interval_s: settings.interval_s,
        },
        &mut |share| progress.set(share),
    )?;
    drop(progress);

    let channels = channels(args);
    if let Some(path) = &args.csv {
        if path == Path::new("-") {
            return csv::write(&recording, &channels, args.units, out);
        }
        let written = File::create(path)
            .map_err(anyhow::Error::from)
            .and_then(|file| {
                let mut file = BufWriter::new(file);
                csv::write(&recording, &channels, args.units, &mut file)?;
                Ok(file.flush()?)
            });
        written.with_context(|| format!("--csv: cannot write {}", path.display()))?;
        let n_samples = recording.samples.len();
        writeln!(err, "wrote {} ({n_samples} samples)", path.display())?;
    }
    if let Some(file) = &args.plot {
        let figure = plot::figure(&recording, &settings.sentence(), args.units);
        let (path, bytes) = match file {
            PlotFile::Svg(path) => (path, plot::svg(&figure)?.into_bytes()),
            PlotFile::Png(path) => (path, plot::png(&figure)?),
        };
        std::fs::write(path, bytes)
            .with_context(|| format!("--plot: cannot write {}", path.display()))?;
        writeln!(err, "wrote {}", path.display())?;
    }
    match args.format {
        Format::Text => report::write(&recording, &settings, args.units, out),
        Format::Json => json::write(&recording, &settings, &channels, out),
    }
}

/// What no single flag can tell.
fn check_together(args: &TraceArgs) -> Result<()> {
    let csv_to_stdout = args.csv.as_deref() == Some(Path::new("-"));
    if csv_to_stdout && args.format == Format::Json {
        bail!("--csv - and --format json both want standard output; give --csv a file");
    }
    if !args.channels.is_empty() && args.csv.is_none() && args.format == Format::Text {
        bail!("--channels picks columns of --csv or --format json; give one of them");
    }
    Ok(())
}

fn settings(args: &TraceArgs) -> Result<Settings> {
    let interval_s = args.interval_s.unwrap_or_else(|| {
        INTERVALS_S
            .into_iter()
            .find(|interval_s| args.duration_s / interval_s <= CHOSEN_SAMPLES)
            .unwrap_or(INTERVALS_S[INTERVALS_S.len() - 1])
    });
    if args.duration_s / interval_s > MAX_SAMPLES {
        bail!(
            "--every {} over --for {} makes more than {} samples; give a longer --every",
            interval(interval_s),
            span(args.duration_s),
            fixed(MAX_SAMPLES, 0)
        );
    }
    let (demand, demand_words) = match &args.conditions.demand {
        DemandArg::None => ("none".to_owned(), "nothing drawn".to_owned()),
        DemandArg::File(path) => {
            let file = path.display().to_string();
            let words = format!("draws from {file}");
            (file, words)
        }
        DemandArg::Household {
            seed,
            draws_per_day,
        } => (
            format!("household:{seed}:{draws_per_day}"),
            format!("household {seed}, {draws_per_day} draws a day"),
        ),
    };
    Ok(Settings {
        duration_s: args.duration_s,
        interval_s,
        start: match args.conditions.start {
            StartArg::Dry => "dry",
            StartArg::Primed => "primed",
            StartArg::Charged => "charged",
        },
        demand,
        demand_words,
        faults: args
            .conditions
            .faults
            .iter()
            .map(FaultArg::to_string)
            .collect(),
    })
}

/// The draws that a demand means over so many seconds.
pub(super) fn schedule(
    demand: &DemandArg,
    duration_s: f64,
    outlets: &[FixtureSpec],
) -> Result<DemandSchedule> {
    match demand {
        DemandArg::None => Ok(DemandSchedule::none()),
        DemandArg::Household {
            seed,
            draws_per_day,
        } => {
            let request = Household {
                seed: *seed,
                draws_per_day: *draws_per_day,
                days: duration_s / 86_400.0,
            };
            Ok(household(&request, outlets))
        }
        DemandArg::File(path) => {
            let name = path.display().to_string();
            let bytes = sites::read_at_most(path, demand::MAX_BYTES as u64)
                .with_context(|| format!("--demand: cannot read {name}"))?;
            Ok(demand::from_csv(&name, &bytes, outlets)?)
        }
    }
}

fn channels(args: &TraceArgs) -> Vec<&'static Channel> {
    if args.channels.is_empty() {
        CHANNELS.iter().collect()
    } else {
        args.channels.clone()
    }
}
