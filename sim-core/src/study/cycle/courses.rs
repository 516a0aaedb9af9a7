//! Between two events: the settled course with the pump off, on, or feeding the house
//! alone.

use super::checks;
use super::engine::{Engine, Pump};
use super::error::CycleError;
use super::gas::{Pose, SourceNow};
use super::result::{PumpRun, Reason};
use super::sheet::{B, HOUSE, Lanes, N, PUMPED, SHAFT, SUPPLY, TEE, USED};
use super::stretch;
use super::surfaces::knot_of;
use super::track::{Ended, Track};
use crate::plant::model::Model;

/// Longest stretch with an empty tank that is taken in one go [s].
const EMPTY_STEP_S: f64 = 30.0;
/// Longest steps with the pump on and off [s].
const LONGEST_ON_S: f64 = 12.0;
const LONGEST_OFF_S: f64 = 60.0;
/// The same over the time in which the pressure would change by itself: a pump's flow falls
/// steeply near cut-out, that of an open outlet hardly changes.
const PRESSURE_SHARE_ON: f64 = 0.15;
const PRESSURE_SHARE_OFF: f64 = 0.3;
/// Longest time between two looks at the source while the pump runs [s].
const SOURCE_STEP_S: f64 = 60.0;
/// Shortest time between two looks, and how far the surface may stray from a straight line
/// between them [m].
const SHORTEST_SOURCE_STEP_S: f64 = 1.0;
const MOST_BOW_M: f64 = 0.002;

impl<F: FnMut(&PumpRun)> Engine<'_, F> {
    /// The settled course with the pump off.
    pub(super) fn along_off(&mut self, until_s: f64) -> Ended {
        if self.configs[self.config].is_idle {
            self.rest(until_s)
        } else {
            self.empty_tank(until_s)
        }
    }

    /// Water leaves the tank, or its air cools, until the switch trips.
    fn empty_tank(&mut self, until_s: f64) -> Ended {
        let cycles = self.cycles;
        let config = &self.configs[self.config];
        // What the source does meanwhile is made up for before it is needed.
        let still = SourceNow {
            at: self.pose.source,
            surface: 0.0,
            per_volume: 0.0,
            inflow: 0.0,
            inflow_slope: 0.0,
        };
        let track = Track {
            gas: &cycles.gas,
            cut: cycles.cut_in,
            sign: -1.0,
            port_s: cycles.port_s,
            longest_s: LONGEST_OFF_S,
            pressure_share: PRESSURE_SHARE_OFF,
        };
        let rates = cycles.gas.rates(&self.pose, &still, &config.off);
        track.follow(
            &mut self.now_s,
            until_s,
            rates,
            &mut self.pose,
            &mut self.sums,
            &mut self.felt_pa,
            &still,
            &config.off,
            self.book,
            &config.open,
        )
    }

    /// The settled course with the pump on; none while its time is not up.
    pub(super) fn along_on(&mut self, until_s: f64) -> Result<Option<Ended>, CycleError> {
        let cycles = self.cycles;
        let source = checks::source_now(self.model, self.pose.source);
        let knot = knot_of(&cycles.knots, source.surface);
        let config = &mut self.configs[self.config];
        config.switch_on(&cycles.grounds(self.model), knot);
        let config = &*config;
        let Some(on) = config.on(knot) else {
            self.hand_over(Reason::NotSteady, None)?;
            return Ok(None);
        };
        let track = Track {
            gas: &cycles.gas,
            cut: cycles.cut_out,
            sign: 1.0,
            port_s: cycles.port_s,
            longest_s: LONGEST_ON_S,
            pressure_share: PRESSURE_SHARE_ON,
        };
        let rates = cycles.gas.rates(&self.pose, &source, on);
        let longest_s = straight_for(self.model, &source, rates.speeds.source);
        let stretch_s = until_s.min(self.now_s + longest_s);
        let ended = track.follow(
            &mut self.now_s,
            stretch_s,
            rates,
            &mut self.pose,
            &mut self.sums,
            &mut self.felt_pa,
            &source,
            on,
            self.book,
            &config.open,
        );
        self.pose.source = self.pose.source.min(cycles.full_source);
        let is_over = !matches!(ended, Ended::InTime) || self.now_s >= until_s;
        Ok(is_over.then_some(ended))
    }

    /// Nothing drawn, nothing pumped: the air in the tank takes the temperature around it.
    fn rest(&mut self, until_s: f64) -> Ended {
        let gas = &self.cycles.gas;
        let seconds = until_s - self.now_s;
        if seconds <= 0.0 {
            return Ended::InTime;
        }
        if !gas.is_quick {
            let before = gas.pressure(&self.pose);
            let share = crate::math::exp(-seconds / gas.time_s);
            let config = &self.configs[self.config];
            let settled = Pose {
                gas_k: gas.ambient_k + (self.pose.gas_k - gas.ambient_k) * share,
                ..self.pose
            };
            let after = gas.pressure(&settled);
            let values = config.off.all(after, 0.0);
            if values[TEE] <= self.cycles.cut_in {
                return self.empty_tank(until_s);
            }
            self.pose = settled;
            self.pose.water -= values[B] * (after - before);
        }
        self.felt_pa = None;
        self.now_s = until_s;
        Ended::InTime
    }

    /// What has come into the source while nothing was pumped.
    pub(super) fn refill(&mut self) {
        let seconds = self.now_s - self.source_s;
        self.source_s = self.now_s;
        if seconds <= 0.0 {
            return;
        }
        let now = checks::source_now(self.model, self.pose.source);
        if now.inflow_slope >= 0.0 || self.pose.source > self.cycles.brim {
            // A cistern that runs over is full at once.
            self.pose.source += now.inflow.max(0.0) * seconds;
        } else {
            // An exponential towards where nothing comes in any more.
            let share = crate::math::exp(now.inflow_slope * seconds);
            let rest = self.pose.source - now.inflow / now.inflow_slope;
            self.pose.source = rest + (self.pose.source - rest) * share;
        }
        self.pose.source = self.pose.source.min(self.cycles.full_source);
    }

    /// The tank empty, the pump feeds the house alone.
    pub(super) fn along_empty(&mut self, until_s: f64) -> Result<Option<Ended>, CycleError> {
        let seconds = (until_s - self.now_s).clamp(0.0, EMPTY_STEP_S);
        // Does the pump win against what is drawn?
        let gas = &self.cycles.gas;
        let source = checks::source_now(self.model, self.pose.source);
        let Pump::Empty(since) = self.pump else {
            return Ok(Some(Ended::InTime));
        };
        let knot = knot_of(&self.cycles.knots, source.surface);
        let config = &mut self.configs[self.config];
        config.switch_on(&self.cycles.grounds(self.model), knot);
        let config = &*config;
        let pressure_pa = gas.pressure(&self.pose);
        let Some(free) = config
            .on(knot)
            .map(|on| on.drive(pressure_pa, source.surface))
        else {
            self.hand_over(Reason::NotSteady, None)?;
            return Ok(None);
        };
        if free[N] > 1e-7 {
            self.pump = Pump::On(since);
            return Ok(None);
        }
        let flat = stretch::flat(self.cycles, self.model, config, &self.pose);
        let Some((_, point)) = flat else {
            self.hand_over(Reason::NotSteady, None)?;
            return Ok(None);
        };
        if !stretch::is_flat_sound(self.cycles, self.model, config, &point.lanes) {
            self.hand_over(Reason::LowPressure, None)?;
            return Ok(None);
        }
        let lanes = point.lanes;
        self.sums.supply_j += lanes[SUPPLY] * seconds;
        self.sums.shaft_j += lanes[SHAFT] * seconds;
        self.sums.pumped += lanes[PUMPED] * seconds;
        self.sums.used += lanes[USED] * seconds;
        self.pose.source -= lanes[PUMPED] * seconds;
        let share = crate::math::exp(-seconds / gas.time_s);
        self.pose.gas_k = gas.ambient_k + (self.pose.gas_k - gas.ambient_k) * share;
        self.book
            .pressure(&config.open, lanes[HOUSE], seconds, self.now_s);
        self.book.lowest(&config.open, lanes[HOUSE]);
        self.source_s = self.now_s;
        self.now_s += seconds;
        self.refill();
        if self.now_s >= until_s {
            return Ok(Some(Ended::InTime));
        }
        Ok(None)
    }
}

/// How long the source's surface may be taken to move in a straight line with its content
/// [s]: at the top of a lying tank and where its neck begins not for long.
fn straight_for(model: &Model, source: &SourceNow, fall: f64) -> f64 {
    let mut seconds = SOURCE_STEP_S;
    while seconds > SHORTEST_SOURCE_STEP_S {
        let change = fall * seconds;
        let then = checks::source_now(model, source.at + change);
        let bow_m = 0.5 * change * (then.per_volume - source.per_volume);
        // What runs over bends too.
        let astray = then.inflow - source.inflow - source.inflow_slope * change;
        let strays_m = 0.5 * astray * seconds * source.per_volume;
        if bow_m.abs() + strays_m.abs() < MOST_BOW_M {
            break;
        }
        seconds *= 0.5;
    }
    seconds
}
