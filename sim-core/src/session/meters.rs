//! Electrical meters: reached, safe, read.

use super::action::{Moment, Probe};
use super::cautions;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::instruments::{Bench, BenchError, Meter, NoReading, Reading, inrush};
use crate::plant::{EventKind, Tick};
use crate::units::Seconds;

/// How long leads are held on for a start that may come [s].
const WAIT_FOR_START_S: f64 = 600.0;
/// Ticks after the motor is given power over which a start is watched: 100 ms.
const START_TICKS: u64 = 5;

impl Probe {
    /// What must be in the kit.
    const fn tool(self) -> Tool {
        match self {
            Self::Volts | Self::LowImpedanceVolts | Self::Ohms | Self::Capacitance => Tool::Meter,
            Self::Clamp | Self::Inrush => Tool::Clamp,
            Self::Insulation => Tool::InsulationTester,
            Self::Power => Tool::PowerMeter,
        }
    }

    /// Whether it brings a source of its own, for dead circuits only.
    const fn is_for_dead(self) -> bool {
        matches!(self, Self::Ohms | Self::Insulation | Self::Capacitance)
    }

    /// Name in the price list and the notebook.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Volts => "volts",
            Self::LowImpedanceVolts => "low_impedance_volts",
            Self::Clamp => "clamp",
            Self::Inrush => "inrush",
            Self::Ohms => "ohms",
            Self::Insulation => "insulation",
            Self::Capacitance => "capacitance",
            Self::Power => "power",
        }
    }
}

impl Visit {
    /// The stations' points that can be touched from where one stands, covers allowing.
    #[must_use]
    pub fn points_here(&self) -> Vec<&'static str> {
        let Ok(bench) = self.bench() else {
            return Vec::new();
        };
        bench
            .points()
            .into_iter()
            .map(|point| point.name)
            .filter(|name| {
                self.place_of_point(name)
                    .is_ok_and(|at| at.0 == self.station)
            })
            .collect()
    }

    /// Station and cover of a point.
    fn place_of_point(&self, name: &str) -> Result<(Station, Option<Cover>), Stop> {
        let group = name.split('.').next().unwrap_or(name);
        Ok(match group {
            "panel" | "breaker" => (Station::Panel, Some(Cover::Panel)),
            "switch" => (Station::Wall, Some(Cover::Switch)),
            "splice" => (Station::Splice, Some(Cover::Splice)),
            "float" => (Station::Source, Some(Cover::Source)),
            // The frame is bonded to what shows at the well head or the cistern's rim.
            "pump" if name == "pump.frame" && !self.pump_is_at_hand() => (Station::Splice, None),
            "pump" if self.pump_is_at_hand() => (Station::Wall, Some(Cover::Switch)),
            "pump" if self.hands.pump_is_out => (Station::Source, None),
            "pump" => {
                return Err(Refusal::First(
                    "the motor is down in the water: its leads end in the splice box".to_owned(),
                )
                .into());
            }
            _ => {
                return Err(Refusal::NotHere {
                    what: format!("point `{name}`"),
                }
                .into());
            }
        })
    }

    fn bench(&self) -> Result<Bench, Stop> {
        let refused = |error: BenchError| {
            Stop::Refused(Refusal::NotHere {
                what: format!("circuit to measure on ({error})"),
            })
        };
        let mut bench = Bench::of(&self.plant, self.seed()).map_err(refused)?;
        if !self.fixed.has_noise {
            bench = bench.without_noise();
        }
        if self.hands.leads_are_apart {
            return bench
                .with_leads_off()
                .map_err(|error| Refusal::Plant(error.to_string()).into());
        }
        Ok(bench)
    }

    /// Puts a meter on the circuit.
    pub(super) fn measure(
        &mut self,
        meter: Probe,
        from: &str,
        to: Option<&str>,
        moment: Moment,
        out: &mut Outcome,
    ) -> Worked {
        self.must_have(meter.tool())?;
        let needs_two = !matches!(meter, Probe::Clamp | Probe::Inrush | Probe::Power);
        if needs_two && to.is_none() {
            return Err(Refusal::First("a meter has two leads: name two points".to_owned()).into());
        }
        if needs_two && to == Some(from) {
            return Err(Refusal::First(
                "both leads are on the same point: name two points".to_owned(),
            )
            .into());
        }
        for name in [Some(from), to].into_iter().flatten() {
            self.known_point(name)?;
            let (station, cover) = self.place_of_point(name)?;
            self.must_be_at(station)?;
            if let Some(cover) = cover {
                self.must_be_open(cover)?;
            }
        }
        self.must_be_safe(meter)?;
        self.warn_of(meter, out);
        self.work(meter.name(), out)?;
        let answer = match moment {
            Moment::Now => self.read_now(meter, from, to)?,
            Moment::Starting => self.read_starting(meter, from, to)?,
        };
        if matches!(meter, Probe::Ohms | Probe::Insulation) {
            self.hands.resets_untested = 0;
        }
        let place: Vec<String> = [Some(from), to]
            .into_iter()
            .flatten()
            .map(str::to_owned)
            .collect();
        let name = match moment {
            Moment::Now => meter.name().to_owned(),
            Moment::Starting => format!("{}_starting", meter.name()),
        };
        match answer {
            Err(NoReading::UnsafeToMeasure { .. }) => {
                return Err(Stop::Hazard(HazardKind::MeterOnLiveCircuit));
            }
            Err(NoReading::NoSuchPoint { name, accepted, .. }) => {
                return Err(Refusal::NotHere {
                    what: format!(
                        "point `{name}` for this meter (it has {})",
                        accepted.join(", ")
                    ),
                }
                .into());
            }
            Err(problem @ NoReading::NoAnswer { .. }) => {
                return Err(Refusal::Plant(problem.to_string()).into());
            }
            Ok(_) | Err(_) => {}
        }
        let observation = Observation::of(&name, place, &answer);
        self.write(observation, out);
        Ok(())
    }

    /// Refuses points that the site's circuit does not have.
    fn known_point(&self, name: &str) -> Worked {
        let bench = self.bench()?;
        let points = bench.points();
        if points.iter().any(|point| point.name == name) {
            return Ok(());
        }
        let names = || points.iter().map(|point| point.name);
        let hint = crate::suggest::nearest(name, names())
            .map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
        let here: Vec<&str> = self.points_here();
        Err(Refusal::NotHere {
            what: format!("point `{name}`{hint}; from here: {}", here.join(", ")),
        }
        .into())
    }

    /// Stops what must not be measured so.
    fn must_be_safe(&self, meter: Probe) -> Worked {
        if meter.is_for_dead() {
            // The circuit may happen to be dead because a switch is open: that is no lock.
            if !self.hands.is_locked_out {
                let is_live = self.plant.controls().breaker_on;
                return Err(Stop::Hazard(if is_live {
                    HazardKind::MeterOnLiveCircuit
                } else {
                    HazardKind::NotProvedDead
                }));
            }
            let at = if self.station == Station::Source {
                Station::Splice
            } else {
                self.station
            };
            self.must_be_dead(at)?;
            if meter == Probe::Capacitance && !self.hands.is_discharged {
                return Err(Stop::Hazard(HazardKind::ChargedCapacitor));
            }
            return Ok(());
        }
        if self.hands.is_locked_out || self.may_work_live() {
            return Ok(());
        }
        Err(Stop::Hazard(HazardKind::LiveWorkUnprotected))
    }

    /// The cautions of a meter here: a panel stays live above its breaker, and what is only
    /// locked is not proved.
    fn warn_of(&self, meter: Probe, out: &mut Outcome) {
        match meter {
            Probe::Insulation => out.warn(cautions::INSULATION_TEST),
            Probe::Capacitance => out.warn(cautions::CAPACITOR),
            Probe::Ohms => {}
            Probe::Volts
            | Probe::LowImpedanceVolts
            | Probe::Clamp
            | Probe::Inrush
            | Probe::Power => {
                if self.station == Station::Panel || !self.is_dead_here(self.station) {
                    out.warn(cautions::LIVE_MEASUREMENT);
                }
            }
        }
    }

    fn read_now(
        &self,
        meter: Probe,
        from: &str,
        to: Option<&str>,
    ) -> Result<Result<Reading, NoReading>, Stop> {
        let bench = self.bench()?;
        let to = to.unwrap_or(from);
        Ok(match meter {
            Probe::Volts => bench.volts(from, to),
            Probe::LowImpedanceVolts => bench.low_impedance_volts(from, to),
            Probe::Clamp if to == from => bench.clamp(&[from]),
            Probe::Clamp => bench.clamp(&[from, to]),
            Probe::Inrush => Err(NoReading::PoweredOff {
                needs: "inrush is read on a start",
            }),
            Probe::Ohms => bench.ohms(from, to),
            Probe::Insulation => bench.insulation(from, to),
            Probe::Capacitance => bench.capacitance(from, to),
            Probe::Power => bench.power(from),
        })
    }

    /// Holds the leads on through the next start: volts keep the lowest, a clamp the
    /// highest of its first 100 ms.
    fn read_starting(
        &mut self,
        meter: Probe,
        from: &str,
        to: Option<&str>,
    ) -> Result<Result<Reading, NoReading>, Stop> {
        if meter.is_for_dead() {
            return Err(Stop::Hazard(HazardKind::MeterOnLiveCircuit));
        }
        let limit = Tick(self.plant.now().0 + Tick::at_or_after(Seconds(WAIT_FOR_START_S)).0);
        let is_start = |kind| kind == EventKind::PumpStarted;
        let Some(start) = self.pass_until(limit, |event| is_start(event.kind))? else {
            return Ok(Err(NoReading::PoweredOff {
                needs: "no start came in ten minutes",
            }));
        };
        let mut kept: Option<Reading> = None;
        let mut currents = Vec::new();
        let first = self.plant.now();
        for tick in 0..=START_TICKS {
            self.pass_until(Tick(first.0 + tick), |_| false)?;
            currents.push((self.plant.now().seconds(), self.channel("line_current")));
            if meter == Probe::Inrush {
                continue;
            }
            let reading = match self.read_now(meter, from, to)? {
                Ok(reading) => reading,
                Err(nothing) => return Ok(Err(nothing)),
            };
            let is_kept = kept.as_ref().is_none_or(|best| {
                if reading.meter == Meter::Clamp {
                    reading.figure.value > best.figure.value
                } else {
                    reading.figure.value < best.figure.value
                }
            });
            if is_kept {
                kept = Some(reading);
            }
        }
        if meter == Probe::Inrush {
            return Ok(inrush(&self.bench()?, from, &currents, start.time_s));
        }
        Ok(kept.ok_or(NoReading::PoweredOff {
            needs: "no start came",
        }))
    }
}
