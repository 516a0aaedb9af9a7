//! What may be wrong: every fault of the catalogue that fits the site, at several
//! severities, nothing at all, and the pairs that come together.

use super::book::Book;
use crate::catalog::{Catalog, Entry, SiteKind};
use crate::faults::{Fault, FaultKind};
use crate::math;
use crate::site::SiteSpec;

/// Share of a kind's weight that each of five severities has, mild to severe (training
/// values).
const FIVE: [f64; 5] = [0.15, 0.2, 0.3, 0.2, 0.15];
/// Which of five severities a fault of a pair is thought of at.
const OF_A_PAIR: [usize; 2] = [1, 3];

/// One thing that may be wrong, at one severity.
#[derive(Debug, Clone, PartialEq)]
pub struct Hypothesis {
    /// What is wrong; empty when nothing is.
    pub faults: Vec<Fault>,
    /// How likely before anything was seen; those of a case add up to 1.
    pub prior: f64,
    /// Where in the list the same faults stand a severity milder or worse.
    pub(super) neighbours: Vec<usize>,
}

impl Hypothesis {
    /// What is wrong, whatever the severity, in order.
    #[must_use]
    pub fn kinds(&self) -> Vec<FaultKind> {
        let mut kinds: Vec<FaultKind> = self.faults.iter().map(|fault| fault.kind).collect();
        kinds.sort_unstable();
        kinds
    }
}

/// Severities [SI] of a kind with the share of each.
fn severities(entry: &Entry) -> Vec<(f64, f64)> {
    let info = entry.kind.info();
    let si = |severity: f64| severity * info.si_per_unit;
    let [mild, usual, severe] = entry.severities.all();
    if mild == usual && usual == severe {
        return vec![(si(usual), 1.0)];
    }
    if info.unit == "leg" {
        return vec![(1.0, 0.5), (2.0, 0.5)];
    }
    let points = [
        mild,
        between(mild, usual),
        usual,
        between(usual, severe),
        severe,
    ];
    let mut found: Vec<(f64, f64)> = Vec::new();
    for (point, share) in points.into_iter().zip(FIVE) {
        match found.last_mut() {
            Some(last) if last.0 == si(point) => last.1 += share,
            _ => found.push((si(point), share)),
        }
    }
    found
}

/// The middle of two severities: of their logarithms where both are above nought.
fn between(a: f64, b: f64) -> f64 {
    if a == b {
        a
    } else if a > 0.0 && b > 0.0 {
        math::pow(a * b, 0.5)
    } else {
        0.5 * (a + b)
    }
}

/// Everything that may be wrong with a site, the open earth left out: it shows nothing and
/// is weighed by itself.
pub(super) fn hypotheses(site: &SiteSpec, catalog: &Catalog, book: &Book) -> Vec<Hypothesis> {
    let kind = SiteKind::of(site);
    let fits = |entry: &&Entry| {
        entry.kind != FaultKind::EarthOpen
            && entry.weight.on(kind) > 0.0
            && entry
                .kind
                .info()
                .needs
                .iter()
                .all(|need| need.is_met_by(site))
    };
    let entries: Vec<&Entry> = catalog.entries().iter().filter(fits).collect();
    let mut list = vec![Hypothesis {
        faults: Vec::new(),
        prior: book.healthy_weight,
        neighbours: Vec::new(),
    }];
    for entry in &entries {
        let from = list.len();
        let levels = severities(entry);
        for (step, (severity, share)) in levels.iter().enumerate() {
            let mut neighbours = Vec::new();
            if step > 0 {
                neighbours.push(from + step - 1);
            }
            if step + 1 < levels.len() && entry.kind.info().unit != "leg" {
                neighbours.push(from + step + 1);
            }
            list.push(Hypothesis {
                faults: vec![Fault {
                    kind: entry.kind,
                    severity: *severity,
                }],
                prior: entry.weight.on(kind) * share,
                neighbours,
            });
        }
    }
    for compound in &book.compounds {
        let parts: Vec<&Entry> = compound
            .kinds
            .iter()
            .filter_map(|kind| entries.iter().copied().find(|entry| entry.kind == *kind))
            .collect();
        if parts.len() != compound.kinds.len() || parts.len() != 2 {
            continue;
        }
        let levels: Vec<Vec<f64>> = parts.iter().map(|entry| of_a_pair(entry)).collect();
        let (from, width) = (list.len(), levels[1].len());
        let count = levels[0].len() * width;
        for at in 0..count {
            let (a, b) = (at / width, at % width);
            let neighbours = (0..count)
                .filter(|other| {
                    let (c, d) = (other / width, other % width);
                    (a == c) != (b == d)
                })
                .map(|other| from + other)
                .collect();
            let fault = |part: usize, level: usize| Fault {
                kind: parts[part].kind,
                severity: levels[part][level],
            };
            list.push(Hypothesis {
                faults: vec![fault(0, a), fault(1, b)],
                prior: compound.weight / count as f64,
                neighbours,
            });
        }
    }
    let total: f64 = list.iter().map(|hypothesis| hypothesis.prior).sum();
    for hypothesis in &mut list {
        hypothesis.prior /= total;
    }
    list
}

fn of_a_pair(entry: &Entry) -> Vec<f64> {
    let all = severities(entry);
    if all.len() == FIVE.len() {
        OF_A_PAIR.iter().map(|at| all[*at].0).collect()
    } else {
        all.iter().map(|(severity, _)| *severity).collect()
    }
}
