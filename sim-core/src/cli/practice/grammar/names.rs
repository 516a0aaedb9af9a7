//! Names of places, parts, valves, outlets and terminals, as people say them.

use super::Context;
use super::slots::{Problem, Valve};
use crate::catalog::PartId;
use crate::session::{Cover, Port, Station};
use crate::wiring::POINTS;

const STATIONS: &[(Station, &[&str])] = &[
    (
        Station::Panel,
        &[
            "panel",
            "electrical panel",
            "breaker panel",
            "breaker",
            "breakers",
            "fuse box",
        ],
    ),
    (
        Station::Wall,
        &[
            "wall",
            "gauge",
            "tank",
            "switch",
            "pressure switch",
            "cellar",
            "pump room",
            "house valve",
            "drain",
            "filter",
            "tee",
        ],
    ),
    (
        Station::Splice,
        &["splice", "splice box", "junction box", "junction"],
    ),
    (
        Station::Source,
        &[
            "source",
            "cistern",
            "well",
            "wellhead",
            "well head",
            "lid",
            "water tank",
        ],
    ),
    (
        Station::House,
        &[
            "house", "kitchen", "taps", "tap", "outlets", "bathroom", "indoors", "inside",
        ],
    ),
];

/// A place to stand.
pub(super) fn station(text: &str) -> Result<Station, Problem> {
    lookup(STATIONS, text).ok_or_else(|| {
        Problem::new(
            format!("There is no place `{text}` to go to."),
            Station::ALL
                .iter()
                .map(|s| format!("go to the {}", s.name()))
                .collect(),
        )
    })
}

/// A place to stand by its own name, said alone.
pub(super) fn place(text: &str) -> Result<Station, Problem> {
    match text {
        "splice box" => Ok(Station::Splice),
        _ => Station::from_name(text)
            .ok_or_else(|| Problem::new(format!("`{text}` is no place."), Vec::new())),
    }
}

/// Names beside those of the parts themselves.
const PARTS: &[(PartId, &[&str])] = &[
    (PartId::Source, &["cistern", "well", "water"]),
    (
        PartId::Intake,
        &["intake screen", "screen", "strainer", "float line"],
    ),
    (PartId::FootValve, &["footvalve"]),
    (PartId::SuctionPipe, &["suction", "suction line"]),
    (PartId::Pump, &["pump end", "impellers"]),
    (PartId::Motor, &["pump motor"]),
    (PartId::DropCable, &["pump cable"]),
    (
        PartId::Splice,
        &["splices", "joint", "joints", "splice box", "wire joint"],
    ),
    (
        PartId::Earth,
        &["earth wire", "ground wire", "bond", "ground", "earth"],
    ),
    (PartId::CheckValve, &["check", "non-return valve"]),
    (PartId::Riser, &["drop pipe", "riser pipe"]),
    (PartId::SourceValve, &["valve at source"]),
    (
        PartId::Run,
        &[
            "run",
            "buried pipe",
            "buried line",
            "underground pipe",
            "line",
        ],
    ),
    (
        PartId::WallManifold,
        &[
            "manifold",
            "pipework",
            "fittings",
            "pipes",
            "tee",
            "drain",
            "drain cock",
        ],
    ),
    (
        PartId::PressureSwitch,
        &[
            "switch",
            "switch port",
            "sensing port",
            "port",
            "contacts",
            "switch contacts",
            "nipple",
        ],
    ),
    (PartId::Gauge, &["pressure gauge", "needle", "dial"]),
    (PartId::ReliefValve, &["relief", "safety valve"]),
    (PartId::Tank, &["pressure tank", "bladder", "bladder tank"]),
    (PartId::TankValve, &["valve at tank"]),
    (PartId::HouseValve, &["main valve"]),
    (PartId::Filter, &["cartridge", "filter cartridge"]),
    (
        PartId::HousePipe,
        &["house pipes", "house line", "house plumbing"],
    ),
    (
        PartId::Toilet,
        &["toilets", "fill valve", "cistern of toilet"],
    ),
    (
        PartId::Fixtures,
        &["taps", "fixtures", "faucets", "faucet", "outlet", "tap"],
    ),
    (PartId::Heater, &["boiler", "hot water heater"]),
    (PartId::Supply, &["power", "mains", "service", "utility"]),
    (PartId::Breaker, &["breakers", "circuit breaker", "panel"]),
    (PartId::Cable, &["wiring", "wires", "wire", "cables"]),
    (PartId::FloatSwitch, &["float"]),
    (
        PartId::Capacitor,
        &["start capacitor", "capacitors", "control box"],
    ),
];

/// A part.
pub(super) fn part(text: &str) -> Result<PartId, Problem> {
    PartId::ALL
        .iter()
        .copied()
        .filter(|part| *part != PartId::None)
        .find(|part| part.label() == text || part.name() == text)
        .or_else(|| lookup(PARTS, text))
        .ok_or_else(|| {
            let near = crate::suggest::nearest(text, PartId::ALL.iter().map(|part| part.label()));
            Problem::new(
                format!("There is no part `{text}` here."),
                near.map_or_else(
                    || {
                        ["pump", "motor", "tank", "pressure switch"]
                            .map(str::to_owned)
                            .to_vec()
                    },
                    |near| vec![near.to_owned()],
                ),
            )
        })
}

/// A cover; the lid or cover without a name is the one where one stands.
pub(super) fn cover(text: &str, here: Station) -> Result<Cover, Problem> {
    let local = || Cover::ALL.into_iter().find(|cover| cover.station() == here);
    let found = match text {
        "panel cover" | "panel" | "dead front" | "panel front" => Some(Cover::Panel),
        "switch cover" | "pressure switch cover" | "cover of switch" | "switch cap" => {
            Some(Cover::Switch)
        }
        "splice box" | "splice box lid" | "splice lid" | "splice cover" | "junction box"
        | "splice box cover" => Some(Cover::Splice),
        "source lid" | "cistern lid" | "cistern" | "well cap" | "well" | "well lid" | "source"
        | "source cover" | "cap" | "manhole" => Some(Cover::Source),
        "cover" | "lid" | "box" => local(),
        _ => None,
    };
    found.ok_or_else(|| {
        Problem::new(
            format!("`{text}` is no cover."),
            Cover::ALL
                .iter()
                .map(|cover| format!("open {}", cover.label()))
                .collect(),
        )
    })
}

/// A valve or outlet.
pub(super) fn valve(text: &str, context: &Context<'_>) -> Result<Valve, Problem> {
    Ok(match text {
        "house valve" | "main valve" | "valve to house" => Valve::House,
        "tank valve" | "valve at tank" | "valve to tank" => Valve::Tank,
        "source valve" | "valve at source" | "run valve" | "valve in run" => Valve::Source,
        "drain" | "drain cock" | "drain valve" | "boiler drain" => Valve::Drain,
        "valve" => {
            return Err(Problem::new(
                "Which valve?",
                ["house valve", "tank valve", "source valve", "drain"]
                    .map(str::to_owned)
                    .to_vec(),
            ));
        }
        _ => Valve::Outlet(outlet(text, context)?),
    })
}

/// An outlet of the site: its name, or words of it that no other outlet has.
pub(super) fn outlet(text: &str, context: &Context<'_>) -> Result<String, Problem> {
    let typed: Vec<String> = text
        .split([' ', '-', '_'])
        .map(|word| match word {
            "faucet" => "tap",
            "taps" => "tap",
            word => word,
        })
        .map(str::to_owned)
        .collect();
    let of = |name: &str| -> Vec<String> { name.split(['-', '_']).map(str::to_owned).collect() };
    if let Some(name) = context.outlets.iter().find(|name| of(name) == typed) {
        return Ok(name.clone());
    }
    let fits = |name: &&String| {
        let words = of(name);
        typed.iter().all(|word| words.contains(word))
    };
    let found: Vec<&String> = context.outlets.iter().filter(fits).collect();
    match found.as_slice() {
        [name] => Ok((*name).clone()),
        [] => Err(Problem::new(
            format!("There is no valve or outlet `{text}`."),
            context.outlets.to_vec(),
        )),
        several => Err(Problem::new(
            format!("Which `{text}`?"),
            several.iter().map(|name| (*name).clone()).collect(),
        )),
    }
}

/// A port for the second gauge.
pub(super) fn port(text: &str) -> Result<Port, Problem> {
    match text {
        "tee" | "wall" => Ok(Port::Tee),
        "switch" | "switch port" | "pressure switch" | "sensing port" => Ok(Port::Switch),
        "tank" | "tank port" | "tank connection" => Ok(Port::Tank),
        "house" | "house side" | "behind filter" | "filter" | "house valve" => Ok(Port::House),
        _ => Err(Problem::new(
            format!("The second gauge has no port `{text}`."),
            ["tee", "switch port", "tank", "house"]
                .map(|port| format!("fit second gauge at the {port}"))
                .to_vec(),
        )),
    }
}

/// A place that a probe can touch: its full name, or its last part where one stands.
pub(super) fn point(words: &[String], context: &Context<'_>) -> Result<String, Problem> {
    let (words, station) = at_station(words, context.station);
    let text = words.join(" ");
    named_point(words, station).ok_or_else(|| {
        let here = local_points(station);
        let message = if here.is_empty() {
            format!(
                "There is no point `{text}`, and none that a probe could touch at {}.",
                station.label()
            )
        } else {
            format!("There is no point `{text}` at {}.", station.label())
        };
        Problem::new(message, here)
    })
}

/// Two places, with or without a word between them, all at one station.
pub(super) fn points(words: &[String], context: &Context<'_>) -> Result<(String, String), Problem> {
    let (words, station) = at_station(words, context.station);
    let across = matches!(words, [one] if one == "contacts" || one == "switch")
        || matches!(words, [a, b] if a == "switch" && b == "contacts");
    if across {
        return Ok(("switch.line1".to_owned(), "switch.load1".to_owned()));
    }
    // A word between the two divides them for certain.
    let divided = (1..words.len().saturating_sub(1))
        .filter(|&at| matches!(words[at].as_str(), "to" | "and" | "against"))
        .map(|at| (&words[..at], &words[at + 1..]));
    let side_by_side = (1..words.len()).map(|at| (&words[..at], &words[at..]));
    for (from, to) in divided.chain(side_by_side) {
        if let (Some(from), Some(to)) = (named_point(from, station), named_point(to, station)) {
            return Ok((from, to));
        }
    }
    let here = local_points(station);
    if here.is_empty() {
        return Err(Problem::new(
            format!(
                "There is nothing that a probe could touch at {}.",
                station.label()
            ),
            vec!["go to the panel".to_owned(), "go to the wall".to_owned()],
        ));
    }
    // The first of the two that is unknown is the one to name.
    let halves = words
        .iter()
        .position(|word| matches!(word.as_str(), "to" | "and" | "against"))
        .map(|at| (&words[..at], words.get(at + 1..).unwrap_or_default()));
    let message = match halves {
        Some((from, to)) => {
            let wrong = if named_point(from, station).is_none() {
                from
            } else {
                to
            };
            if wrong.is_empty() {
                "Between which two points?".to_owned()
            } else {
                format!(
                    "There is no point `{}` at {}.",
                    wrong.join(" "),
                    station.label()
                )
            }
        }
        None => format!("`{}`: between which two points?", words.join(" ")),
    };
    Err(Problem::new(message, here))
}

/// Splits off `at the panel`; points are then meant as they are named there.
fn at_station(words: &[String], here: Station) -> (&[String], Station) {
    let at = words.iter().rposition(|word| word == "at");
    match at {
        Some(at) if at > 0 => match station(&words[at + 1..].join(" ")) {
            Ok(station) => (&words[..at], station),
            Err(_) => (words, here),
        },
        _ => (words, here),
    }
}

fn named_point(words: &[String], station: Station) -> Option<String> {
    let text = words.join(" ");
    let joined = text.replace(' ', ".");
    // `switch load 1` is `switch.load1`.
    let tight = match words {
        [place, terminal, number] => format!("{place}.{terminal}{number}"),
        [terminal, number] => format!("{terminal}{number}"),
        _ => joined.clone(),
    };
    let full = POINTS
        .iter()
        .find(|point| [&joined, &tight, &text].contains(&&point.name.to_owned()));
    if let Some(point) = full {
        return Some(point.name.to_owned());
    }
    let short = |name: &str| match name {
        "l1" | "leg1" | "hot1" => "line1".to_owned(),
        "l2" | "leg2" | "hot2" => "line2".to_owned(),
        "t1" => "load1".to_owned(),
        "t2" => "load2".to_owned(),
        "n" => "neutral".to_owned(),
        "ground" | "gnd" | "pe" => "earth".to_owned(),
        name => name.to_owned(),
    };
    let wanted = [short(&text), short(&tight)];
    POINTS
        .iter()
        .filter(|point| point.station == station.name())
        .find(|point| {
            let last = point.name.rsplit('.').next().unwrap_or_default();
            // At the switch the earth is its frame.
            let is_earth = last == "frame" && wanted.iter().any(|name| name == "earth");
            wanted.iter().any(|name| name == last) || is_earth
        })
        .map(|point| point.name.to_owned())
}

/// Names of the points at a station, as at most sites; the visit knows where a site differs.
///
/// The frame of a motor in the water is touched where its earth conductor ends, at the
/// splice box.
pub(super) fn local_points(station: Station) -> Vec<String> {
    POINTS
        .iter()
        .filter(|point| {
            point.station == station.name()
                || (station == Station::Splice && point.name == "pump.frame")
        })
        .map(|point| point.name.to_owned())
        .collect()
}

/// Every word of every name, for finding slips.
pub(super) fn words() -> impl Iterator<Item = &'static str> {
    let stations = STATIONS.iter().flat_map(|(_, names)| names.iter().copied());
    let parts = PARTS.iter().flat_map(|(_, names)| names.iter().copied());
    let labels = PartId::ALL.iter().map(|part| part.label());
    let covers = Cover::ALL.into_iter().map(Cover::label);
    let points = POINTS.iter().map(|point| point.name);
    let terminals = POINTS
        .iter()
        .filter_map(|point| point.name.split_once('.').map(|(_, terminal)| terminal));
    stations
        .chain(parts)
        .chain(labels)
        .chain(covers)
        .flat_map(str::split_whitespace)
        .chain(points)
        .chain(terminals)
}

fn lookup<T: Copy>(table: &[(T, &[&str])], text: &str) -> Option<T> {
    table
        .iter()
        .find(|(_, names)| names.contains(&text))
        .map(|&(value, _)| value)
}
