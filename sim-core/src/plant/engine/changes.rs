//! What happens to the plant when a guard is met.

use super::super::circuit::is_open_at_start;
use super::super::event::{Event, EventKind};
use super::super::model::TRACE_AIR_KG;
use super::super::modes::{Air, Bladder, Contacts, Device, Front, Guard, Shaft, SmallDraw, Trunk};
use super::super::rosenbrock::Step;
use super::super::state::{
    LINE_AIR, N_STATES, SHAFT_SPEED, TANK_AIR, TANK_WATER, TEE_AIR, TEE_WATER, TRUNK_FLOW,
};
use super::super::system::structure;
use super::{FIRST_STEP, MOST_CHANGES, Plant, StepError};

impl Plant {
    pub(super) fn count_change(&mut self, guard: Guard, time_s: f64) -> Result<(), StepError> {
        let (window_start_s, count) = self.state.changes;
        if time_s - window_start_s > 1.0 {
            self.state.changes = (time_s, 1);
        } else {
            self.state.changes = (window_start_s, count + 1);
            if count + 1 > MOST_CHANGES {
                return Err(StepError::EndlessSwitching {
                    part: guard.part(),
                    time_s,
                });
            }
        }
        Ok(())
    }

    pub(super) fn change_mode(&mut self, guard: Guard, time_s: f64, y: &mut [f64; N_STATES]) {
        let was_powered = self.is_powered();
        let was_fed = self.is_fed();
        let delay = self.model.contact_delay;
        // A gap that held next to no air was a void: the columns meet with a bang.
        let is_void = guard == Guard::AirGone
            && self.model.line.is_some()
            && y[LINE_AIR] < 100.0 * TRACE_AIR_KG;
        let kind = if is_void {
            Some(EventKind::VoidClosed)
        } else {
            guard.event()
        };
        let told = kind.map(|kind| self.event(kind, time_s, y));
        let modes = &mut self.state.modes;
        match guard {
            Guard::CutOut => modes.contacts = Contacts::Opening(time_s + delay),
            Guard::CutIn => modes.contacts = Contacts::Closing(time_s + delay),
            Guard::ContactsArrive => {
                let (contacts, kind) = match modes.contacts {
                    Contacts::Opening(_) | Contacts::Open => {
                        (Contacts::Open, EventKind::ContactsOpened)
                    }
                    Contacts::Closing(_) | Contacts::Closed => {
                        (Contacts::Closed, EventKind::ContactsClosed)
                    }
                };
                modes.contacts = contacts;
                let event = self.event(kind, time_s, y);
                self.events.push(event);
            }
            Guard::CheckShuts => {
                modes.trunk = Trunk::Shut;
                y[TRUNK_FLOW] = 0.0;
            }
            Guard::CheckOpens => {
                modes.trunk = Trunk::Open;
                y[TRUNK_FLOW] = 0.0;
            }
            Guard::BladderFlat => {
                modes.bladder = Bladder::Flat;
                // What the event's place leaves over, either way, goes back to the tee.
                y[TEE_WATER] += y[TANK_WATER];
                y[TEE_AIR] += y[TANK_AIR];
                y[TANK_WATER] = 0.0;
                y[TANK_AIR] = 0.0;
            }
            Guard::BladderFull => modes.bladder = Bladder::Full,
            Guard::BladderFilling | Guard::BladderGiving => {
                modes.bladder = Bladder::Free;
                modes.bladder_released = true;
            }
            Guard::ShaftStops => {
                modes.shaft = Shaft::Resting;
                y[SHAFT_SPEED] = 0.0;
            }
            Guard::AirEnters | Guard::ColumnParts => modes.air = Air::Moving,
            Guard::AirGone => modes.air = Air::Settled,
            Guard::WaterArrives => modes.front = Front::Spitting,
            Guard::LineSolid => modes.front = Front::Solid,
            Guard::WaterRecedes => modes.front = Front::Coming,
            Guard::BreakerTrips => modes.circuit.breaker = Device::Open,
            Guard::GroundFaultTrips => modes.circuit.ground_fault = Device::Open,
            Guard::ProtectorTrips => modes.circuit.protector = Device::Open,
            Guard::ProtectorResets => modes.circuit.protector = Device::Closed,
            Guard::FloatOpens => modes.circuit.float = Device::Open,
            Guard::FloatCloses => modes.circuit.float = Device::Closed,
            Guard::LowPressureTrips => modes.circuit.low_pressure = Device::Open,
            Guard::StartSwitchOpens => modes.circuit.start_switch = Device::Open,
            Guard::StartSwitchCloses => modes.circuit.start_switch = Device::Closed,
            Guard::JointBurns => modes.circuit.joint_level += 1,
            Guard::SealFails => modes.damage.seal = true,
            Guard::WindingFails => modes.damage.winding = true,
            Guard::ImpellersWarp => modes.damage.impellers = true,
            Guard::SmallDrawTurns => {
                // From time to time as set, not from when it was found: so it never drifts.
                if let Some(draws) = &self.model.defects.small_draws {
                    modes.small_draw = match modes.small_draw {
                        SmallDraw::Shut(until) => SmallDraw::Open(until + draws.open_s),
                        SmallDraw::Open(until) => {
                            SmallDraw::Shut(until + draws.every_s - draws.open_s)
                        }
                        SmallDraw::Never => SmallDraw::Never,
                    };
                }
            }
        }
        self.drop_cable_may_move(was_fed);
        self.events.extend(told);
        self.state.step = Step::resting(*y);
        self.state.step_start_s = time_s;
        self.power_may_have_changed(was_powered, time_s);
        self.structure = structure(&self.model, &self.state.modes, &self.state.controls);
        self.state.next_length_s = FIRST_STEP;
    }

    pub(super) fn is_fed(&self) -> bool {
        self.model.is_fed(&self.state.modes, &self.state.controls)
    }

    /// A chafed drop cable comes to lie anew each time the cables are given power.
    pub(super) fn drop_cable_may_move(&mut self, was_fed: bool) {
        if was_fed || !self.is_fed() {
            return;
        }
        self.state.feeds += 1;
        let circuit = self.model.circuit.as_ref();
        if let Some(share) = circuit.and_then(|circuit| circuit.chafed_open_share) {
            self.state.modes.circuit.drop_cable = if is_open_at_start(share, self.state.feeds) {
                Device::Open
            } else {
                Device::Closed
            };
        }
    }

    pub(super) fn power_may_have_changed(&mut self, was_powered: bool, time_s: f64) {
        let is_powered = self.is_powered();
        if is_powered == was_powered {
            return;
        }
        let kind = if is_powered {
            self.state.powered_since_s = Some(time_s);
            self.state.starts += 1;
            self.state.modes.shaft = Shaft::Turning;
            EventKind::PumpStarted
        } else {
            let since = self.state.powered_since_s.take().unwrap_or(time_s);
            self.state.run_s += time_s - since;
            EventKind::PumpStopped
        };
        let event = self.event(kind, time_s, &self.state.step.end.clone());
        self.events.push(event);
    }

    fn event(&self, kind: EventKind, time_s: f64, y: &[f64; N_STATES]) -> Event {
        let f = self.flows_at(y);
        Event {
            time_s,
            kind,
            tee_pressure_pa: f.tee.pressure - self.model.atmosphere_pa,
            pump_flow_m3_per_s: f.trunk_water + f.returned,
        }
    }
}
