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
    /// How it stands before the visit; a system that was never filled is filled first.
    pub(super) start: Start,
    /// Outlet that gives most, where the bucket goes.
    pub(super) widest: &'static str,
    /// Outlet that stands highest.
    pub(super) highest: &'static str,
    /// How far the widest outlet is opened, beside the open drain cock, to keep a sound
    /// pump running between its set points.
    pub(super) keeps_running: f64,
}

/// Air of a night of hard frost [K].
const FROST_K: f64 = 263.15;

/// Every site that is examined.
pub(super) const NAMES: &[&str] = &[
    "orchard-cottage",
    "orchard-in-frost",
    "orchard-new-tank",
    "boatyard-washdown",
    "hill-farm",
    "farm-with-wall-check",
    "garden-shed",
];

/// A site by name.
pub(super) fn ground(name: &str) -> Ground {
    let site = match name {
        "farm-with-wall-check" => farm_with_wall_check(),
        "orchard-in-frost" | "orchard-new-tank" => {
            let mut site = ground("orchard-cottage").site;
            site.name = name.to_owned();
            if name == "orchard-in-frost" {
                site.air_temperature.0 = FROST_K;
            }
            site
        }
        _ => {
            let file = site::shipped().iter().find(|file| file.name == name);
            site_of(name, file.expect("a shipped site").text)
        }
    };
    let (widest, highest, keeps_running) = match name {
        "orchard-cottage" | "orchard-in-frost" | "orchard-new-tank" => ("hose-bib", "shower", 0.6),
        "garden-shed" => ("bed-tap", "greenhouse-sprinkler", 0.6),
        "boatyard-washdown" => ("washdown-hose", "washdown-hose", 0.5),
        _ => ("dairy-tap", "bathroom-shower", 0.4),
    };
    let start = if name == "orchard-new-tank" {
        Start::Primed
    } else {
        Start::Charged
    };
    Ground {
        site,
        start,
        widest,
        highest,
        keeps_running,
    }
}

/// A visit's scenario on a site: these faults hidden, a qualified technician, the whole
/// kit, nobody else drawing water.
pub(super) fn scenario(ground: &Ground, faults: &[Fault]) -> Arc<Scenario> {
    let frame = shipped()
        .iter()
        .find(|s| s.name == "worried-owner")
        .expect("a shipped scenario");
    let mut scenario =
        Scenario::parse("worried-owner.ron", frame.text, &ShippedSites).expect("it is sound");
    scenario.site = ground.site.clone();
    scenario.start = ground.start;
    scenario.history = None;
    scenario.use_during = None;
    scenario.hidden = Hidden::Fixed(faults.to_vec());
    scenario.role = Role::Qualified;
    scenario.kit = Tool::ALL.to_vec();
    Arc::new(scenario)
}
