//! What is hidden, and what may be called in its place.

use super::marks::read_budget;
use super::severity::{read_severity, usual};
use crate::faults::{Fault, FaultKind, KindInfo, kinds};
use crate::file::fields::{Fields, Located, Variant};
use crate::file::problem::{Problems, Spot, nearest};
use crate::file::range::Range;
use crate::scenario::spec::{Hidden, HiddenDraw, Par};
use crate::site::SiteSpec;

pub(super) const HIDDEN: &[Variant] = &[("Fixed", &["faults"]), ("Drawn", &["pool"])];
pub(super) const DRAW_FIELDS: &[&str] = &["weight", "faults", "par"];
pub(super) const FAULT_FIELDS: &[&str] = &["fault", "severity"];
pub(super) const RANGE_FIELDS: &[&str] = &["from", "to"];
pub(super) const PAIR_FIELDS: &[&str] = &["one", "other"];

/// Most faults hidden at once; people practise on one, two or three.
const MAX_FAULTS: usize = 6;
/// Most entries of a pool.
const MAX_POOL: usize = 60;
/// Most pairs of kinds that count for one another.
const MAX_PAIRS: usize = 60;
/// Weight of an entry.
const WEIGHT: Range = Range::new(0.001, 1_000.0);

/// What is hidden, as read.
#[derive(Debug)]
pub(super) struct HiddenDraft {
    /// None when something in it was refused.
    read: Option<Hidden>,
    /// Every kind named in it that there is.
    kinds: Vec<FaultKind>,
    /// The pars of entries, with where they stand.
    pub(super) pars: Vec<(Par, Option<Spot>)>,
}

impl HiddenDraft {
    pub(super) fn read(fields: &Fields<'_>, site: Option<&SiteSpec>, problems: &Problems) -> Self {
        let mut kinds = Vec::new();
        let mut pars = Vec::new();
        let read = fields.variant("hidden", HIDDEN).and_then(|(name, inside)| {
            if name == "Fixed" {
                let faults = read_faults(&inside, site, problems, &mut kinds)?;
                // A fixed severity given as a range would have to be drawn.
                let fixed: Vec<Fault> = faults.iter().map(|(mildest, _)| *mildest).collect();
                return if faults.iter().all(|(mildest, worst)| mildest == worst) {
                    Some(Hidden::Fixed(fixed))
                } else {
                    Some(Hidden::Drawn(vec![HiddenDraw {
                        weight: 1.0,
                        faults,
                        par: None,
                    }]))
                };
            }
            let entries = inside.groups("pool", (1, MAX_POOL), DRAW_FIELDS);
            let is_empty = entries.is_empty();
            let draws: Vec<Option<HiddenDraw>> = entries
                .iter()
                .map(|entry| {
                    let weight = entry.number_or("weight", WEIGHT, 1.0);
                    let faults = read_faults(entry, site, problems, &mut kinds);
                    let par = if entry.is_given("par") {
                        let (minutes, money) = read_budget(entry, "par")?;
                        pars.push((Par { minutes, money }, entry.spot_of("par")));
                        Some(Par { minutes, money })
                    } else {
                        None
                    };
                    Some(HiddenDraw {
                        weight: weight?.value,
                        faults: faults?,
                        par,
                    })
                })
                .collect();
            let draws: Option<Vec<HiddenDraw>> = draws.into_iter().collect();
            draws.filter(|_| !is_empty).map(Hidden::Drawn)
        });
        Self { read, kinds, pars }
    }

    pub(super) fn finish(self) -> Option<Hidden> {
        self.read
    }
}

/// The faults in a list, each at its mildest and its worst; none when one was refused.
pub(crate) fn read_faults(
    fields: &Fields<'_>,
    site: Option<&SiteSpec>,
    problems: &Problems,
    kinds: &mut Vec<FaultKind>,
) -> Option<Vec<(Fault, Fault)>> {
    let is_given = fields.is_given("faults");
    let mut seen: Vec<FaultKind> = Vec::new();
    let read: Vec<Option<(Fault, Fault)>> = fields
        .groups("faults", (0, MAX_FAULTS), FAULT_FIELDS)
        .iter()
        .map(|group| {
            let name = group.text("fault", "a fault by part and mechanism")?;
            let info = find_kind(&name, problems)?;
            kinds.push(info.kind);
            if seen.contains(&info.kind) {
                problems.report_spot(
                    &name.spot,
                    format!("{} is hidden here already", name.written),
                    "each fault once",
                );
                return None;
            }
            seen.push(info.kind);
            let severity = if group.is_given("severity") {
                read_severity(group, info, problems)
            } else {
                Some(usual(info))
            };
            check_needs(&name, info, site, problems);
            let (from, to) = severity?;
            let fault = |severity| Fault {
                kind: info.kind,
                severity,
            };
            Some((fault(from), fault(to)))
        })
        .collect();
    let read: Option<Vec<(Fault, Fault)>> = read.into_iter().collect();
    read.filter(|_| is_given)
}

/// A fault needs the part that fails.
fn check_needs(
    name: &Located<String>,
    info: &KindInfo,
    site: Option<&SiteSpec>,
    problems: &Problems,
) {
    let Some(site) = site else { return };
    for need in info.needs {
        if !need.is_met_by(site) {
            problems.report_spot(
                &name.spot,
                format!(
                    "{} needs a {}, and {} has none",
                    name.written,
                    need.part(),
                    site.name
                ),
                "a fault of a part that the site has",
            );
        }
    }
}

/// The kind of that name.
fn find_kind(name: &Located<String>, problems: &Problems) -> Option<&'static KindInfo> {
    let found = kinds().find(|info| info.name == name.value);
    if found.is_none() {
        let names: Vec<&str> = kinds().map(|info| info.name).collect();
        let hint = nearest(&name.value, names.iter().copied())
            .map(|near| format!(", perhaps meant as {near}"))
            .unwrap_or_default();
        problems.report_spot(
            &name.spot,
            format!("no fault {}{hint}", name.written),
            names.join(", "),
        );
    }
    found
}

/// Pairs of kinds that count for one another; one of each pair must be hidden here.
pub(super) fn read_accept(
    fields: &Fields<'_>,
    hidden: &HiddenDraft,
    problems: &Problems,
) -> Vec<(FaultKind, FaultKind)> {
    if !fields.is_given("accept") {
        return Vec::new();
    }
    fields
        .groups("accept", (0, MAX_PAIRS), PAIR_FIELDS)
        .iter()
        .filter_map(|pair| {
            let kind = |field: &str| {
                let name = pair.text(field, "a fault by part and mechanism")?;
                find_kind(&name, problems).map(|info| info.kind)
            };
            let (one, other) = (kind("one"), kind("other"));
            let (one, other) = (one?, other?);
            let is_of_use = hidden.kinds.contains(&one) || hidden.kinds.contains(&other);
            if one == other || (hidden.read.is_some() && !is_of_use) {
                problems.report_spot(
                    &pair.spot(),
                    if one == other {
                        "a fault counts for itself"
                    } else {
                        "neither of the two is hidden here"
                    },
                    "two faults, one of which this scenario may hide",
                );
                return None;
            }
            Some((one, other))
        })
        .collect()
}
