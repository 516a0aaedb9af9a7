//! Tools in the hand: what a person reads on the water side of a plant, at one tick.
//!
//! Nothing done with them changes the plant; what a tool takes out of it (the whiff of air
//! of a tyre gauge, the water in a bucket) is handed back for the caller to apply.
//! Gauges are in `gauges`, bucket and stopwatch in `timing`; level tape and thermometer
//! here.  Accuracies are training values.

use super::grade::Grade;
use super::noise::Noise;
use super::reading::{Accuracy, Breaker, Conditions, Figure, Meter, MeterQuantity};
use super::{NoReading, Reading};
use crate::parts::PumpPlacement;
use crate::plant::Plant;
use crate::trace::CHANNELS;

/// A person with a bag of tools before a plant.
///
/// ```
/// use sim_core::instruments::Hands;
/// use sim_core::plant::{Plant, Start};
///
/// let text = include_str!(concat!(
///     env!("CARGO_MANIFEST_DIR"),
///     "/../scenarios/sites/orchard-cottage.ron"
/// ));
/// let site = sim_core::site::parse("orchard-cottage.ron", text).expect("a shipped site");
/// let plant = Plant::build(&site, &[], Start::Charged)?;
/// let reading = Hands::of(&plant, 1).dial_gauge()?;
/// // 60 psi on a dial with 2 psi divisions.
/// assert!((reading.figure.value / 6_894.757 - 60.0).abs() < 1.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Hands<'a> {
    plant: &'a Plant,
    seed: Option<u64>,
}

/// A surface that a thermometer can be held on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// The motor's shell, where it stands above ground.
    Motor,
    /// A terminal of the pump's circuit, by its point's name.
    Joint(&'static str),
    /// The pump's case, where it stands above ground.
    PumpCase,
    /// The pipe at the wall.
    Pipe,
    /// The tank's shell at a share of its height, 0 the foot to 1 the top.
    Tank {
        /// Share of the height, in hundredths.
        height_percent: u8,
    },
}

impl Surface {
    fn place(self) -> String {
        match self {
            Self::Motor => "motor shell".to_owned(),
            Self::Joint(point) => point.to_owned(),
            Self::PumpCase => "pump case".to_owned(),
            Self::Pipe => "pipe at the wall".to_owned(),
            Self::Tank { height_percent } => format!("tank at {height_percent} % of its height"),
        }
    }
}

/// Level tape: ±10 mm, read to 5 mm.
const TAPE: Grade = Grade {
    quantity: MeterQuantity::Level,
    ranges: &[100.0],
    counts: 20_000.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 2.0,
    },
    floor: 0.0,
};
/// Thermometer: ±2 K, read to 0.1 K.
const THERMOMETER: Grade = Grade {
    quantity: MeterQuantity::Temperature,
    ranges: &[900.0],
    counts: 9_000.0,
    accuracy: Accuracy {
        percent: 0.0,
        digits: 20.0,
    },
    floor: 0.0,
};

/// How far a wall between water and air takes the water's temperature (training value).
const WET_WALL_SHARE: f64 = 0.8;

impl<'a> Hands<'a> {
    /// Tools at a plant at its present tick; `seed` is their noise and the reader's.
    #[must_use]
    pub const fn of(plant: &'a Plant, seed: u64) -> Self {
        Self {
            plant,
            seed: Some(seed),
        }
    }

    /// The same tools without noise: what they would show most likely.
    #[must_use]
    pub(crate) const fn without_noise(self) -> Self {
        Self {
            plant: self.plant,
            seed: None,
        }
    }

    pub(super) const fn plant(&self) -> &'a Plant {
        self.plant
    }

    /// A channel of the plant at the present tick.
    pub(super) fn channel(&self, name: &str) -> f64 {
        let values = self.plant.sample().values;
        let at = CHANNELS.iter().position(|channel| channel.name == name);
        at.and_then(|at| values.get(at).copied())
            .unwrap_or(f64::NAN)
    }

    /// Depth of water in the source by a weighted tape.
    ///
    /// # Errors
    /// Over range.
    pub fn level_tape(&self) -> Result<Reading, NoReading> {
        let depth_m = self.channel("source_level");
        self.read(Meter::LevelTape, "source", false, |noise| {
            TAPE.figure(depth_m, noise)
        })
    }

    /// Temperature of a surface.
    ///
    /// The motor's shell is taken to be as warm as its winding, which in this model is one
    /// with the iron; a joint other than the worst is as warm as the air.
    ///
    /// # Errors
    /// A surface that is under water or not there.
    pub fn thermometer(&self, surface: Surface) -> Result<Reading, NoReading> {
        let site = self.plant.site();
        let (air_k, water_k) = (site.air_temperature.si(), site.water_temperature.si());
        let is_dry = site.pump.placement == PumpPlacement::SuctionLift;
        const UNDER_WATER: NoReading = NoReading::Hidden {
            what: "it is under water, out of a thermometer's reach",
        };
        let kelvin = match surface {
            Surface::Motor | Surface::PumpCase if !is_dry => return Err(UNDER_WATER),
            Surface::Motor => self.channel("winding_temperature"),
            Surface::PumpCase => wet_wall_k(self.channel("pump_water_temperature"), air_k),
            Surface::Joint(point) => match self.plant.worst_joint() {
                Some((worst, kelvin)) if worst == point => kelvin,
                _ => air_k,
            },
            Surface::Pipe => wet_wall_k(water_k, air_k),
            Surface::Tank { height_percent } => {
                let full = self.channel("tank_water") / site.tank.shell_volume.si();
                if full > f64::from(height_percent) / 100.0 {
                    wet_wall_k(water_k, air_k)
                } else {
                    air_k
                }
            }
        };
        let may_be_live = matches!(surface, Surface::Joint(_))
            && Conditions::of(self.plant).breaker == Breaker::On;
        self.read(Meter::Thermometer, &surface.place(), may_be_live, |noise| {
            THERMOMETER.figure(kelvin, noise)
        })
    }

    /// Puts a figure into a reading.
    pub(super) fn read(
        &self,
        meter: Meter,
        place: &str,
        may_be_live: bool,
        figure: impl FnOnce(&mut Noise) -> Result<Figure, Figure>,
    ) -> Result<Reading, NoReading> {
        let place = vec![place.to_owned()];
        let mut noise = Noise::of(self.seed, self.plant.now(), meter, &place);
        let figure = figure(&mut noise).map_err(|limit| NoReading::OverRange { limit })?;
        Ok(Reading {
            meter,
            figure,
            also: Vec::new(),
            place,
            conditions: Conditions {
                may_be_live,
                ..Conditions::of(self.plant)
            },
        })
    }
}

/// Temperature of a wall with water inside and air outside [K].
fn wet_wall_k(water_k: f64, air_k: f64) -> f64 {
    air_k + WET_WALL_SHARE * (water_k - air_k)
}
