//! What a study varies, as read: paths are looked up in the site, values are read as the
//! site's own reader would read them.

use super::spreads::{file_position, read_distribution, read_list, read_range, read_tied};
use crate::faults::kinds;
use crate::file::fields::{Fields, Located, Variant};
use crate::file::problem::{Problem, Problems, Spot, nearest};
use crate::file::quantity::{Dimension, find_unit};
use crate::file::range::Range;
use crate::file::{Value, ValueKind};
use crate::site::{self, SiteSpec};
use crate::study::parameter::{Amount, Axis, Parameter, Place, Spread, put, steps};
use crate::study::spec::Demand;

pub(super) const VARY: &[Variant] = &[
    ("List", &["path", "values"]),
    ("Range", &["path", "from", "to", "count"]),
    ("Own", &["name", "values"]),
    ("Tied", &["path", "to", "times", "plus"]),
    ("Uniform", &["path", "least", "most"]),
    ("Normal", &["path", "mean", "deviation"]),
    ("Triangular", &["path", "least", "likely", "most"]),
];
/// What `demand.` goes on with.
const DEMAND_PATHS: [&str; 3] = ["demand.occupants", "demand.garden", "demand.leak"];
/// Most parameters.
const MAX_PARAMETERS: usize = 12;
/// Most values of one parameter.
pub(super) const MAX_VALUES: usize = 10_000;
/// Longest path, as messages and tables can bear [characters].
const MAX_PATH_CHARS: usize = 80;
/// Values of one parameter that are tried on the site when the file is read.
const MAX_TRIED: usize = 200;

/// Everything in `vary`.
pub(super) struct Varied {
    pub(super) parameters: Vec<Parameter>,
    pub(super) axes: Vec<Axis>,
    /// Where the first distribution stands.
    pub(super) first_distribution: Option<Spot>,
}

/// Reads `vary`; none after a problem.
pub(super) fn read_vary(
    fields: &Fields<'_>,
    site: Option<(&Value, &str, &SiteSpec)>,
    (study_file, demand): (&str, Option<&Demand>),
    problems: &Problems,
    elsewhere: &mut Vec<Problem>,
) -> Option<Varied> {
    let mut varied = Varied {
        parameters: Vec::new(),
        axes: Vec::new(),
        first_distribution: None,
    };
    let is_given = fields.is_given("vary");
    let entries = fields.variants("vary", (1, MAX_PARAMETERS), VARY);
    let mut is_whole = is_given && !entries.is_empty();
    for (kind, inside) in &entries {
        let read = read_one(kind, inside, site, demand, &varied, problems);
        let Some((parameter, values)) = read else {
            is_whole = false;
            continue;
        };
        if let (Some(site), Place::Site(_)) = (site, &parameter.place) {
            try_on(
                &parameter,
                &values,
                site,
                (study_file, inside),
                problems,
                elsewhere,
            );
        }
        let idx = varied.parameters.len();
        match parameter.spread {
            Spread::Values => varied.axes.push(Axis {
                parameter: idx,
                values,
            }),
            Spread::Tied { .. } => {}
            Spread::Uniform { .. } | Spread::Normal { .. } | Spread::Triangular { .. } => {
                varied.first_distribution = varied.first_distribution.or(Some(inside.spot()));
            }
        }
        varied.parameters.push(parameter);
    }
    is_whole.then_some(varied)
}

/// One entry: the parameter and the values that are known beforehand.
fn read_one(
    kind: &str,
    inside: &Fields<'_>,
    site: Option<(&Value, &str, &SiteSpec)>,
    demand: Option<&Demand>,
    before: &Varied,
    problems: &Problems,
) -> Option<(Parameter, Vec<Amount>)> {
    let path = if kind == "Own" {
        inside.text("name", "a name of your own, such as \"years\"")
    } else {
        inside.text("path", "a path such as \"wall.pressure_switch.cut_in\"")
    };
    let place = path
        .as_ref()
        .and_then(|path| read_place(kind, path, site, demand, before, problems));
    let spread = match kind {
        "List" | "Own" => read_list(inside, problems).map(|values| (Spread::Values, values)),
        "Range" => read_range(inside, problems).map(|values| (Spread::Values, values)),
        "Tied" => read_tied(inside, before, problems),
        _ => read_distribution(kind, inside, problems),
    };
    let (path, place, (spread, values)) = (path?, place?, spread?);
    if kind != "List" && kind != "Own" || !matches!(place, Place::Site(_)) {
        // Only a site's choices, such as pipes, may be other than numbers.
        if let Some(choice) = values.iter().find(|value| value.si.is_none()) {
            problems.report(
                file_position(choice.at),
                &path.spot.part,
                format!("\"{}\" is not a number with a unit", choice.text),
                "a number, or a number with a unit in quotes",
            );
            return None;
        }
    }
    check_units(&place, &spread, &values, &path.spot, problems)?;
    let unit = values.first().map_or("", Amount::unit_name).to_owned();
    let mut at = path.spot.at;
    at.in_overlay = true;
    let parameter = Parameter {
        path: path.value,
        unit,
        place,
        spread,
        at,
    };
    Some((parameter, values))
}

/// Severities of faults and figures of the household measure what they should, and listed
/// severities are in the fault's range.
fn check_units(
    place: &Place,
    spread: &Spread,
    values: &[Amount],
    spot: &Spot,
    problems: &Problems,
) -> Option<()> {
    let (dimension, may_be_bare, accepted) = match place {
        Place::Site(_) | Place::Own => return Some(()),
        Place::Occupants => (None, true, "a plain number of people".to_owned()),
        Place::Garden | Place::Leak => (
            Some(Dimension::Flow),
            false,
            "a flow such as \"30 gpd\"".to_owned(),
        ),
        Place::Fault(kind) => {
            let info = kind.info();
            let (low, high) = info.range;
            (
                find_unit(info.unit).map(|unit| unit.dimension),
                true,
                format!("0, or {low} to {high} {}", info.unit),
            )
        }
    };
    for amount in values {
        let fits = match amount.unit {
            // A severity is a difference: no degrees with a zero of their own.
            Some(unit) => Some(unit.dimension) == dimension && unit.offset == 0.0,
            None => may_be_bare,
        };
        let in_range = match (place, spread, amount.si) {
            (Place::Fault(kind), Spread::Values, Some(si)) => {
                let info = kind.info();
                let per_unit = if amount.unit.is_some() {
                    info.si_per_unit
                } else {
                    1.0
                };
                let (low, high) = info.range;
                si == 0.0 || Range::new(low, high).holds(si / per_unit)
            }
            _ => true,
        };
        if !(fits && in_range) {
            let message = format!("\"{}\" does not do for it", amount.text);
            problems.report(file_position(amount.at), &spot.part, message, accepted);
            return None;
        }
    }
    Some(())
}

/// What a path leads to.
fn read_place(
    kind: &str,
    path: &Located<String>,
    site: Option<(&Value, &str, &SiteSpec)>,
    demand: Option<&Demand>,
    before: &Varied,
    problems: &Problems,
) -> Option<Place> {
    let refuse = |message: String, accepted: String| {
        problems.report_spot(&path.spot, message, accepted);
        None
    };
    let written = &path.written;
    if path.value.chars().count() > MAX_PATH_CHARS || path.value.chars().any(char::is_control) {
        return refuse(
            format!("{written} is too long or cannot be printed"),
            format!("up to {MAX_PATH_CHARS} characters"),
        );
    }
    if before.parameters.iter().any(|p| p.path == path.value) {
        return refuse(
            format!("{written} is varied twice"),
            "each parameter once".to_owned(),
        );
    }
    if kind == "Own" {
        if path.value.trim().is_empty() || path.value.contains('.') {
            return refuse(
                format!("{written} does not do as a name of your own"),
                "a short name without a point, such as \"years\"".to_owned(),
            );
        }
        return Some(Place::Own);
    }
    if let Some(name) = path.value.strip_prefix("fault.") {
        let Some(info) = kinds().find(|info| info.name == name) else {
            let names: Vec<&str> = kinds().map(|info| info.name).collect();
            let hint = nearest(name, names.iter().copied())
                .map(|near| format!(", perhaps meant as fault.{near}"))
                .unwrap_or_default();
            return refuse(
                format!("no fault in {written}{hint}"),
                format!("fault. and one of {}", names.join(", ")),
            );
        };
        if let Some((_, _, spec)) = site
            && let Some(need) = info.needs.iter().find(|need| !need.is_met_by(spec))
        {
            return refuse(
                format!(
                    "{written} needs a {}, and {} has none",
                    need.part(),
                    spec.name
                ),
                "a fault of a part that the site has".to_owned(),
            );
        }
        return Some(Place::Fault(info.kind));
    }
    if path.value.starts_with("demand.") {
        let place = match path.value.as_str() {
            "demand.occupants" => Place::Occupants,
            "demand.garden" => Place::Garden,
            "demand.leak" => Place::Leak,
            other => {
                let hint = nearest(other, DEMAND_PATHS)
                    .map(|near| format!(", perhaps meant as {near}"))
                    .unwrap_or_default();
                return refuse(
                    format!("nothing of the demand is called {written}{hint}"),
                    DEMAND_PATHS.join(", "),
                );
            }
        };
        if demand.is_some_and(|demand| !matches!(demand, Demand::Household(_))) {
            return refuse(
                format!("{written} needs a household"),
                "demand: Household(..)".to_owned(),
            );
        }
        return Some(place);
    }
    match steps(&path.value) {
        Some(steps) => Some(Place::Site(steps)),
        None => refuse(
            format!("{written} is not a path"),
            "names joined by points, items of lists in brackets: \"tank.precharge\", \
             \"run[2].length\", \"house.fixtures.shower.height\", \"fault.house.leak\", \
             \"demand.occupants\""
                .to_owned(),
        ),
    }
}

/// Puts values into the site one by one and tells what its reader makes of them; how they
/// go together with the rest of the site is looked at for each setting, not here.
fn try_on(
    parameter: &Parameter,
    values: &[Amount],
    (tree, site_file, _): (&Value, &str, &SiteSpec),
    (study_file, inside): (&str, &Fields<'_>),
    problems: &Problems,
    elsewhere: &mut Vec<Problem>,
) {
    let Place::Site(steps) = &parameter.place else {
        return;
    };
    // A normal distribution's deviation is no value of the site, nor is a tie's example.
    let values = match parameter.spread {
        Spread::Normal { .. } => &values[..1],
        Spread::Tied { .. } => &[],
        _ => values,
    };
    if matches!(parameter.spread, Spread::Tied { .. }) {
        let mut tried = tree.clone();
        let nothing = Value {
            at: parameter.at,
            kind: ValueKind::Nothing,
        };
        if let Err((message, accepted)) = put(&mut tried, steps, &nothing) {
            let spot = inside.spot_of("path").unwrap_or_else(|| inside.spot());
            problems.report_spot(&spot, message, accepted);
        }
    }
    for amount in values.iter().take(MAX_TRIED) {
        let mut tried = tree.clone();
        if let Err((message, accepted)) = put(&mut tried, steps, &amount.as_value()) {
            let spot = inside.spot_of("path").unwrap_or_else(|| inside.spot());
            problems.report_spot(&spot, message, accepted);
            return;
        }
        let found: Vec<Problem> = site::field_problems(site_file, &tried, study_file)
            .into_iter()
            .filter(|problem| problem.file == study_file && !elsewhere.contains(problem))
            .collect();
        let is_unknown = found
            .iter()
            .any(|problem| problem.message.starts_with("unknown field"));
        elsewhere.extend(found);
        if is_unknown {
            return;
        }
    }
}
