//! What is turned and switched by hand.

use super::cautions;
use super::hazard::HazardKind;
use super::outcome::{Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::plant::{Command, Device};
use crate::units::Pascals;

/// Time that one stays with a thing just turned, to see and hear what it does [s].
const STAY_S: f64 = 3.0;

impl Visit {
    pub(super) fn set_breaker(&mut self, on: bool, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Panel)?;
        if self.hands.is_locked_out {
            return Err(Refusal::First(
                "the breaker is locked off: take the lock away first".to_owned(),
            )
            .into());
        }
        if on && self.hands.leads_are_apart {
            return Err(Refusal::First(
                "the conductors hang apart in the splice box: join them first".to_owned(),
            )
            .into());
        }
        if on && self.hands.pump_is_out {
            return Err(Refusal::First(
                "the pump lies beside the source: lower it first".to_owned(),
            )
            .into());
        }
        let circuit = &self.plant.modes().circuit;
        let was_tripped = circuit.breaker == Device::Open || circuit.ground_fault == Device::Open;
        if on && was_tripped {
            if self.hands.resets_untested >= 1 {
                return Err(Stop::Hazard(HazardKind::RepeatedReset));
            }
            self.hands.resets_untested += 1;
            out.warn(cautions::RESET_ONCE);
        }
        self.work("breaker", out)?;
        if on && was_tripped {
            // A tripped handle goes to off first.
            self.apply(Command::SetBreaker(false))?;
        }
        self.apply(Command::SetBreaker(on))?;
        self.pass(STAY_S)
    }

    pub(super) fn set_house_valve(&mut self, opening: f64, out: &mut Outcome) -> Worked {
        self.turn_valve(Station::Wall, Command::SetHouseValve(opening), out)
    }

    pub(super) fn set_tank_valve(&mut self, opening: f64, out: &mut Outcome) -> Worked {
        self.turn_valve(Station::Wall, Command::SetTankValve(opening), out)
    }

    pub(super) fn set_source_valve(&mut self, opening: f64, out: &mut Outcome) -> Worked {
        self.turn_valve(Station::Source, Command::SetSourceValve(opening), out)
    }

    pub(super) fn set_drain(&mut self, opening: f64, out: &mut Outcome) -> Worked {
        self.turn_valve(Station::Wall, Command::SetDrain(opening), out)?;
        if opening > 0.0 {
            out.warn(cautions::DRAIN);
        }
        Ok(())
    }

    fn turn_valve(&mut self, at: Station, command: Command, out: &mut Outcome) -> Worked {
        self.must_be_at(at)?;
        // Refused before any time has passed when the opening cannot be.
        self.plant.controls().clone().apply(command)?;
        self.work("valve", out)?;
        self.apply(command)?;
        self.pass(STAY_S)
    }

    pub(super) fn set_outlet(&mut self, outlet: &str, opening: f64, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::House)?;
        let fixture = self.outlet(outlet)?;
        let asked = Command::SetFixture { fixture, opening };
        self.plant.controls().clone().apply(asked)?;
        self.work("outlet", out)?;
        let command = self.household.turn(fixture, opening);
        self.apply(command)?;
        self.pass(STAY_S)
    }

    /// The position of an outlet of that name.
    pub(super) fn outlet(&self, name: &str) -> Result<usize, Stop> {
        let fixtures = &self.site.house.fixtures;
        fixtures
            .iter()
            .position(|fixture| fixture.name == name)
            .ok_or_else(|| {
                let names: Vec<&str> = fixtures.iter().map(|f| f.name.as_str()).collect();
                Refusal::NotHere {
                    what: format!("outlet `{name}` (it has {})", names.join(", ")),
                }
                .into()
            })
    }

    pub(super) fn hold_lever(&mut self, held: bool, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        let has_lever = self
            .site
            .wiring
            .as_ref()
            .is_some_and(|wiring| wiring.low_pressure_cut_off.is_some());
        if !has_lever {
            return Err(Refusal::NotHere {
                what: "low-pressure lever on its switch".to_owned(),
            }
            .into());
        }
        self.work("lever", out)?;
        if held {
            out.warn(cautions::LEVER);
        }
        self.apply(Command::HoldLever(held))?;
        self.pass(STAY_S)
    }

    /// Turns the nuts of the pressure switch.
    pub(super) fn adjust_switch(&mut self, cut_in: f64, cut_out: f64, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.must_have(super::kit::Tool::HandTools)?;
        self.must_be_open(Cover::Switch)?;
        self.hands_near_terminals(Station::Wall)?;
        let command = Command::AdjustSwitch {
            cut_in: Pascals(cut_in),
            cut_out: Pascals(cut_out),
        };
        self.plant.controls().clone().apply(command)?;
        let relief = self
            .site
            .wall
            .relief_valve
            .as_ref()
            .map_or(f64::INFINITY, |valve| valve.set_pressure.si());
        if cut_out > self.site.tank.rated_pressure.si().min(relief) {
            return Err(Stop::Hazard(HazardKind::SettingAboveRating));
        }
        self.work("adjust_switch", out)?;
        out.warn(cautions::SWITCH_NUTS);
        out.warn(cautions::NEW_PRECHARGE);
        self.apply(command)?;
        self.pass(STAY_S)
    }
}
