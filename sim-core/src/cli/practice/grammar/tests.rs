//! Lines of plain English and what they mean.

use super::*;
use crate::faults::FaultKind;
use crate::session::{Action, Cover, FaultName, Moment, Port, Probe, Repair, Until};
use crate::units::convert::{BAR, LITER, PSI, US_GALLON};

mod reach;
mod slips;
mod table;

const OUTLETS: [&str; 5] = ["kitchen-tap", "shower", "toilet", "washer", "hose-bib"];

fn at<T>(station: Station, units: Units, then: impl FnOnce(&Context<'_>) -> T) -> T {
    let outlets: Vec<String> = OUTLETS.map(str::to_owned).to_vec();
    then(&Context {
        station,
        outlets: &outlets,
        units,
    })
}

fn understood(line: &str, station: Station) -> Line {
    at(station, Units::Us, |context| {
        read(line, context).unwrap_or_else(|problem| panic!("{line}: {problem:?}"))
    })
}

fn action(line: &str, station: Station) -> Action {
    match understood(line, station) {
        Line::Act(action) => action,
        other => panic!("{line}: {other:?}"),
    }
}
