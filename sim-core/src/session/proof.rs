//! The run that proves a repair: hold, draw to cut-in, build to cut-out.

use super::outcome::{Observation, Outcome, Proof, Refusal};
use super::perform::{Stop, Worked};
use super::station::Station;
use super::visit::Visit;
use crate::plant::{Command, Contacts, EventKind, Tick};
use crate::units::Seconds;
use crate::units::convert::PSI;

/// How long the pump is given to reach cut-out [s] (training value).
const BUILD_LIMIT_S: f64 = 600.0;
/// How long the tank's air is left to cool before the hold counts [s]: three time constants
/// of a minute.
const COOL_S: f64 = 180.0;
/// Length of the hold [s]: a quarter of an hour (common practice, no source).
const HOLD_S: f64 = 900.0;
/// Opening of the drain cock into the bucket while drawing down: slow, so that the tank's
/// air keeps its temperature.
const DRAW_OPENING: f64 = 0.08;
/// How long a draw to cut-in may take [s] (training value).
const DRAW_LIMIT_S: f64 = 1_200.0;
/// How far a new precharge belongs below cut-in [Pa]: 2 psi (makers' instructions, common
/// practice).
pub(super) const PRECHARGE_BELOW_CUT_IN_PA: f64 = 2.0 * PSI;

impl Visit {
    pub(super) fn prove(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        if self.hands.is_locked_out || !self.plant.controls().breaker_on {
            return Err(Refusal::First(
                "a proof is a run: take the lock away and switch the breaker on".to_owned(),
            )
            .into());
        }
        let mut proof = Proof {
            cut_in: None,
            cut_out: None,
            run_s: None,
            hold: None,
            drawdown: None,
            drawdown_expected: 0.0,
            earth_ohm: self.earth_reading(),
        };
        // A pump that runs is let come to its cut-out first.
        let is_at_rest = !self.plant.is_powered() || self.wait_for_stop()?.is_some();
        if is_at_rest {
            self.hold(&mut proof)?;
        }
        self.draw_to_cut_in(&mut proof)?;
        if proof.cut_in.is_some() {
            self.build_to_cut_out(&mut proof)?;
        }
        proof.drawdown_expected = self.expected_drawdown(&proof);
        self.write(Observation::Proof(proof), out);
        Ok(())
    }

    /// The last reading of ohms to an earth point.
    fn earth_reading(&self) -> Option<f64> {
        let is_earth = |name: &String| name.ends_with("earth") || name.ends_with("frame");
        self.notebook
            .iter()
            .rev()
            .find_map(|entry| match &entry.observation {
                Observation::Reading {
                    instrument,
                    place,
                    value,
                    ..
                } if instrument == "ohms" && place.iter().all(is_earth) => Some(*value),
                _ => None,
            })
    }

    /// Lets the pump come to its own cut-out.  A protector that lets go is no cut-out: then
    /// the switch's contacts are still closed, and one waits on.
    fn wait_for_stop(&mut self) -> Result<Option<Tick>, Stop> {
        let limit = Tick(self.plant.now().0 + Tick::at_or_after(Seconds(BUILD_LIMIT_S)).0);
        let stops = |kind| kind == EventKind::PumpStopped;
        while self.pass_until(limit, |event| stops(event.kind))?.is_some() {
            let contacts = self.plant.modes().contacts;
            if matches!(contacts, Contacts::Open | Contacts::Opening(_)) {
                return Ok(Some(self.plant.now()));
            }
        }
        Ok(None)
    }

    /// Watches the gauge with nothing drawn by the technician.
    fn hold(&mut self, proof: &mut Proof) -> Worked {
        self.pass(COOL_S)?;
        let begun = self.tapped_needle()?;
        self.pass(HOLD_S)?;
        proof.hold = Some((begun, self.tapped_needle()?));
        Ok(())
    }

    /// The needle after a tap on the glass: what friction holds back is no drawdown.
    fn tapped_needle(&mut self) -> Result<f64, Stop> {
        self.apply(Command::TapGauge)?;
        Ok(self.needle())
    }

    /// Draws into a bucket until the pump starts.
    fn draw_to_cut_in(&mut self, proof: &mut Proof) -> Worked {
        let drained = self.plant.totals().drained_m3;
        let limit = Tick(self.plant.now().0 + Tick::at_or_after(Seconds(DRAW_LIMIT_S)).0);
        self.apply(Command::SetDrain(DRAW_OPENING))?;
        let starts = |kind| kind == EventKind::ContactsClosed;
        let was_running = self.plant.is_powered();
        let started = self.pass_until(limit, |event| starts(event.kind))?;
        let volume = self.plant.totals().drained_m3 - drained;
        // The switch may click and nothing run.
        if started.is_some() && self.plant.is_powered() {
            proof.cut_in = Some(self.tapped_needle()?);
            if !was_running {
                // A bucket's own error is small against that of the eye on its mark.
                proof.drawdown = Some(volume);
            }
        }
        self.apply(Command::SetDrain(0.0))
    }

    fn build_to_cut_out(&mut self, proof: &mut Proof) -> Worked {
        let begun = self.plant.now();
        if let Some(stopped) = self.wait_for_stop()? {
            proof.cut_out = Some(self.tapped_needle()?);
            proof.run_s = Some(stopped.seconds() - begun.seconds());
        }
        Ok(())
    }

    /// What the tank's plate and Boyle's law say of the drawdown between the readings.
    fn expected_drawdown(&self, proof: &Proof) -> f64 {
        let switch = &self.site.wall.pressure_switch;
        let atmosphere = self.plant.atmosphere_pa();
        let cut_in = proof.cut_in.unwrap_or(switch.cut_in.si());
        // The draw began where the hold ended: below cut-out, since the tank's air has
        // cooled meanwhile.
        let begun = proof
            .hold
            .map_or(switch.cut_out.si(), |(_, at_the_end)| at_the_end);
        let precharge = self.plant.controls().cut_in.si() - PRECHARGE_BELOW_CUT_IN_PA;
        let shell = self.site.tank.shell_volume.si();
        let air = |pressure: f64| {
            let filled = shell * (precharge + atmosphere) / (pressure.max(precharge) + atmosphere);
            filled.max(shell - self.site.tank.acceptance_volume.si())
        };
        (air(cut_in) - air(begun)).max(0.0)
    }
}
