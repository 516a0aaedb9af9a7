//! What can be said on the command line.

use std::fmt;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use serde::{Deserialize, Serialize};

use super::display::Units;
use crate::demand::seconds_from_text;
use crate::faults::Fault;
use crate::suggest;
use crate::trace::{CHANNELS, Channel};

/// Longest run [s]: two years of 366 days.
const LONGEST_RUN_S: f64 = 732.0 * 86_400.0;
/// Shortest time between samples [s]: one tick of the plant.
const SHORTEST_INTERVAL_S: f64 = 0.02;
/// Most draws a day that the generator is asked for.
const MOST_DRAWS_PER_DAY: f64 = 2_000.0;

/// Small off-mains water systems, simulated for practice: cistern or well, pump,
/// pressure switch and bladder tank.
#[derive(Debug, Parser)]
#[command(name = "shortcycle", version, max_term_width = 80)]
#[command(subcommand_required = true, arg_required_else_help = true)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// List the scenarios and sites that come with the program.
    List(ListArgs),
    /// Run a site for a while and tell what happened: events and totals, and on
    /// request a table or a plot of every reading.
    Trace(TraceArgs),
    /// Run a site up to a time and put a meter on the pump's circuit: one reading, or
    /// why there is none.
    Probe(ProbeArgs),
    /// Practise a visit to a site in plain words: look, listen, measure, repair, prove.
    Practice(PracticeArgs),
    /// Tell what is installed at a site and where a probe can touch its wiring.
    Site(SiteArgs),
    /// List the faults that are known, or tell all about one: what happens, what shows,
    /// what it is mistaken for, what is done and what proves it.
    Faults(FaultsArgs),
    /// Mark a logbook or a folder of them: a table, marks.csv and a debrief page each.
    Mark(MarkArgs),
    /// Tell what one visit was worth and why.
    Debrief(DebriefArgs),
    /// Try out a scenario before it is handed out: can it be solved with its kit, in what
    /// time, what looks alike to the end, and does nothing wrong pay.
    Vet(VetArgs),
    /// Tell what is likely wrong at a system from what was read there, and what to read
    /// next.
    Advise(AdviseArgs),
    /// Try many settings and sizes of a site over days or years of use, and recommend one.
    Study(StudyArgs),
}

#[derive(Debug, Args)]
pub(super) struct ListArgs {
    /// Form of the answer
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

#[derive(Debug, Args)]
pub(super) struct TraceArgs {
    /// A site that comes with the program, by name, or the path of a site file
    #[arg(value_name = "SITE")]
    pub(super) site: String,

    /// How long to run: 90s, 10min, 2h, 30d or h:mm:ss
    #[arg(long = "for", value_name = "TIME", default_value = "10min", value_parser = run_length)]
    pub(super) duration_s: f64,

    #[command(flatten)]
    pub(super) conditions: ConditionArgs,

    /// Write every sample to this CSV file; - writes it to standard output in place of
    /// the report
    #[arg(long, value_name = "FILE")]
    pub(super) csv: Option<PathBuf>,

    /// Draw the run to this file; its ending, .svg or .png, tells how
    #[arg(long, value_name = "FILE", value_parser = plot_file)]
    pub(super) plot: Option<PlotFile>,

    /// Which channels go to CSV or JSON, in which order, separated by commas
    #[arg(long, value_name = "LIST", value_delimiter = ',', value_parser = channel)]
    pub(super) channels: Vec<&'static Channel>,

    /// Units in report, CSV and plot (JSON is SI always)
    #[arg(long, value_name = "UNITS", default_value = "us")]
    pub(super) units: Units,

    /// Form of the report on standard output
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,

    /// Time between samples; if not given, fine enough for the length of the run
    #[arg(long = "every", value_name = "TIME", value_parser = interval)]
    pub(super) interval_s: Option<f64>,
}

#[derive(Debug, Args)]
pub(super) struct ProbeArgs {
    /// A site that comes with the program, by name, or the path of a site file
    #[arg(value_name = "SITE")]
    pub(super) site: String,

    /// When to read, from the start: 90s, 10min, 2h, 30d or h:mm:ss
    #[arg(long = "at", value_name = "TIME", default_value = "0s", value_parser = instant)]
    pub(super) at_s: f64,

    /// Instrument and function
    #[arg(long, value_name = "METER")]
    pub(super) meter: MeterArg,

    /// Point of the red probe, as `shortcycle site` lists them; for clamp and watts the
    /// conductor at that point (clamp: several, joined by commas, are in the jaws together)
    #[arg(long, value_name = "POINT")]
    pub(super) from: String,

    /// Point of the black probe; not for clamp and watts
    #[arg(long, value_name = "POINT")]
    pub(super) to: Option<String>,

    /// Switch the breaker by hand just before the reading
    #[arg(long, value_name = "POSITION")]
    pub(super) breaker: Option<BreakerArg>,

    /// Take the conductors apart in the splice box before the reading; the breaker must
    /// be off for that
    #[arg(long)]
    pub(super) leads_off: bool,

    /// Seed of the meter's last digits
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,

    #[command(flatten)]
    pub(super) conditions: ConditionArgs,

    /// Form of the answer; json is described in docs/probe-output.md
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

/// Under what the plant runs, whatever is then done with it.
#[derive(Debug, Args)]
pub(super) struct ConditionArgs {
    /// What the house draws: none, a CSV file of draws, or household:SEED, a made-up
    /// household from six in the morning, about 60 draws a day; household:SEED:DRAWS for
    /// another number a day
    #[arg(long, value_name = "DEMAND", default_value = "none", value_parser = demand)]
    pub(super) demand: DemandArg,

    /// A fault by part and mechanism, with how bad it is in the fault's own unit; may be
    /// repeated
    #[arg(long = "fault", value_name = "PART.FAULT[=SEVERITY]", value_parser = fault)]
    pub(super) faults: Vec<FaultArg>,

    /// What is in the pipes at the start
    #[arg(long, value_name = "STATE", default_value = "charged")]
    pub(super) start: StartArg,
}

#[derive(Debug, Args)]
pub(super) struct SiteArgs {
    /// A site that comes with the program, by name, or the path of a site file
    #[arg(value_name = "SITE")]
    pub(super) site: String,

    /// Form of the answer
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,

    /// Draw the wiring to this file; its ending, .svg or .png, tells how
    #[arg(long, value_name = "FILE", value_parser = plot_file)]
    pub(super) diagram: Option<PlotFile>,
}

#[derive(Debug, Args)]
pub(super) struct PracticeArgs {
    /// A scenario that comes with the program, by name, or the path of a scenario file;
    /// first-steps if not given
    #[arg(value_name = "SCENARIO")]
    pub(super) scenario: Option<String>,

    /// Seed of what is hidden and of the instruments' last digits
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,

    /// One try: no hints, no undo
    #[arg(long)]
    pub(super) graded: bool,

    /// Take lines from this file and show them as they are taken
    #[arg(long, value_name = "FILE")]
    pub(super) script: Option<PathBuf>,

    /// Keep the logbook in this file, which must not exist; if not given, in
    /// logbooks/SCENARIO-SEED-NUMBER.jsonl
    #[arg(long, value_name = "FILE", conflicts_with = "resume")]
    pub(super) log: Option<PathBuf>,

    /// Practise even where no logbook can be written (not when graded)
    #[arg(long, conflicts_with_all = ["graded", "resume"])]
    pub(super) no_log: bool,

    /// Go on with this logbook
    #[arg(long, value_name = "FILE", conflicts_with_all = ["seed", "graded", "person"])]
    pub(super) resume: Option<PathBuf>,

    /// Only tell what the scenario is about and how to begin; nothing is done or written
    #[arg(long, conflicts_with_all = ["script", "log", "resume"])]
    pub(super) introduce: bool,

    /// Name to write into the logbook
    #[arg(
        long,
        value_name = "NAME",
        default_value = "",
        hide_default_value = true
    )]
    pub(super) person: String,

    /// Units to show; may be changed at any time
    #[arg(long, value_name = "UNITS", default_value = "us")]
    pub(super) units: Units,
}

#[derive(Debug, Args)]
pub(super) struct FaultsArgs {
    /// A fault such as check_valve.weeping, or a part such as check_valve; without one,
    /// all are listed
    #[arg(value_name = "NAME")]
    pub(super) name: Option<String>,

    /// Units of severities (JSON is SI always)
    #[arg(long, value_name = "UNITS", default_value = "us")]
    pub(super) units: Units,

    /// Form of the answer; json is described in docs/faults.md
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

#[derive(Debug, Args)]
pub(super) struct MarkArgs {
    /// A logbook, or a folder of logbooks that end in .jsonl or .log
    #[arg(value_name = "PATH")]
    pub(super) path: PathBuf,

    /// Folder of the scenarios, in place of those that come with the program
    #[arg(long, value_name = "DIR")]
    pub(super) scenarios: Option<PathBuf>,

    /// Folder for marks.csv and the pages; if not given, debrief beside the logbooks
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,

    /// Form of the table on standard output
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: TableFormat,
}

#[derive(Debug, Args)]
pub(super) struct DebriefArgs {
    /// A logbook
    #[arg(value_name = "LOGBOOK")]
    pub(super) logbook: PathBuf,

    /// Folder of the scenarios, in place of those that come with the program
    #[arg(long, value_name = "DIR")]
    pub(super) scenarios: Option<PathBuf>,

    /// Write the debrief as a page to this file as well
    #[arg(long, value_name = "FILE")]
    pub(super) html: Option<PathBuf>,

    /// Tell as well what each reading was worth and which would have told most; takes a
    /// while
    #[arg(long)]
    pub(super) worth: bool,

    /// Form of the debrief on standard output; json is described in docs/marking.md
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

#[derive(Debug, Args)]
pub(super) struct VetArgs {
    /// A scenario that comes with the program, by name, or the path of a scenario file
    #[arg(value_name = "SCENARIO")]
    pub(super) scenario: String,

    /// Only what this seed hides; if not given, one seed for each entry of the pool
    #[arg(long, value_name = "N")]
    pub(super) seed: Option<u64>,

    /// Form of the answer; json is described in docs/trainers-guide.md
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

#[derive(Debug, Args)]
pub(super) struct AdviseArgs {
    /// A site or scenario that comes with the program, by name, or the path of a site or
    /// scenario file; with a site every tool is taken to be at hand
    #[arg(value_name = "SITE_OR_SCENARIO")]
    pub(super) case: String,

    /// What was done and read so far: a logbook of practice, or a file of readings as
    /// docs/troubleshooter.md describes it
    #[arg(long, value_name = "FILE")]
    pub(super) log: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct StudyArgs {
    /// A study that comes with the program, by name, or the path of a study file, described
    /// in docs/study-format.md
    #[arg(value_name = "STUDY", conflicts_with = "merge")]
    pub(super) study: Option<String>,

    /// Folder for results, table, plots and report; a setting that is finished is kept there
    /// whatever happens
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,

    /// Settings lived through at the same time; if not given, as many as the machine offers
    #[arg(long, value_name = "N", value_parser = threads)]
    pub(super) threads: Option<usize>,

    /// Only part K of N of the settings, for machines that share the work
    #[arg(long, value_name = "K/N", value_parser = shard)]
    pub(super) shard: Option<Shard>,

    /// Go on with what is in the folder of --out
    #[arg(long)]
    pub(super) resume: bool,

    /// Put the folders of all shards together
    #[arg(
        long,
        value_name = "DIR",
        num_args = 1..,
        conflicts_with_all = ["resume", "shard", "threads"]
    )]
    pub(super) merge: Vec<PathBuf>,

    /// Units of table and plots (the report has both, CSV and JSON are SI)
    #[arg(long, value_name = "UNITS", default_value = "us")]
    pub(super) units: Units,

    /// Form of the answer; json is described in docs/study-format.md
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(super) format: Format,
}

/// Part `number` of `of`, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Shard {
    pub(super) number: usize,
    pub(super) of: usize,
}

impl Default for Shard {
    /// All of it.
    fn default() -> Self {
        Self { number: 1, of: 1 }
    }
}

/// Instrument and function.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum MeterArg {
    /// Volts at 10 MΩ: ghosts show
    Volts,
    /// Volts at about 3 kΩ: ghosts vanish
    LowImpedance,
    /// Amperes of what is in the jaws
    Clamp,
    /// Ohms, on a dead circuit
    Ohms,
    /// Insulation at 500 V, on a dead circuit
    Insulation,
    /// Capacitance, on a dead circuit
    Capacitance,
    /// Watts, volt-amperes and power factor
    Watts,
}

/// Position of the breaker.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum BreakerArg {
    /// Switched on
    On,
    /// Switched off
    Off,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum DemandArg {
    None,
    File(PathBuf),
    Household { seed: u64, draws_per_day: f64 },
}

/// A fault as asked for, with the text that asked for it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FaultArg {
    pub(super) text: String,
    pub(super) fault: Fault,
}

impl fmt::Display for FaultArg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// What is in the pipes at the start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum StartArg {
    /// Air from source to taps, as on the day of the first start
    Dry,
    /// Water up to the wall, tank empty
    Primed,
    /// Water everywhere, tank at cut-out
    Charged,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people
    Text,
    /// For programs, SI units; described in docs
    Json,
}

/// Form of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum TableFormat {
    /// For people
    Text,
    /// For programs, SI units; described in docs
    Json,
    /// For spreadsheets
    Csv,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum PlotFile {
    Svg(PathBuf),
    Png(PathBuf),
}

fn run_length(text: &str) -> Result<f64, String> {
    time_between(text, SHORTEST_INTERVAL_S, LONGEST_RUN_S, "0.02s and 732d")
}

fn instant(text: &str) -> Result<f64, String> {
    time_between(text, 0.0, LONGEST_RUN_S, "0s and 732d")
}

fn interval(text: &str) -> Result<f64, String> {
    time_between(text, SHORTEST_INTERVAL_S, 86_400.0, "0.02s and 1d")
}

fn time_between(text: &str, least_s: f64, most_s: f64, range: &str) -> Result<f64, String> {
    let seconds = seconds_from_text(text).map_err(|error| error.to_string())?;
    if seconds < least_s || seconds > most_s {
        return Err(format!("accepted is a time between {range}"));
    }
    Ok(seconds)
}

fn demand(text: &str) -> Result<DemandArg, String> {
    const ACCEPTED: &str = "accepted: none, a CSV file, household:SEED or household:SEED:DRAWS \
                            with a whole number as seed and up to 2000 draws a day";
    let mut parts = text.split(':');
    match parts.next() {
        Some("none") if text == "none" => Ok(DemandArg::None),
        Some("household") => {
            let seed = parts.next().and_then(|seed| seed.parse().ok());
            let draws_per_day = parts
                .next()
                .map_or(Ok(60.0), str::parse)
                .ok()
                .filter(|&draws: &f64| draws > 0.0 && draws <= MOST_DRAWS_PER_DAY);
            match (seed, draws_per_day, parts.next()) {
                (Some(seed), Some(draws_per_day), None) => Ok(DemandArg::Household {
                    seed,
                    draws_per_day,
                }),
                _ => Err(ACCEPTED.to_owned()),
            }
        }
        _ if text.is_empty() => Err(ACCEPTED.to_owned()),
        _ => Ok(DemandArg::File(PathBuf::from(text))),
    }
}

fn fault(text: &str) -> Result<FaultArg, String> {
    Fault::parse(text)
        .map(|fault| FaultArg {
            text: text.to_owned(),
            fault,
        })
        .map_err(|error| error.to_string())
}

fn threads(text: &str) -> Result<usize, String> {
    const MOST_THREADS: usize = 1_024;
    text.parse()
        .ok()
        .filter(|n| (1..=MOST_THREADS).contains(n))
        .ok_or_else(|| format!("accepted: a whole number from 1 to {MOST_THREADS}"))
}

fn shard(text: &str) -> Result<Shard, String> {
    const MOST_SHARDS: usize = 10_000;
    let parts = text.split_once('/').and_then(|(number, of)| {
        let (number, of) = (number.trim().parse().ok()?, of.trim().parse().ok()?);
        let is_sound = (1..=MOST_SHARDS).contains(&of) && (1..=of).contains(&number);
        is_sound.then_some(Shard { number, of })
    });
    parts.ok_or_else(|| format!("accepted: K/N such as 2/8, K from 1 to N, N up to {MOST_SHARDS}"))
}

fn plot_file(text: &str) -> Result<PlotFile, String> {
    let path = PathBuf::from(text);
    match path.extension().and_then(|ending| ending.to_str()) {
        Some("svg") => Ok(PlotFile::Svg(path)),
        Some("png") => Ok(PlotFile::Png(path)),
        _ => Err("accepted endings: .svg, .png".to_owned()),
    }
}

fn channel(text: &str) -> Result<&'static Channel, String> {
    let name = text.trim();
    let names = || CHANNELS.iter().map(|channel| channel.name);
    CHANNELS
        .iter()
        .find(|channel| channel.name == name)
        .ok_or_else(|| {
            let hint = suggest::nearest(name, names())
                .map_or_else(String::new, |name| format!("did you mean `{name}`? "));
            let accepted: Vec<&str> = names().collect();
            format!("{hint}accepted: {}", accepted.join(", "))
        })
}
