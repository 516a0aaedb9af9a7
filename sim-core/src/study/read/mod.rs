//! From the bytes of a study file to a validated study, or to everything that is wrong with
//! it, with its site and with its file of draws.
//!
//! Invariants: any bytes end in one or the other; memory and time are bounded by the size of
//! the file and [`MAX_SETTINGS`]; nothing is lived through here.

mod demand;
mod limits;
mod spreads;
mod vary;

use self::demand::read_demand;
use self::limits::{read_limits, read_prefer};
use self::vary::{Varied, read_vary};
use super::grid::shares;
use super::spec::{Demand, Sampling, Study};
use crate::faults::Fault;
use crate::file::fields::{Fields, Found, Located, Variant};
use crate::file::names::{check_own_name, check_title, check_version};
use crate::file::problem::{Form, Position, Problem, Problems};
use crate::file::quantity::Refusal;
use crate::file::range::Range;
use crate::file::{self, Value};
use crate::math::Fnv;
use crate::scenario::{Sites, read_faults};
use crate::site::{self, SiteSpec};

/// The version of the format that this program reads.
const FORMAT_VERSION: f64 = 1.0;
/// Most settings of a study.
pub(super) const MAX_SETTINGS: f64 = 100_000.0;
/// Most days that a study lives through for one setting and one household.
const MAX_DAYS: f64 = 50.0 * 365.0;
/// Most households.
const MAX_SEEDS: f64 = 1_000.0;
/// Days of a year.
const YEAR_DAYS: f64 = 365.0;
/// Most assumptions or sources, and the longest one [characters].
const MAX_NOTES: usize = 20;
const MAX_NOTE_CHARS: usize = 600;

/// Every field of a study file.
const STUDY_FIELDS: &[&str] = &[
    "version",
    "name",
    "title",
    "question",
    "site",
    "overrides",
    "faults",
    "demand",
    "years",
    "days",
    "seeds",
    "vary",
    "samples",
    "limits",
    "prefer",
    "assumptions",
    "sources",
];
const SAMPLES: &[Variant] = &[
    ("LatinHypercube", &["number", "seed"]),
    ("MonteCarlo", &["number", "seed"]),
];

/// What problems call a study file and its parts.
const STUDY: Form = Form {
    noun: "study",
    outline: "a study in parentheses: (version: 1, name: \"..\", ..)",
    fields: STUDY_FIELDS,
};

/// Where a study finds the files that it names.
pub trait StudyFiles: Sites {
    /// The bytes of a file of draws.
    ///
    /// # Errors
    /// What would be accepted, when there is none.
    fn draws_file(&self, name: &str) -> Result<Vec<u8>, String>;
}

/// The study's site: validated, and as a tree that settings are put into.
struct SiteRead {
    spec: SiteSpec,
    tree: Value,
    file: String,
    bytes: Vec<u8>,
}

impl Study {
    /// Reads and validates a study file and the files that it names.
    ///
    /// `file_name` is what problems call the file; when it ends in `.ron`, the study's
    /// `name` must be the rest of it.  `text` may be any bytes.
    ///
    /// # Errors
    /// Every problem with the file in file order, then those with the files that it names.
    pub fn parse(
        file_name: &str,
        text: impl AsRef<[u8]>,
        files: &dyn StudyFiles,
    ) -> Result<Self, Vec<Problem>> {
        let bytes = text.as_ref();
        let problems = Problems::new(file_name, &STUDY);
        let Some(tree) = file::tree(bytes, &problems) else {
            return Err(problems.into_sorted());
        };
        let fields = Fields::whole(&tree, &problems);
        let mut elsewhere = Vec::new();
        let site = match read_site(&fields, file_name, files) {
            Ok(site) => site,
            Err(found) => {
                elsewhere.extend(found);
                None
            }
        };
        let study = read(
            &fields,
            file_name,
            bytes,
            site.as_ref(),
            files,
            &problems,
            &mut elsewhere,
        );
        match study {
            Some(study) if problems.is_empty() && elsewhere.is_empty() => Ok(study),
            refused => {
                if refused.is_none() && problems.is_empty() && elsewhere.is_empty() {
                    // Every refusal reports; this is the net below that rule.
                    problems.report(
                        Position::START,
                        "",
                        "a part of the study could not be read",
                        "a complete study",
                    );
                }
                Err(merged(file_name, problems.into_sorted(), elsewhere))
            }
        }
    }
}

/// Problems of the study's file in file order, then those of other files.
fn merged(file_name: &str, mut own: Vec<Problem>, elsewhere: Vec<Problem>) -> Vec<Problem> {
    let (over, below): (Vec<_>, Vec<_>) = elsewhere.into_iter().partition(|p| p.file == file_name);
    own.extend(over);
    own.sort_by_key(|problem| (problem.line, problem.column));
    own.extend(below);
    own
}

fn read_site(
    fields: &Fields<'_>,
    file_name: &str,
    files: &dyn StudyFiles,
) -> Result<Option<SiteRead>, Vec<Problem>> {
    let Some(name) = fields.text("site", "the name of a site such as \"orchard-cottage\"") else {
        return Ok(None);
    };
    let found = match files.site_file(&name.value) {
        Ok(found) => found,
        Err(accepted) => {
            let message = format!("no site {}", name.written);
            fields.report_refusal(&name.spot, Refusal { message, accepted });
            return Ok(None);
        }
    };
    let over: Option<&Value> = fields.group_value("overrides");
    let tree = site::tree_over(&found.file, &found.bytes, over)?;
    let spec = site::parse_tree(&found.file, &tree, file_name)?;
    Ok(Some(SiteRead {
        spec,
        tree,
        file: found.file,
        bytes: found.bytes,
    }))
}

/// Everything else; each part is read even where another was refused.
fn read(
    fields: &Fields<'_>,
    file_name: &str,
    bytes: &[u8],
    site: Option<&SiteRead>,
    files: &dyn StudyFiles,
    problems: &Problems,
    elsewhere: &mut Vec<Problem>,
) -> Option<Study> {
    let spec = site.map(|site| &site.spec);
    let version = fields.required_number("version", "1");
    check_version(version.as_ref(), FORMAT_VERSION, problems);
    let name = fields.text("name", "the file's name without .ron");
    if let Some(name) = &name {
        check_own_name(name, file_name, problems);
    }
    let title = fields.text("title", "one line about the study");
    if let Some(title) = &title {
        check_title(title, problems);
    }
    let question = if fields.is_given("question") {
        fields
            .text("question", "what is asked, in a sentence or two")
            .and_then(|text| note(&text, problems))
    } else {
        Some(String::new())
    };
    let faults = read_fixed_faults(fields, spec, problems);
    let mut digest = Fnv::new();
    digest.bytes(env!("CARGO_PKG_VERSION").as_bytes());
    digest.bytes(&super::ENGINE_VERSION.to_le_bytes());
    digest.bytes(bytes);
    let demand = read_demand(fields, spec, files, problems, elsewhere, &mut digest);
    let days = read_days(fields, problems);
    let seeds = read_seeds(fields, demand.as_ref(), problems);
    let sampling = read_samples(fields, problems);
    let varied = read_vary(
        fields,
        site.map(|site| (&site.tree, site.file.as_str(), &site.spec)),
        (file_name, demand.as_ref()),
        problems,
        elsewhere,
    );
    if let Some(varied) = &varied {
        check_samples(fields, varied, sampling.as_ref(), problems);
        check_size(fields, varied, sampling.as_ref(), problems);
    }
    let limits = read_limits(fields, spec, problems);
    let parameters = varied.as_ref().map(|varied| varied.parameters.as_slice());
    let prefer = read_prefer(fields, parameters, problems);
    let assumptions = read_notes(fields, "assumptions", problems);
    let sources = read_notes(fields, "sources", problems);
    let (site, varied) = (site?, varied?);
    digest.bytes(&site.bytes);
    let sampling = sampling?;
    let shares = shares(&varied.parameters, sampling);
    Some(Study {
        name: name?.value,
        title: title?.value,
        question: question?,
        site: site.spec.clone(),
        faults: faults?,
        demand: demand?,
        days: days?,
        seeds: seeds?,
        parameters: varied.parameters,
        sampling,
        limits,
        prefer,
        assumptions,
        sources,
        digest: digest.finish(),
        axes: varied.axes,
        shares,
        tree: site.tree.clone(),
        site_file: site.file.clone(),
        study_file: file_name.to_owned(),
    })
}

fn read_fixed_faults(
    fields: &Fields<'_>,
    site: Option<&SiteSpec>,
    problems: &Problems,
) -> Option<Vec<Fault>> {
    if !fields.is_given("faults") {
        return Some(Vec::new());
    }
    let mut kinds = Vec::new();
    let pairs = read_faults(fields, site, problems, &mut kinds)?;
    if pairs.iter().any(|(mildest, worst)| mildest != worst) {
        if let Some(spot) = fields.spot_of("faults") {
            problems.report_spot(
                &spot,
                "a severity here is a range",
                "one severity; to vary it, put \"fault.\" and its name into vary",
            );
        }
        return None;
    }
    Some(pairs.into_iter().map(|(fault, _)| fault).collect())
}

/// Days from `years` or `days`.
fn read_days(fields: &Fields<'_>, problems: &Problems) -> Option<f64> {
    let days = Range::new(0.01, MAX_DAYS);
    if fields.is_given("days") && fields.is_given("years") {
        fields.report_conflict("years", "days");
        return None;
    }
    if fields.is_given("days") {
        return fields.number("days", days).map(|days| days.value);
    }
    if !fields.is_given("years") {
        problems.report_spot(
            &fields.spot(),
            "neither years nor days is given",
            "years: 1, or days: 30",
        );
        return None;
    }
    let years = Range::new(days.least / YEAR_DAYS, MAX_DAYS / YEAR_DAYS);
    fields
        .number("years", years)
        .map(|years| years.value * YEAR_DAYS)
}

/// Households 1 to so many; one where nothing depends on a seed.
fn read_seeds(
    fields: &Fields<'_>,
    demand: Option<&Demand>,
    problems: &Problems,
) -> Option<Vec<u64>> {
    let number = fields.number_or("seeds", Range::new(1.0, MAX_SEEDS), 1.0)?;
    if number.value.fract() != 0.0 {
        problems.report_spot(
            &number.spot,
            format!("{} is not a whole number", number.written),
            "a whole number of households",
        );
        return None;
    }
    if number.value > 1.0 && demand.is_some_and(|demand| !demand.depends_on_seed()) {
        problems.report_spot(
            &number.spot,
            "what is drawn does not depend on a seed",
            "seeds: 1, or demand: Household(..)",
        );
    }
    Some((1..=number.value as u64).collect())
}

/// How distributions are sampled; `Some(None)` when the file does not say.
fn read_samples(fields: &Fields<'_>, problems: &Problems) -> Option<Option<Sampling>> {
    if !fields.is_given("samples") {
        return Some(None);
    }
    let (way, inside) = fields.variant("samples", SAMPLES)?;
    let whole = |found: Found<f64>| -> Option<f64> {
        let found = found?;
        if found.value.fract() == 0.0 {
            return Some(found.value);
        }
        problems.report_spot(
            &found.spot,
            format!("{} is not a whole number", found.written),
            "a whole number",
        );
        None
    };
    let number = whole(inside.number("number", Range::new(1.0, 10_000.0)));
    let seed = whole(inside.number_or("seed", Range::new(0.0, 1e9), 1.0));
    let (number, seed) = (number? as usize, seed? as u64);
    Some(Some(if way == "LatinHypercube" {
        Sampling::LatinHypercube { number, seed }
    } else {
        Sampling::MonteCarlo { number, seed }
    }))
}

/// Distributions need samples, and samples need distributions.
fn check_samples(
    fields: &Fields<'_>,
    varied: &Varied,
    sampling: Option<&Option<Sampling>>,
    problems: &Problems,
) {
    match (varied.first_distribution.as_ref(), sampling) {
        (Some(spot), Some(None)) => problems.report_spot(
            spot,
            "a distribution is given, but not how often it is sampled",
            "samples: LatinHypercube(number: 64), or samples: MonteCarlo(number: 64)",
        ),
        (None, Some(Some(_))) => {
            if let Some(spot) = fields.spot_of("samples") {
                problems.report_spot(
                    &spot,
                    "nothing in vary is a distribution",
                    "no samples, or Uniform(..), Normal(..) or Triangular(..) in vary",
                );
            }
        }
        _ => {}
    }
}

fn check_size(
    fields: &Fields<'_>,
    varied: &Varied,
    sampling: Option<&Option<Sampling>>,
    problems: &Problems,
) {
    let samples = match sampling {
        Some(Some(
            Sampling::LatinHypercube { number, .. } | Sampling::MonteCarlo { number, .. },
        )) => *number as f64,
        _ => 1.0,
    };
    let n_settings = varied
        .axes
        .iter()
        .fold(samples, |n, axis| n * axis.n_values() as f64);
    if n_settings > MAX_SETTINGS
        && let Some(spot) = fields.spot_of("vary")
    {
        problems.report_spot(
            &spot,
            format!("the study has {n_settings:.0} settings"),
            format!(
                "at most {MAX_SETTINGS:.0}: fewer values, or distributions in place of some of them"
            ),
        );
    }
}

/// A text for people, its lines joined.
fn note(text: &Located<String>, problems: &Problems) -> Option<String> {
    let joined = text.value.split_whitespace().collect::<Vec<_>>().join(" ");
    let n_chars = joined.chars().count();
    if n_chars == 0 || n_chars > MAX_NOTE_CHARS || joined.chars().any(char::is_control) {
        problems.report_spot(
            &text.spot,
            format!("the text has {n_chars} characters or cannot be printed"),
            format!("a plain text of 1 to {MAX_NOTE_CHARS} characters"),
        );
        return None;
    }
    Some(joined)
}

fn read_notes(fields: &Fields<'_>, name: &str, problems: &Problems) -> Vec<String> {
    if !fields.is_given(name) {
        return Vec::new();
    }
    fields
        .texts(name, (0, MAX_NOTES))
        .iter()
        .filter_map(|text| note(text, problems))
        .collect()
}

/// Every field and choice that a study file may have, for the test of its reference.
#[cfg(test)]
pub(super) fn every_name() -> Vec<&'static str> {
    let choices = [
        SAMPLES,
        demand::DEMANDS,
        limits::LIMITS,
        limits::PREFER,
        vary::VARY,
    ];
    let inside = choices
        .into_iter()
        .flatten()
        .flat_map(|(name, fields)| std::iter::once(*name).chain(fields.iter().copied()));
    STUDY_FIELDS
        .iter()
        .copied()
        .chain(demand::LIVESTOCK_FIELDS.iter().copied())
        .chain(inside)
        .collect()
}
