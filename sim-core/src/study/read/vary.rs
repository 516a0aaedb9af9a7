//! What a study varies, as read: paths are looked up in the site, values are read as the
//! site's own reader would read them.

use crate::faults::kinds;
use crate::file::fields::{Fields, Located, Variant};
use crate::file::problem::{Position, Problem, Problems, Spot, nearest};
use crate::file::quantity::{Dimension, Unit};
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
const MAX_VALUES: usize = 10_000;
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

fn read_list(inside: &Fields<'_>, problems: &Problems) -> Option<Vec<Amount>> {
    const ACCEPTED: &str = "a list of values: [\"30 psi\", \"40 psi\"] or [1, 2, 3]";
    let Some(value) = inside.raw("values") else {
        // Reports that it is missing.
        inside.texts("values", (1, MAX_VALUES));
        return None;
    };
    let spot = inside.spot_of("values")?;
    let ValueKind::List { items, damaged } = &value.kind else {
        if value.kind != ValueKind::Damaged {
            let message = format!("{} is not a list", value.describe());
            problems.report_spot(&spot, message, ACCEPTED);
        }
        return None;
    };
    if items.is_empty() || items.len() > MAX_VALUES {
        if !damaged {
            let message = format!("the list has {} items", items.len());
            problems.report_spot(&spot, message, format!("1 to {MAX_VALUES} values"));
        }
        return None;
    }
    let mut values = Vec::new();
    for item in items {
        match Amount::read(item) {
            Some(amount) => values.push(amount),
            None => {
                if item.kind != ValueKind::Damaged {
                    let message = format!("{} is not a value", item.describe());
                    problems.report(item.at, &spot.part, message, ACCEPTED);
                }
                return None;
            }
        }
    }
    Some(values)
}

fn read_range(inside: &Fields<'_>, problems: &Problems) -> Option<Vec<Amount>> {
    let from = amount(inside, "from", problems);
    let to = amount(inside, "to", problems);
    let count = inside.number("count", Range::new(2.0, MAX_VALUES as f64));
    let (from, to, count) = (from?, to?, count?);
    same_dimension(&from, &to, problems)?;
    if count.value.fract() != 0.0 {
        problems.report_spot(
            &count.spot,
            format!("{} is not a whole number", count.written),
            "how many values, both ends counted",
        );
        return None;
    }
    let (least, most) = (from.si?, to.si?);
    let last = count.value as usize - 1;
    let step = (most - least) / last as f64;
    let values = (0..=last)
        .map(|i| {
            if i == last {
                Amount::computed(most, from.unit, to.at)
            } else {
                Amount::computed(least + step * i as f64, from.unit, from.at)
            }
        })
        .collect();
    Some(values)
}

fn read_tied(
    inside: &Fields<'_>,
    before: &Varied,
    problems: &Problems,
) -> Option<(Spread, Vec<Amount>)> {
    let to = inside.text("to", "a parameter that stands before this one")?;
    let names: Vec<&str> = before.parameters.iter().map(|p| p.path.as_str()).collect();
    let Some(other) = names.iter().position(|name| *name == to.value) else {
        let message = format!("{} is not varied before this", to.written);
        let accepted = if names.is_empty() {
            "a parameter that stands before this one".to_owned()
        } else {
            names.join(", ")
        };
        problems.report_spot(&to.spot, message, accepted);
        return None;
    };
    let optional = |name: &str| -> Option<Option<Amount>> {
        if inside.is_given(name) {
            amount(inside, name, problems).map(Some)
        } else {
            Some(None)
        }
    };
    let (times, plus) = (optional("times"), optional("plus"));
    let (times, plus) = (times?, plus?);
    let other_unit = crate::file::quantity::find_unit(&before.parameters[other].unit);
    let is_choice = before
        .axes
        .iter()
        .find(|axis| axis.parameter == other)
        .is_some_and(|axis| axis.values.iter().any(|value| value.si.is_none()));
    let times_unit = times.as_ref().and_then(|times| times.unit);
    let plus_unit = plus.as_ref().and_then(|plus| plus.unit);
    // Multiplying by a number keeps the other's dimension, by a quantity gives the
    // quantity's; a sum needs one dimension.
    let product = times_unit.or(other_unit);
    let sum = if plus.is_some() { plus_unit } else { product };
    let dimension = |unit: Option<&Unit>| unit.map(|unit| unit.dimension);
    let is_sound = !is_choice
        && !(times_unit.is_some() && other_unit.is_some())
        && dimension(product) == dimension(sum)
        && dimension(other_unit) != Some(Dimension::Temperature);
    if !is_sound {
        problems.report_spot(
            &inside.spot(),
            format!("{} times that plus that has no unit of its own", to.written),
            "a number for times, and for plus a quantity like the other's; or a quantity for \
             times where the other is a plain number; no temperatures",
        );
        return None;
    }
    let slope = |amount: &Amount| {
        // Without the offset of its zero: so much for each one of the other.
        let si = amount.si.unwrap_or(0.0);
        si - amount.unit.map_or(0.0, |unit| unit.offset)
    };
    let spread = Spread::Tied {
        to: other,
        times: times.as_ref().map_or(1.0, slope),
        plus: plus.as_ref().and_then(|plus| plus.si).unwrap_or(0.0),
    };
    let at = inside.spot().at;
    let example = Amount::computed(0.0, plus_unit.or(product), at);
    Some((spread, vec![example]))
}

fn read_distribution(
    kind: &str,
    inside: &Fields<'_>,
    problems: &Problems,
) -> Option<(Spread, Vec<Amount>)> {
    let names: &[&str] = match kind {
        "Uniform" => &["least", "most"],
        "Normal" => &["mean", "deviation"],
        _ => &["least", "likely", "most"],
    };
    let read: Vec<Option<Amount>> = names
        .iter()
        .map(|name| amount(inside, name, problems))
        .collect();
    let read: Option<Vec<Amount>> = read.into_iter().collect();
    let read = read?;
    let first = read.first()?;
    for other in &read {
        same_dimension(first, other, problems)?;
    }
    let si: Vec<f64> = read.iter().filter_map(|amount| amount.si).collect();
    let (spread, is_sound) = match (kind, si.as_slice()) {
        ("Uniform", &[least, most]) => (Spread::Uniform { least, most }, least <= most),
        ("Normal", &[mean, deviation]) => {
            let offset = read[1].unit.map_or(0.0, |unit| unit.offset);
            let deviation = deviation - offset;
            (Spread::Normal { mean, deviation }, deviation >= 0.0)
        }
        ("Triangular", &[least, likely, most]) => (
            Spread::Triangular {
                least,
                likely,
                most,
            },
            least <= likely && likely <= most,
        ),
        _ => return None,
    };
    if !is_sound {
        problems.report_spot(
            &inside.spot(),
            "the values of the distribution are not in order",
            format!(
                "{kind}({}: .., ..), rising; a deviation not below zero",
                names.join(": .., ")
            ),
        );
        return None;
    }
    Some((spread, read))
}

/// A number, or a number with a unit, that must be there.
fn amount(inside: &Fields<'_>, name: &str, problems: &Problems) -> Option<Amount> {
    const ACCEPTED: &str = "a number, or a number with a unit in quotes";
    let Some(value) = inside.raw(name) else {
        // Reports that it is missing.
        inside.text(name, ACCEPTED);
        return None;
    };
    let read = Amount::read(value).filter(|amount| amount.si.is_some());
    if read.is_none() && value.kind != ValueKind::Damaged {
        let spot = inside.spot_of(name)?;
        problems.report_spot(
            &spot,
            format!("{} is not a number with a unit", value.describe()),
            ACCEPTED,
        );
    }
    read
}

fn same_dimension(a: &Amount, b: &Amount, problems: &Problems) -> Option<()> {
    let dimension = |amount: &Amount| amount.unit.map(|unit| unit.dimension);
    if dimension(a) == dimension(b) {
        return Some(());
    }
    problems.report(
        file_position(b.at),
        "vary",
        format!("\"{}\" does not go with \"{}\"", b.text, a.text),
        "values that measure the same",
    );
    None
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

fn file_position(mut at: Position) -> Position {
    at.in_overlay = false;
    at
}
