//! The study for people: the recommended setting and why, its limits, then all settings.

use std::io::Write;

use anyhow::Result;

use super::{Done, answer, words};
use crate::cli::display::Units;
use crate::cli::faults::text::wrap;
use crate::study::{Figures, Limit, Measure, Outcome, Recommendation, SettingRow, Standing, judge};

/// Columns of the screen.
const COLUMNS: usize = 100;
/// Most rows of the table; all are in the CSV file.
const MAX_ROWS: usize = 24;
/// Results in the table: name, head of two lines.
const MEASURES: [(&str, &str, &str); 7] = [
    ("starts_per_day_median", "starts", "/day"),
    ("starts_per_day_95", "95 %", "/day"),
    ("starts_per_hour_most", "most", "/hour"),
    ("run_median", "run", ""),
    ("short_runs", "short", ""),
    ("drawdown", "draw-", "down"),
    ("lowest_pressure", "lowest", ""),
];

/// Writes it.
pub(super) fn write(done: &Done<'_>, units: Units, out: &mut dyn Write) -> Result<()> {
    let study = done.study;
    writeln!(out, "{}\n", study.title)?;
    if !study.question.is_empty() {
        for line in wrap(&study.question, COLUMNS - 2) {
            writeln!(out, "  {line}")?;
        }
    }
    writeln!(out, "  {}\n", words::extent(study))?;
    match &done.recommendation {
        Recommendation::Meets { rows } => {
            headline(done, words::headline(study), rows[0], out)?;
            for line in wrap(&answer::reason(done).unwrap_or_default(), COLUMNS - 2) {
                writeln!(out, "  {line}")?;
            }
        }
        Recommendation::Nearest { rows } => {
            writeln!(out, "No setting meets these limits. The nearest:")?;
            for row in rows {
                headline(done, "  nearest", *row, out)?;
            }
        }
        Recommendation::Nothing => writeln!(out, "No setting could be lived through.")?,
    }
    for sentence in answer::sentences(done, units) {
        for line in wrap(&sentence, COLUMNS - 2) {
            writeln!(out, "  {line}")?;
        }
    }
    if let Some(figures) = done.first()? {
        limits(&study.limits, &figures, out)?;
        pressures(&figures, out)?;
        if figures.hand_overs > 0 {
            writeln!(
                out,
                "\n  The fast engine handed over to the plant {} times.",
                figures.hand_overs
            )?;
        }
    }
    writeln!(out)?;
    table(done, units, out)
}

/// One setting in a line or two.
fn headline(done: &Done<'_>, head: &str, row: usize, out: &mut dyn Write) -> Result<()> {
    let names = words::short_names(done.study);
    let values = done.study.values(row);
    let told: Vec<String> = names
        .iter()
        .zip(&values)
        .map(|(name, value)| format!("{name} {}", words::value_in_both(&value.text, value.si)))
        .collect();
    let line = format!("{head}: {}", told.join(", "));
    for (idx, line) in wrap(&line, COLUMNS - 4).iter().enumerate() {
        let indent = if idx == 0 { "" } else { "    " };
        writeln!(out, "{indent}{line}")?;
    }
    Ok(())
}

fn limits(limits: &[Limit], figures: &Figures, out: &mut dyn Write) -> Result<()> {
    if limits.is_empty() {
        writeln!(out, "\n  The study names no limits.")?;
        return Ok(());
    }
    writeln!(out, "\n  Limits")?;
    for (limit, kept) in limits.iter().zip(judge(limits, figures)) {
        let (found, verdict) = words::kept(limit, kept);
        let asked = words::limit(limit, Some(figures));
        let lead = if verdict == "missed" { "x" } else { " " };
        writeln!(out, "  {lead} {asked:<68} {verdict:>7}: {found}")?;
        if !limit.source.starts_with("common practice") {
            for line in wrap(&limit.source, COLUMNS - 8) {
                writeln!(out, "      {line}")?;
            }
        }
    }
    if limits
        .iter()
        .any(|l| l.source.starts_with("common practice"))
    {
        writeln!(
            out,
            "    Limits without a source named are common practice, no source."
        )?;
    }
    Ok(())
}

fn pressures(figures: &Figures, out: &mut dyn Write) -> Result<()> {
    let opened: Vec<_> = figures
        .fixtures
        .iter()
        .filter(|fixture| fixture.lowest_pa.is_some())
        .collect();
    if opened.is_empty() {
        return Ok(());
    }
    writeln!(
        out,
        "\n  Pressure before open outlets      lowest               median"
    )?;
    let of = crate::study::MeasureUnit::Pressure;
    for fixture in opened {
        writeln!(
            out,
            "    {:<30} {:<20} {}",
            fixture.name,
            words::measured_in_both(of, fixture.lowest_pa),
            words::measured_in_both(of, fixture.median_pa),
        )?;
    }
    Ok(())
}

/// A column: head of three lines and cells.
struct Column {
    head: [String; 3],
    cells: Vec<String>,
}

impl Column {
    fn width(&self) -> usize {
        let cells = self.head.iter().chain(&self.cells);
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    }
}

/// Every setting, best first, as many as fit; those that keep no limit after the others.
fn table(done: &Done<'_>, units: Units, out: &mut dyn Write) -> Result<()> {
    let order = order(done);
    let shown = &order[..order.len().min(MAX_ROWS)];
    let rows: Vec<SettingRow> = shown
        .iter()
        .map(|row| done.rows.get(*row))
        .collect::<Result<_>>()?;
    let mut columns = vec![Column {
        head: [String::new(), "no.".to_owned(), String::new()],
        cells: shown
            .iter()
            .map(|row| format!("{} {row:>2}", mark(done, *row)))
            .collect(),
    }];
    columns.extend(parameters(done, shown));
    let measures: Vec<Column> = MEASURES
        .iter()
        .map(|(name, head, below)| measure(words::measure(name), (head, below), &rows, units))
        .collect();
    let width = |columns: &[Column]| columns.iter().map(|c| c.width() + 2).sum::<usize>();
    // Where parameters leave too little room, the last of them stand in the CSV file only.
    while columns.len() > 2 && width(&columns) + width(&measures) > COLUMNS {
        columns.pop();
    }
    let mut all = columns;
    for measure in measures {
        if measure.cells.iter().all(|cell| cell == words::NONE) {
            continue;
        }
        if width(&all) + measure.width() + 2 <= COLUMNS {
            all.push(measure);
        }
    }
    for line in 0..3 {
        let cells: Vec<String> = all
            .iter()
            .map(|column| format!("{:>w$}", column.head[line], w = column.width()))
            .collect();
        writeln!(out, "{}", cells.join("  ").trim_end())?;
    }
    for idx in 0..shown.len() {
        let cells: Vec<String> = all
            .iter()
            .map(|column| format!("{:>w$}", column.cells[idx], w = column.width()))
            .collect();
        writeln!(out, "{}", cells.join("  ").trim_end())?;
    }
    writeln!(
        out,
        "\n  * {}, + keeps every limit, x misses one, ! cannot be built or followed",
        words::headline(done.study).to_lowercase()
    )?;
    if order.len() > shown.len() {
        writeln!(
            out,
            "  {} more settings; --out DIR writes all of them to results.csv",
            order.len() - shown.len()
        )?;
    }
    let is_refused = |standing: &Standing| *standing == Standing::Refused;
    if let Some(row) = done.standings.iter().position(is_refused)
        && let Outcome::Refused(why) = done.rows.get(row)?.outcome
    {
        for line in wrap(&format!("setting {row}: {why}"), COLUMNS - 4) {
            writeln!(out, "  ! {line}")?;
        }
    }
    Ok(())
}

/// Rows as the table has them: recommended ones in their order, then the others as they are
/// numbered, then those that came to nothing.
pub(super) fn order(done: &Done<'_>) -> Vec<usize> {
    let (Recommendation::Meets { rows } | Recommendation::Nearest { rows }) = &done.recommendation
    else {
        return (0..done.rows.len()).collect();
    };
    let mut is_in = vec![false; done.rows.len()];
    for row in rows {
        is_in[*row] = true;
    }
    let rest = |has_figures: bool| {
        let is_in = &is_in;
        (0..done.rows.len()).filter(move |row| {
            let was_lived = done.standings[*row] != Standing::Refused;
            !is_in[*row] && was_lived == has_figures
        })
    };
    rows.iter()
        .copied()
        .chain(rest(true))
        .chain(rest(false))
        .collect()
}

fn mark(done: &Done<'_>, row: usize) -> &'static str {
    match done.standings[row] {
        Standing::Refused => "!",
        Standing::Keeps if done.recommendation.first() == Some(row) => "*",
        Standing::Keeps => "+",
        Standing::Misses(_) => "x",
    }
}

/// Columns of what varies; a parameter with one value is told above.
fn parameters(done: &Done<'_>, shown: &[usize]) -> Vec<Column> {
    let names = words::short_names(done.study);
    let values: Vec<Vec<String>> = shown
        .iter()
        .map(|row| {
            let values = done.study.values(*row);
            values.iter().map(|v| words::value(&v.text, v.si)).collect()
        })
        .collect();
    (0..names.len())
        .filter(|idx| values.iter().any(|row| row[*idx] != values[0][*idx]))
        .map(|idx| {
            let mut head = names[idx].split(' ').map(str::to_owned);
            let (first, second) = (head.next(), head.next());
            Column {
                head: match second {
                    Some(second) => [first.unwrap_or_default(), second, String::new()],
                    None => [String::new(), first.unwrap_or_default(), String::new()],
                },
                cells: values.iter().map(|row| row[idx].clone()).collect(),
            }
        })
        .collect()
}

fn measure(
    measure: &Measure,
    (head, below): (&str, &str),
    rows: &[SettingRow],
    units: Units,
) -> Column {
    Column {
        head: [
            head.to_owned(),
            below.to_owned(),
            words::unit(measure.unit, units).to_owned(),
        ],
        cells: rows
            .iter()
            .map(|row| {
                let value = row.figures().and_then(|figures| measure.of(figures));
                words::number(measure.unit, value, units)
            })
            .collect(),
    }
}
