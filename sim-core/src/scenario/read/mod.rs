//! From the bytes of a scenario file to a validated scenario, or to everything that is
//! wrong with it and with its site.

mod hidden;
mod marks;
mod severity;
mod texts;

pub(crate) use self::hidden::read_faults;
use self::hidden::{HiddenDraft, read_accept};
use self::marks::{read_budget, read_rubric};
use self::texts::{read_hints, read_prose, read_references};
use super::sites::Sites;
use super::spec::{Budget, History, HouseholdUse, Par, Reference, Role, Rubric, Scenario};
use crate::faults::FaultKind;
use crate::file::fields::{Fields, Found, Variant};
use crate::file::names::{check_own_name, check_title, check_version};
use crate::file::problem::{Form, Position, Problems, Spot, nearest, one_of};
use crate::file::quantity::Refusal;
use crate::file::range::Range;
use crate::file::{self, Value};
use crate::math::Fnv;
use crate::plant::Start;
use crate::session::Tool;
use crate::site::{self, Problem, SiteSpec};
use crate::units::Seconds;

/// The version of the format that this program reads.
const FORMAT_VERSION: f64 = 1.0;

/// Every field of a scenario file.
const SCENARIO_FIELDS: &[&str] = &[
    "version",
    "name",
    "title",
    "level",
    "site",
    "overrides",
    "start",
    "history",
    "use_during",
    "complaint",
    "hidden",
    "accept",
    "role",
    "kit",
    "budget",
    "par",
    "rubric",
    "hints",
    "teaching",
    "references",
];
const HISTORY_FIELDS: &[&str] = &["time", "draws_per_day"];
const USE_FIELDS: &[&str] = &["draws_per_day"];
const STARTS: &[Variant] = &[("Dry", &[]), ("Primed", &[]), ("Charged", &[])];
const ROLES: &[Variant] = &[("Apprentice", &[]), ("Qualified", &[])];

/// What problems call a scenario file and its parts.
const SCENARIO: Form = Form {
    noun: "scenario",
    outline: "a scenario in parentheses: (version: 1, name: \"..\", ..)",
    fields: SCENARIO_FIELDS,
};

/// Levels.
const LEVELS: [f64; 5] = [1.0, 2.0, 3.0, 4.0, 5.0];
/// Time that a system ran before the visit [s]; a training value.
const HISTORY_TIME: Range = Range::new(3_600.0, 20.0 * 366.0 * 86_400.0);
/// Draws a day of a household; the generator's reference is 60.
const DRAWS_PER_DAY: Range = Range::new(0.0, 2_000.0);

impl Scenario {
    /// Reads and validates a scenario file and the site that it names.
    ///
    /// `file_name` is what problems call the file; when it ends in `.ron`, the scenario's
    /// `name` must be the rest of it.  `text` may be any bytes.
    ///
    /// ```
    /// use sim_core::scenario::{Scenario, ShippedSites};
    ///
    /// let problems = Scenario::parse("empty.ron", "", &ShippedSites).unwrap_err();
    /// assert_eq!(
    ///     problems[0].to_string(),
    ///     "empty.ron:1:1: scenario: the file ends where a value should stand; \
    ///      accepted: a scenario in parentheses: (version: 1, name: \"..\", ..)"
    /// );
    /// ```
    ///
    /// # Errors
    /// Every problem with the file and then with its site's file, each in file order; at
    /// most about a hundred of each, the last one counts those left out.
    pub fn parse(
        file_name: &str,
        text: impl AsRef<[u8]>,
        sites: &dyn Sites,
    ) -> Result<Self, Vec<Problem>> {
        let bytes = text.as_ref();
        let problems = Problems::new(file_name, &SCENARIO);
        let Some(tree) = file::tree(bytes, &problems) else {
            return Err(problems.into_sorted());
        };
        let fields = Fields::whole(&tree, &problems);
        let (site, site_problems) = read_site(&fields, file_name, sites);
        let mut digest = Fnv::new();
        digest.bytes(bytes);
        let draft = Draft::read(&fields, site.as_ref().map(|(site, _)| site), &problems);
        draft.check(file_name, &problems);
        let scenario = site.and_then(|(site, site_bytes)| {
            digest.bytes(&site_bytes);
            draft.finish(site, digest.finish())
        });
        match scenario {
            Some(scenario) if problems.is_empty() && site_problems.is_empty() => Ok(scenario),
            refused => {
                if refused.is_none() && problems.is_empty() && site_problems.is_empty() {
                    // Every refusal reports; this is the net below that rule.
                    problems.report(
                        Position::START,
                        "",
                        "a part of the scenario could not be read",
                        "a complete scenario",
                    );
                }
                Err(merged(file_name, problems.into_sorted(), site_problems))
            }
        }
    }
}

/// Problems of the scenario's file in file order, then those of the site's.
fn merged(file_name: &str, mut own: Vec<Problem>, site: Vec<Problem>) -> Vec<Problem> {
    let (over, below): (Vec<_>, Vec<_>) = site.into_iter().partition(|p| p.file == file_name);
    own.extend(over);
    own.sort_by_key(|problem| (problem.line, problem.column));
    own.extend(below);
    own
}

/// The site with the scenario's own changes and the bytes of its file; or what is wrong
/// with it.
fn read_site(
    fields: &Fields<'_>,
    file_name: &str,
    sites: &dyn Sites,
) -> (Option<(SiteSpec, Vec<u8>)>, Vec<Problem>) {
    let Some(name) = fields.text("site", "the name of a site such as \"orchard-cottage\"") else {
        return (None, Vec::new());
    };
    let found = match sites.site_file(&name.value) {
        Ok(found) => found,
        Err(accepted) => {
            let message = format!("no site {}", name.written);
            fields.report_refusal(&name.spot, Refusal { message, accepted });
            return (None, Vec::new());
        }
    };
    let overrides: Option<&Value> = fields.group_value("overrides");
    let read = match overrides {
        Some(over) => site::parse_over(&found.file, &found.bytes, (file_name, over)),
        None => site::parse(&found.file, &found.bytes),
    };
    match read {
        Ok(site) => (Some((site, found.bytes)), Vec::new()),
        Err(problems) => (None, problems),
    }
}

/// A scenario as read.
#[derive(Debug)]
struct Draft {
    version: Found<f64>,
    name: Found<String>,
    title: Found<String>,
    level: Found<f64>,
    start: Option<Start>,
    history: Option<Option<History>>,
    history_spot: Option<Spot>,
    use_during: Option<Option<HouseholdUse>>,
    complaint: Option<String>,
    hidden: HiddenDraft,
    accept: Vec<(FaultKind, FaultKind)>,
    role: Option<Role>,
    kit: Vec<Tool>,
    budget: Option<(f64, f64)>,
    par: Option<(f64, f64)>,
    par_spot: Option<Spot>,
    rubric: Option<Rubric>,
    hints: Vec<String>,
    teaching: Option<String>,
    references: Vec<Reference>,
}

impl Draft {
    fn read(fields: &Fields<'_>, site: Option<&SiteSpec>, problems: &Problems) -> Self {
        let start = match fields.is_given("start") {
            false => Some(Start::Charged),
            true => fields.variant("start", STARTS).map(|(name, _)| match name {
                "Dry" => Start::Dry,
                "Primed" => Start::Primed,
                _ => Start::Charged,
            }),
        };
        let role = match fields.is_given("role") {
            false => Some(Role::Qualified),
            true => fields.variant("role", ROLES).map(|(name, _)| match name {
                "Apprentice" => Role::Apprentice,
                _ => Role::Qualified,
            }),
        };
        let hidden = HiddenDraft::read(fields, site, problems);
        Self {
            version: fields.required_number("version", "1"),
            name: fields.text("name", "a name such as \"quiet-morning\""),
            title: fields.text("title", "one line for people"),
            level: fields.required_number("level", LEVEL_WORDS),
            start,
            history: read_history(fields),
            history_spot: fields.spot_of("history"),
            use_during: read_use(fields),
            complaint: read_prose(fields, "complaint", texts::COMPLAINT, problems),
            accept: read_accept(fields, &hidden, problems),
            hidden,
            role,
            kit: read_kit(fields, problems),
            budget: read_budget(fields, "budget"),
            par: read_budget(fields, "par"),
            par_spot: fields.spot_of("par"),
            rubric: read_rubric(fields, problems),
            hints: read_hints(fields, problems),
            teaching: read_prose(fields, "teaching", texts::TEACHING, problems),
            references: read_references(fields, problems),
        }
    }

    fn check(&self, file_name: &str, problems: &Problems) {
        check_version(self.version.as_ref(), FORMAT_VERSION, problems);
        if let Some(name) = &self.name {
            check_own_name(name, file_name, problems);
        }
        if let Some(title) = &self.title {
            check_title(title, problems);
        }
        if let Some(level) = &self.level
            && !LEVELS.contains(&level.value)
        {
            problems.report_spot(
                &level.spot,
                format!("{} is no level", level.written),
                LEVEL_WORDS,
            );
        }
        if let (Some(Start::Dry), Some(spot)) = (self.start, &self.history_spot) {
            problems.report_spot(
                spot,
                "a system that starts Dry has never had water, so it has no history",
                "no history, or start: Charged",
            );
        }
        let of_entries = self.hidden.pars.iter();
        let of_entries = of_entries.map(|(par, spot)| ((par.minutes, par.money), spot));
        let pars = self.par.map(|par| (par, &self.par_spot)).into_iter();
        for (par, spot) in pars.chain(of_entries) {
            if let (Some(budget), Some(spot)) = (self.budget, spot)
                && (par.0 > budget.0 || par.1 > budget.1)
            {
                problems.report_spot(
                    spot,
                    format!("par ({} min, ${}) is beyond the budget", par.0, par.1),
                    format!("at most {} minutes and {} of money", budget.0, budget.1),
                );
            }
        }
    }

    /// The validated scenario, when nothing was refused.
    fn finish(self, site: SiteSpec, digest: u64) -> Option<Scenario> {
        let (budget, par) = (self.budget?, self.par?);
        Some(Scenario {
            name: self.name?.value,
            title: self.title?.value,
            level: LEVELS
                .iter()
                .position(|l| Some(*l) == self.level.as_ref().map(|l| l.value))?
                as u8
                + 1,
            site,
            start: self.start?,
            history: self.history?,
            use_during: self.use_during?,
            complaint: self.complaint?,
            hidden: self.hidden.finish()?,
            accept: self.accept,
            role: self.role?,
            kit: self.kit,
            budget: Budget {
                minutes: budget.0,
                money: budget.1,
            },
            par: Par {
                minutes: par.0,
                money: par.1,
            },
            rubric: self.rubric?,
            hints: self.hints,
            teaching: self.teaching?,
            references: self.references,
            digest,
        })
    }
}

const LEVEL_WORDS: &str = "a whole number from 1, for newcomers, to 5";

fn read_history(fields: &Fields<'_>) -> Option<Option<History>> {
    let Some(history) = fields.optional_section("history", HISTORY_FIELDS) else {
        return Some(None);
    };
    let time = history.quantity::<Seconds>("time", HISTORY_TIME);
    let draws = history.number_or("draws_per_day", DRAWS_PER_DAY, 60.0);
    Some(Some(History {
        time_s: time?.value.si(),
        draws_per_day: draws?.value,
    }))
}

fn read_use(fields: &Fields<'_>) -> Option<Option<HouseholdUse>> {
    let Some(household) = fields.optional_section("use_during", USE_FIELDS) else {
        return Some(None);
    };
    let draws = household.number_or("draws_per_day", DRAWS_PER_DAY, 60.0)?;
    Some(Some(HouseholdUse {
        draws_per_day: draws.value,
    }))
}

/// What is carried: every tool, or those on a list.
fn read_kit(fields: &Fields<'_>, problems: &Problems) -> Vec<Tool> {
    if fields.is_name("kit", "All") {
        return Tool::ALL.to_vec();
    }
    let accepted = || {
        format!(
            "All, or a list of {}",
            one_of(Tool::ALL.iter().map(|tool| tool.name()))
        )
    };
    let mut kit: Vec<Tool> = Vec::new();
    for name in fields.texts("kit", (1, Tool::ALL.len())) {
        match Tool::from_name(&name.value) {
            Some(tool) if kit.contains(&tool) => problems.report_spot(
                &name.spot,
                format!("{} is in the kit already", name.written),
                "each tool once",
            ),
            Some(tool) => kit.push(tool),
            None => {
                let hint = nearest(&name.value, Tool::ALL.iter().map(|tool| tool.name()))
                    .map(|near| format!(", perhaps meant as {near}"))
                    .unwrap_or_default();
                problems.report_spot(
                    &name.spot,
                    format!("no tool {}{hint}", name.written),
                    accepted(),
                );
            }
        }
    }
    // The order in the file means nothing.
    kit.sort_unstable();
    kit
}

/// Every name that a scenario file knows.
#[cfg(test)]
pub(super) fn all_names() -> Vec<&'static str> {
    let plain = [
        SCENARIO_FIELDS,
        HISTORY_FIELDS,
        USE_FIELDS,
        hidden::FAULT_FIELDS,
        hidden::RANGE_FIELDS,
        hidden::DRAW_FIELDS,
        hidden::PAIR_FIELDS,
        marks::BUDGET_FIELDS,
        marks::RUBRIC_FIELDS,
        texts::REFERENCE_FIELDS,
    ];
    let mut names: Vec<&'static str> = plain.concat();
    for (variant, fields) in [STARTS, ROLES, hidden::HIDDEN].concat() {
        names.push(variant);
        names.extend(fields);
    }
    names.push("All");
    names.extend(Tool::ALL.iter().map(|tool| tool.name()));
    names
}
