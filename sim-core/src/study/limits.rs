//! What a setting must respect, and whether it does.
//!
//! Figures by motor size are common practice, no source: makers' booklets differ and none
//! was read for this.  A study file can put its own figure and source in their place.

use super::drawdown::shut_off_pa;
use super::results::Figures;
use crate::site::SiteSpec;
use crate::units::convert::HORSEPOWER;

/// A limit with where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// What must be respected.
    pub rule: LimitRule,
    /// Source, or "common practice, no source".
    pub source: String,
}

/// What must be respected.
#[derive(Debug, Clone, PartialEq)]
pub enum LimitRule {
    /// Runs of the pump are no shorter than this, but for a share of them.
    RunTime {
        /// Least length [s]; by motor size when left out.
        least_s: Option<f64>,
        /// Share of runs that may be shorter [-].
        share: f64,
    },
    /// Starts on a busy day: nineteen days of twenty have no more.
    StartsPerDay {
        /// Most; by motor size when left out.
        most: Option<f64>,
    },
    /// Starts in the busiest hour of all.
    StartsPerHour {
        /// Most; by motor size when left out.
        most: Option<f64>,
    },
    /// Pressure before an open outlet never falls below this.
    Pressure {
        /// The outlet's name.
        fixture: String,
        /// Least [Pa, gauge].
        least_pa: f64,
    },
    /// Cut-out is no higher than this share of the tank's rated pressure.
    TankRating {
        /// Share [-].
        share: f64,
    },
    /// Cut-out is no higher than this share of what the pump makes against a shut valve.
    PumpRating {
        /// Share [-].
        share: f64,
    },
    /// The tank gives at least this much between cut-out and cut-in.
    Drawdown {
        /// Least [m³].
        least_m3: f64,
    },
}

/// How a setting stands to one limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kept {
    /// What the setting has, SI.
    pub found: f64,
    /// What the limit allows, SI.
    pub allowed: f64,
    /// How far it is beyond the limit, as a share of it; nought or less when it is kept.
    pub beyond: f64,
}

impl Kept {
    /// Whether the limit is kept.
    #[must_use]
    pub fn is_kept(self) -> bool {
        self.beyond <= 0.0
    }

    fn at_most(found: f64, allowed: f64) -> Self {
        Self {
            found,
            allowed,
            beyond: (found - allowed) / allowed.abs().max(1e-9),
        }
    }

    fn at_least(found: f64, allowed: f64) -> Self {
        Self {
            found,
            allowed,
            beyond: (allowed - found) / allowed.abs().max(1e-9),
        }
    }
}

/// Shortest run by motor size [s]: a minute below 1.5 hp, two from there on (common
/// practice, no source).
pub(super) fn least_run_s(site: &SiteSpec) -> f64 {
    if site.motor.rated_power.si() < 1.5 * HORSEPOWER * ROUNDING {
        60.0
    } else {
        120.0
    }
}

/// Most starts a day by motor size: 300 up to 3/4 hp, 100 above (common practice, from
/// memory of makers' booklets, no source).
fn most_starts_per_day(site: &SiteSpec) -> f64 {
    if site.motor.rated_power.si() <= 0.75 * HORSEPOWER / ROUNDING {
        300.0
    } else {
        100.0
    }
}

/// Most starts in an hour by motor size: 20 below 1.5 hp, 15 from there on (common
/// practice, no source).
fn most_starts_per_hour(site: &SiteSpec) -> f64 {
    if site.motor.rated_power.si() < 1.5 * HORSEPOWER * ROUNDING {
        20.0
    } else {
        15.0
    }
}

/// A motor of 1.5 hp given as 1.12 kW is one of 1.5 hp.
const ROUNDING: f64 = 0.995;

impl LimitRule {
    /// The shortest run that this limit allows [s], when it is about runs.
    pub(super) fn least_run_s(&self, site: &SiteSpec) -> Option<f64> {
        match self {
            Self::RunTime { least_s, .. } => Some(least_s.unwrap_or_else(|| least_run_s(site))),
            _ => None,
        }
    }

    /// How a setting stands to this limit; none where it says nothing of it, as when the
    /// pump never ran or an outlet was never opened.
    #[must_use]
    pub fn judge(&self, figures: &Figures) -> Option<Kept> {
        match self {
            Self::RunTime { share, .. } => {
                Some(Kept::at_most(figures.short_runs_share?, share.max(1e-6)))
            }
            Self::StartsPerDay { most } => Some(Kept::at_most(
                figures.starts_per_day_95,
                most.unwrap_or(figures.allowed_starts_per_day),
            )),
            Self::StartsPerHour { most } => Some(Kept::at_most(
                figures.starts_per_hour_most,
                most.unwrap_or(figures.allowed_starts_per_hour),
            )),
            Self::Pressure { fixture, least_pa } => {
                let found = figures.fixtures.iter().find(|f| f.name == *fixture)?;
                Some(Kept::at_least(found.lowest_pa?, *least_pa))
            }
            Self::TankRating { share } => Some(Kept::at_most(
                figures.cut_out_pa,
                share * figures.tank_rating_pa,
            )),
            Self::PumpRating { share } => Some(Kept::at_most(
                figures.cut_out_pa,
                share * figures.shut_off_pa,
            )),
            Self::Drawdown { least_m3 } => Some(Kept::at_least(figures.drawdown_m3, *least_m3)),
        }
    }
}

/// How a setting stands to every limit, in their order.
#[must_use]
pub fn judge(limits: &[Limit], figures: &Figures) -> Vec<Option<Kept>> {
    limits
        .iter()
        .map(|limit| limit.rule.judge(figures))
        .collect()
}

/// Figures of the site that limits need: starts a day and an hour by motor size, and what
/// the pump makes against a shut valve [Pa].
pub(super) fn of_site(site: &SiteSpec) -> (f64, f64, f64) {
    (
        most_starts_per_day(site),
        most_starts_per_hour(site),
        shut_off_pa(site),
    )
}
