//! A person at work on a visit: does an action, takes down what it gave.

use sim_core::session::{
    Action, Cover, Moment, Observation, Outcome, Probe, Station, Until, Visit,
};
use sim_core::units::convert::PSI;

use super::exam::{Exam, Finding};

/// What ends a piece of an examination before its end, in words.
pub(super) type Cut = String;

/// Cues of a motor with power.
const MOTOR_CUES: [&str; 5] = [
    "motor_hum",
    "motor_hum_light",
    "motor_hum_laboured",
    "motor_starting",
    "locked_rotor_growl",
];

/// A visit in one person's hands.
#[derive(Clone)]
pub(super) struct Hands {
    pub(super) visit: Visit,
}

impl Hands {
    /// Does something that must be possible.
    pub(super) fn act(&mut self, action: Action) -> Result<Outcome, Cut> {
        let outcome = self
            .visit
            .perform(&action)
            .map_err(|refusal| format!("{action:?}: {refusal}"))?;
        match &outcome.hazard {
            Some(hazard) => Err(format!("{action:?}: stopped, {:?}", hazard.kind)),
            None => Ok(outcome),
        }
    }

    /// Does something and takes down the names of what was perceived.
    pub(super) fn sense(
        &mut self,
        exam: &mut Exam,
        occasion: &str,
        action: Action,
    ) -> Result<Outcome, Cut> {
        let outcome = self.act(action)?;
        exam.perceive(occasion, &outcome.cues);
        Ok(outcome)
    }

    pub(super) fn go(&mut self, to: Station) -> Result<(), Cut> {
        if self.visit.station() != to {
            self.act(Action::Go { to })?;
        }
        Ok(())
    }

    /// Opens a cover that may be open already.
    pub(super) fn open(&mut self, cover: Cover) -> Result<(), Cut> {
        if !self.visit.open_covers().contains(&cover) {
            self.act(Action::OpenCover { cover })?;
        }
        Ok(())
    }

    /// Waits until something; whether it came.
    pub(super) fn until(&mut self, until: Until, at_most: f64) -> Result<bool, Cut> {
        let outcome = self.act(Action::WaitUntil { until, at_most })?;
        Ok(outcome.remarks.is_empty())
    }

    /// Glances at the gauge [psi].
    pub(super) fn gauge(&mut self) -> Result<f64, Cut> {
        let log = self.log(1.0, 0.5)?;
        Ok(log.last().map_or(0.0, |point| point.1))
    }

    /// Watches the gauge: seconds and psi.
    pub(super) fn log(&mut self, seconds: f64, every: f64) -> Result<Vec<(f64, f64)>, Cut> {
        let outcome = self.act(Action::LogGauge { seconds, every })?;
        Ok(points(&outcome))
    }

    /// Whether a motor with power is heard from here within a minute.
    pub(super) fn hears_motor(&mut self) -> Result<bool, Cut> {
        let outcome = self.act(Action::Listen)?;
        Ok(outcome
            .cues
            .iter()
            .any(|cue| MOTOR_CUES.contains(&cue.name.as_str())))
    }

    /// The one number of an outcome; why there is none.
    pub(super) fn number(outcome: &Outcome) -> Finding {
        match outcome.readings.first().map(|entry| &entry.observation) {
            Some(Observation::Reading { value, unit, .. }) => {
                Finding::Number(match unit.as_str() {
                    "Pa" => value / PSI,
                    "m³/s" => value * 60_000.0,
                    _ => *value,
                })
            }
            Some(Observation::NoReading { shown, .. }) => Finding::None(shown.clone()),
            _ => Finding::None("nothing to read".to_owned()),
        }
    }

    /// Takes a reading down under a name; a refusal is a reason for none, a hazard ends it.
    pub(super) fn read(&mut self, exam: &mut Exam, name: &str, action: Action) -> Result<(), Cut> {
        match self.visit.perform(&action) {
            Ok(outcome) => match &outcome.hazard {
                Some(hazard) => Err(format!("{action:?}: stopped, {:?}", hazard.kind)),
                None => {
                    exam.put(name, Self::number(&outcome));
                    Ok(())
                }
            },
            Err(refusal) => {
                exam.put(name, Finding::None(refusal.to_string()));
                Ok(())
            }
        }
    }

    /// Puts a meter on and takes its number down.
    pub(super) fn measure(
        &mut self,
        exam: &mut Exam,
        name: &str,
        meter: Probe,
        at: [&str; 2],
    ) -> Result<(), Cut> {
        self.read(exam, name, measure(meter, at, Moment::Now))
    }

    /// Holds a meter on through the next start.
    pub(super) fn measure_start(
        &mut self,
        exam: &mut Exam,
        name: &str,
        meter: Probe,
        at: [&str; 2],
    ) -> Result<(), Cut> {
        self.read(exam, name, measure(meter, at, Moment::Starting))
    }
}

/// A meter between two points; round one conductor where the second is empty.
fn measure(meter: Probe, [from, to]: [&str; 2], moment: Moment) -> Action {
    Action::Measure {
        meter,
        from: from.to_owned(),
        to: (!to.is_empty()).then(|| to.to_owned()),
        moment,
    }
}

/// Seconds and psi of the log in an outcome.
pub(super) fn points(outcome: &Outcome) -> Vec<(f64, f64)> {
    outcome
        .readings
        .iter()
        .find_map(|entry| match &entry.observation {
            Observation::Log { points, .. } => {
                Some(points.iter().map(|(s, pa)| (*s, pa / PSI)).collect())
            }
            _ => None,
        })
        .unwrap_or_default()
}

/// Time within which a start of the pump is seen in the needle's rise [s].
const SEEN_WITHIN_S: f64 = 120.0;

/// How often a log turns from falling, or from rest, to rising by more than `least` psi
/// within two minutes: starts of the pump, as the needle shows them.
pub(super) fn rises(log: &[(f64, f64)], least: f64) -> usize {
    let (mut rising, mut high, mut since, mut count) = (false, 0.0_f64, 0, 0);
    for (i, &(at, psi)) in log.iter().enumerate() {
        if rising {
            high = high.max(psi);
            if psi < high - least {
                rising = false;
                since = i;
            }
        } else {
            while log[since].0 < at - SEEN_WITHIN_S {
                since += 1;
            }
            let low = log[since..=i]
                .iter()
                .fold(psi, |low, point| low.min(point.1));
            if psi > low + least {
                count += 1;
                rising = true;
                high = psi;
            }
        }
    }
    count
}
