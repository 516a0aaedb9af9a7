//! Limits and preferences of a study, as read.

use crate::file::fields::{Fields, Variant};
use crate::file::problem::{Problems, nearest};
use crate::file::range::Range;
use crate::site::SiteSpec;
use crate::study::limits::{Limit, LimitRule};
use crate::study::measure::MEASURES;
use crate::study::parameter::Parameter;
use crate::study::spec::{Preference, Target};
use crate::units::{CubicMeters, Pascals, Seconds};

pub(super) const LIMITS: &[Variant] = &[
    ("RunTime", &["least", "share", "source"]),
    ("StartsPerDay", &["most", "source"]),
    ("StartsPerHour", &["most", "source"]),
    ("Pressure", &["fixture", "least", "source"]),
    ("TankRating", &["share", "source"]),
    ("PumpRating", &["share", "source"]),
    ("Drawdown", &["least", "source"]),
];
pub(super) const PREFER: &[Variant] = &[("Least", &["of"]), ("Most", &["of"])];

/// Where a limit comes from when the file does not say.
const NO_SOURCE: &str = "common practice, no source";
/// Most limits, and most preferences.
const MAX_LIMITS: usize = 20;
const MAX_PREFER: usize = 8;
const RUN_TIME: Range = Range::new(1.0, 36_000.0);
const SHARE: Range = Range::new(0.0, 1.0);
const STARTS: Range = Range::new(1.0, 100_000.0);
const PRESSURE: Range = Range::new(0.0, 2.0e6);
const DRAWDOWN: Range = Range::new(0.0, 10.0);
/// Share of runs that may be short, and of a rating that may be used, when left out.
const DEFAULT_SHARE: f64 = 0.05;
const DEFAULT_TANK_SHARE: f64 = 1.0;
const DEFAULT_PUMP_SHARE: f64 = 0.9;

pub(super) fn read_limits(
    fields: &Fields<'_>,
    site: Option<&SiteSpec>,
    problems: &Problems,
) -> Vec<Limit> {
    if !fields.is_given("limits") {
        return Vec::new();
    }
    fields
        .variants("limits", (0, MAX_LIMITS), LIMITS)
        .iter()
        .filter_map(|(name, inside)| {
            let source = if inside.is_given("source") {
                inside.text("source", "where the limit comes from")?.value
            } else {
                NO_SOURCE.to_owned()
            };
            let rule = read_rule(name, inside, site, problems)?;
            Some(Limit { rule, source })
        })
        .collect()
}

fn read_rule(
    name: &str,
    inside: &Fields<'_>,
    site: Option<&SiteSpec>,
    problems: &Problems,
) -> Option<LimitRule> {
    let share = |default: f64| inside.number_or("share", SHARE, default).map(|s| s.value);
    // Outside none when refused, inside none when left to the motor's size.
    let most = || -> Option<Option<f64>> {
        if inside.is_given("most") {
            inside.number("most", STARTS).map(|most| Some(most.value))
        } else {
            Some(None)
        }
    };
    Some(match name {
        "RunTime" => {
            let least = inside.optional_quantity::<Seconds>("least", RUN_TIME);
            let share = share(DEFAULT_SHARE);
            let least_s = match least {
                Some(found) => Some(found?.value.si()),
                None => None,
            };
            LimitRule::RunTime {
                least_s,
                share: share?,
            }
        }
        "StartsPerDay" => LimitRule::StartsPerDay { most: most()? },
        "StartsPerHour" => LimitRule::StartsPerHour { most: most()? },
        "Pressure" => {
            let fixture = inside.text("fixture", "the name of an outlet");
            let least = inside.quantity::<Pascals>("least", PRESSURE);
            let fixture = fixture?;
            if let Some(site) = site {
                let names: Vec<&str> = site
                    .house
                    .fixtures
                    .iter()
                    .map(|fixture| fixture.name.as_str())
                    .collect();
                if !names.contains(&fixture.value.as_str()) {
                    problems.report_spot(
                        &fixture.spot,
                        format!("{} has no outlet {}", site.name, fixture.written),
                        names.join(", "),
                    );
                }
            }
            LimitRule::Pressure {
                fixture: fixture.value,
                least_pa: least?.value.si(),
            }
        }
        "TankRating" => LimitRule::TankRating {
            share: share(DEFAULT_TANK_SHARE)?,
        },
        "PumpRating" => LimitRule::PumpRating {
            share: share(DEFAULT_PUMP_SHARE)?,
        },
        _ => LimitRule::Drawdown {
            least_m3: inside
                .quantity::<CubicMeters>("least", DRAWDOWN)?
                .value
                .si(),
        },
    })
}

/// What is preferred; the smallest tank and then the fewest starts when the file does not
/// say and the tank is varied, else the fewest starts.
pub(super) fn read_prefer(
    fields: &Fields<'_>,
    parameters: Option<&[Parameter]>,
    problems: &Problems,
) -> Vec<Preference> {
    if !fields.is_given("prefer") {
        let tank = parameters
            .and_then(|list| list.iter().position(|p| p.path == "tank.shell_volume"))
            .map(Target::Parameter);
        let starts = MEASURES
            .iter()
            .find(|measure| measure.name == "starts_per_day_mean")
            .map(Target::Measure);
        return tank
            .into_iter()
            .chain(starts)
            .map(|target| Preference {
                target,
                least: true,
            })
            .collect();
    }
    fields
        .variants("prefer", (1, MAX_PREFER), PREFER)
        .iter()
        .filter_map(|(way, inside)| {
            let of = inside.text("of", "a result or a varied parameter")?;
            let parameters = parameters?;
            let parameter = parameters.iter().position(|p| p.path == of.value);
            let measure = MEASURES.iter().find(|measure| measure.name == of.value);
            let target = match (parameter, measure) {
                (Some(idx), _) => Target::Parameter(idx),
                (None, Some(measure)) => Target::Measure(measure),
                (None, None) => {
                    let names: Vec<&str> = parameters
                        .iter()
                        .map(|p| p.path.as_str())
                        .chain(MEASURES.iter().map(|measure| measure.name))
                        .collect();
                    let hint = nearest(&of.value, names.iter().copied())
                        .map(|near| format!(", perhaps meant as {near}"))
                        .unwrap_or_default();
                    problems.report_spot(
                        &of.spot,
                        format!("{} is no result and is not varied{hint}", of.written),
                        names.join(", "),
                    );
                    return None;
                }
            };
            Some(Preference {
                target,
                least: *way == "Least",
            })
        })
        .collect()
}
