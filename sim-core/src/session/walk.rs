//! Walking and waiting.

use super::action::Until;
use super::clock::LONGEST_WAIT_S;
use super::outcome::{Outcome, Refusal};
use super::perform::Worked;
use super::station::Station;
use super::visit::Visit;
use crate::plant::{EventKind, Front, Tick};
use crate::units::Seconds;

/// How long a needle must have stood within [`STILL_PA`] to count as still [s].
const STILL_S: f64 = 30.0;
/// Least movement of a needle that an eye sees [Pa]: half a psi (training value).
const STILL_PA: f64 = 3_450.0;
/// How often one glances at what one waits for [s].
const GLANCE_S: f64 = 1.0;

impl Visit {
    /// Walks to a station: along the run where source or splice lie at its far end.
    pub(super) fn go(&mut self, to: Station) -> Worked {
        if to == self.station {
            return Err(Refusal::First(format!("you are at {} already", to.label())).into());
        }
        let seconds = self.walking_s(self.station, to);
        self.pass(seconds)?;
        self.station = to;
        Ok(())
    }

    /// Time from one station to another [s].
    #[must_use]
    pub fn walking_s(&self, from: Station, to: Station) -> f64 {
        if from == to {
            return 0.0;
        }
        let is_far = |station| matches!(station, Station::Source | Station::Splice);
        let costs = &self.fixed.costs;
        let way = if is_far(from) == is_far(to) {
            0.0
        } else {
            self.site.run.iter().map(|pipe| pipe.length.si()).sum()
        };
        60.0 * costs.settle_min + way / costs.walking_m_per_s
    }

    /// Lets time pass.
    pub(super) fn wait(&mut self, seconds: f64) -> Worked {
        check_wait(seconds)?;
        self.pass(seconds)
    }

    /// Lets time pass until something happens that can be perceived from here.
    pub(super) fn wait_until(&mut self, until: Until, at_most: f64, out: &mut Outcome) -> Worked {
        check_wait(at_most)?;
        let limit = Tick(self.plant.now().0 + Tick::at_or_after(Seconds(at_most)).0);
        let came = match until {
            Until::PumpStarts if self.plant.is_powered() => {
                out.remarks.push("The pump is running.".to_owned());
                return Ok(());
            }
            Until::PumpStarts => {
                let hears = |kind| kind == EventKind::PumpStarted;
                self.pass_until(limit, |event| hears(event.kind))?.is_some()
            }
            Until::PumpStops if !self.plant.is_powered() => {
                out.remarks.push("The pump is not running.".to_owned());
                return Ok(());
            }
            Until::PumpStops => {
                let hears = |kind| kind == EventKind::PumpStopped;
                self.pass_until(limit, |event| hears(event.kind))?.is_some()
            }
            Until::SolidWater if self.plant.modes().front == Front::Solid => {
                out.remarks.push("There is no air in what runs.".to_owned());
                return Ok(());
            }
            Until::SolidWater => {
                let sees = |kind| kind == EventKind::LineSolid;
                self.pass_until(limit, |event| sees(event.kind))?.is_some()
            }
            Until::NeedleStill | Until::GaugeAbove(_) | Until::GaugeBelow(_) => {
                self.must_be_at(Station::Wall)?;
                self.watch_until(until, limit)?
            }
        };
        if !came {
            out.remarks
                .push("You waited as long as you said; it did not come.".to_owned());
        }
        Ok(())
    }

    /// Watches the needle, glance by glance.
    fn watch_until(&mut self, until: Until, limit: Tick) -> Result<bool, super::perform::Stop> {
        // A needle within a hundredth of its dial from the stop lies on it, for friction.
        let on_its_stop = 0.01 * self.site.wall.gauge.full_scale.si();
        let mut still_since = (self.plant.now(), self.plant.gauge_reading_pa());
        loop {
            let needle = self.plant.gauge_reading_pa();
            let now = self.plant.now();
            if (needle - still_since.1).abs() > STILL_PA {
                still_since = (now, needle);
            }
            let has_come = match until {
                Until::GaugeAbove(pressure) => needle >= pressure,
                Until::GaugeBelow(pressure) => needle <= pressure.max(on_its_stop),
                _ => now.seconds() - still_since.0.seconds() >= STILL_S,
            };
            if has_come {
                return Ok(true);
            }
            if now >= limit {
                return Ok(false);
            }
            let glance = Tick(now.0 + Tick::at_or_after(Seconds(GLANCE_S)).0);
            self.pass_until(glance.min(limit), |_| false)?;
        }
    }
}

fn check_wait(seconds: f64) -> Worked {
    if seconds.is_finite() && (0.0..=LONGEST_WAIT_S).contains(&seconds) {
        return Ok(());
    }
    Err(Refusal::BadNumber {
        what: format!("one cannot wait {seconds} s"),
        accepted: "a time of up to 24 hours".to_owned(),
    }
    .into())
}
