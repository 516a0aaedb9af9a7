//! Where a part is worked on, and what must be done before hands go there.

use super::action::{Action, Repair};
use super::cautions;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::PartId;
use crate::parts::{IntakeMount, PumpPlacement};

/// Pressure below which a fitting may be loosened [Pa, gauge] (training value).
const RELIEVED_PA: f64 = 10_000.0;

/// Where a part is worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) station: Station,
    /// Cover that must be open.
    cover: Option<Cover>,
    /// The pump must have been pulled.
    below: bool,
    /// Water stands behind it: pressure off, pump locked out.
    wet: Wet,
    /// Hands go on conductors: locked out and proved dead here.
    wire: bool,
}

impl Place {
    /// The cautions of work here.
    pub(super) fn warn(self, out: &mut Outcome) {
        if self.wire {
            out.warn(cautions::WIRES);
        }
        if self.wet != Wet::No {
            out.warn(cautions::FITTING);
        }
    }
}

/// Which water stands behind a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wet {
    No,
    /// That of tee, tank and run.
    Tee,
    /// That behind the house valve.
    House,
}

impl Visit {
    /// Whether the pump stands above the water, where one can reach it.
    pub(super) fn pump_is_at_hand(&self) -> bool {
        self.site.pump.placement == PumpPlacement::SuctionLift
    }

    /// Where a part is worked on at this site.
    pub(super) fn place_of(&self, part: PartId) -> Option<Place> {
        let at = |station| Place {
            station,
            cover: None,
            below: false,
            wet: Wet::No,
            wire: false,
        };
        let wall = Place {
            wet: Wet::Tee,
            ..at(Station::Wall)
        };
        let source = Place {
            cover: Some(Cover::Source),
            ..at(Station::Source)
        };
        // What hangs on a submersible pump comes up with it.
        let pump = if self.pump_is_at_hand() {
            wall
        } else {
            Place {
                below: true,
                ..at(Station::Source)
            }
        };
        Some(match part {
            PartId::None => return None,
            PartId::Source | PartId::FootValve => source,
            PartId::Intake => match self.site.intake.mount {
                IntakeMount::Floating { .. } => source,
                _ if self.pump_is_at_hand() => source,
                _ => pump,
            },
            PartId::Pump | PartId::CheckValve => pump,
            PartId::Motor | PartId::Capacitor => {
                if self.pump_is_at_hand() {
                    Place {
                        wire: true,
                        cover: Some(Cover::Switch),
                        ..at(Station::Wall)
                    }
                } else {
                    pump
                }
            }
            PartId::DropCable | PartId::Riser => Place {
                below: !self.pump_is_at_hand(),
                ..at(Station::Source)
            },
            PartId::SuctionPipe | PartId::SourceValve | PartId::Run => Place {
                wet: Wet::Tee,
                ..at(Station::Source)
            },
            PartId::Splice | PartId::Earth | PartId::Cable => Place {
                cover: Some(Cover::Splice),
                wire: true,
                ..at(Station::Splice)
            },
            PartId::PressureSwitch => Place {
                cover: Some(Cover::Switch),
                wire: true,
                ..wall
            },
            PartId::WallManifold
            | PartId::Gauge
            | PartId::ReliefValve
            | PartId::Tank
            | PartId::TankValve => wall,
            PartId::HouseValve => wall,
            PartId::Filter => Place {
                wet: Wet::House,
                ..wall
            },
            // A toilet has a stop of its own.
            PartId::Toilet => at(Station::House),
            PartId::HousePipe | PartId::Fixtures | PartId::Heater => Place {
                wet: Wet::House,
                ..at(Station::House)
            },
            PartId::Supply => at(Station::Panel),
            PartId::Breaker => Place {
                cover: Some(Cover::Panel),
                wire: true,
                ..at(Station::Panel)
            },
            PartId::FloatSwitch => source,
        })
    }

    /// Refuses or stops what cannot or must not be worked on as things stand.
    pub(super) fn must_reach(&self, part: PartId) -> Result<Place, Stop> {
        let Some(place) = self.place_of(part).filter(|_| self.has_part(part)) else {
            return Err(Refusal::NotHere {
                what: part.label().to_owned(),
            }
            .into());
        };
        self.must_be_at(place.station)?;
        self.must_have(Tool::HandTools)?;
        if place.below && !self.hands.pump_is_out {
            return Err(Refusal::First(format!(
                "the {} is down with the pump: pull the pump first",
                part.label()
            ))
            .into());
        }
        if let Some(cover) = place.cover {
            self.must_be_open(cover)?;
        }
        if part == PartId::Supply && !self.hands.has_qualified {
            return Err(Refusal::First(
                "the supply is for the utility or a qualified electrician: call one".to_owned(),
            )
            .into());
        }
        if place.wire {
            // The electrician locks and proves as part of the work.
            if !self.hands.has_qualified {
                self.must_be_dead(place.station)?;
            }
            if matches!(part, PartId::Motor | PartId::Capacitor) && !self.hands.is_discharged {
                return Err(Stop::Hazard(HazardKind::ChargedCapacitor));
            }
        }
        self.must_be_relieved(place.wet)?;
        Ok(place)
    }

    /// Whether an action opens what water stands behind, so that it is drained first.
    pub(crate) fn opens_water(&self, action: &Action) -> bool {
        match action {
            Action::FitGauge { .. } | Action::RemoveGauge | Action::Prime => true,
            Action::Repair { part, how } if *how != Repair::Refill => self
                .place_of(*part)
                .is_some_and(|place| place.wet != Wet::No),
            Action::Replace { part } => self
                .place_of(*part)
                .is_some_and(|place| place.wet != Wet::No),
            _ => false,
        }
    }

    fn must_be_relieved(&self, wet: Wet) -> Worked {
        let pressure = match wet {
            Wet::No => return Ok(()),
            Wet::Tee => self.channel("tee_pressure"),
            Wet::House => self.channel("house_pressure"),
        };
        if pressure >= RELIEVED_PA {
            return Err(Stop::Hazard(HazardKind::StoredPressure));
        }
        if !self.hands.is_locked_out {
            // A pump that can start puts the pressure back under one's hands.
            return Err(Stop::Hazard(HazardKind::StoredPressure));
        }
        Ok(())
    }

    /// Refuses or stops what opens the pipes at the wall, or behind the house valve.
    pub(super) fn must_be_without_pressure(&self, behind_house_valve: bool) -> Worked {
        self.must_be_relieved(if behind_house_valve {
            Wet::House
        } else {
            Wet::Tee
        })
    }

    /// A channel of the plant now [SI].
    pub(super) fn channel(&self, name: &str) -> f64 {
        let index = crate::trace::CHANNELS
            .iter()
            .position(|channel| channel.name == name);
        let sample = self.plant.sample();
        index
            .and_then(|i| sample.values.get(i).copied())
            .unwrap_or(0.0)
    }

    /// Whether the site has the part.
    fn has_part(&self, part: PartId) -> bool {
        let site = &self.site;
        match part {
            PartId::FootValve => site.foot_valve.is_some(),
            PartId::SuctionPipe => site.suction.is_some(),
            PartId::ReliefValve => site.wall.relief_valve.is_some(),
            PartId::Filter => site.house.filter.is_some(),
            PartId::FloatSwitch => site
                .wiring
                .as_ref()
                .is_some_and(|wiring| wiring.float_switch.is_some()),
            _ => true,
        }
    }
}
