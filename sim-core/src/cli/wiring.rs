//! The one place where the command meets site files and plant.

use anyhow::{Result, anyhow};

use super::args::{FaultArg, StartArg};
use crate::demand::DemandSchedule;
use crate::faults::Fault;
use crate::parts::FixtureSpec;
use crate::plant::{self, Start};
use crate::site::SiteSpec;
use crate::trace::{Procedure, Recording, RecordingPlan, record_on};
use crate::units::Seconds;

/// What the command needs from the rest of the crate; tests put a made-up plant here.
pub(super) trait Engine {
    /// A site, read and validated.
    type Site;

    /// Reads a site file: its name for messages, its text.
    fn read_site(&self, file: &str, text: &[u8]) -> Result<Self::Site>;

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

    fn read_site(&self, file: &str, text: &[u8]) -> Result<SiteSpec> {
        crate::site::parse(file, text).map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            anyhow!(lines.join("\n"))
        })
    }

    fn outlets<'s>(&self, site: &'s SiteSpec) -> &'s [FixtureSpec] {
        &site.house.fixtures
    }

    fn run_trace(
        &self,
        run: &TraceRun<'_, SiteSpec>,
        progress: &mut dyn FnMut(f64),
    ) -> Result<Recording> {
        run_plant(run, progress).map(|(_, recording)| recording)
    }
}

/// Runs the real plant; it comes back as it stands at the end of the run.
pub(super) fn run_plant(
    run: &TraceRun<'_, SiteSpec>,
    progress: &mut dyn FnMut(f64),
) -> Result<(plant::Plant, Recording)> {
    let (start, procedure) = match run.start {
        StartArg::Dry => (Start::Dry, Procedure::FirstStart),
        StartArg::Primed => (Start::Primed, Procedure::PowerOn),
        StartArg::Charged => (Start::Charged, Procedure::InService),
    };
    let faults: Vec<Fault> = run.faults.iter().map(|f| f.fault).collect();
    let mut plant = plant::Plant::build(run.site, &faults, start)?;
    let plan = RecordingPlan {
        demand: run.demand,
        procedure,
        duration: Seconds(run.duration_s),
        interval: Seconds(run.interval_s),
    };
    let recording = record_on(&mut plant, &plan, progress)?;
    Ok((plant, recording))
}
