//! Evidence: did anything that was observed bear on a part before it was called or
//! replaced?
//!
//! The map in [`bears_on`] says for each part by which kinds of observation a fault in it
//! can show; it is common practice, no source.  Evidence is asked for as "the person has
//! looked where it shows", not as "what they saw was convincing": the plant decides what
//! they saw, and a healthy reading that rules the rest out is evidence as well.

use crate::catalog::PartId;
use crate::session::{Action, Done, Observation, Probe};

use super::case::Case;

/// A kind of observation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Kind {
    /// The gauge read once.
    Gauge,
    /// The gauge watched over a time, or while waiting for something.
    GaugeOverTime,
    /// A second gauge.
    SecondGauge,
    /// The tank's air valve: tyre gauge, or its core pressed.
    AirValve,
    /// The tank knocked on.
    Knock,
    /// Volts.
    Volts,
    /// Amperes, watts.
    Current,
    /// Ohms, insulation.
    Ohms,
    /// Capacitance.
    Capacitance,
    /// Flow into a bucket.
    Flow,
    /// Level in the source.
    Level,
    /// Vacuum at the suction.
    Vacuum,
    /// A thermometer.
    Temperature,
    /// The run of a proof.
    Proof,
    /// Something heard, seen, felt or smelt of the pump or motor.
    PumpCue,
    /// Something heard, seen, felt or smelt of the part itself.
    OwnCue,
}

impl Kind {
    /// For people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Gauge => "the gauge",
            Self::GaugeOverTime => "the gauge over a time",
            Self::SecondGauge => "a second gauge",
            Self::AirValve => "the tank's air valve",
            Self::Knock => "a knock on the tank",
            Self::Volts => "volts",
            Self::Current => "amperes or watts",
            Self::Ohms => "ohms or insulation",
            Self::Capacitance => "capacitance",
            Self::Flow => "a bucket and a stopwatch",
            Self::Level => "the level in the source",
            Self::Vacuum => "a vacuum gauge",
            Self::Temperature => "a thermometer",
            Self::Proof => "the run of a proof",
            Self::PumpCue => "the sound or feel of the pump",
            Self::OwnCue => "the part itself, seen, heard, felt or smelt",
        }
    }
}

/// By which kinds of observation a fault in a part can show.
#[must_use]
pub const fn bears_on(part: PartId) -> &'static [Kind] {
    use Kind::{
        AirValve, Capacitance, Current, Flow, Gauge, GaugeOverTime, Knock, Level, Ohms, OwnCue,
        Proof, PumpCue, SecondGauge, Temperature, Vacuum, Volts,
    };
    match part {
        PartId::Tank => &[AirValve, Knock, GaugeOverTime, SecondGauge, Proof, OwnCue],
        PartId::CheckValve
        | PartId::FootValve
        | PartId::Riser
        | PartId::Run
        | PartId::WallManifold => &[
            GaugeOverTime,
            SecondGauge,
            Flow,
            Level,
            Vacuum,
            Proof,
            PumpCue,
            OwnCue,
        ],
        PartId::HousePipe | PartId::Toilet | PartId::Fixtures | PartId::Filter => {
            &[GaugeOverTime, SecondGauge, Flow, Proof, OwnCue]
        }
        PartId::SourceValve | PartId::TankValve | PartId::HouseValve => &[
            Gauge,
            GaugeOverTime,
            SecondGauge,
            Flow,
            AirValve,
            Proof,
            PumpCue,
            OwnCue,
        ],
        PartId::ReliefValve | PartId::Heater => {
            &[GaugeOverTime, SecondGauge, Temperature, Proof, OwnCue]
        }
        PartId::Gauge => &[SecondGauge, Gauge, GaugeOverTime, OwnCue],
        PartId::PressureSwitch => &[
            GaugeOverTime,
            SecondGauge,
            Volts,
            Current,
            Ohms,
            Proof,
            OwnCue,
        ],
        PartId::FloatSwitch => &[Level, Volts, Ohms, Current, OwnCue],
        PartId::Source => &[Level, GaugeOverTime, Flow, Current, Vacuum, OwnCue],
        PartId::Intake | PartId::SuctionPipe => {
            &[Level, GaugeOverTime, Flow, Current, Vacuum, PumpCue, OwnCue]
        }
        PartId::Pump => &[
            GaugeOverTime,
            SecondGauge,
            Flow,
            Current,
            Volts,
            Vacuum,
            Proof,
            PumpCue,
            OwnCue,
        ],
        PartId::Motor => &[
            Volts,
            Current,
            Ohms,
            Capacitance,
            Temperature,
            PumpCue,
            OwnCue,
        ],
        PartId::Capacitor => &[Capacitance, Current, Volts, PumpCue, OwnCue],
        PartId::Splice | PartId::DropCable | PartId::Cable | PartId::Supply | PartId::Breaker => {
            &[Volts, Current, Ohms, Temperature, OwnCue]
        }
        PartId::Earth => &[Ohms, Volts, OwnCue],
        PartId::None => &[
            Gauge,
            GaugeOverTime,
            Flow,
            Level,
            Temperature,
            Proof,
            OwnCue,
        ],
    }
}

/// What an action let the person observe that bears on a part.
#[must_use]
pub fn observed(done: &Done, part: PartId) -> Vec<Kind> {
    let mut kinds = Vec::new();
    // From earth to earth a meter says nothing of what carries the current.
    let tells = part == PartId::Earth || !is_between_earths(&done.action);
    if !done.outcome.readings.is_empty() && tells {
        kinds.extend(kind_of_reading(&done.action));
    }
    for entry in &done.outcome.readings {
        match &entry.observation {
            Observation::Log { .. } => kinds.push(Kind::GaugeOverTime),
            Observation::Proof(_) => kinds.push(Kind::Proof),
            Observation::Perceived { cue, part: at, .. } => cue_kinds(cue, *at, part, &mut kinds),
            Observation::Reading { .. } | Observation::NoReading { .. } | Observation::Note(_) => {}
        }
    }
    for cue in &done.outcome.cues {
        cue_kinds(&cue.name, cue.part, part, &mut kinds);
    }
    let bearing = bears_on(part);
    kinds.retain(|kind| bearing.contains(kind));
    kinds.sort_unstable();
    kinds.dedup();
    kinds
}

/// Whether a meter has both leads on earth conductors.
fn is_between_earths(action: &Action) -> bool {
    let is_earth = |point: &str| point.ends_with(".earth") || point.ends_with(".frame");
    matches!(action, Action::Measure { from, to: Some(to), .. } if is_earth(from) && is_earth(to))
}

fn cue_kinds(cue: &str, at: PartId, part: PartId, kinds: &mut Vec<Kind>) {
    // A plate says what a part should be, not how it is.
    if matches!(cue, "nothing" | "tank_plate" | "motor_nameplate") {
        return;
    }
    if at == part {
        kinds.push(Kind::OwnCue);
    }
    if matches!(at, PartId::Pump | PartId::Motor) {
        kinds.push(Kind::PumpCue);
    }
}

fn kind_of_reading(action: &Action) -> Option<Kind> {
    Some(match action {
        Action::ReadGauge | Action::TapGauge => Kind::Gauge,
        Action::LogGauge { .. } | Action::WaitUntil { .. } => Kind::GaugeOverTime,
        Action::ReadSecondGauge => Kind::SecondGauge,
        Action::ReadAirValve | Action::PressAirValve => Kind::AirValve,
        Action::KnockTank => Kind::Knock,
        Action::MeasureFlow { .. } => Kind::Flow,
        Action::MeasureLevel => Kind::Level,
        Action::MeasureVacuum => Kind::Vacuum,
        Action::MeasureTemperature { .. } => Kind::Temperature,
        Action::Measure { meter, .. } => match meter {
            Probe::Volts | Probe::LowImpedanceVolts => Kind::Volts,
            Probe::Clamp | Probe::Inrush | Probe::Power => Kind::Current,
            Probe::Ohms | Probe::Insulation => Kind::Ohms,
            Probe::Capacitance => Kind::Capacitance,
        },
        _ => return None,
    })
}

/// The last observation before action number `before` that bears on a part: its number and
/// kind.
///
/// The last, because people look closer as they go; whatever it showed.  Two looks at the
/// gauge count as one over a time.
#[must_use]
pub fn support(case: &Case<'_>, part: PartId, before: u64) -> Option<(u64, Kind)> {
    let mut looks_at_gauge = 0;
    let mut last = None;
    for (n, done) in case.standing() {
        if n >= before {
            break;
        }
        if let Some(kind) = observed(done, part).first() {
            last = Some((n, *kind));
        } else if matches!(done.action, Action::ReadGauge | Action::TapGauge) {
            looks_at_gauge += 1;
            if looks_at_gauge >= 2 && bears_on(part).contains(&Kind::GaugeOverTime) {
                last = Some((n, Kind::GaugeOverTime));
            }
        }
    }
    last
}

#[cfg(test)]
mod tests;
