//! The one place where the command meets site files and plant.

use anyhow::{Result, bail};

use super::args::{FaultArg, StartArg};
use crate::demand::DemandSchedule;
use crate::parts::FixtureSpec;
use crate::site::SiteSpec;
use crate::trace::Recording;

/// What the command needs from the rest of the crate; tests put a made-up plant here.
pub(super) trait Engine {
    /// A site, read and validated.
    type Site;

    /// Reads a site file: its name for messages, its text.
    fn read_site(&self, file: &str, text: &str) -> Result<Self::Site>;

    /// The site's outlets, by which demand names them.
    fn outlets<'s>(&self, site: &'s Self::Site) -> &'s [FixtureSpec];

    /// Runs the plant and records it; `progress` is told how much is done, 0 to 1.
    fn run_trace(
        &self,
        run: &TraceRun<'_, Self::Site>,
        progress: &mut dyn FnMut(f64),
    ) -> Result<Recording>;
}

/// One run to record.
pub(super) struct TraceRun<'a, S> {
    pub(super) site: &'a S,
    pub(super) faults: &'a [FaultArg],
    pub(super) start: StartArg,
    pub(super) demand: &'a DemandSchedule,
    pub(super) duration_s: f64,
    pub(super) interval_s: f64,
}

/// The real thing.
pub(super) struct Plant;

impl Engine for Plant {
    type Site = SiteSpec;

    fn read_site(&self, _file: &str, _text: &str) -> Result<SiteSpec> {
        bail!("internal error: reading site files is not wired to the command yet")
    }

    fn outlets<'s>(&self, site: &'s SiteSpec) -> &'s [FixtureSpec] {
        &site.house.fixtures
    }

    fn run_trace(
        &self,
        run: &TraceRun<'_, SiteSpec>,
        _progress: &mut dyn FnMut(f64),
    ) -> Result<Recording> {
        let TraceRun {
            site,
            faults,
            start,
            demand,
            duration_s,
            interval_s,
        } = run;
        bail!(
            "internal error: the plant is not wired to the command yet; asked for {} with {} \
             faults and {} draws, {start:?}, {duration_s} s every {interval_s} s",
            site.name,
            faults.len(),
            demand.draws().len()
        )
    }
}

/// A site that comes with the program.
pub(super) struct ShippedSite {
    pub(super) name: &'static str,
    pub(super) text: &'static str,
}

/// Every site that comes with the program, in order of name.
pub(super) const SHIPPED_SITES: &[ShippedSite] = &[
    ShippedSite {
        name: "hill-farm",
        text: "",
    },
    ShippedSite {
        name: "orchard-cottage",
        text: "",
    },
];
