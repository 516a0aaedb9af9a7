//! Looking, listening, feeling, smelling, and reading the gauge by eye.

use super::cautions;
use super::hazard::HazardKind;
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
/// Moments at which ears are pricked while one listens.
const LISTENED: u32 = 12;
/// Hundredths of a dial's span beyond which a tapped needle has come free (training value).
const FAR_DIVISIONS: f64 = 3.0;

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

    /// Listens for a while; what sounds only in between is heard as well, as a motor whose
    /// protector opens before the minute is over.
    pub(super) fn listen(&mut self, out: &mut Outcome) -> Worked {
        let mut heard: Vec<Cue> = Vec::new();
        for moment in 1..=LISTENED {
            self.work_share("listen", LISTENED, out)?;
            if moment < LISTENED {
                keep_loudest(&mut heard, self.perceive(Sense::Hearing, None));
            }
        }
        keep_loudest(&mut heard, self.perceive(Sense::Hearing, None));
        self.write_cues(Sense::Hearing, None, &heard, out);
        Ok(())
    }

    pub(super) fn feel(&mut self, part: PartId, out: &mut Outcome) -> Worked {
        self.must_not_touch_live(part)?;
        self.work("feel", out)?;
        out.warn(cautions::TOUCH);
        self.sense(Sense::Touch, Some(part), out);
        Ok(())
    }

    /// A hand on terminals behind an open cover finds what is live there.
    fn must_not_touch_live(&self, part: PartId) -> Worked {
        let (cover, station) = match part {
            PartId::Supply | PartId::Breaker => (Cover::Panel, Station::Panel),
            PartId::PressureSwitch => (Cover::Switch, Station::Wall),
            PartId::Splice | PartId::Cable | PartId::Earth => (Cover::Splice, Station::Splice),
            _ => return Ok(()),
        };
        let is_bare = self.station == station && self.hands.open_covers.contains(&cover);
        // Above a locked breaker the panel's lugs stay live.
        let is_safe = part != PartId::Supply && self.is_dead_here(station);
        if is_bare && !is_safe {
            return Err(Stop::Hazard(HazardKind::LiveContact));
        }
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

    /// Perceives by one sense, of everything or of one part, and writes it down.
    fn sense(&mut self, sense: Sense, part: Option<PartId>, out: &mut Outcome) {
        let found = self.perceive(sense, part);
        self.write_cues(sense, part, &found, out);
    }

    /// What is perceived at this moment by one sense, of everything or of one part.
    fn perceive(&self, sense: Sense, part: Option<PartId>) -> Vec<Cue> {
        let open = self.open_covers();
        let events = self.plant.events().to_vec();
        let attention = Attention {
            station: self.station,
            open: &open,
            events: &events,
            ticks: Tick::PER_SECOND,
            pump_is_out: self.hands.pump_is_out,
        };
        cues::perceive(&self.plant, &attention, sense)
            .into_iter()
            .filter(|cue| part.is_none_or(|part| cue.part == part))
            .collect()
    }

    /// Writes down what was found, or that there was nothing.
    fn write_cues(&mut self, sense: Sense, part: Option<PartId>, found: &[Cue], out: &mut Outcome) {
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
        for cue in found {
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
            match moved / division {
                m if m.abs() < 0.3 => "The needle stays where it was.",
                m if m > FAR_DIVISIONS => "The needle comes free and jumps far up.",
                m if m < -FAR_DIVISIONS => "The needle comes free and drops far down.",
                m if m > 0.0 => "The needle jumps up a little.",
                _ => "The needle drops a little.",
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

/// Adds cues to a list; of two of a name the louder stays.  The loudest come first.
fn keep_loudest(heard: &mut Vec<Cue>, now: Vec<Cue>) {
    for cue in now {
        match heard.iter_mut().find(|known| known.name == cue.name) {
            Some(known) if known.level < cue.level => *known = cue,
            Some(_) => {}
            None => heard.push(cue),
        }
    }
    heard.sort_by(|a, b| {
        b.level
            .total_cmp(&a.level)
            .then_with(|| a.name.cmp(&b.name))
    });
}
