//! A list of draws in order of time; draws at one outlet never overlap.

use std::collections::BTreeMap;

use crate::parts::FixtureSpec;

/// Ticks of the plant in one second: a tick is 20 ms.
pub const TICKS_PER_SECOND: u64 = 50;

/// One outlet opened, and shut again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// When the outlet opens, from the start of the run [ticks].
    pub start_ticks: u64,
    /// How long it stays open [ticks], 1 or more.
    pub duration_ticks: u64,
    /// Which outlet, as an index into the site's `house.fixtures`.
    pub fixture: usize,
    /// How far it is opened, above 0 and up to 1 [-].
    pub opening: f64,
}

impl Draw {
    /// When the outlet shuts, from the start of the run [ticks].
    #[must_use]
    pub fn end_ticks(&self) -> u64 {
        self.start_ticks.saturating_add(self.duration_ticks)
    }
}

/// Every draw of a run, ordered by start, then by outlet.
///
/// ```
/// use sim_core::demand::{DemandSchedule, Draw};
///
/// let draw = Draw { start_ticks: 0, duration_ticks: 500, fixture: 0, opening: 1.0 };
/// let later = Draw { start_ticks: 100, ..draw };
/// let schedule = DemandSchedule::new(vec![later, draw]);
/// // The second draw waits until the outlet is free.
/// assert_eq!(schedule.draws()[1].start_ticks, 500);
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DemandSchedule {
    draws: Vec<Draw>,
}

impl DemandSchedule {
    /// Nobody draws anything.
    #[must_use]
    pub fn none() -> Self {
        Self::default()
    }

    /// Puts draws in order; one that starts while its outlet is still open waits
    /// until the outlet shuts and keeps its length.
    #[must_use]
    pub fn new(mut draws: Vec<Draw>) -> Self {
        draws.sort_by_key(|draw| (draw.start_ticks, draw.fixture));
        let mut free_from_by_fixture = BTreeMap::new();
        for draw in &mut draws {
            let free_from = free_from_by_fixture.entry(draw.fixture).or_insert(0);
            draw.start_ticks = draw.start_ticks.max(*free_from);
            *free_from = draw.end_ticks();
        }
        draws.sort_by_key(|draw| (draw.start_ticks, draw.fixture));
        Self { draws }
    }

    /// The draws, ordered by start, then by outlet.
    #[must_use]
    pub fn draws(&self) -> &[Draw] {
        &self.draws
    }

    /// Whether nothing is drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.draws.is_empty()
    }

    /// The same schedule without what starts at `end_ticks` or later.
    #[must_use]
    pub fn before(mut self, end_ticks: u64) -> Self {
        self.draws.retain(|draw| draw.start_ticks < end_ticks);
        self
    }
}

/// What an outlet gives when fully open at the pressure it was rated at [m³/s].
///
/// Volumes in schedules are turned into times with this flow; what the plant then
/// delivers depends on the pressure at that moment.
#[must_use]
pub fn nominal_flow_m3_per_s(fixture: &FixtureSpec) -> f64 {
    let rated = fixture.rating.flow.si();
    fixture.limit.map_or(rated, |limit| rated.min(limit.si()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draw(start_ticks: u64, duration_ticks: u64, fixture: usize) -> Draw {
        Draw {
            start_ticks,
            duration_ticks,
            fixture,
            opening: 1.0,
        }
    }

    #[test]
    fn a_draw_at_a_busy_outlet_waits_and_keeps_its_length() {
        let schedule = DemandSchedule::new(vec![draw(30, 10, 0), draw(0, 50, 0), draw(10, 100, 0)]);
        let spans: Vec<_> = schedule
            .draws()
            .iter()
            .map(|draw| (draw.start_ticks, draw.end_ticks()))
            .collect();
        assert_eq!(spans, [(0, 50), (50, 150), (150, 160)]);
    }

    #[test]
    fn draws_at_different_outlets_may_overlap() {
        let schedule = DemandSchedule::new(vec![draw(10, 50, 1), draw(0, 50, 0)]);
        assert_eq!(schedule.draws(), [draw(0, 50, 0), draw(10, 50, 1)]);
    }

    #[test]
    fn cutting_a_schedule_short_keeps_what_has_begun() {
        let schedule = DemandSchedule::new(vec![draw(0, 50, 0), draw(90, 50, 0), draw(100, 50, 0)]);
        assert_eq!(schedule.before(100).draws().len(), 2);
    }
}
