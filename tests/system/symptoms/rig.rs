//! A site on the test bench: hands on its valves, eyes on its gauge.

use crate::support::sites::shipped;
use sim_core::faults::Fault;
use sim_core::plant::{Command, Event, EventKind, Plant, Start, Tick};
use sim_core::site::SiteSpec;
use sim_core::trace::CHANNELS;
use sim_core::units::Seconds;
use sim_core::units::convert::{LITER, PSI};

/// The sites that the symptoms are looked for on: a shallow cistern with stiff pipe, and
/// a deep well with soft pipe.
pub(super) fn sites() -> [SiteSpec; 2] {
    [shipped("orchard-cottage"), shipped("hill-farm")]
}

/// A tap that both sites have, regulated to about 8 L/min.
pub(super) const TAP: &str = "kitchen-tap";

/// The unregulated tap with the widest opening.
pub(super) fn widest_tap(site: &SiteSpec) -> &'static str {
    if site.name == "hill-farm" {
        "dairy-tap"
    } else {
        "hose-bib"
    }
}

/// One pump run, from power to no power.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) start_s: f64,
    pub(super) stop_s: f64,
}

/// A plant under test.
pub(super) struct Rig {
    pub(super) plant: Plant,
    pub(super) site: SiteSpec,
}

impl Rig {
    fn new(site: &SiteSpec, faults: &[&str], start: Start) -> Self {
        let faults: Vec<Fault> = faults.iter().map(|f| Fault::parse(f).unwrap()).collect();
        Self {
            plant: Plant::build(site, &faults, start).unwrap(),
            site: site.clone(),
        }
    }

    /// In service, at rest at cut-out with everything at air temperature.
    pub(super) fn charged(site: &SiteSpec, faults: &[&str]) -> Self {
        Self::new(site, faults, Start::Charged)
    }

    /// Pipes full of water without pressure, power on, the low-pressure lever held.
    pub(super) fn primed(site: &SiteSpec, faults: &[&str]) -> Self {
        let mut rig = Self::new(site, faults, Start::Primed);
        rig.command(Command::HoldLever(true));
        rig.breaker(true);
        rig
    }

    /// Never had water; power off, house valve shut, the low-pressure lever held.
    pub(super) fn dry(site: &SiteSpec, faults: &[&str]) -> Self {
        let mut rig = Self::new(site, faults, Start::Dry);
        rig.command(Command::HoldLever(true));
        rig
    }

    pub(super) fn command(&mut self, command: Command) {
        self.plant.apply(command).unwrap();
    }

    pub(super) fn breaker(&mut self, on: bool) {
        self.command(Command::SetBreaker(on));
    }

    pub(super) fn drain(&mut self, opening: f64) {
        self.command(Command::SetDrain(opening));
    }

    pub(super) fn house_valve(&mut self, opening: f64) {
        self.command(Command::SetHouseValve(opening));
    }

    pub(super) fn tap(&mut self, name: &str, opening: f64) {
        let fixtures = &self.site.house.fixtures;
        let fixture = fixtures.iter().position(|f| f.name == name).unwrap();
        self.command(Command::SetFixture { fixture, opening });
    }

    /// Seconds since the start.
    pub(super) fn now(&self) -> f64 {
        self.plant.now().seconds()
    }

    /// Lets time pass.
    pub(super) fn wait(&mut self, seconds: f64) {
        let until = Tick::at_or_after(Seconds(self.now() + seconds));
        self.plant.advance_to(until).unwrap();
    }

    /// Lets time pass until something happens, but no longer than `seconds`.
    pub(super) fn wait_for(&mut self, kind: EventKind, seconds: f64) -> Option<Event> {
        let until = Tick::at_or_after(Seconds(self.now() + seconds));
        self.plant
            .advance_until(until, |event| event.kind == kind)
            .unwrap()
    }

    /// Waits for the next whole pump run, but no longer than `seconds` for either end.
    pub(super) fn next_run(&mut self, seconds: f64) -> Option<Run> {
        let start_s = self.wait_for(EventKind::PumpStarted, seconds)?.time_s;
        let stop_s = self.wait_for(EventKind::PumpStopped, seconds)?.time_s;
        Some(Run { start_s, stop_s })
    }

    /// Lets time pass and reads a channel every `step` seconds: time from now and reading.
    pub(super) fn watch(&mut self, channel: &str, seconds: f64, step: f64) -> Vec<(f64, f64)> {
        let begin = self.now();
        let mut readings = vec![(0.0, self.value(channel))];
        while self.now() - begin < seconds - 1e-9 {
            self.wait(step);
            readings.push((self.now() - begin, self.value(channel)));
        }
        readings
    }

    /// A channel in SI units.
    pub(super) fn value(&self, channel: &str) -> f64 {
        let i = CHANNELS.iter().position(|c| c.name == channel).unwrap();
        self.plant.sample().values[i]
    }

    /// What the needle shows [psi].
    pub(super) fn gauge_psi(&self) -> f64 {
        self.plant.gauge_reading_pa() / PSI
    }

    /// Pressure at the tee [psi, gauge], where the needle's stiction would hide it.
    pub(super) fn tee_psi(&self) -> f64 {
        self.value("tee_pressure") / PSI
    }

    pub(super) fn is_running(&self) -> bool {
        self.value("motor_on") > 0.5
    }

    /// Water that has come out of the taps so far [L], as a bucket tells.
    pub(super) fn bucket_l(&self) -> f64 {
        self.plant.totals().used_m3 / LITER
    }

    /// Mean flow at the taps [L/min] over the next seconds, as bucket and watch tell.
    pub(super) fn tap_flow_l_per_min(&mut self, seconds: f64) -> f64 {
        let before = self.bucket_l();
        self.wait(seconds);
        (self.bucket_l() - before) / seconds * 60.0
    }

    pub(super) fn has_seen(&self, kind: EventKind) -> bool {
        self.when(kind).is_some()
    }

    /// When something happened first [s].
    pub(super) fn when(&self, kind: EventKind) -> Option<f64> {
        let events = self.plant.events();
        events.iter().find(|e| e.kind == kind).map(|e| e.time_s)
    }

    /// Cut-in and cut-out [psi, gauge].
    pub(super) fn setting_psi(&self) -> (f64, f64) {
        let controls = self.plant.controls();
        (controls.cut_in.si() / PSI, controls.cut_out.si() / PSI)
    }
}

/// Asserts that each value is above the one before it.
#[track_caller]
pub(super) fn assert_rising(values: &[f64], what: &str) {
    assert!(values.windows(2).all(|w| w[0] < w[1]), "{what}: {values:?}");
}

/// Asserts that `ours` is within a share of what a law says.
#[track_caller]
pub(super) fn assert_near(ours: f64, law: f64, share: f64, what: &str) {
    assert!(
        (ours / law - 1.0).abs() <= share,
        "{what}: {ours}, by the law {law}"
    );
}
