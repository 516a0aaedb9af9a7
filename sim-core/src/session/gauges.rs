//! Pressure, air, flow, level and temperature: instruments of the water side.

use super::action::Port;
use super::hazard::HazardKind;
use super::kit::Tool;
use super::outcome::{Observation, Outcome, Refusal};
use super::perform::{Stop, Worked};
use super::station::{Cover, Station};
use super::visit::Visit;
use crate::catalog::PartId;
use crate::cues;
use crate::instruments::{self, GaugePort, HandReading};
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
        self.hands.second_gauge = None;
        Ok(())
    }

    pub(super) fn read_second_gauge(&mut self, out: &mut Outcome) -> Worked {
        let Some(port) = self.hands.second_gauge else {
            return Err(Refusal::First("fit the second gauge first".to_owned()).into());
        };
        self.must_be_at(station_of(port))?;
        self.work("read_second_gauge", out)?;
        let port = match port {
            Port::Tee => GaugePort::Tee,
            Port::Tank => GaugePort::Tank,
            Port::House => GaugePort::House,
        };
        let reading = instruments::test_gauge(&self.plant, port, self.seed());
        self.write_reading(&reading, out);
        Ok(())
    }

    pub(super) fn read_air_valve(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.must_have(Tool::TyreGauge)?;
        self.work("read_air_valve", out)?;
        let (reading, lost_kg) = instruments::tyre_gauge(&self.plant, self.seed());
        self.write_reading(&reading, out);
        self.apply(Command::AddTankAir { kg: -lost_kg })
    }

    pub(super) fn press_air_valve(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Wall)?;
        self.work("press_air_valve", out)?;
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
        out.cautions.push(
            "The charge is what it is only with the tank drained; with water in, the tyre gauge \
             reads the system's pressure."
                .to_owned(),
        );
        // The person goes by the gauge in their hand, and stops when it shows what is wanted.
        let kg = self.plant.tank_air_to_reach_kg(pressure);
        self.apply(Command::AddTankAir { kg })?;
        self.pass(1.0)?;
        let (reading, _) = instruments::tyre_gauge(&self.plant, self.seed());
        self.write_reading(&reading, out);
        Ok(())
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
        let ticks = self.plant.now().0 - begun.0;
        let command = self.household.turn(fixture, 0.0);
        self.apply(command)?;
        if was > 0.0 {
            out.remarks.push("You shut the outlet again.".to_owned());
        }
        let reading = instruments::bucket(
            &self.plant,
            outlet,
            collected.min(volume),
            ticks,
            self.seed(),
        );
        self.write_reading(&reading, out);
        Ok(())
    }

    pub(super) fn measure_level(&mut self, out: &mut Outcome) -> Worked {
        self.must_be_at(Station::Source)?;
        self.must_have(Tool::LevelTape)?;
        self.must_be_open(Cover::Source)?;
        self.work("level", out)?;
        let reading = instruments::level_tape(&self.plant, self.seed());
        self.write_reading(&reading, out);
        Ok(())
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
        let reading = instruments::vacuum_gauge(&self.plant, self.seed());
        if let Some(reading) = reading {
            self.write_reading(&reading, out);
        }
        Ok(())
    }

    pub(super) fn measure_temperature(&mut self, part: PartId, out: &mut Outcome) -> Worked {
        self.must_have(Tool::Thermometer)?;
        let place = self.place_of(part).ok_or_else(|| Refusal::NotHere {
            what: part.label().to_owned(),
        })?;
        self.must_be_at(place.station)?;
        self.work("temperature", out)?;
        let reading =
            instruments::thermometer(&self.plant, part, self.seed()).ok_or_else(|| {
                Refusal::NotHere {
                    what: format!("place on the {} to hold it against", part.label()),
                }
            })?;
        self.write_reading(&reading, out);
        Ok(())
    }

    pub(super) fn write_reading(&mut self, reading: &HandReading, out: &mut Outcome) {
        self.write(Observation::by_hand(reading), out);
    }
}

const fn station_of(port: Port) -> Station {
    match port {
        Port::Tee | Port::Tank | Port::House => Station::Wall,
    }
}
