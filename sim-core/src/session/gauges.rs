//! Pressure, air, flow, level and temperature: instruments of the water side.

use super::action::Port;
use super::cautions;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::PartId;
use crate::cues;
use crate::instruments::{GaugePort, Hands, NoReading, Reading, Surface, TyreGauge};
use crate::plant::{Command, Tick};
use crate::units::Seconds;

/// Buckets that people have [m³].
const BUCKET_M3: std::ops::RangeInclusive<f64> = 5e-4..=0.03;
/// How long one holds a bucket under a trickle [s].
const BUCKET_LIMIT_S: f64 = 300.0;

impl Visit {
    pub(super) fn fit_gauge(&mut self, port: Port, out: &mut Outcome) -> Worked {
        self.must_have(Tool::SecondGauge)?;
        self.must_be_at(station_of(port))?;
        if self.hands.second_gauge.is_some() {
            return Err(Refusal::First("the second gauge is fitted already".to_owned()).into());
        }
        self.must_be_without_pressure(port == Port::House)?;
        self.work("fit_gauge", out)?;
        out.warn(cautions::FITTING);
        self.hands.second_gauge = Some(port);
        Ok(())
    }

    pub(super) fn remove_gauge(&mut self, out: &mut Outcome) -> Worked {
        let Some(port) = self.hands.second_gauge else {
            return Err(Refusal::First("the second gauge is not fitted".to_owned()).into());
        };
        self.must_be_at(station_of(port))?;
        self.must_be_without_pressure(port == Port::House)?;
        self.work("remove_gauge", out)?;
        out.warn(cautions::FITTING);
        self.hands.second_gauge = None;
        Ok(())
    }

    pub(super) fn read_second_gauge(&mut self, out: &mut Outcome) -> Worked {
        let Some(port) = self.hands.second_gauge else {
            return Err(Refusal::First("fit the second gauge first".to_owned()).into());
        };
        self.must_be_at(station_of(port))?;
        self.work("read_second_gauge", out)?;
        let (port, place) = match port {
            Port::Tee => (GaugePort::Tee, "tee"),
            Port::Switch => (GaugePort::Switch, "switch"),
            Port::Tank => (GaugePort::Tank, "tank"),
            Port::House => (GaugePort::House, "house"),
        };
        let answer = self.at_hand().second_gauge(port);
        self.write_by_hand("test_gauge", place, &answer, out)
    }

    pub(super) fn read_air_valve(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.must_have(Tool::TyreGauge)?;
        self.work("read_air_valve", out)?;
        self.put_tyre_gauge_on(out)
    }

    pub(super) fn press_air_valve(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.work("press_air_valve", out)?;
        out.warn(cautions::AIR_VALVE);
        let cue = cues::press_air_valve(&self.plant);
        self.write_cue(&cue, out);
        Ok(())
    }

    pub(super) fn set_air(&mut self, pressure: f64, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.must_have(Tool::AirPump)?;
        self.must_have(Tool::TyreGauge)?;
        if !(pressure.is_finite() && pressure >= 0.0) {
            return Err(Refusal::BadNumber {
                what: format!("{pressure} Pa is no charge"),
                accepted: "a gauge pressure of nothing or more".to_owned(),
            }
            .into());
        }
        if pressure > self.site.tank.rated_pressure.si() {
            return Err(Stop::Hazard(HazardKind::TankOverpressure));
        }
        self.work("set_air", out)?;
        out.warn(cautions::TANK_DRAINED);
        out.warn(cautions::TANK_RATING);
        // The person goes by the gauge in their hand, and stops when it shows what is wanted.
        let kg = self.plant.tank_air_to_reach_kg(pressure);
        self.apply(Command::AddTankAir { kg })?;
        self.pass(1.0)?;
        self.put_tyre_gauge_on(out)
    }

    pub(super) fn measure_flow(&mut self, outlet: &str, volume: f64, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::House)?;
        self.must_have(Tool::Bucket)?;
        let fixture = self.outlet(outlet)?;
        if !BUCKET_M3.contains(&volume) {
            return Err(Refusal::BadNumber {
                what: format!("a bucket of {} L", volume * 1e3),
                accepted: "half a liter to 30 L".to_owned(),
            }
            .into());
        }
        self.work("outlet", out)?;
        let was = self.plant.controls().fixture_openings[fixture];
        let command = self.household.turn(fixture, 1.0);
        self.apply(command)?;
        let begun = self.plant.now();
        let limit = Tick(begun.0 + Tick::at_or_after(Seconds(BUCKET_LIMIT_S)).0);
        let mut collected = 0.0;
        while collected < volume && self.plant.now() < limit {
            let flow = self.plant.outlet_flow_m3_per_s(fixture);
            let from = self.plant.now();
            self.pass_until(Tick(from.0 + 1), |_| false)?;
            let to = self.plant.outlet_flow_m3_per_s(fixture);
            collected += 0.5 * (flow + to) / Tick::PER_SECOND as f64;
        }
        let ended = self.plant.now();
        let command = self.household.turn(fixture, 0.0);
        self.apply(command)?;
        if was > 0.0 {
            out.remarks.push("You shut the outlet again.".to_owned());
        }
        let answer = self
            .at_hand()
            .bucket(outlet, collected.min(volume), begun, ended);
        self.write_by_hand("bucket", outlet, &answer, out)
    }

    pub(super) fn measure_level(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        self.must_have(Tool::LevelTape)?;
        self.must_be_open(Cover::Source)?;
        self.work("level", out)?;
        let answer = self.at_hand().level_tape();
        self.write_by_hand("level_tape", "source", &answer, out)
    }

    pub(super) fn measure_vacuum(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.must_have(Tool::VacuumGauge)?;
        if self.site.suction.is_none() {
            return Err(Refusal::NotHere {
                what: "suction pipe".to_owned(),
            }
            .into());
        }
        self.work("vacuum", out)?;
        let answer = self.at_hand().vacuum_gauge();
        self.write_by_hand("vacuum_gauge", "suction", &answer, out)
    }

    pub(super) fn measure_temperature(&mut self, part: PartId, out: &mut Outcome) -> Worked {
        self.must_have(Tool::Thermometer)?;
        let place = self.place_of(part).ok_or_else(|| Refusal::NotHere {
            what: part.label().to_owned(),
        })?;
        self.must_be_at(place.station)?;
        self.work("temperature", out)?;
        let surface = surface_of(part).ok_or_else(|| Refusal::NotHere {
            what: format!("place on the {} to hold it against", part.label()),
        })?;
        let answer = self.at_hand().thermometer(surface);
        self.write_by_hand("thermometer", part.name(), &answer, out)
    }

    /// The tools that are not the electrical meters, before the plant as it stands.
    pub(super) fn at_hand(&self) -> Hands<'_> {
        let hands = Hands::of(&self.plant, self.seed());
        if self.fixed.has_noise {
            hands
        } else {
            hands.without_noise()
        }
    }

    /// Puts the tyre gauge on; a whiff of air is lost each time.
    fn put_tyre_gauge_on(&mut self, out: &mut Outcome) -> Worked {
        let check = self.at_hand().tyre_gauge(TyreGauge::Digital);
        let lost_kg = check.as_ref().map_or(0.0, |check| check.air_lost_kg);
        let answer = check.map(|check| check.reading);
        self.write_by_hand("tyre_gauge", "air_valve", &answer, out)?;
        self.apply(Command::AddTankAir { kg: -lost_kg })
    }

    fn write_by_hand(
        &mut self,
        name: &str,
        place: &str,
        answer: &Result<Reading, NoReading>,
        out: &mut Outcome,
    ) -> Worked {
        let observation = Observation::of(name, vec![place.to_owned()], answer);
        self.write(observation, out);
        Ok(())
    }
}

/// Where one holds a thermometer on a part.
const fn surface_of(part: PartId) -> Option<Surface> {
    Some(match part {
        PartId::Motor | PartId::Capacitor => Surface::Motor,
        PartId::Pump => Surface::PumpCase,
        PartId::Run | PartId::WallManifold | PartId::Riser => Surface::Pipe,
        PartId::Splice => Surface::Joint("splice.line1"),
        PartId::Breaker => Surface::Joint("breaker.load1"),
        PartId::PressureSwitch => Surface::Joint("switch.load1"),
        PartId::Tank => Surface::Tank { height_percent: 50 },
        _ => return None,
    })
}

const fn station_of(port: Port) -> Station {
    match port {
        Port::Tee | Port::Switch | Port::Tank | Port::House => Station::Wall,
    }
}
