//! Instruments of the water side: what an eye reads off a dial, a tape, a bucket.
//!
//! Error classes are training values after the usual grades of such instruments: a dial of
//! grade 2-1-2 % of span (ASME B40.100 grade A: 1 % in the middle half, 2 % outside), a
//! test gauge of 0.5 %, a tyre gauge of half a psi, a bucket of 3 %, a tape of 10 mm.

use super::noise::Noise;
use crate::catalog::PartId;
use crate::plant::{Plant, Tick};
use crate::trace::{CHANNELS, Quantity};
use crate::units::convert::PSI;

/// What is read.
#[derive(Debug, Clone, PartialEq)]
pub struct HandReading {
    /// Instrument, snake_case.
    pub instrument: &'static str,
    /// Where, snake_case.
    pub place: String,
    /// Of what.
    pub quantity: Quantity,
    /// As read, rounded to what an eye can tell apart [SI].
    pub value: f64,
    /// How far the truth may lie from it if the instrument is sound [SI].
    pub error: f64,
}

/// Where a second gauge is screwed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugePort {
    /// At the tee, where switch and gauge sit.
    Tee,
    /// At the tank's own connection.
    Tank,
    /// Behind house valve and filter.
    House,
}

/// Span of the test gauge [Pa] and its class.
const TEST_GAUGE_SPAN_PA: f64 = 160.0 * PSI;
const TEST_GAUGE_CLASS: f64 = 0.005;
/// Error and step of a digital tyre gauge [Pa].
const TYRE_GAUGE_ERROR_PA: f64 = 0.5 * PSI;
const TYRE_GAUGE_STEP_PA: f64 = 0.5 * PSI;
/// Pressure that a tank loses each time a tyre gauge is put on [Pa]: 0.1 to 0.3 psi on
/// small vessels (common practice, no source).
const TYRE_GAUGE_LOSS_PA: f64 = 0.15 * PSI;
/// Share by which a bucket and a stopwatch may be off.
const BUCKET_ERROR: f64 = 0.03;
/// Error and step of a level tape [m].
const TAPE_ERROR_M: f64 = 0.01;
/// Error and step of a contact thermometer [K].
const THERMOMETER_ERROR_K: f64 = 1.0;

fn channel(plant: &Plant, name: &str) -> f64 {
    let index = CHANNELS.iter().position(|channel| channel.name == name);
    let sample = plant.sample();
    index
        .and_then(|i| sample.values.get(i).copied())
        .unwrap_or(0.0)
}

fn rounded(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}

/// An instrument in calibration errs by half its class at the most, most often by less.
fn read(exact: f64, error: f64, step: f64, noise: &mut Noise) -> f64 {
    rounded(exact + 0.5 * error * noise.next(), step)
}

fn noise(plant: &Plant, seed: u64, instrument: &str, place: &str) -> Noise {
    Noise::named(seed, plant.now(), &[instrument, place])
}

/// The gauge at the wall, read by eye: to half a division, fifty divisions to the span.
/// What is wrong with the gauge is in what the needle shows.
#[must_use]
pub fn dial_gauge(plant: &Plant) -> HandReading {
    let span = plant.site().wall.gauge.full_scale.si();
    let needle = plant.gauge_reading_pa();
    let is_middle = (0.25 * span..=0.75 * span).contains(&needle);
    HandReading {
        instrument: "dial_gauge",
        place: "wall".to_owned(),
        quantity: Quantity::GaugePressure,
        value: rounded(needle, span / 100.0),
        error: span * if is_middle { 0.01 } else { 0.02 },
    }
}

/// A second gauge of class 0.5 on a port.
#[must_use]
pub fn test_gauge(plant: &Plant, port: GaugePort, seed: u64) -> HandReading {
    let (place, exact) = match port {
        GaugePort::Tee => ("tee", channel(plant, "tee_pressure")),
        GaugePort::Tank => ("tank", plant.tank_port_pressure_pa()),
        GaugePort::House => ("house", channel(plant, "house_pressure")),
    };
    let error = TEST_GAUGE_CLASS * TEST_GAUGE_SPAN_PA;
    let noise = &mut noise(plant, seed, "test_gauge", place);
    HandReading {
        instrument: "test_gauge",
        place: place.to_owned(),
        quantity: Quantity::GaugePressure,
        value: read(exact.max(0.0), error, 0.5 * PSI, noise).max(0.0),
        error,
    }
}

/// A tyre gauge on the tank's air valve, and the air that escapes as it is put on [kg].
#[must_use]
pub fn tyre_gauge(plant: &Plant, seed: u64) -> (HandReading, f64) {
    let exact = plant.tank_charge_pressure_pa();
    let noise = &mut noise(plant, seed, "tyre_gauge", "air_valve");
    let reading = HandReading {
        instrument: "tyre_gauge",
        place: "air_valve".to_owned(),
        quantity: Quantity::GaugePressure,
        value: read(
            exact.max(0.0),
            TYRE_GAUGE_ERROR_PA,
            TYRE_GAUGE_STEP_PA,
            noise,
        )
        .max(0.0),
        error: TYRE_GAUGE_ERROR_PA,
    };
    let lost = -plant.tank_air_to_reach_kg((exact - TYRE_GAUGE_LOSS_PA).max(0.0));
    (reading, lost.max(0.0))
}

/// A bucket under an outlet: so much water [m³] in so many ticks.
#[must_use]
pub fn bucket(plant: &Plant, outlet: &str, volume_m3: f64, ticks: u64, seed: u64) -> HandReading {
    let exact = volume_m3 * Tick::PER_SECOND as f64 / ticks.max(1) as f64;
    let error = BUCKET_ERROR * exact;
    let noise = &mut noise(plant, seed, "bucket", outlet);
    // A twentieth of a liter a minute: what a person writes down.
    let step = 0.05e-3 / 60.0;
    HandReading {
        instrument: "bucket",
        place: outlet.to_owned(),
        quantity: Quantity::Flow,
        value: read(exact, error, step, noise).max(0.0),
        error: error.max(step),
    }
}

/// A tape let down to the water: depth of the water in the source.
#[must_use]
pub fn level_tape(plant: &Plant, seed: u64) -> HandReading {
    let exact = channel(plant, "source_level");
    let noise = &mut noise(plant, seed, "level_tape", "source");
    HandReading {
        instrument: "level_tape",
        place: "source".to_owned(),
        quantity: Quantity::Length,
        value: read(exact, TAPE_ERROR_M, TAPE_ERROR_M, noise).max(0.0),
        error: TAPE_ERROR_M,
    }
}

/// A vacuum gauge at the pump's inlet: pressure there [Pa, gauge], negative for vacuum;
/// none where there is no suction pipe.
#[must_use]
pub fn vacuum_gauge(plant: &Plant, seed: u64) -> Option<HandReading> {
    let exact = plant.suction_pressure_pa()?;
    let step = 1_000.0;
    let noise = &mut noise(plant, seed, "vacuum_gauge", "suction");
    Some(HandReading {
        instrument: "vacuum_gauge",
        place: "suction".to_owned(),
        quantity: Quantity::GaugePressure,
        value: read(exact, 2_000.0, step, noise),
        error: 2_000.0,
    })
}

/// A thermometer held against a part; none where there is nothing to hold it against.
#[must_use]
pub fn thermometer(plant: &Plant, part: PartId, seed: u64) -> Option<HandReading> {
    let exact = match part {
        PartId::Motor | PartId::Capacitor => channel(plant, "winding_temperature"),
        PartId::Pump | PartId::Run | PartId::Riser => channel(plant, "pump_water_temperature"),
        PartId::Splice | PartId::Breaker | PartId::PressureSwitch => {
            channel(plant, "joint_temperature")
        }
        PartId::Tank => channel(plant, "tank_air_temperature"),
        PartId::Source => plant.site().water_temperature.si(),
        _ => return None,
    };
    let noise = &mut noise(plant, seed, "thermometer", part.name());
    Some(HandReading {
        instrument: "thermometer",
        place: part.name().to_owned(),
        quantity: Quantity::Temperature,
        value: read(exact, THERMOMETER_ERROR_K, 0.5, noise),
        error: THERMOMETER_ERROR_K,
    })
}
