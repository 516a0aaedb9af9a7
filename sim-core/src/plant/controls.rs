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
    /// Valve in the run at the source, just above the pump's check valve, 0 shut to 1 open.
    pub source_valve_opening: f64,
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
            source_valve_opening: 1.0,
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
    /// Set the valve in the run at the source, 0 to 1.
    SetSourceValve(f64),
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
    /// Open the vent above the pump's check valve, or the filling plug of a pump that is
    /// flooded: trapped air leaves and water of the source takes its place.  Does nothing
    /// to a pump above the water, which must be primed.
    Vent,
    /// Lift the pump out and lower it again; as much of its bowl holds air afterwards.
    LowerPump {
        /// Share of the bowl in which air is trapped, 0 to 1.
        air_share: f64,
    },
    /// Tap the gauge's glass: stiction lets go and the needle goes to where its movement is.
    TapGauge,
    /// Put air into the tank by its air valve, or let some out.  What is let out stops
    /// when the air inside is at air pressure, what is put in at the 150 psi that a tyre
    /// pump or small compressor gives.
    AddTankAir {
        /// Air put in, negative when let out [kg].
        kg: f64,
    },
    /// Have water brought to a cistern until it stands so deep.
    FillSource {
        /// Depth of water [m].
        depth_m: f64,
    },
    /// Put a new part in the place of one that wear, heat or damage has spoilt.
    Renew(Renewed),
    /// Turn the pressure switch's nuts.
    AdjustSwitch {
        /// New cut-in [Pa, gauge].
        cut_in: Pascals,
        /// New cut-out [Pa, gauge].
        cut_out: Pascals,
    },
}

/// A part that can be renewed: what wear, heat or damage has spoilt in it is as new
/// again.  What a fault has changed is mended by taking the fault away
/// ([`super::Plant::refit`]).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub enum Renewed {
    /// Pump end: impellers, seal and bearings.
    Pump,
    /// Motor: winding and its protector, cold.
    Motor,
    /// Tank: empty of water, charged to the site's precharge at air temperature.
    Tank,
    /// Contacts of the pressure switch.
    Contacts,
    /// Joints in the splice box.
    Joints,
    /// Breaker, cold.
    Breaker,
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
    /// A depth is not a number.
    #[error("{depth_m} m is no depth of water")]
    NoSuchDepth {
        /// What was asked [m].
        depth_m: f64,
    },
    /// A mass of air is not a number.
    #[error("{kg} kg is no mass of air")]
    NoSuchMass {
        /// What was asked [kg].
        kg: f64,
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
            // These change the plant, not a control.
            Command::Prime | Command::Vent | Command::TapGauge | Command::Renew(_) => {}
            Command::FillSource { depth_m } => {
                if !depth_m.is_finite() {
                    return Err(CommandError::NoSuchDepth { depth_m });
                }
            }
            Command::LowerPump { air_share } => {
                share(air_share)?;
            }
            Command::AddTankAir { kg } => {
                if !kg.is_finite() {
                    return Err(CommandError::NoSuchMass { kg });
                }
            }
            Command::SetSourceValve(opening) => self.source_valve_opening = share(opening)?,
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
