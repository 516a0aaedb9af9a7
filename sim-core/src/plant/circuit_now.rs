//! The pump's circuit as it stands at the present tick, for instruments to be put into.
//!
//! Switch positions come from the modes and controls, the worst joint is as far burnt as
//! it has burnt, and the motor is what it is at its present speed.
//! Left out: the conductors' own heating; buried and hung conductors alike have the
//! temperature of the air about the switch.

use super::circuit::{JOINT_LEVELS, joint_growth};
use super::engine::Plant;
use super::modes::{Contacts, Device, Shaft};
use super::state::SHAFT_SPEED;
use crate::electric::{Complex, NetworkProblem};
use crate::units::Kelvins;
use crate::wiring::{CircuitState, MotorAtTerminals, PumpCircuit, WiringDefects};

/// Share of synchronous speed from which a motor counts as running.
const RUNNING_SHARE: f64 = 0.5;

impl Plant {
    /// The pump's circuit at the present tick; none when the site file has no wiring.
    ///
    /// # Errors
    /// When the circuit has no answer, by node and element.
    pub fn pump_circuit(&self) -> Result<Option<PumpCircuit>, Vec<NetworkProblem>> {
        let (model, modes) = (&self.model, &self.state.modes);
        let Some(spec) = &model.site.wiring else {
            return Ok(None);
        };
        let speed_rad_per_s = match modes.shaft {
            Shaft::Turning => self.state_now()[SHAFT_SPEED],
            Shaft::Resting => 0.0,
        };
        let share = speed_rad_per_s / model.site.motor.synchronous_speed.si();
        PumpCircuit::build(
            spec,
            model.site.supply,
            Kelvins(model.ambient_k),
            &burnt(&model.defects.wiring, modes.circuit.joint_level),
            self.circuit_state(),
            motor_at_terminals(share, modes.damage.winding),
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
            contacts: self.model.defects.contacts_welded
                || (has_snapped_shut && is_closed(devices.low_pressure)),
            float: is_closed(devices.float),
            protector: is_closed(devices.protector),
        }
    }
}

/// The wiring with its worst joint as far burnt as it has burnt.
fn burnt(wiring: &WiringDefects, level: u8) -> WiringDefects {
    let mut wiring = *wiring;
    if level == 0 {
        return wiring;
    }
    let is_open = usize::from(level) + 1 >= JOINT_LEVELS;
    let splice = wiring.splice_ohm[0].unwrap_or(0.0);
    if splice >= wiring.contact_ohm[0] {
        wiring.splice_ohm[0] = wiring.splice_ohm[0]
            .filter(|_| !is_open)
            .map(|ohm| ohm * joint_growth(level));
    } else {
        // A contact keeps touching, however badly.
        wiring.contact_ohm[0] *= joint_growth(level);
    }
    wiring
}

/// The motor between its leads at a share of synchronous speed.
///
/// A stand-in until the motor's own circuit is wired in: one impedance when it runs, one
/// at rest (24 + j18 Ω; 5.65 Ω at power factor 0.6; 2 Ω at direct current: training
/// values).  This function is the only place that knows them.
fn motor_at_terminals(speed_share: f64, is_burnt_out: bool) -> MotorAtTerminals {
    if is_burnt_out {
        return MotorAtTerminals::Absent;
    }
    let mains_ohm = if speed_share > RUNNING_SHARE {
        Complex::new(24.0, 18.0)
    } else {
        Complex::new(5.65 * 0.6, 5.65 * 0.8)
    };
    MotorAtTerminals::Impedance {
        mains_ohm,
        direct_ohm: 2.0,
    }
}
