//! Draws from a CSV file.
//!
//! The first line names the columns, in any order: `start`, `fixture`, and two of
//! `duration`, `opening`, `volume` (or `duration` or `volume` alone: the outlet is then
//! opened fully).  Blank lines and lines that begin with `#` are passed over.
//!
//! | column | holds |
//! |---|---|
//! | `start` | from the start of the run: `90`, `90s`, `10min`, `6.5h`, `0:06:30` |
//! | `fixture` | name of one of the site's outlets |
//! | `duration` | as `start`, above zero |
//! | `opening` | above 0 and up to 1, or `50%` |
//! | `volume` | `6 L` or `1.6 gal`; turned into time or opening by the outlet's rated flow |
//!
//! The file is untrusted: any bytes give a schedule or a list of problems, in time and
//! memory bounded by [`MAX_BYTES`], [`MAX_DRAWS`] and [`MAX_PROBLEMS`].

mod problem;
mod records;
#[cfg(test)]
mod tests;

pub use problem::{DemandProblem, DemandProblemKind, DemandProblems, MAX_PROBLEMS};

use self::records::{Field, Record};
use super::duration::seconds_from_text;
use super::schedule::{DemandSchedule, Draw, TICKS_PER_SECOND, nominal_flow_m3_per_s};
use crate::parts::FixtureSpec;
use crate::suggest;
use crate::units::convert::{LITER, US_GALLON};

/// Largest accepted file [bytes].
pub const MAX_BYTES: usize = 8 * 1024 * 1024;
/// Most draws in one file.
pub const MAX_DRAWS: usize = 200_000;

/// Names of the columns, in the order in which they are documented.
const COLUMNS: [&str; 5] = ["start", "fixture", "duration", "opening", "volume"];
const START: usize = 0;
const FIXTURE: usize = 1;
const DURATION: usize = 2;
const OPENING: usize = 3;
const VOLUME: usize = 4;

/// Reads a schedule from the bytes of a CSV file; `file` is its name in messages.
///
/// # Errors
/// [`DemandProblems`] with every problem found, each with its line and column.
pub fn from_csv(
    file: &str,
    bytes: &[u8],
    fixtures: &[FixtureSpec],
) -> Result<DemandSchedule, DemandProblems> {
    let mut reader = Reader {
        fixtures,
        draws: Vec::new(),
        problems: DemandProblems::new(file),
    };
    reader.read(bytes);
    if reader.problems.is_empty() {
        Ok(DemandSchedule::new(reader.draws))
    } else {
        Err(reader.problems)
    }
}

struct Reader<'a> {
    fixtures: &'a [FixtureSpec],
    draws: Vec<Draw>,
    problems: DemandProblems,
}

impl Reader<'_> {
    fn read(&mut self, bytes: &[u8]) {
        let Some(text) = self.text(bytes) else { return };
        let mut header: Option<Header> = None;
        for (line_idx, line) in text.lines().enumerate() {
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            let line_number = line_idx + 1;
            let record = match Record::parse(line_number, line) {
                Ok(record) => record,
                Err(problem) => {
                    self.problems.push(problem);
                    continue;
                }
            };
            match &header {
                None => match self.header(&record) {
                    Some(found) => header = Some(found),
                    None => return,
                },
                Some(header) => self.draw(header, &record),
            }
            if self.draws.len() > MAX_DRAWS {
                self.problem(line_number, 1, DemandProblemKind::TooManyDraws);
                return;
            }
        }
        if header.is_none() && self.problems.is_empty() {
            self.problem(1, 1, DemandProblemKind::NoHeader);
        }
    }

    fn text<'t>(&mut self, bytes: &'t [u8]) -> Option<&'t str> {
        if bytes.len() > MAX_BYTES {
            self.problem(1, 1, DemandProblemKind::TooLarge { bytes: bytes.len() });
            return None;
        }
        match std::str::from_utf8(bytes) {
            Ok(text) => Some(text.strip_prefix('\u{feff}').unwrap_or(text)),
            Err(error) => {
                let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]).into_owned();
                let line = before.matches('\n').count() + 1;
                let last_line = before.rsplit('\n').next().unwrap_or_default();
                let column = last_line.chars().count() + 1;
                self.problem(line, column, DemandProblemKind::NotUtf8);
                None
            }
        }
    }

    fn header(&mut self, record: &Record) -> Option<Header> {
        let mut positions = [None; COLUMNS.len()];
        let n_before = self.problems.len();
        for (position, field) in record.fields.iter().enumerate() {
            let name = field.text.trim();
            match COLUMNS.iter().position(|&column| column == name) {
                Some(column) if positions[column].is_some() => {
                    let name = name.to_owned();
                    self.at(record, field, DemandProblemKind::ColumnTwice { name });
                }
                Some(column) => positions[column] = Some(position),
                None => {
                    let nearest = suggest::nearest(name, COLUMNS);
                    let name = shortened(name);
                    self.at(
                        record,
                        field,
                        DemandProblemKind::UnknownColumn { name, nearest },
                    );
                }
            }
        }
        for column in [START, FIXTURE] {
            if positions[column].is_none() {
                let name = COLUMNS[column];
                self.problem(record.line, 1, DemandProblemKind::MissingColumn { name });
            }
        }
        if positions[DURATION].is_none() && positions[VOLUME].is_none() {
            self.problem(record.line, 1, DemandProblemKind::NoAmountColumn);
        }
        (self.problems.len() == n_before).then_some(Header {
            positions,
            n_fields: record.fields.len(),
        })
    }

    fn draw(&mut self, header: &Header, record: &Record) {
        if record.fields.len() != header.n_fields {
            let kind = DemandProblemKind::FieldCount {
                found: record.fields.len(),
                expected: header.n_fields,
            };
            self.problem(record.line, 1, kind);
            return;
        }
        let field = |column: usize| header.field(record, column);
        // Every cell is read before giving up, so that all problems show at once.
        let start_s = field(START).and_then(|field| self.seconds(record, field, START));
        let fixture = field(FIXTURE).and_then(|field| self.fixture(record, field));
        let n_before = self.problems.len();
        let duration_s = header.filled(record, DURATION).and_then(|field| {
            let seconds = self.seconds(record, field, DURATION)?;
            if seconds > 0.0 {
                return Some(seconds);
            }
            self.cell(record, field, DURATION);
            None
        });
        let opening = header
            .filled(record, OPENING)
            .and_then(|field| self.opening(record, field));
        let volume_m3 = header
            .filled(record, VOLUME)
            .and_then(|field| self.volume(record, field));
        let (Some(start_s), Some(fixture)) = (start_s, fixture) else {
            return;
        };
        if self.problems.len() > n_before {
            return;
        }
        let nominal = nominal_flow_m3_per_s(&self.fixtures[fixture]);
        let (duration_s, opening) = match (duration_s, opening, volume_m3) {
            (Some(_), Some(_), Some(_)) => {
                self.problem(record.line, 1, DemandProblemKind::AllThree);
                return;
            }
            (None, _, None) => {
                self.problem(record.line, 1, DemandProblemKind::NoAmount);
                return;
            }
            (Some(duration_s), opening, None) => (duration_s, opening.unwrap_or(1.0)),
            (None, opening, Some(volume_m3)) => {
                let opening = opening.unwrap_or(1.0);
                (volume_m3 / (nominal * opening), opening)
            }
            (Some(duration_s), None, Some(volume_m3)) => {
                let opening = volume_m3 / (nominal * duration_s);
                if opening > 1.0 {
                    let kind = DemandProblemKind::MoreThanOutletGives {
                        fixture: self.fixtures[fixture].name.clone(),
                        most_liters: nominal * duration_s / LITER,
                    };
                    self.problem(record.line, 1, kind);
                    return;
                }
                (duration_s, opening)
            }
        };
        let duration_ticks = ticks_from_seconds(duration_s).max(1);
        self.draws.push(Draw {
            start_ticks: ticks_from_seconds(start_s),
            duration_ticks,
            fixture,
            opening,
        });
    }

    fn seconds(&mut self, record: &Record, field: &Field, column: usize) -> Option<f64> {
        match seconds_from_text(&field.text) {
            Ok(seconds) => Some(seconds),
            Err(reason) => {
                let kind = DemandProblemKind::Time {
                    column: COLUMNS[column],
                    found: shortened(&field.text),
                    reason,
                };
                self.at(record, field, kind);
                None
            }
        }
    }

    fn fixture(&mut self, record: &Record, field: &Field) -> Option<usize> {
        let name = field.text.trim();
        let found = self
            .fixtures
            .iter()
            .position(|fixture| fixture.name == name);
        if found.is_none() {
            let names = || self.fixtures.iter().map(|fixture| fixture.name.as_str());
            let kind = DemandProblemKind::UnknownFixture {
                found: shortened(name),
                nearest: suggest::nearest(name, names()).map(str::to_owned),
                accepted: names().map(str::to_owned).collect(),
            };
            self.at(record, field, kind);
        }
        found
    }

    fn opening(&mut self, record: &Record, field: &Field) -> Option<f64> {
        let text = field.text.trim();
        let (number, scale) = match text.strip_suffix('%') {
            Some(percent) => (percent.trim_end(), 0.01),
            None => (text, 1.0),
        };
        let opening = number.parse::<f64>().ok().map(|number| number * scale);
        let in_range = opening.filter(|&opening| opening > 0.0 && opening <= 1.0);
        if in_range.is_none() {
            self.cell(record, field, OPENING);
        }
        in_range
    }

    fn volume(&mut self, record: &Record, field: &Field) -> Option<f64> {
        let text = field.text.trim();
        let number_and_unit = [("gal", US_GALLON), ("L", LITER), ("l", LITER)]
            .into_iter()
            .find_map(|(unit, factor)| Some((text.strip_suffix(unit)?.trim_end(), factor)));
        let volume_m3 = number_and_unit
            .and_then(|(number, factor)| Some(number.parse::<f64>().ok()? * factor))
            // A thousand cubic meters in one draw is a slip of the pen.
            .filter(|&volume_m3| volume_m3 > 0.0 && volume_m3 <= 1_000.0);
        if volume_m3.is_none() {
            self.cell(record, field, VOLUME);
        }
        volume_m3
    }

    /// A cell of a known column that does not hold what the column takes.
    fn cell(&mut self, record: &Record, field: &Field, column: usize) {
        let kind = DemandProblemKind::Cell {
            column: COLUMNS[column],
            found: shortened(&field.text),
            accepted: match column {
                DURATION => "a time above zero",
                OPENING => "a number above 0 and up to 1, or a percentage such as 50%",
                _ => "a volume such as 6 L or 1.6 gal, above zero and up to 1000000 L",
            },
        };
        self.at(record, field, kind);
    }

    fn at(&mut self, record: &Record, field: &Field, kind: DemandProblemKind) {
        self.problem(record.line, field.column, kind);
    }

    fn problem(&mut self, line: usize, column: usize, kind: DemandProblemKind) {
        self.problems.push(DemandProblem { line, column, kind });
    }
}

struct Header {
    positions: [Option<usize>; COLUMNS.len()],
    n_fields: usize,
}

impl Header {
    fn field<'r>(&self, record: &'r Record, column: usize) -> Option<&'r Field> {
        record.fields.get(self.positions[column]?)
    }

    fn filled<'r>(&self, record: &'r Record, column: usize) -> Option<&'r Field> {
        self.field(record, column)
            .filter(|field| !field.text.trim().is_empty())
    }
}

/// Whole ticks nearest to a time that is known to be in range.
fn ticks_from_seconds(seconds: f64) -> u64 {
    (seconds * TICKS_PER_SECOND as f64).round() as u64
}

/// Text from the file, short enough to repeat in a message.
fn shortened(text: &str) -> String {
    const MOST_CHARS: usize = 40;
    let text = text.trim();
    if text.chars().count() <= MOST_CHARS {
        text.to_owned()
    } else {
        text.chars().take(MOST_CHARS).chain(['…']).collect()
    }
}
