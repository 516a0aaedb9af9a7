//! Places to stand, covers to open.

use serde::{Deserialize, Serialize};

/// A place to stand.  What is done, read and perceived is bound to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Station {
    /// The electrical panel with the pump's breaker.
    Panel,
    /// The wall with pressure switch, gauge, tank, drain, house valve and filter; a pump
    /// above the water stands here too.
    Wall,
    /// The splice box where the cable to the pump is joined.
    Splice,
    /// The cistern's lid or the well head.
    Source,
    /// The outlets of the house.
    House,
}

impl Station {
    /// Every station.
    pub const ALL: [Self; 5] = [
        Self::Panel,
        Self::Wall,
        Self::Splice,
        Self::Source,
        Self::House,
    ];

    /// Name in files and commands.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Panel => "panel",
            Self::Wall => "wall",
            Self::Splice => "splice",
            Self::Source => "source",
            Self::House => "house",
        }
    }

    /// Name for people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Panel => "the panel",
            Self::Wall => "the wall with switch, gauge and tank",
            Self::Splice => "the splice box",
            Self::Source => "the source",
            Self::House => "the house",
        }
    }

    /// The station of a name.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|station| station.name() == name)
    }
}

/// A cover that hides live parts, or the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cover {
    /// The panel's dead front.
    Panel,
    /// The pressure switch's cover.
    Switch,
    /// The lid of the splice box.
    Splice,
    /// The lid of the cistern or the cap of the well.
    Source,
}

impl Cover {
    /// Every cover.
    pub const ALL: [Self; 4] = [Self::Panel, Self::Switch, Self::Splice, Self::Source];

    /// Where it is.
    #[must_use]
    pub const fn station(self) -> Station {
        match self {
            Self::Panel => Station::Panel,
            Self::Switch => Station::Wall,
            Self::Splice => Station::Splice,
            Self::Source => Station::Source,
        }
    }

    /// Name for people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Panel => "the panel cover",
            Self::Switch => "the switch cover",
            Self::Splice => "the splice box lid",
            Self::Source => "the source lid",
        }
    }
}
