//! What households draw, made up once and shared by the settings that draw the same.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use super::spec::Demand;
use crate::demand::{DemandSchedule, nominal_flow_m3_per_s};
use crate::parts::FixtureSpec;

/// Draws that are kept [-]; one takes 32 bytes.
const MOST_DRAWS: usize = 2_000_000;

/// What a schedule depends on.
#[derive(Debug, Clone, PartialEq)]
struct Key {
    seed: u64,
    days: f64,
    demand: Demand,
    /// Name and flow of each outlet.
    fixtures: Vec<(String, f64)>,
}

impl Key {
    fn new(demand: &Demand, seed: u64, days: f64, fixtures: &[FixtureSpec]) -> Self {
        let mut demand = demand.clone();
        let mut fixtures: Vec<_> = fixtures
            .iter()
            .map(|fixture| (fixture.name.clone(), nominal_flow_m3_per_s(fixture)))
            .collect();
        match &mut demand {
            // A leak is a fault and no draw.
            Demand::Household(home) => home.leak_m3_per_s = 0.0,
            // Read when the study was: the site's later changes do not matter.
            Demand::Measured { draws, .. } => {
                *draws = DemandSchedule::none();
                fixtures.clear();
            }
            Demand::Nothing => fixtures.clear(),
        }
        Self {
            seed,
            days,
            demand,
            fixtures,
        }
    }
}

type Shared = Arc<OnceLock<Arc<DemandSchedule>>>;

/// Schedules of one study that were made up lately.
///
/// May be asked from several threads; a schedule is made up by one of them while the others
/// wait for it.  Memory is bounded: the oldest schedules go first, and are made up again.
#[derive(Debug, Default)]
pub struct Schedules {
    kept: Mutex<VecDeque<(Key, Shared)>>,
}

impl Schedules {
    /// None so far.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// What is drawn on so many days by the household of a seed, as [`Demand::schedule`]
    /// says.  All calls must be for one study.
    #[must_use]
    pub fn get(
        &self,
        demand: &Demand,
        seed: u64,
        days: f64,
        fixtures: &[FixtureSpec],
    ) -> Arc<DemandSchedule> {
        let key = Key::new(demand, seed, days, fixtures);
        let shared = {
            let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
            if let Some((_, shared)) = kept.iter().find(|(known, _)| *known == key) {
                Arc::clone(shared)
            } else {
                let shared = Shared::default();
                kept.push_back((key, Arc::clone(&shared)));
                shared
            }
        };
        let schedule = shared.get_or_init(|| Arc::new(demand.schedule(seed, days, fixtures)));
        let schedule = Arc::clone(schedule);
        self.drop_oldest();
        schedule
    }

    fn drop_oldest(&self) {
        let mut kept = self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        let n_draws = |shared: &Shared| shared.get().map_or(0, |made| made.draws().len() + 1);
        let mut sum: usize = kept.iter().map(|(_, shared)| n_draws(shared)).sum();
        while sum > MOST_DRAWS && kept.len() > 1 {
            let Some((_, oldest)) = kept.pop_front() else {
                return;
            };
            sum -= n_draws(&oldest);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demand::test_outlet;
    use crate::study::HouseholdSpec;

    fn home(occupants: f64, leak_m3_per_s: f64) -> Demand {
        Demand::Household(HouseholdSpec {
            occupants,
            garden_m3_per_s: 0.0,
            livestock: Vec::new(),
            leak_m3_per_s,
        })
    }

    #[test]
    fn settings_that_draw_the_same_share_one_schedule() {
        let schedules = Schedules::new();
        let outlets = |height: f64| {
            let mut toilet = test_outlet("toilet", 3.0);
            toilet.elevation = crate::units::Meters(height);
            [toilet]
        };
        let first = schedules.get(&home(2.0, 0.0), 1, 3.0, &outlets(1.0));
        assert_eq!(
            *first,
            home(2.0, 0.0).schedule(1, 3.0, &outlets(1.0)),
            "the same as made up by itself"
        );
        let same = schedules.get(&home(2.0, 1e-6), 1, 3.0, &outlets(7.0));
        assert!(Arc::ptr_eq(&first, &same), "leaks and heights draw nothing");
        for (demand, seed, flow) in [
            (home(3.0, 0.0), 1, 3.0),
            (home(2.0, 0.0), 2, 3.0),
            (home(2.0, 0.0), 1, 4.0),
        ] {
            let other = schedules.get(&demand, seed, 3.0, &[test_outlet("toilet", flow)]);
            assert_ne!(first, other);
        }
    }

    #[test]
    fn what_is_kept_is_bounded() {
        let schedules = Schedules::new();
        let outlets = [test_outlet("toilet", 3.0)];
        // 13 draws a day for 2.6 people.
        for seed in 0..40 {
            let _ = schedules.get(&home(26.0, 0.0), seed, 1_000.0, &outlets);
        }
        let kept = schedules.kept.lock().unwrap();
        let draws: usize = kept
            .iter()
            .map(|(_, s)| s.get().unwrap().draws().len())
            .sum();
        assert!(draws <= MOST_DRAWS, "{draws}");
        assert!(kept.len() > 3 && kept.len() < 40, "{}", kept.len());
    }
}
