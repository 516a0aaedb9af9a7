//! The sites that are examined, and how the examination is held on each.

use std::sync::Arc;

use sim_core::faults::Fault;
use sim_core::plant::Start;
use sim_core::scenario::{Hidden, Role, Scenario, ShippedSites, shipped};
use sim_core::session::Tool;
use sim_core::site::{self, SiteSpec};

use crate::support::sites::{farm_with_wall_check, site_of};

/// A site and what an examiner opens on it.
pub(super) struct Ground {
    pub(super) site: SiteSpec,
    /// Outlet that gives most, where the bucket goes.
    pub(super) widest: &'static str,
    /// Outlet that stands highest.
    pub(super) highest: &'static str,
    /// How far the widest outlet is opened, beside the open drain cock, to keep a sound
    /// pump running between its set points.
    pub(super) keeps_running: f64,
}

/// Every site that is examined.
pub(super) const NAMES: &[&str] = &[
    "orchard-cottage",
    "boatyard-washdown",
    "hill-farm",
    "farm-with-wall-check",
    "garden-shed",
];

/// A site by name.
pub(super) fn ground(name: &str) -> Ground {
    let site = match name {
        "farm-with-wall-check" => farm_with_wall_check(),
        _ => {
            let file = site::shipped().iter().find(|file| file.name == name);
            site_of(name, file.expect("a shipped site").text)
        }
    };
    let (widest, highest, keeps_running) = match name {
        "orchard-cottage" => ("hose-bib", "shower", 0.6),
        "garden-shed" => ("bed-tap", "greenhouse-sprinkler", 0.6),
        "boatyard-washdown" => ("washdown-hose", "washdown-hose", 0.5),
        _ => ("dairy-tap", "bathroom-shower", 0.4),
    };
    Ground {
        site,
        widest,
        highest,
        keeps_running,
    }
}

/// A visit's scenario on a site: these faults hidden, a qualified technician, the whole
/// kit, nobody else drawing water.
pub(super) fn scenario(site: &SiteSpec, faults: &[Fault]) -> Arc<Scenario> {
    let frame = shipped()
        .iter()
        .find(|s| s.name == "worried-owner")
        .expect("a shipped scenario");
    let mut scenario =
        Scenario::parse("worried-owner.ron", frame.text, &ShippedSites).expect("it is sound");
    scenario.site = site.clone();
    scenario.start = Start::Charged;
    scenario.history = None;
    scenario.use_during = None;
    scenario.hidden = Hidden::Fixed(faults.to_vec());
    scenario.role = Role::Qualified;
    scenario.kit = Tool::ALL.to_vec();
    Arc::new(scenario)
}
