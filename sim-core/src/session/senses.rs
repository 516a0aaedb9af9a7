//! Looking, listening, feeling, smelling, and reading the gauge by eye.

use super::cautions;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::PartId;
use crate::cues::{self, Attention, Cue, Sense};
use crate::plant::{Command, Tick};
use crate::units::Seconds;

/// Most readings in one log of the gauge.
const MOST_LOGGED: f64 = 2_000.0;

impl Visit {
    pub(super) fn look(&mut self, at: Option<PartId>, out: &mut Outcome) -> Worked {
        let into_source =
            self.station == Station::Source && self.hands.open_covers.contains(&Cover::Source);
        self.work(if into_source { "look_source" } else { "look" }, out)?;
        if into_source {
            out.warn(cautions::LOOK_IN);
        }
        self.sense(Sense::Sight, at, out);
        Ok(())
    }

    pub(super) fn listen(&mut self, out: &mut Outcome) -> Worked {
        self.work("listen", out)?;
        self.sense(Sense::Hearing, None, out);
        Ok(())
    }

    pub(super) fn feel(&mut self, part: PartId, out: &mut Outcome) -> Worked {
        self.work("feel", out)?;
        out.warn(cautions::TOUCH);
        self.sense(Sense::Touch, Some(part), out);
        Ok(())
    }

    pub(super) fn smell(&mut self, out: &mut Outcome) -> Worked {
        self.work("smell", out)?;
        self.sense(Sense::Smell, None, out);
        Ok(())
    }

    pub(super) fn knock_tank(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.work("knock_tank", out)?;
        let cue = cues::knock_tank(&self.plant);
        self.write_cue(&cue, out);
        Ok(())
    }

    /// Perceives by one sense, of everything or of one part.
    fn sense(&mut self, sense: Sense, part: Option<PartId>, out: &mut Outcome) {
        let open = self.open_covers();
        let events = self.plant.events().to_vec();
        let attention = Attention {
            station: self.station,
            open: &open,
            events: &events,
            ticks: Tick::PER_SECOND,
            pump_is_out: self.hands.pump_is_out,
        };
        let found: Vec<Cue> = cues::perceive(&self.plant, &attention, sense)
            .into_iter()
            .filter(|cue| part.is_none_or(|part| cue.part == part))
            .collect();
        if found.is_empty() {
            let what = match sense {
                Sense::Hearing => "You hear nothing",
                Sense::Sight => "You see nothing out of the ordinary",
                Sense::Touch => "You feel nothing out of the ordinary",
                Sense::Smell => "You smell nothing",
            };
            let place = part.map_or_else(
                || format!("at {}", self.station.label()),
                |part| format!("at the {} from here", part.label()),
            );
            let nothing = Observation::Perceived {
                cue: "nothing".to_owned(),
                part: part.unwrap_or(PartId::None),
                caption: format!("{what} {place}."),
            };
            self.write(nothing, out);
        }
        for cue in &found {
            self.write_cue(cue, out);
        }
    }

    pub(super) fn read_gauge(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.work("read_gauge", out)?;
        self.write_dial(out);
        Ok(())
    }

    pub(super) fn tap_gauge(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.work("tap_gauge", out)?;
        let before = self.plant.gauge_reading_pa();
        self.apply(Command::TapGauge)?;
        let moved = self.plant.gauge_reading_pa() - before;
        let division = self.site.wall.gauge.full_scale.si() / 100.0;
        out.remarks.push(
            if moved.abs() < 0.3 * division {
                "The needle stays where it was."
            } else if moved > 0.0 {
                "The needle jumps up a little."
            } else {
                "The needle drops a little."
            }
            .to_owned(),
        );
        self.write_dial(out);
        Ok(())
    }

    fn write_dial(&mut self, out: &mut Outcome) {
        let answer = self.at_hand().dial_gauge();
        let dial = Observation::of("dial_gauge", vec!["wall".to_owned()], &answer);
        self.write(dial, out);
    }

    /// What the eye reads off the dial now [Pa].
    pub(super) fn needle(&self) -> f64 {
        let answer = self.at_hand().dial_gauge();
        answer.map_or(0.0, |reading| reading.figure.value)
    }

    pub(super) fn log_gauge(&mut self, seconds: f64, every: f64, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        let is_sane = seconds.is_finite()
            && (1.0..=super::clock::LONGEST_WAIT_S).contains(&seconds)
            && (0.5..=seconds).contains(&every)
            && seconds / every <= MOST_LOGGED;
        if !is_sane {
            return Err(Stop::Refused(Refusal::BadNumber {
                what: format!("a log of {seconds} s with a reading every {every} s"),
                accepted: "up to 24 hours, every half second or slower, up to 2000 readings"
                    .to_owned(),
            }));
        }
        let begun = self.plant.now();
        let end = Tick(begun.0 + Tick::at_or_after(Seconds(seconds)).0);
        let step = Tick::at_or_after(Seconds(every)).0;
        let mut points = Vec::new();
        loop {
            let now = self.plant.now();
            points.push((now.seconds() - begun.seconds(), self.needle()));
            if now >= end {
                break;
            }
            self.pass_until(Tick(now.0 + step).min(end), |_| false)?;
        }
        let log = Observation::Log {
            instrument: "dial_gauge".to_owned(),
            points,
        };
        self.write(log, out);
        Ok(())
    }
}
