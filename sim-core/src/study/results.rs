//! What came of one setting: figures for people, and the line that a file of results keeps.

use serde::{Deserialize, Serialize};

use super::drawdown::drawdown_m3;
use super::limits;
use super::simulate::SettingResult;
use super::spec::Study;
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
    /// Length of a run: half of them are no longer [s]; none when the pump never ran.
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

impl Figures {
    /// Puts the runs of all seeds together.
    pub(super) fn of(study: &Study, site: &SiteSpec, runs: &[SettingResult]) -> Self {
        let days: f64 = runs.iter().map(|run| run.days).sum();
        let mut starts: Vec<f64> = all(runs, |run| &run.starts_per_day);
        starts.sort_by(f64::total_cmp);
        let mut lengths: Vec<f64> = all(runs, |run| &run.run_lengths_s);
        lengths.sort_by(f64::total_cmp);
        let least_run_s = study
            .limits
            .iter()
            .find_map(|limit| limit.rule.least_run_s(site))
            .unwrap_or_else(|| limits::least_run_s(site));
        let n_short = lengths.partition_point(|length| *length < least_run_s);
        let energy_j: f64 = runs.iter().map(|run| run.energy_j).sum();
        let used_m3: f64 = runs.iter().map(|run| run.used_m3).sum();
        let pumped_m3: f64 = runs.iter().map(|run| run.pumped_m3).sum();
        let run_s: f64 = runs.iter().map(|run| run.run_s).sum();
        let n_starts: f64 = runs.iter().map(|run| run.starts as f64).sum();
        let (allowed_starts_per_day, allowed_starts_per_hour, shut_off_pa) = limits::of_site(site);
        Self {
            days,
            starts_per_day_mean: n_starts / days.max(1e-9),
            starts_per_day_median: quantile(&starts, 0.5).unwrap_or(0.0),
            starts_per_day_95: quantile(&starts, 0.95).unwrap_or(0.0),
            starts_per_day_most: starts.last().copied().unwrap_or(0.0),
            starts_per_hour_most: runs
                .iter()
                .map(|run| run.most_starts_in_an_hour as f64)
                .fold(0.0, f64::max),
            run_median_s: quantile(&lengths, 0.5),
            run_5_s: quantile(&lengths, 0.05),
            short_runs_share: (!lengths.is_empty()).then(|| n_short as f64 / lengths.len() as f64),
            least_run_s,
            running_share: run_s / (days * 86_400.0).max(1e-9),
            drawdown_m3: drawdown_m3(site),
            energy_j_per_m3: (pumped_m3 > 1e-6).then(|| energy_j / pumped_m3),
            used_m3_per_day: used_m3 / days.max(1e-9),
            fixtures: fixtures(site, runs),
            cut_out_pa: site.wall.pressure_switch.cut_out.si(),
            tank_rating_pa: site.tank.rated_pressure.si(),
            shut_off_pa,
            allowed_starts_per_day,
            allowed_starts_per_hour,
            hand_overs: runs.iter().map(|run| run.hand_overs).sum(),
        }
    }
}

fn all(runs: &[SettingResult], of: fn(&SettingResult) -> &[f64]) -> Vec<f64> {
    runs.iter().flat_map(of).copied().collect()
}

fn fixtures(site: &SiteSpec, runs: &[SettingResult]) -> Vec<FixtureFigures> {
    site.house
        .fixtures
        .iter()
        .enumerate()
        .map(|(idx, fixture)| {
            let of = |pick: fn(&super::FixturePressure) -> Option<f64>| -> Vec<f64> {
                let mut found: Vec<f64> = runs
                    .iter()
                    .filter_map(|run| run.fixtures.get(idx).and_then(pick))
                    .collect();
                found.sort_by(f64::total_cmp);
                found
            };
            FixtureFigures {
                name: fixture.name.clone(),
                lowest_pa: of(|f| f.lowest_pa).first().copied(),
                median_pa: quantile(&of(|f| f.median_pa), 0.5),
            }
        })
        .collect()
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
