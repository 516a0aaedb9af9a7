//! A study's parameters, results and limits in words and display units.

use crate::cli::display::{DisplayUnit, Units, fixed, span};
use crate::study::{
    Figures, Kept, Limit, LimitRule, Measure, MeasureUnit, Preference, Study, Target,
};
use crate::trace::Quantity;
use crate::units::convert::{BAR, FOOT, INCH, LITER, PSI, US_GALLON, US_GPM};

/// Stands where there is no value.
pub(super) const NONE: &str = "\u{2013}";

/// Short names of a study's parameters: as few of the last words of their paths as tell
/// them apart.
pub(super) fn short_names(study: &Study) -> Vec<String> {
    let tail = |path: &str, n_words: usize| {
        let words: Vec<&str> = path.split('.').collect();
        words[words.len().saturating_sub(n_words)..].join(".")
    };
    study
        .parameters
        .iter()
        .map(|parameter| {
            (1..=8)
                .map(|n_words| tail(&parameter.path, n_words))
                .find(|name| {
                    let same = study
                        .parameters
                        .iter()
                        .filter(|other| tail(&other.path, name.split('.').count()) == *name);
                    same.count() == 1
                })
                .unwrap_or_else(|| parameter.path.clone())
                .replace('_', " ")
        })
        .collect()
}

/// A value as a site file has it, numbers cut to four digits.
pub(super) fn value(text: &str, si: Option<f64>) -> String {
    if si.is_none() {
        return text.to_owned();
    }
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    match number.parse::<f64>() {
        Ok(number) => format!("{} {unit}", four_digits(number))
            .trim_end()
            .to_owned(),
        Err(_) => text.to_owned(),
    }
}

/// A number with at most four digits behind its first.
pub(super) fn four_digits(number: f64) -> String {
    let decimals = match number.abs() {
        size if size >= 1_000.0 => 0,
        size if size >= 100.0 => 1,
        size if size >= 10.0 => 2,
        size if size >= 0.1 => 3,
        _ => 5,
    };
    let text = fixed(number, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Units of parameters with their like in the other system, and how many of it one is.
const OTHER_UNITS: [(&str, &str, f64); 12] = [
    ("psi", "kPa", PSI / 1_000.0),
    ("bar", "psi", BAR / PSI),
    ("kPa", "psi", 1_000.0 / PSI),
    ("gal", "L", US_GALLON / LITER),
    ("L", "gal", LITER / US_GALLON),
    ("gpm", "L/min", US_GPM / (LITER / 60.0)),
    ("L/min", "gpm", LITER / 60.0 / US_GPM),
    ("gpd", "L a day", US_GALLON / LITER),
    ("ft", "m", FOOT),
    ("m", "ft", 1.0 / FOOT),
    ("in", "mm", INCH * 1_000.0),
    ("mm", "in", 0.001 / INCH),
];

/// A value in its own unit with the other system's behind it: `40 psi (275.8 kPa)`.
pub(super) fn value_in_both(text: &str, si: Option<f64>) -> String {
    let shown = value(text, si);
    let Some((number, unit)) = text.split_once(' ') else {
        return shown;
    };
    let other = OTHER_UNITS.iter().find(|(own, _, _)| *own == unit);
    match (si, other, number.parse::<f64>()) {
        (Some(_), Some((_, symbol, factor)), Ok(number)) => {
            let decimals = match (number * factor).abs() {
                size if size >= 100.0 => 0,
                size if size >= 1.0 => 1,
                _ => 2,
            };
            format!("{shown} ({} {symbol})", fixed(number * factor, decimals))
        }
        _ => shown,
    }
}

/// A result's unit as a head of a column has it.
pub(super) fn unit(of: MeasureUnit, units: Units) -> &'static str {
    match of {
        MeasureUnit::Count => "",
        MeasureUnit::Seconds => "s",
        MeasureUnit::Share => "%",
        MeasureUnit::Volume => DisplayUnit::of(Quantity::Volume, units).symbol,
        MeasureUnit::Pressure => DisplayUnit::of(Quantity::GaugePressure, units).symbol,
        MeasureUnit::EnergyPerVolume => match units {
            Units::Us => "kWh/1000 gal",
            Units::Si => "kWh/m³",
        },
    }
}

/// A result [SI] in that unit.
pub(super) fn converted(of: MeasureUnit, si: f64, units: Units) -> f64 {
    match of {
        MeasureUnit::Count | MeasureUnit::Seconds => si,
        MeasureUnit::Share => 100.0 * si,
        MeasureUnit::Volume => DisplayUnit::of(Quantity::Volume, units).convert(si),
        MeasureUnit::Pressure => DisplayUnit::of(Quantity::GaugePressure, units).convert(si),
        MeasureUnit::EnergyPerVolume => match units {
            Units::Us => si / 3.6e6 * 1_000.0 * US_GALLON,
            Units::Si => si / 3.6e6,
        },
    }
}

/// A result in that unit without the unit's name, with sensible digits.
pub(super) fn number(of: MeasureUnit, si: Option<f64>, units: Units) -> String {
    let Some(si) = si else {
        return NONE.to_owned();
    };
    let shown = converted(of, si, units);
    let decimals = match of {
        MeasureUnit::Count if shown >= 100.0 || shown.fract() == 0.0 => 0,
        MeasureUnit::Seconds if shown >= 100.0 => 0,
        MeasureUnit::Volume if shown >= 100.0 => 0,
        MeasureUnit::Pressure if units == Units::Si => 0,
        MeasureUnit::EnergyPerVolume => 2,
        _ => 1,
    };
    fixed(shown, decimals)
}

/// A result with its unit.
pub(super) fn measured(of: MeasureUnit, si: Option<f64>, units: Units) -> String {
    let number = number(of, si, units);
    match unit(of, units) {
        _ if si.is_none() => number,
        "" => number,
        unit => format!("{number} {unit}"),
    }
}

/// A result in both systems where they differ.
pub(super) fn measured_in_both(of: MeasureUnit, si: Option<f64>) -> String {
    let (us, other) = (measured(of, si, Units::Us), measured(of, si, Units::Si));
    if us == other {
        us
    } else {
        format!("{us} ({other})")
    }
}

/// What a limit asks, in words.
pub(super) fn limit(limit: &Limit, figures: Option<&Figures>) -> String {
    let starts = |most: Option<f64>, by_motor: Option<f64>| match (most, by_motor) {
        (Some(most), _) => fixed(most, 0),
        (None, Some(by_motor)) => format!("{} for a motor of this size", fixed(by_motor, 0)),
        (None, None) => "what a motor of this size may".to_owned(),
    };
    match &limit.rule {
        LimitRule::RunTime { least_s, share } => {
            let least = least_s.or(figures.map(|figures| figures.least_run_s));
            let least = least.map_or_else(|| "the least run".to_owned(), span);
            format!(
                "at most {} % of runs under {least}",
                four_digits(100.0 * share)
            )
        }
        LimitRule::StartsPerDay { most } => format!(
            "starts a day, on 95 % of days: at most {}",
            starts(*most, figures.map(|figures| figures.allowed_starts_per_day))
        ),
        LimitRule::StartsPerHour { most } => format!(
            "starts in the worst hour: at most {}",
            starts(
                *most,
                figures.map(|figures| figures.allowed_starts_per_hour)
            )
        ),
        LimitRule::Pressure { fixture, least_pa } => format!(
            "pressure at {fixture} while open: at least {}",
            measured_in_both(MeasureUnit::Pressure, Some(*least_pa))
        ),
        LimitRule::TankRating { share } => format!(
            "cut-out: at most {} % of the tank's rated pressure",
            four_digits(100.0 * share)
        ),
        LimitRule::PumpRating { share } => format!(
            "cut-out: at most {} % of the pump's shut-off pressure",
            four_digits(100.0 * share)
        ),
        LimitRule::Drawdown { least_m3 } => format!(
            "drawdown: at least {}",
            measured_in_both(MeasureUnit::Volume, Some(*least_m3))
        ),
    }
}

/// What a limit's numbers are counted in.
fn limit_unit(rule: &LimitRule) -> MeasureUnit {
    match rule {
        LimitRule::RunTime { .. } => MeasureUnit::Share,
        LimitRule::StartsPerDay { .. } | LimitRule::StartsPerHour { .. } => MeasureUnit::Count,
        LimitRule::Pressure { .. }
        | LimitRule::TankRating { .. }
        | LimitRule::PumpRating { .. } => MeasureUnit::Pressure,
        LimitRule::Drawdown { .. } => MeasureUnit::Volume,
    }
}

/// How a setting stands to a limit: what it has, and whether that will do.
pub(super) fn kept(limit: &Limit, kept: Option<Kept>) -> (String, &'static str) {
    match kept {
        None => (NONE.to_owned(), "says nothing here"),
        Some(kept) => (
            measured_in_both(limit_unit(&limit.rule), Some(kept.found)),
            if kept.is_kept() { "kept" } else { "missed" },
        ),
    }
}

/// What is preferred, in words.
pub(super) fn preference(study: &Study, preference: &Preference) -> String {
    let what = match preference.target {
        Target::Parameter(idx) => short_names(study)[idx].clone(),
        Target::Measure(measure) => measure.label.to_owned(),
    };
    format!("{} {what}", if preference.least { "least" } else { "most" })
}

/// What the setting that stands first is: a thing to choose, or the answer to a question
/// about a fault, or about what nobody would choose.
pub(super) fn headline(study: &Study) -> &'static str {
    let is_choice = study.prefer.first().is_none_or(|first| match first.target {
        Target::Measure(measure) => measure.less_is_better == first.least,
        Target::Parameter(idx) => study.parameters[idx].is_choice(),
    });
    if is_choice { "Recommended" } else { "Answer" }
}

/// All preferences, in their order.
pub(super) fn preferences(study: &Study) -> String {
    let list: Vec<String> = study.prefer.iter().map(|p| preference(study, p)).collect();
    list.join(", then ")
}

/// A result by name; every name used here is in the list, which a test looks at.
pub(super) fn measure(name: &str) -> &'static Measure {
    crate::study::MEASURES
        .iter()
        .find(|measure| measure.name == name)
        .unwrap_or(&crate::study::MEASURES[0])
}

/// So many of something.
pub(super) fn plural(n: usize, one: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {one}s")
    }
}

/// How many settings, households and days.
pub(super) fn extent(study: &Study) -> String {
    let years = study.days / 365.0;
    let days = if years >= 1.0 && years.fract() == 0.0 {
        plural(years as usize, "year")
    } else {
        let days = four_digits(study.days);
        format!("{days} {}", if days == "1" { "day" } else { "days" })
    };
    let households = if study.demand.depends_on_seed() {
        format!("{} of ", plural(study.seeds.len(), "household"))
    } else {
        String::new()
    };
    format!(
        "{}, {}, {households}{days} each",
        study.site.name,
        plural(study.n_settings(), "setting")
    )
}
