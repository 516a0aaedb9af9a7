//! The pump's circuit as it stands at the present tick, for instruments to be put into.
//!
//! Switch positions come from the modes and controls, the worst joint is as far burnt as
//! it has burnt, and the motor is what it is at its present speed.
//! Left out: the conductors' own heating; buried and hung conductors alike have the
//! temperature of the air about the switch.

use super::engine::Plant;
use super::modes::{Contacts, Device, Shaft};
use super::state::SHAFT_SPEED;
use crate::electric::NetworkProblem;
use crate::motor::{Capacitor, CapacitorState, StartSwitch, Starting};
use crate::parts::{PumpPlacement, WindingKind};
use crate::wiring::{CircuitState, MotorAtTerminals, PumpCircuit};

/// Capacitance of the motor's capacitors where a hand can reach them [F]; none where there
/// is none within reach, 0 when it is open, infinite when it is shorted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReachableCapacitors {
    /// Start capacitor [F].
    pub start: Option<f64>,
    /// Run capacitor [F].
    pub run: Option<f64>,
}

impl ReachableCapacitors {
    /// Nothing within reach.
    pub const NONE: Self = Self {
        start: None,
        run: None,
    };
}

/// What is left of a capacitor [F].
fn capacitance_left(capacitor: &Capacitor, state: CapacitorState) -> f64 {
    match state {
        CapacitorState::Sound => capacitor.farad,
        CapacitorState::Share(share) => capacitor.farad * share,
        CapacitorState::Open => 0.0,
        CapacitorState::Shorted => f64::INFINITY,
    }
}

impl Plant {
    /// The motor's capacitors where a hand can reach them: on a motor above ground, or in
    /// the control box of a three-wire motor.
    #[must_use]
    pub fn reachable_capacitors(&self) -> ReachableCapacitors {
        let site = &self.model.site;
        let Some(circuit) = &self.model.circuit else {
            return ReachableCapacitors::NONE;
        };
        let reduction = &circuit.reduction;
        if site.pump.placement == PumpPlacement::Submersible
            && reduction.wiring.winding != WindingKind::ThreeWire
        {
            return ReachableCapacitors::NONE;
        }
        let faults = &reduction.motor_faults;
        let start = |c: &Capacitor| Some(capacitance_left(c, faults.start_capacitor));
        let run = |c: &Capacitor| Some(capacitance_left(c, faults.run_capacitor));
        let (start, run) = match &reduction.motor.starting {
            Starting::SplitPhase => (None, None),
            Starting::CapacitorStart(c) => (start(c), None),
            Starting::PermanentCapacitor(c) => (None, run(c)),
            Starting::CapacitorStartRun { start: s, run: r } => (start(s), run(r)),
        };
        ReachableCapacitors { start, run }
    }

    /// The pump's circuit at the present tick; none when the site file has no wiring.
    ///
    /// # Errors
    /// When the circuit has no answer, by node and element.
    pub fn pump_circuit(&self) -> Result<Option<PumpCircuit>, Vec<NetworkProblem>> {
        let (model, modes) = (&self.model, &self.state.modes);
        let Some(spec) = &model.site.wiring else {
            return Ok(None);
        };
        let Some(circuit) = &model.circuit else {
            return Ok(None);
        };
        let speed_rad_per_s = match modes.shaft {
            Shaft::Turning => self.state_now()[SHAFT_SPEED],
            Shaft::Resting => 0.0,
        };
        let motor = if modes.damage.winding {
            MotorAtTerminals::Absent
        } else {
            let switch = match modes.circuit.start_switch {
                Device::Closed => StartSwitch::Closed,
                Device::Open => StartSwitch::Open,
            };
            circuit
                .reduction
                .motor_at_terminals(speed_rad_per_s, switch)
        };
        let level = usize::from(modes.circuit.joint_level);
        PumpCircuit::build(
            spec,
            model.site.supply,
            circuit.reduction.conductor_k,
            &circuit.reduction.defects_at(level),
            self.circuit_state(),
            motor,
        )
        .map(Some)
    }

    /// How the switches of the pump's circuit stand at the present tick.
    #[must_use]
    pub fn circuit_state(&self) -> CircuitState {
        let (modes, controls) = (&self.state.modes, &self.state.controls);
        let devices = &modes.circuit;
        let is_closed = |device: Device| device == Device::Closed;
        let has_snapped_shut = matches!(modes.contacts, Contacts::Closed | Contacts::Opening(_));
        CircuitState {
            breaker: controls.breaker_on
                && is_closed(devices.breaker)
                && is_closed(devices.ground_fault),
            contacts: !self.model.defects.wiring.blocked_contacts
                && (self.model.defects.contacts_welded
                    || (has_snapped_shut && is_closed(devices.low_pressure))),
            float: is_closed(devices.float),
            protector: is_closed(devices.protector),
            drop_cable: is_closed(devices.drop_cable),
        }
    }
}
