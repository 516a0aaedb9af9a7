//! Faults by their catalogue name or in plain words.

use std::sync::LazyLock;

use super::slots::Problem;
use crate::catalog::Catalog;
use crate::faults::{FaultKind, KindInfo, kinds};

/// The catalogue that comes with the program, read once.
static CATALOG: LazyLock<Catalog> = LazyLock::new(Catalog::shipped);

/// Words that tell no fault from another.
const EMPTY_WORDS: &[&str] = &[
    "it", "is", "its", "of", "has", "been", "with", "in", "at", "that", "there", "and", "fault",
    "faulty", "been", "too", "was", "are", "to", "between", "be", "lost",
];

/// Other words of the trade for a mechanism.
const SYNONYMS: &[(&str, &str)] = &[
    (
        "high_resistance",
        "bad poor corroded loose joint connection resistive",
    ),
    ("open", "broken off"),
    ("weeping", "leaking leaks leaky leak back"),
    ("clogged_screen", "blocked dirty plugged strainer"),
    ("air_lock", "airlock locked air-locked"),
    ("low", "empty dry"),
    ("lost_precharge", "low undercharged"),
    ("excess_precharge", "high overcharged"),
    ("torn_bladder", "waterlogged burst"),
    ("jammed", "seized stuck locked rotor"),
    ("plugged_port", "blocked clogged nipple"),
    ("burnt_contacts", "pitted burned"),
    ("welded_contacts", "stuck fused"),
    ("insulation", "earthed grounded leak low"),
    ("open_start_capacitor", "bad dead failed"),
    ("open_winding", "burnt out"),
    ("stuck_open", "held"),
    ("stuck_shut", "closed jammed"),
    ("wrong_voltage", "miswired low high"),
];

/// What a kind of fault is called for people: the one door to the catalogue's titles.
pub(in crate::cli::practice) fn title(kind: FaultKind) -> String {
    CATALOG.entry(kind).map_or_else(
        || kind.info().name.replace(['.', '_'], " "),
        |entry| entry.title.clone(),
    )
}

/// One fault.
pub(super) fn fault(words: &[String]) -> Result<FaultKind, Problem> {
    let text = words.join(" ");
    if let Some(info) = exact(&text) {
        return Ok(info.kind);
    }
    let telling: Vec<&str> = words
        .iter()
        .flat_map(|word| word.split(['.', '_', ':']))
        .filter(|word| !EMPTY_WORDS.contains(word))
        .collect();
    let found: Vec<&KindInfo> = if telling.is_empty() {
        Vec::new()
    } else {
        let by = |words: fn(&KindInfo) -> String| -> Vec<&'static KindInfo> {
            kinds()
                .filter(|info| telling.iter().all(|typed| has(&words(info), typed)))
                .collect()
        };
        // Names first: their words are chosen, those of a description are only near.
        let named = by(name_words);
        if named.len() == 1 {
            named
        } else {
            by(all_words)
        }
    };
    match found.as_slice() {
        [info] => Ok(info.kind),
        [] => Err(nothing_like(&text)),
        several => Err(Problem::new(
            format!("`{text}` could be several faults. Which?"),
            several
                .iter()
                .take(6)
                .map(|info| info.name.to_owned())
                .collect(),
        )),
    }
}

/// Several faults, divided by `and` or `plus`.
pub(super) fn faults(words: &[String]) -> Result<Vec<FaultKind>, Problem> {
    if matches!(
        words.join(" ").as_str(),
        "healthy" | "sound" | "nothing" | "nothing wrong" | "no fault" | "all well" | "fine" | "ok"
    ) {
        return Ok(Vec::new());
    }
    if let Ok(kind) = fault(words) {
        return Ok(vec![kind]);
    }
    let mut kinds = words
        .split(|word| matches!(word.as_str(), "and" | "plus" | "+" | "&"))
        .filter(|part| !part.is_empty())
        .map(fault)
        .collect::<Result<Vec<_>, _>>()?;
    kinds.sort_unstable();
    kinds.dedup();
    Ok(kinds)
}

fn exact(text: &str) -> Option<&'static KindInfo> {
    let plain = |name: &str| {
        name.replace(['.', '_', ':'], " ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    kinds().find(|info| {
        info.name == text
            || plain(info.name) == plain(text)
            || plain(&title(info.kind).to_lowercase()) == plain(text)
    })
}

fn name_words(info: &KindInfo) -> String {
    format!(
        "{} {}",
        info.name.replace(['.', '_'], " "),
        title(info.kind).to_lowercase()
    )
}

fn all_words(info: &KindInfo) -> String {
    let mechanism = info
        .name
        .split_once('.')
        .map_or("", |(_, mechanism)| mechanism);
    let synonyms = SYNONYMS
        .iter()
        .find(|(name, _)| *name == mechanism)
        .map_or("", |(_, words)| words);
    let described = info.mechanism.split(';').next().unwrap_or_default();
    format!("{} {described} {synonyms}", name_words(info)).to_lowercase()
}

/// Whether one of the words is the typed one, or the same with another ending.
fn has(words: &str, typed: &str) -> bool {
    let stem = |word: &str| {
        let length = word.chars().count();
        let keep = if length >= 6 { length - 2 } else { length };
        word.chars().take(keep.max(4)).collect::<String>()
    };
    words.split([' ', ':', ',']).any(|word| {
        word == typed || (typed.len() >= 4 && word.len() >= 4 && word.starts_with(&stem(typed)))
    })
}

fn nothing_like(text: &str) -> Problem {
    let near = crate::suggest::nearest(text, kinds().map(|info| info.name));
    Problem::new(
        format!("There is no fault `{text}` in the catalogue; `faults` lists them all."),
        near.map_or_else(
            || {
                vec![
                    "check valve weeping".to_owned(),
                    "splice.high_resistance".to_owned(),
                ]
            },
            |near| vec![near.to_owned()],
        ),
    )
}

/// Every word of every fault, for finding slips.
pub(super) fn words() -> impl Iterator<Item = &'static str> {
    kinds()
        .flat_map(|info| std::iter::once(info.name).chain(info.name.split(['.', '_'])))
        .chain(
            SYNONYMS
                .iter()
                .flat_map(|(_, words)| words.split_whitespace()),
        )
}
