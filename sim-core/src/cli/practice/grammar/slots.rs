//! Names and amounts inside a phrase.

use super::{Context, amounts, faults, names};
use crate::catalog::PartId;
use crate::faults::FaultKind;
use crate::session::{Cover, Port, Station};

/// A valve or an outlet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Valve {
    /// The house valve.
    House,
    /// The valve between tee and tank.
    Tank,
    /// The valve in the run at the source.
    Source,
    /// The drain cock.
    Drain,
    /// An outlet of the house, by its name.
    Outlet(String),
}

/// What stood in a slot.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    /// A place to stand.
    Station(Station),
    /// A part.
    Part(PartId),
    /// A cover.
    Cover(Cover),
    /// A valve or outlet.
    Valve(Valve),
    /// An outlet's name.
    Outlet(String),
    /// A place that a probe can touch.
    Point(String),
    /// Two of them.
    Points(String, String),
    /// A port for the second gauge.
    Port(Port),
    /// One kind of fault.
    Fault(FaultKind),
    /// Several.
    Faults(Vec<FaultKind>),
    /// A length of time [s].
    Time(f64),
    /// A pressure [Pa, gauge].
    Pressure(f64),
    /// Two pressures [Pa, gauge].
    Band(f64, f64),
    /// A volume [m³].
    Volume(f64),
    /// How far a valve is open, 0 to 1.
    Opening(f64),
    /// Anything at all, for questions back.
    Any,
    /// A topic of help.
    Topic(super::Topic),
}

/// Why words do not fill a slot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Problem {
    /// What is unclear.
    pub(super) message: String,
    /// What could stand there.
    pub(super) accepted: Vec<String>,
}

impl Problem {
    /// A problem with what could stand there.
    pub(super) fn new(message: impl Into<String>, accepted: Vec<String>) -> Self {
        Self {
            message: message.into(),
            accepted,
        }
    }
}

/// Reads the words of one slot.
///
/// # Errors
/// When they are no such name or amount, or could be several.
pub(super) fn read(slot: &str, words: &[String], context: &Context<'_>) -> Result<Value, Problem> {
    let text = words.join(" ");
    match slot {
        "station" => names::station(&text).map(Value::Station),
        "place" => names::place(&text).map(Value::Station),
        "part" => names::part(&text).map(Value::Part),
        "cover" => names::cover(&text, context.station).map(Value::Cover),
        "valve" => names::valve(&text, context).map(Value::Valve),
        "outlet" => names::outlet(&text, context).map(Value::Outlet),
        "point" => names::point(words, context).map(Value::Point),
        "points" => names::points(words, context).map(|(from, to)| Value::Points(from, to)),
        "port" => names::port(&text).map(Value::Port),
        "fault" => faults::fault(words).map(Value::Fault),
        "faults" => faults::faults(words).map(Value::Faults),
        "time" => amounts::time(words).map(Value::Time),
        "pressure" => amounts::pressure(words, context.units).map(Value::Pressure),
        "band" => amounts::band(words, context.units).map(|(a, b)| Value::Band(a, b)),
        "volume" => amounts::volume(words).map(Value::Volume),
        "opening" => amounts::opening(&text).map(Value::Opening),
        "any" => Ok(Value::Any),
        "topic" => super::Topic::of(&text).map(Value::Topic),
        _ => Err(Problem::new(
            format!("nothing can stand for `{slot}`"),
            Vec::new(),
        )),
    }
}
