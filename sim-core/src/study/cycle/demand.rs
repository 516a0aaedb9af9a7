//! A schedule as openings and shuttings in order of time.

use crate::demand::{DemandSchedule, Draw};
use crate::plant::CommandError;

/// A draw that opens or shuts its outlet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Change {
    pub(super) fixture: usize,
    /// How far it is open from now on.
    pub(super) opening: f64,
    /// Number of the opening among all that the schedule has.
    pub(super) level: u32,
}

/// Where a schedule stands.
#[derive(Debug, Clone)]
pub(super) struct Changes<'a> {
    draws: &'a [Draw],
    at: Position,
    levels: std::rc::Rc<[u32]>,
}

/// What moves as a schedule is gone through.
#[derive(Debug, Clone)]
pub(super) struct Position {
    next: usize,
    /// When each outlet shuts [ticks], and the level it has; never when it is shut.
    shuts: Vec<(u64, u32)>,
    next_shut: u64,
}

const NEVER: u64 = u64::MAX;

impl<'a> Changes<'a> {
    /// Refuses draws that the site cannot have.
    pub(super) fn new(demand: &'a DemandSchedule, n_fixtures: usize) -> Result<Self, CommandError> {
        let draws = demand.draws();
        let mut known: Vec<(usize, u64)> = Vec::new();
        for draw in draws {
            if draw.fixture >= n_fixtures {
                return Err(CommandError::NoSuchFixture {
                    fixture: draw.fixture,
                    n_fixtures,
                });
            }
            if !(0.0..=1.0).contains(&draw.opening) {
                return Err(CommandError::OpeningOutOfRange {
                    opening: draw.opening,
                });
            }
            let level = (draw.fixture, draw.opening.to_bits());
            if let Err(place) = known.binary_search(&level) {
                known.insert(place, level);
            }
        }
        let levels = draws
            .iter()
            .map(|draw| {
                let level = (draw.fixture, draw.opening.to_bits());
                known.binary_search(&level).map_or(0, |place| place as u32)
            })
            .collect();
        Ok(Self {
            draws,
            at: Position {
                next: 0,
                shuts: vec![(NEVER, 0); n_fixtures],
                next_shut: NEVER,
            },
            levels,
        })
    }

    /// Number of levels.
    pub(super) fn n_levels(&self) -> usize {
        self.levels
            .iter()
            .max()
            .map_or(0, |&most| most as usize + 1)
    }

    /// Tick of the next change.
    #[inline]
    pub(super) fn next_tick(&self) -> u64 {
        let opens = self
            .draws
            .get(self.at.next)
            .map_or(NEVER, |d| d.start_ticks);
        opens.min(self.at.next_shut)
    }

    /// The next change if it is due by a tick; what shuts comes first.
    #[inline]
    pub(super) fn due(&mut self, tick: u64) -> Option<Change> {
        let opens = self
            .draws
            .get(self.at.next)
            .map_or(NEVER, |d| d.start_ticks);
        if self.at.next_shut <= tick && self.at.next_shut <= opens {
            let shut = self.at.next_shut;
            let fixture = self.at.shuts.iter().position(|s| s.0 == shut)?;
            let level = self.at.shuts[fixture].1;
            self.at.shuts[fixture].0 = NEVER;
            self.find_next_shut();
            return Some(Change {
                fixture,
                opening: 0.0,
                level,
            });
        }
        if opens <= tick {
            let draw = self.draws[self.at.next];
            let level = self.levels[self.at.next];
            self.at.next += 1;
            self.at.shuts[draw.fixture] = (draw.end_ticks(), level);
            self.find_next_shut();
            return Some(Change {
                fixture: draw.fixture,
                opening: draw.opening,
                level,
            });
        }
        None
    }

    fn find_next_shut(&mut self) {
        self.at.next_shut = self.at.shuts.iter().fold(NEVER, |least, s| least.min(s.0));
    }

    /// Writes down where the schedule stands, without taking new memory.
    pub(super) fn keep(&self, place: &mut Position) {
        place.clone_from(&self.at);
    }

    pub(super) fn position(&self) -> Position {
        self.at.clone()
    }

    pub(super) fn go_back(&mut self, place: &Position) {
        self.at.clone_from(place);
    }
}
