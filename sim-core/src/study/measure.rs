//! The results that can be preferred, tabulated and plotted, by name.

use super::results::Figures;

/// A result of a setting.
#[derive(Debug)]
pub struct Measure {
    /// Name in files.
    pub name: &'static str,
    /// Name for people.
    pub label: &'static str,
    /// What the numbers are in.
    pub unit: MeasureUnit,
    /// Whether less is better.
    pub less_is_better: bool,
    of: fn(&Figures) -> Option<f64>,
}

/// What a result is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasureUnit {
    /// A plain number.
    Count,
    /// Seconds.
    Seconds,
    /// A share, 0 to 1.
    Share,
    /// Cubic meters.
    Volume,
    /// Pascals, gauge.
    Pressure,
    /// Joules for a cubic meter.
    EnergyPerVolume,
}

impl PartialEq for Measure {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Measure {
    /// Its value [SI]; none where a setting has none.
    #[must_use]
    pub fn of(&self, figures: &Figures) -> Option<f64> {
        (self.of)(figures)
    }
}

const fn measure(
    name: &'static str,
    label: &'static str,
    unit: MeasureUnit,
    less_is_better: bool,
    of: fn(&Figures) -> Option<f64>,
) -> Measure {
    Measure {
        name,
        label,
        unit,
        less_is_better,
        of,
    }
}

use MeasureUnit::{Count, EnergyPerVolume, Pressure, Seconds, Share, Volume};

/// Every result that has a name.
#[rustfmt::skip]
pub const MEASURES: &[Measure] = &[
    measure("starts_per_day_mean", "starts a day, mean", Count, true, |f| Some(f.starts_per_day_mean)),
    measure("starts_per_day_median", "starts a day, median", Count, true, |f| Some(f.starts_per_day_median)),
    measure("starts_per_day_95", "starts a day, 95 % of days", Count, true, |f| Some(f.starts_per_day_95)),
    measure("starts_per_day_most", "starts a day, worst", Count, true, |f| Some(f.starts_per_day_most)),
    measure("starts_per_hour_most", "starts an hour, worst", Count, true, |f| Some(f.starts_per_hour_most)),
    measure("run_median", "length of a run, median", Seconds, false, |f| f.run_median_s),
    measure("run_5", "length of a run, shortest 5 %", Seconds, false, |f| f.run_5_s),
    measure("short_runs", "runs under the least length", Share, true, |f| f.short_runs_share),
    measure("running", "share of time that the pump runs", Share, true, |f| Some(f.running_share)),
    measure("drawdown", "drawdown", Volume, false, |f| Some(f.drawdown_m3)),
    measure("energy", "energy for the water", EnergyPerVolume, true, |f| f.energy_j_per_m3),
    measure("lowest_pressure", "lowest pressure at an open outlet", Pressure, false, lowest),
    measure("median_pressure", "median pressure, worst outlet", Pressure, false, |f| {
        f.fixtures.iter().filter_map(|x| x.median_pa).min_by(f64::total_cmp)
    }),
];

fn lowest(figures: &Figures) -> Option<f64> {
    figures
        .fixtures
        .iter()
        .filter_map(|fixture| fixture.lowest_pa)
        .min_by(f64::total_cmp)
}
