//! What a person can set by hand, and the commands that set it.

use serde::{Deserialize, Serialize};

use crate::site::SiteSpec;
use crate::units::Pascals;

/// Positions of everything that a person can set.  Part of the state: two plants with
/// equal controls and equal numbers go on alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Controls {
    /// Breaker of the pump circuit on.
    pub breaker_on: bool,
    /// Drain cock, 0 shut to 1 open.
    pub drain_opening: f64,
    /// House valve, 0 shut to 1 open.
    pub house_valve_opening: f64,
    /// Valve between tee and tank, 0 shut to 1 open.
    pub tank_valve_opening: f64,
    /// Outlets of the house, 0 shut to 1 open, in the site's order.
    pub fixture_openings: Vec<f64>,
    /// The low-pressure lever of the pressure switch is held up by hand.
    pub lever_held: bool,
    /// Cut-in as adjusted [Pa, gauge].
    pub cut_in: Pascals,
    /// Cut-out as adjusted [Pa, gauge].
    pub cut_out: Pascals,
}

impl Controls {
    /// Everything as a system in service has it: valves open, outlets shut, power on.
    #[must_use]
    pub fn in_service(site: &SiteSpec) -> Self {
        Self {
            breaker_on: true,
            drain_opening: 0.0,
            house_valve_opening: 1.0,
            tank_valve_opening: 1.0,
            lever_held: false,
            fixture_openings: vec![0.0; site.house.fixtures.len()],
            cut_in: site.wall.pressure_switch.cut_in,
            cut_out: site.wall.pressure_switch.cut_out,
        }
    }
}

/// Something done to the plant at a tick.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Command {
    /// Switch the breaker on or off.
    SetBreaker(bool),
    /// Set the drain cock, 0 to 1.
    SetDrain(f64),
    /// Set the house valve, 0 to 1.
    SetHouseValve(f64),
    /// Set the valve between tee and tank, 0 to 1.
    SetTankValve(f64),
    /// Set an outlet of the house, 0 to 1.
    SetFixture {
        /// Position in the site's list of fixtures.
        fixture: usize,
        /// 0 shut to 1 open.
        opening: f64,
    },
    /// Hold the low-pressure lever of the pressure switch up, or let it go; held, it lets
    /// the pump start without pressure.
    HoldLever(bool),
    /// Fill the pump with water by its plug, letting the air out: what a pump above the
    /// water needs before its first start.
    Prime,
    /// Turn the pressure switch's nuts.
    AdjustSwitch {
        /// New cut-in [Pa, gauge].
        cut_in: Pascals,
        /// New cut-out [Pa, gauge].
        cut_out: Pascals,
    },
}

/// Why a command was refused; the plant is as it was.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CommandError {
    /// An opening is not a share.
    #[error("opening {opening} is not between 0 (shut) and 1 (open)")]
    OpeningOutOfRange {
        /// What was asked.
        opening: f64,
    },
    /// There is no such outlet.
    #[error("no fixture number {fixture}: the site has {n_fixtures}")]
    NoSuchFixture {
        /// What was asked.
        fixture: usize,
        /// How many there are.
        n_fixtures: usize,
    },
    /// Cut-out must lie above cut-in and both above nothing.
    #[error("cut-out {cut_out_pa} Pa must lie above cut-in {cut_in_pa} Pa, and that above 0")]
    SwitchOutOfOrder {
        /// What was asked [Pa].
        cut_in_pa: f64,
        /// What was asked [Pa].
        cut_out_pa: f64,
    },
}

impl Controls {
    /// Carries out a command.
    ///
    /// # Errors
    /// When the command asks for what cannot be; nothing is changed then.
    pub fn apply(&mut self, command: Command) -> Result<(), CommandError> {
        let share = |opening: f64| {
            if (0.0..=1.0).contains(&opening) {
                Ok(opening)
            } else {
                Err(CommandError::OpeningOutOfRange { opening })
            }
        };
        match command {
            // Changes what is in the pump, not a control.
            Command::Prime => {}
            Command::HoldLever(held) => self.lever_held = held,
            Command::SetBreaker(on) => self.breaker_on = on,
            Command::SetDrain(opening) => self.drain_opening = share(opening)?,
            Command::SetHouseValve(opening) => self.house_valve_opening = share(opening)?,
            Command::SetTankValve(opening) => self.tank_valve_opening = share(opening)?,
            Command::SetFixture { fixture, opening } => {
                let opening = share(opening)?;
                let n_fixtures = self.fixture_openings.len();
                *self
                    .fixture_openings
                    .get_mut(fixture)
                    .ok_or(CommandError::NoSuchFixture {
                        fixture,
                        n_fixtures,
                    })? = opening;
            }
            Command::AdjustSwitch { cut_in, cut_out } => {
                if !(cut_in.si() > 0.0 && cut_out.si() > cut_in.si() && cut_out.si().is_finite()) {
                    return Err(CommandError::SwitchOutOfOrder {
                        cut_in_pa: cut_in.si(),
                        cut_out_pa: cut_out.si(),
                    });
                }
                self.cut_in = cut_in;
                self.cut_out = cut_out;
            }
        }
        Ok(())
    }
}
