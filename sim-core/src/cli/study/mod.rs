//! `shortcycle study`: how settings and sizes change pump starts, pressure and energy.
//!
//! Settings are lived through by as many threads as asked for and written in their order, so
//! that neither threads nor shards nor a stop in between change a byte of the results.

mod answer;
mod cost;
mod csv;
mod files;
mod html;
mod json;
mod merge;
mod parquet;
mod plots;
mod rows;
mod runner;
mod sheet;
mod store;
mod table;
#[cfg(test)]
mod tests;
mod words;

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result, bail};

use self::cost::{Cost, Watch};
use self::files::StudyText;
use self::rows::Rows;
use self::store::{Header, Store};
use super::args::{Format, Shard, StudyArgs};
use super::display::Units;
use super::progress::Progress;
use crate::study::{Figures, Ranking, Recommendation, Standing, Study, Trend, TrendFinder};

/// Exit code of a program ended by Ctrl-C.
const INTERRUPTED: i32 = 130;

/// A study with its rows and what they come to.
struct Done<'a> {
    study: &'a Study,
    rows: Rows,
    /// How each row stands to the limits.
    standings: Vec<Standing>,
    recommendation: Recommendation,
    /// What a single parameter does, where only one varies.
    trend: Option<Trend>,
}

impl<'a> Done<'a> {
    /// Reads the rows of a finished file once.
    fn of(study: &'a Study, store: Store) -> Result<Self> {
        let header = Header::of(study, Shard::default());
        let settings: Vec<usize> = header.own_settings().collect();
        let mut ranking = Ranking::new(study);
        let mut trend = TrendFinder::new(study);
        let rows = Rows::of(store, &header, &settings, &mut |row| {
            ranking.add(row);
            trend.add(row);
        })?;
        let (recommendation, standings) = ranking.finish();
        Ok(Self {
            study,
            rows,
            standings,
            recommendation,
            trend: trend.finish(),
        })
    }

    /// The figures of the row that stands first.
    fn first(&self) -> Result<Option<Figures>> {
        let Some(row) = self.recommendation.first() else {
            return Ok(None);
        };
        Ok(self.rows.get(row)?.figures().cloned())
    }
}

/// Runs the subcommand.
pub(super) fn run(args: &StudyArgs, out: &mut dyn Write, err: &mut dyn Write) -> Result<ExitCode> {
    check_together(args)?;
    let (text, study, store, cost) = if args.merge.is_empty() {
        let Some(name) = &args.study else {
            bail!("name a study to run, or folders to --merge");
        };
        let text = files::find(name)?;
        let study = text.parse()?;
        let Some((store, cost)) = run_settings(args, &text, &study, err)? else {
            return Ok(ExitCode::SUCCESS);
        };
        (text, study, store, Some(cost))
    } else {
        let (text, study, store) = merge::merged(&args.merge, args.out.as_deref())?;
        (text, study, store, None)
    };
    let done = Done::of(&study, store)?;
    if let Some(folder) = &args.out {
        write_reports(&done, &text, folder, args.units, err)?;
        if let Some(cost) = cost {
            writeln!(err, "{}", cost.told(&study))?;
        }
    }
    match args.format {
        Format::Text => table::write(&done, args.units, out)?,
        Format::Json => json::write(&done, args.units, out)?,
    }
    // A study without a setting that keeps its limits has an answer, but not a good one.
    Ok(match done.recommendation {
        Recommendation::Meets { .. } => ExitCode::SUCCESS,
        Recommendation::Nearest { .. } | Recommendation::Nothing => ExitCode::from(super::FAILED),
    })
}

fn check_together(args: &StudyArgs) -> Result<()> {
    if args.out.is_none() && args.resume {
        bail!("--resume goes on in a folder; name it with --out");
    }
    if args.out.is_none() && args.shard.is_some() {
        bail!("--shard writes its part into a folder; name it with --out");
    }
    Ok(())
}

/// Lives through the settings that were asked for; no file where they are only a part.
fn run_settings(
    args: &StudyArgs,
    text: &StudyText,
    study: &Study,
    err: &mut dyn Write,
) -> Result<Option<(Store, Cost)>> {
    let shard = args.shard.unwrap_or_default();
    let settings: Vec<usize> = (shard.number - 1..study.n_settings())
        .step_by(shard.of)
        .collect();
    let threads = args.threads.unwrap_or_else(runner::available_threads);
    let progress = Progress::counting();
    let header = Header::of(study, shard);
    let mut store = match &args.out {
        None => Store::unnamed(&header)?,
        Some(folder) if args.resume => Store::resume(folder, &header, &settings)?,
        Some(folder) => Store::create(folder, &header)?,
    };
    if let Some(folder) = &args.out {
        files::keep_inputs(text, study, folder)?;
        tell_when_interrupted(folder);
    }
    let n_kept = store.n_rows();
    let begun = Watch::start();
    runner::run(study, &settings[n_kept..], threads, &progress, &mut |row| {
        store.append(&row)
    })?;
    drop(progress);
    let cost = Cost {
        n_settings: settings.len() - n_kept,
        threads,
        took: begun.elapsed(),
    };
    let Some(folder) = &args.out else {
        return Ok(Some((store, cost)));
    };
    if shard.of > 1 {
        writeln!(
            err,
            "wrote shard {}/{} into {}: {} of {} settings; put shards together with \
             `shortcycle study --merge DIR...`",
            shard.number,
            shard.of,
            folder.display(),
            settings.len(),
            study.n_settings()
        )?;
        writeln!(err, "{}", cost.told(study))?;
        return Ok(None);
    }
    Ok(Some((store, cost)))
}

/// Says, when Ctrl-C ends the program, that nothing is lost.
fn tell_when_interrupted(folder: &Path) {
    let path = folder.display().to_string();
    // Where no handler can be set, the program ends without a word and loses as little.
    let _ = ctrlc::set_handler(move || {
        let _ = writeln!(
            std::io::stderr(),
            "\nStopped. Every setting that was finished is kept; the same command with --resume \
             goes on in {path}"
        );
        std::process::exit(INTERRUPTED);
    });
}

fn write_reports(
    done: &Done<'_>,
    text: &StudyText,
    folder: &Path,
    units: Units,
    err: &mut dyn Write,
) -> Result<()> {
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.join(name);
        std::fs::write(&path, bytes).with_context(|| format!("cannot write {}", path.display()))
    };
    let create = |name: &str| {
        let path = folder.join(name);
        std::fs::File::create(&path)
            .map(std::io::BufWriter::new)
            .with_context(|| format!("cannot write {}", path.display()))
    };
    csv::write(done, create("results.csv")?)?;
    parquet::write(done, create("results.parquet")?)?;
    let mut names = ["report.html", "results.csv", "results.parquet"]
        .map(str::to_owned)
        .to_vec();
    let mut pictures = Vec::new();
    for picture in plots::pictures(done, units)? {
        let svg = super::plot::svg(&picture.figure)?;
        write(&format!("{}.svg", picture.name), svg.as_bytes())?;
        let png = super::plot::png(&picture.figure)?;
        write(&format!("{}.png", picture.name), &png)?;
        names.push(format!("{}.svg and .png", picture.name));
        pictures.push((picture.caption, svg));
    }
    write(
        "report.html",
        html::html(done, text, &pictures, units)?.as_bytes(),
    )?;
    writeln!(err, "wrote into {}: {}", folder.display(), names.join(", "))?;
    Ok(())
}
