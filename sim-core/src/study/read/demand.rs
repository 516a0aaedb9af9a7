//! What a study draws, as read.

use super::StudyFiles;
use crate::demand::{self, FixtureKind, TICKS_PER_SECOND};
use crate::file::fields::{Fields, Variant};
use crate::file::problem::{Problem, Problems};
use crate::file::quantity::Refusal;
use crate::file::range::Range;
use crate::math::Fnv;
use crate::site::SiteSpec;
use crate::study::spec::{Demand, HouseholdSpec, Livestock};
use crate::units::CubicMetersPerSecond;

pub(super) const DEMANDS: &[Variant] = &[
    ("Nothing", &[]),
    ("Household", &["occupants", "garden", "livestock", "leak"]),
    ("Measured", &["file"]),
];
pub(super) const LIVESTOCK_FIELDS: &[&str] = &["name", "head", "each"];

/// People in a house.
const OCCUPANTS: Range = Range::new(0.0, 200.0);
/// Water for a garden, averaged [m³/s]: up to 10 m³ an hour.
const GARDEN: Range = Range::new(0.0, 10.0 / 3_600.0);
/// A leak, as flow at 50 psi [m³/s]: up to that of the fault `house.leak`.
const LEAK: Range = Range::new(0.0, 1.2e-3);
/// Animals of one sort.
const HEAD: Range = Range::new(0.0, 100_000.0);
/// What one animal drinks [m³/s]: up to 1 m³ a day.
const EACH: Range = Range::new(0.0, 1.0 / 86_400.0);
/// Most sorts of animals.
const MAX_SORTS: usize = 12;

pub(super) fn read_demand(
    fields: &Fields<'_>,
    site: Option<&SiteSpec>,
    files: &dyn StudyFiles,
    problems: &Problems,
    elsewhere: &mut Vec<Problem>,
    digest: &mut Fnv,
) -> Option<Demand> {
    let (kind, inside) = fields.variant("demand", DEMANDS)?;
    match kind {
        "Household" => read_household(&inside, site, problems).map(Demand::Household),
        "Measured" => read_measured(&inside, site, files, elsewhere, digest),
        _ => Some(Demand::Nothing),
    }
}

fn read_household(
    inside: &Fields<'_>,
    site: Option<&SiteSpec>,
    problems: &Problems,
) -> Option<HouseholdSpec> {
    let occupants = inside.number("occupants", OCCUPANTS);
    let garden = inside.quantity_or::<CubicMetersPerSecond>("garden", GARDEN, "0 gpd");
    let leak = inside.quantity_or::<CubicMetersPerSecond>("leak", LEAK, "0 gpm");
    let livestock: Vec<Option<Livestock>> = if inside.is_given("livestock") {
        inside
            .groups("livestock", (0, MAX_SORTS), LIVESTOCK_FIELDS)
            .iter()
            .map(|group| {
                let name = group.text("name", "what they are, such as \"sheep\"");
                let head = group.number("head", HEAD);
                let each = group.quantity::<CubicMetersPerSecond>("each", EACH);
                Some(Livestock {
                    name: name?.value,
                    head: head?.value,
                    each_m3_per_s: each?.value.si(),
                })
            })
            .collect()
    } else {
        Vec::new()
    };
    for (field, kind, what) in [
        ("garden", FixtureKind::Hose, "a hose, yard or garden outlet"),
        ("livestock", FixtureKind::Trough, "a trough or drinker"),
    ] {
        if let (Some(spot), Some(site)) = (inside.spot_of(field), site) {
            let mut names = site.house.fixtures.iter().map(|fixture| &fixture.name);
            if !names.any(|name| FixtureKind::from_name(name) == kind) {
                problems.report_spot(
                    &spot,
                    format!("{} has no outlet for it", site.name),
                    format!("no {field}, or a site with {what}"),
                );
            }
        }
    }
    let livestock: Option<Vec<Livestock>> = livestock.into_iter().collect();
    Some(HouseholdSpec {
        occupants: occupants?.value,
        garden_m3_per_s: garden?.value.si(),
        livestock: livestock?,
        leak_m3_per_s: leak?.value.si(),
    })
}

fn read_measured(
    inside: &Fields<'_>,
    site: Option<&SiteSpec>,
    files: &dyn StudyFiles,
    elsewhere: &mut Vec<Problem>,
    digest: &mut Fnv,
) -> Option<Demand> {
    let name = inside.text("file", "a file of draws such as \"draws.csv\"")?;
    let bytes = match files.draws_file(&name.value) {
        Ok(bytes) => bytes,
        Err(accepted) => {
            let message = format!("no file of draws {}", name.written);
            inside.report_refusal(&name.spot, Refusal { message, accepted });
            return None;
        }
    };
    digest.bytes(&bytes);
    let fixtures = &site?.house.fixtures;
    match demand::from_csv(&name.value, &bytes, fixtures) {
        Ok(draws) => {
            let last = draws.draws().iter().map(demand::Draw::end_ticks).max();
            let seconds = last.unwrap_or(0) as f64 / TICKS_PER_SECOND as f64;
            // A record that ends in the evening is one of the whole day.
            let length_s = (seconds / 86_400.0).ceil().max(1.0) * 86_400.0;
            Some(Demand::Measured {
                file: name.value,
                draws,
                length_s,
            })
        }
        Err(found) => {
            elsewhere.extend(found.problems().iter().map(|problem| {
                let told = problem.kind.to_string();
                let (message, accepted) = told
                    .split_once("; accepted: ")
                    .unwrap_or((&told, "what docs/demand.md tells"));
                Problem {
                    file: name.value.clone(),
                    line: problem.line,
                    column: problem.column,
                    part: "draws".to_owned(),
                    message: message.to_owned(),
                    accepted: accepted.to_owned(),
                }
            }));
            None
        }
    }
}
