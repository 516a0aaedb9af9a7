//! How far sounds carry: a share of the level from where they are made to where one stands.
//!
//! Training values, common practice, no source: a submersible pump speaks at the wall
//! through its pipe alone, a lid or well cap takes half of what is under it, walls and
//! ground take most.

use super::Attention;
use crate::parts::PumpPlacement;
use crate::plant::Plant;
use crate::session::{Cover, Station};

/// Where a sound is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// In the panel.
    Panel,
    /// At the wall: switch, tank, drain, a pump above the water.
    Wall,
    /// In the source, below its lid.
    Source,
    /// In the house.
    House,
}

/// What a closed lid lets through.
const THROUGH_LID: f64 = 0.5;

/// Share that gets through.
pub(super) fn carried(from: Place, attention: &Attention<'_>) -> f64 {
    let [panel, wall, splice, source, house] = match from {
        Place::Panel => [1.0, 0.4, 0.0, 0.0, 0.2],
        Place::Wall => [0.5, 1.0, 0.1, 0.05, 0.3],
        Place::Source => [0.0, 0.15, 0.15, 1.0, 0.0],
        Place::House => [0.2, 0.3, 0.0, 0.0, 1.0],
    };
    let share = match attention.station {
        Station::Panel => panel,
        Station::Wall => wall,
        Station::Splice => splice,
        Station::Source => source,
        Station::House => house,
    };
    if from == Place::Source
        && attention.station == Station::Source
        && !attention.sees_under(Cover::Source)
    {
        share * THROUGH_LID
    } else {
        share
    }
}

/// Where the pump and its motor stand.
pub(super) fn pump_place(plant: &Plant) -> Place {
    if is_at_wall(plant) {
        Place::Wall
    } else {
        Place::Source
    }
}

/// Whether the pump stands above the water, at the wall.
pub(super) fn is_at_wall(plant: &Plant) -> bool {
    plant.site().pump.placement == PumpPlacement::SuctionLift
}
