//! What came of one setting: figures for people, and the line that a file of results keeps.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::drawdown::drawdown_m3;
use super::lengths::RunLengths;
use super::limits;
use super::simulate::SettingResult;
use super::spec::Study;
use crate::parts::FixtureSpec;
use crate::site::SiteSpec;

/// What a setting came to, over all days and seeds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figures {
    /// Days lived through, all seeds together.
    pub days: f64,
    /// Starts a day: mean.
    pub starts_per_day_mean: f64,
    /// Starts a day: half the days have no more.
    pub starts_per_day_median: f64,
    /// Starts a day: 95 % of days have no more.
    pub starts_per_day_95: f64,
    /// Starts a day: the worst day.
    pub starts_per_day_most: f64,
    /// Starts in the worst hour.
    pub starts_per_hour_most: f64,
    /// Length of a run: half of them are no longer [s], within 0.2 % ([`RunLengths`]); none when the pump never ran.
    pub run_median_s: Option<f64>,
    /// Length of a run: 5 % of them are shorter [s].
    pub run_5_s: Option<f64>,
    /// Share of runs shorter than the least that is allowed [-].
    pub short_runs_share: Option<f64>,
    /// The least that is allowed [s].
    pub least_run_s: f64,
    /// Share of the time that the pump runs [-].
    pub running_share: f64,
    /// What the tank gives between cut-out and cut-in, by the gas law [m³].
    pub drawdown_m3: f64,
    /// Energy for the water drawn [J/m³]; none when none was.
    pub energy_j_per_m3: Option<f64>,
    /// Water that left by the house's outlets [m³/day].
    pub used_m3_per_day: f64,
    /// Pressure at each outlet.
    pub fixtures: Vec<FixtureFigures>,
    /// Cut-out as set [Pa, gauge].
    pub cut_out_pa: f64,
    /// The tank's rated pressure [Pa, gauge].
    pub tank_rating_pa: f64,
    /// What the pump makes against a shut valve [Pa, gauge].
    pub shut_off_pa: f64,
    /// Starts a day that a motor of this size may make.
    pub allowed_starts_per_day: f64,
    /// Starts an hour that a motor of this size may make.
    pub allowed_starts_per_hour: f64,
    /// Times that the fast engine had to hand over to the plant.
    pub hand_overs: u64,
}

/// Pressure at one outlet while it was open.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FixtureFigures {
    /// The outlet's name.
    pub name: String,
    /// Lowest [Pa, gauge]; none when it was never opened.
    pub lowest_pa: Option<f64>,
    /// Median over time [Pa, gauge]; over seeds, the middle one of their medians.
    pub median_pa: Option<f64>,
}

/// What became of a setting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// It was lived through.
    Figures(Figures),
    /// It cannot be built or followed, and why.
    Refused(String),
}

/// One line of a file of results.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SettingRow {
    /// Number of the setting.
    pub setting: usize,
    /// What became of it.
    pub outcome: Outcome,
}

impl SettingRow {
    /// The figures, if it has any.
    #[must_use]
    pub fn figures(&self) -> Option<&Figures> {
        match &self.outcome {
            Outcome::Figures(figures) => Some(figures),
            Outcome::Refused(_) => None,
        }
    }
}

/// What several households came to, as far as they have been lived through.
#[derive(Debug, Default)]
pub(super) struct Summary {
    days: f64,
    starts: f64,
    /// How many days had so many starts.
    days_by_starts: BTreeMap<u64, u64>,
    most_starts_in_an_hour: u64,
    lengths: RunLengths,
    run_s: f64,
    energy_j: f64,
    pumped_m3: f64,
    used_m3: f64,
    /// For each outlet the lowest pressure and each household's median [Pa, gauge].
    fixtures: Vec<(Option<f64>, Vec<f64>)>,
    hand_overs: u64,
}

impl Summary {
    /// Adds what one household came to.
    pub(super) fn add(&mut self, run: &SettingResult) {
        self.days += run.days;
        self.starts += run.starts as f64;
        for starts in &run.starts_per_day {
            *self.days_by_starts.entry(*starts as u64).or_insert(0) += 1;
        }
        self.most_starts_in_an_hour = self.most_starts_in_an_hour.max(run.most_starts_in_an_hour);
        self.lengths.add_all(&run.run_lengths);
        self.run_s += run.run_s;
        self.energy_j += run.energy_j;
        self.pumped_m3 += run.pumped_m3;
        self.used_m3 += run.used_m3;
        self.hand_overs += run.hand_overs;
        self.fixtures.resize(run.fixtures.len(), (None, Vec::new()));
        for ((lowest, medians), seen) in self.fixtures.iter_mut().zip(&run.fixtures) {
            *lowest = match (*lowest, seen.lowest_pa) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            medians.extend(seen.median_pa);
        }
    }

    /// Starts that so large a share of days does not exceed.
    fn starts_quantile(&self, share: f64) -> f64 {
        let n_days: u64 = self.days_by_starts.values().sum();
        let rank = (share * n_days as f64).ceil() as u64;
        let mut sum = 0;
        self.days_by_starts
            .iter()
            .find(|(_, days)| {
                sum += **days;
                sum >= rank
            })
            .map_or(0.0, |(starts, _)| *starts as f64)
    }

    /// The figures of all of them.
    pub(super) fn figures(&self, study: &Study, site: &SiteSpec) -> Figures {
        let least_run_s = study
            .limits
            .iter()
            .find_map(|limit| limit.rule.least_run_s(site))
            .unwrap_or_else(|| limits::least_run_s(site));
        let days = self.days.max(1e-9);
        let (allowed_starts_per_day, allowed_starts_per_hour, shut_off_pa) = limits::of_site(site);
        Figures {
            days: self.days,
            starts_per_day_mean: self.starts / days,
            starts_per_day_median: self.starts_quantile(0.5),
            starts_per_day_95: self.starts_quantile(0.95),
            starts_per_day_most: self.starts_quantile(1.0),
            starts_per_hour_most: self.most_starts_in_an_hour as f64,
            run_median_s: self.lengths.quantile_s(0.5),
            run_5_s: self.lengths.quantile_s(0.05),
            short_runs_share: self.lengths.share_under(least_run_s),
            least_run_s,
            running_share: self.run_s / (days * 86_400.0),
            drawdown_m3: drawdown_m3(site),
            energy_j_per_m3: (self.pumped_m3 > 1e-6).then(|| self.energy_j / self.pumped_m3),
            used_m3_per_day: self.used_m3 / days,
            fixtures: self.fixtures(site),
            cut_out_pa: site.wall.pressure_switch.cut_out.si(),
            tank_rating_pa: site.tank.rated_pressure.si(),
            shut_off_pa,
            allowed_starts_per_day,
            allowed_starts_per_hour,
            hand_overs: self.hand_overs,
        }
    }

    fn fixtures(&self, site: &SiteSpec) -> Vec<FixtureFigures> {
        let of = |(fixture, (lowest_pa, medians)): (&FixtureSpec, &(Option<f64>, Vec<f64>))| {
            let mut medians = medians.clone();
            medians.sort_by(f64::total_cmp);
            FixtureFigures {
                name: fixture.name.clone(),
                lowest_pa: *lowest_pa,
                median_pa: quantile(&medians, 0.5),
            }
        };
        site.house
            .fixtures
            .iter()
            .zip(&self.fixtures)
            .map(of)
            .collect()
    }
}

/// The value that so large a share of sorted values does not exceed; none of no values.
pub(super) fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let rank = (share * sorted.len() as f64).ceil() as usize;
    sorted.get(rank.saturating_sub(1).min(last)).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_values_that_came_up() {
        let values: Vec<f64> = (1..=20).map(f64::from).collect();
        assert_eq!(quantile(&values, 0.5), Some(10.0));
        assert_eq!(quantile(&values, 0.95), Some(19.0));
        assert_eq!(quantile(&values, 0.05), Some(1.0));
        assert_eq!(quantile(&[], 0.5), None);
    }
}
