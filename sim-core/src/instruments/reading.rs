//! What an instrument shows, where and when; and why it may show nothing.
//!
//! Values are SI ([V, A, Ω, F, W, VA, 1, Pa, m³/s, m, K, s]); the display form picks a prefix that the
//! resolution fits, as the meter's own display does.

use core::fmt;

use crate::plant::{Device, Plant, Tick};

/// An instrument with its function chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meter {
    /// Volts at 10 MΩ.
    Volts,
    /// Volts at about 3 kΩ.
    LowImpedanceVolts,
    /// Clamp around conductors.
    Clamp,
    /// Clamp that keeps the largest current of a start.
    Inrush,
    /// Ohms.
    Ohms,
    /// Insulation tester, 500 V direct.
    Insulation,
    /// Capacitance.
    Capacitance,
    /// Watts, volt-amperes and power factor.
    Power,
    /// The dial gauge at the wall, read by eye.
    DialGauge,
    /// A test gauge screwed on a port.
    SecondGauge,
    /// A tyre gauge pressed on the tank's air valve.
    TyreGauge,
    /// A vacuum gauge at the pump's suction.
    VacuumGauge,
    /// Bucket and stopwatch.
    Bucket,
    /// Level tape.
    LevelTape,
    /// Thermometer held on a surface.
    Thermometer,
    /// Stopwatch.
    Stopwatch,
}

impl Meter {
    /// Name for people.
    #[must_use]
    pub const fn label(self) -> &'static str {
        match self {
            Self::Volts => "volts, 10 MΩ",
            Self::LowImpedanceVolts => "volts, low impedance",
            Self::Clamp => "clamp",
            Self::Inrush => "clamp, inrush",
            Self::Ohms => "ohms",
            Self::Insulation => "insulation, 500 V",
            Self::Capacitance => "capacitance",
            Self::Power => "power meter",
            Self::DialGauge => "dial gauge",
            Self::SecondGauge => "second gauge",
            Self::TyreGauge => "tyre gauge",
            Self::VacuumGauge => "vacuum gauge",
            Self::Bucket => "bucket and stopwatch",
            Self::LevelTape => "level tape",
            Self::Thermometer => "thermometer",
            Self::Stopwatch => "stopwatch",
        }
    }
}

/// What a figure is a measure of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeterQuantity {
    /// Voltage, RMS [V].
    Voltage,
    /// Current, RMS [A].
    Current,
    /// Resistance [Ω].
    Resistance,
    /// Capacitance [F].
    Capacitance,
    /// Active power [W].
    Power,
    /// Apparent power [VA].
    ApparentPower,
    /// Power factor [-].
    PowerFactor,
    /// Pressure above that of the air around; below it negative [Pa].
    Pressure,
    /// Volume flow [m³/s].
    Flow,
    /// Depth of water [m].
    Level,
    /// Temperature [K].
    Temperature,
    /// Duration [s].
    Time,
}

impl MeterQuantity {
    /// SI unit, as written behind a number; nothing for a ratio.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Voltage => "V",
            Self::Current => "A",
            Self::Resistance => "Ω",
            Self::Capacitance => "F",
            Self::Power => "W",
            Self::ApparentPower => "VA",
            Self::PowerFactor => "",
            Self::Pressure => "Pa",
            Self::Flow => "m³/s",
            Self::Level => "m",
            Self::Temperature => "K",
            Self::Time => "s",
        }
    }
}

/// How far a figure may be off: so many percent of it and so many steps of its last digit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Percent of the reading -- constant.
    pub percent: f64,
    /// Steps of the last digit -- constant.
    pub digits: f64,
}

impl fmt::Display for Accuracy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.percent > 0.0, self.digits > 0.0) {
            (true, true) => write!(f, "±({} % + {} digits)", self.percent, self.digits),
            (true, false) => write!(f, "±{} %", self.percent),
            (false, _) => write!(f, "±{} digits", self.digits),
        }
    }
}

/// One number on a display.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Of what.
    pub quantity: MeterQuantity,
    /// As displayed, a multiple of `resolution` [SI].
    pub value: f64,
    /// Full scale of the range that the meter chose [SI].
    pub range: f64,
    /// Step of the last digit [SI].
    pub resolution: f64,
    /// How far it may be off.
    pub accuracy: Accuracy,
}

impl Figure {
    /// How far the truth may lie from the value by the meter's accuracy class [SI].
    #[must_use]
    pub fn limit_of_error(&self) -> f64 {
        self.accuracy.percent / 100.0 * self.value.abs() + self.accuracy.digits * self.resolution
    }

    /// The number as displayed, with its unit.
    #[must_use]
    pub fn display(&self) -> String {
        let unit = self.quantity.unit();
        let (size, prefix) = prefix(self.range, unit);
        let step = self.resolution / size;
        let mut decimals = 0;
        let mut rest = step;
        while decimals < 6 && rest < 0.999 {
            rest *= 10.0;
            decimals += 1;
        }
        let number = format!("{:.decimals$}", self.value / size);
        let number = match number.strip_prefix('-') {
            Some(digits) if digits.chars().all(|c| matches!(c, '0' | '.')) => digits.to_owned(),
            _ => number,
        };
        if unit.is_empty() {
            number
        } else {
            format!("{number} {prefix}{unit}")
        }
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.display(), self.accuracy)
    }
}

/// The prefix that fits a range, and its size; a ratio has none.
pub(super) fn prefix(range: f64, unit: &str) -> (f64, &'static str) {
    const PREFIXES: [(f64, &str); 7] = [
        (1e9, "G"),
        (1e6, "M"),
        (1e3, "k"),
        (1.0, ""),
        (1e-3, "m"),
        (1e-6, "µ"),
        (1e-9, "n"),
    ];
    let is_plain = matches!(unit, "" | "W" | "VA" | "A" | "m³/s" | "m" | "K" | "s");
    PREFIXES
        .into_iter()
        .find(|&(size, _)| is_plain && size == 1.0 || !is_plain && range >= 0.999_999 * size)
        .unwrap_or((1e-9, "n"))
}

/// How the breaker stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Breaker {
    /// Closed.
    On,
    /// Switched off by hand.
    Off,
    /// Let go by itself: overload, short circuit or ground fault.
    Tripped,
}

/// What a reading means nothing without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Conditions {
    /// When.
    pub tick: Tick,
    /// Breaker of the pump's circuit.
    pub breaker: Breaker,
    /// Current can flow through the pressure switch's contacts.
    pub contacts_closed: bool,
    /// The motor has power.
    pub pump_running: bool,
    /// The conductors are taken apart in the splice box.
    pub leads_off: bool,
    /// 50 V or more are, or with the breaker on can at any moment be, where the hands are.
    pub may_be_live: bool,
}

impl Conditions {
    /// How a plant stands at its present tick.
    #[must_use]
    pub fn of(plant: &Plant) -> Self {
        let devices = &plant.modes().circuit;
        let has_tripped = devices.breaker == Device::Open || devices.ground_fault == Device::Open;
        let breaker = match (plant.controls().breaker_on, has_tripped) {
            (_, true) => Breaker::Tripped,
            (true, false) => Breaker::On,
            (false, false) => Breaker::Off,
        };
        Self {
            tick: plant.now(),
            breaker,
            contacts_closed: plant.circuit_state().contacts,
            pump_running: plant.is_powered(),
            leads_off: false,
            may_be_live: true,
        }
    }
}

/// A reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// With what.
    pub meter: Meter,
    /// What the display shows.
    pub figure: Figure,
    /// What it shows besides.
    pub also: Vec<Figure>,
    /// Where: red and black probe, or the conductors in the jaws.
    pub place: Vec<String>,
    /// When and how.
    pub conditions: Conditions,
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.figure)?;
        for figure in &self.also {
            write!(f, "; {figure}")?;
        }
        Ok(())
    }
}

/// What an unsafe measurement would do.
#[derive(Debug, Clone, PartialEq)]
pub struct Hazard {
    /// Voltage in the way of the meter or the hands [V].
    pub volt: f64,
    /// What would happen.
    pub what_happens: &'static str,
    /// Harm to the person, if any.
    pub to_person: Option<&'static str>,
    /// Harm to the meter, if any.
    pub to_meter: Option<&'static str>,
}

/// Why an instrument shows no number.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoReading {
    /// The site has no such place.
    #[error("no point `{name}` for this meter here{}; accepted: {}", hint(nearest.as_deref()), accepted.join(", "))]
    NoSuchPoint {
        /// As asked for.
        name: String,
        /// What it may be a slip of.
        nearest: Option<String>,
        /// The places that the instrument can be put at this site.
        accepted: Vec<&'static str>,
    },
    /// A probe or the jaws touch nothing.
    #[error("{lead} is not connected to anything")]
    NotConnected {
        /// Which.
        lead: &'static str,
    },
    /// Nothing to measure without power.
    #[error("there is nothing to measure without power: {needs}")]
    PoweredOff {
        /// What is missing.
        needs: &'static str,
    },
    /// More than the meter's last range: the display shows OL.
    #[error("OL: above {}", limit.display())]
    OverRange {
        /// The last range, as a figure of its full scale.
        limit: Figure,
    },
    /// Something else between the probes hides what is sought.
    #[error("{what}")]
    Hidden {
        /// What, and what to do.
        what: &'static str,
    },
    /// Must not be measured as things stand.
    #[error("not measured: {volt:.0} V in the way; {happens}", volt = hazard.volt, happens = hazard.what_happens)]
    UnsafeToMeasure {
        /// What it would do.
        hazard: Hazard,
    },
    /// The circuit has no answer.
    #[error("the circuit has no answer: {problem}")]
    NoAnswer {
        /// The first problem.
        problem: crate::electric::NetworkProblem,
    },
}

fn hint(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |name| format!(" (did you mean `{name}`?)"))
}
