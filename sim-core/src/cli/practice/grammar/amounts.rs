//! Amounts as people say them: times, pressures, volumes, how far a valve is open.

use super::slots::Problem;
use crate::cli::display::Units;
use crate::file::quantity::{pressure_from_text, volume_from_text};
use crate::units::convert::PSI;

/// Numbers that people write as words.
const NUMBER_WORDS: &[(&str, f64)] = &[
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("twelve", 12.0),
    ("fifteen", 15.0),
    ("twenty", 20.0),
    ("thirty", 30.0),
    ("forty", 40.0),
    ("fifty", 50.0),
    ("sixty", 60.0),
    ("half", 0.5),
    ("quarter", 0.25),
];

/// Longest time that one line may ask for [s]: a night.
const LONGEST_TIME_S: f64 = 14.0 * 3_600.0;

/// A length of time [s]: `5 min`, `half an hour`, `1 h 30 min`, `0:05:00`.
pub(super) fn time(words: &[String]) -> Result<f64, Problem> {
    let accepted = || {
        ["5 minutes", "30 s", "1 h 30 min", "0:05:00"]
            .map(str::to_owned)
            .to_vec()
    };
    let text = words.join(" ");
    let problem = |message: String| Problem::new(message, accepted());
    let seconds = if text.contains(':') {
        crate::demand::seconds_from_text(&text).map_err(|error| problem(sentence(&error)))?
    } else {
        let pieces: Vec<String> = words.iter().flat_map(|word| unglued(word)).collect();
        spoken_time(&pieces).map_err(|why| {
            problem(match why {
                Unclear::NoUnit => format!("`{text}`: minutes or seconds?"),
                Unclear::NoTime => format!("`{text}` is no length of time."),
            })
        })?
    };
    if !(0.0..=LONGEST_TIME_S).contains(&seconds) {
        return Err(problem("One wait is at most 14 hours, a night.".to_owned()));
    }
    Ok(seconds)
}

enum Unclear {
    NoUnit,
    NoTime,
}

fn spoken_time(pieces: &[String]) -> Result<f64, Unclear> {
    let mut seconds = 0.0;
    let mut number: Option<f64> = None;
    let mut has_unit = false;
    for piece in pieces {
        let unit_s = match piece.as_str() {
            "s" | "sec" | "secs" | "second" | "seconds" => 1.0,
            "min" | "mins" | "minute" | "minutes" => 60.0,
            "h" | "hr" | "hrs" | "hour" | "hours" => 3_600.0,
            "and" if has_unit && number.is_none() => continue,
            word => {
                let value = plain_number(word).ok_or(Unclear::NoTime)?;
                if number.replace(value).is_some() {
                    return Err(Unclear::NoTime);
                }
                continue;
            }
        };
        // "wait a minute": the article has been dropped.
        let count = match number.take() {
            Some(count) => count,
            None if !has_unit => 1.0,
            None => return Err(Unclear::NoTime),
        };
        seconds += count * unit_s;
        has_unit = true;
    }
    match (number, has_unit) {
        (None, true) => Ok(seconds),
        (Some(_), _) => Err(Unclear::NoUnit),
        (None, false) => Err(Unclear::NoTime),
    }
}

/// A pressure [Pa, gauge]; a bare number is psi, or in SI units kPa from 20 on.
pub(super) fn pressure(words: &[String], units: Units) -> Result<f64, Problem> {
    let text = spelled(words);
    if let Some(number) = plain_number(&text) {
        return match units {
            Units::Us => Ok(number * PSI),
            // Nothing is nothing in every unit.
            Units::Si if number >= 20.0 || number == 0.0 => Ok(number * 1_000.0),
            Units::Si => Err(Problem::new(
                format!("`{text}`: bar or kPa?"),
                vec!["2.8 bar".to_owned(), "280 kPa".to_owned()],
            )),
        };
    }
    pressure_from_text(&text).map_err(|message| {
        Problem::new(
            format!("{}.", capital(&message)),
            vec![
                "38 psi".to_owned(),
                "2.6 bar".to_owned(),
                "260 kPa".to_owned(),
            ],
        )
    })
}

/// Cut-in and cut-out [Pa, gauge]: `40 60`, `40/60 psi`, `2.0 and 3.5 bar`.
pub(super) fn band(words: &[String], units: Units) -> Result<(f64, f64), Problem> {
    let text = words.join(" ").replace(['/', '-'], " ");
    let mut numbers = Vec::new();
    let mut unit: Option<String> = None;
    for piece in text.split_whitespace().flat_map(unglued) {
        match plain_number(&piece) {
            Some(_) => numbers.push(piece),
            None if matches!(
                piece.as_str(),
                "and" | "to" | "at" | "cut" | "in" | "out" | "on" | "off"
            ) => {}
            None => {
                if unit.get_or_insert_with(|| piece.clone()) != &piece {
                    numbers.clear();
                    break;
                }
            }
        }
    }
    let [low, high] = numbers.as_slice() else {
        return Err(Problem::new(
            format!(
                "`{}`: where shall the contacts close, and where open?",
                words.join(" ")
            ),
            vec!["40 60".to_owned(), "2.0 3.5 bar".to_owned()],
        ));
    };
    let with_unit = |number: &String| {
        let mut words = vec![number.clone()];
        words.extend(unit.clone());
        pressure(&words, units)
    };
    Ok((with_unit(low)?, with_unit(high)?))
}

/// A volume [m³].
pub(super) fn volume(words: &[String]) -> Result<f64, Problem> {
    let accepted = || vec!["5 gal".to_owned(), "10 L".to_owned()];
    volume_from_text(&spelled(words))
        .map_err(|message| Problem::new(format!("{}.", capital(&message)), accepted()))
}

/// How far a valve is open, 0 to 1.
pub(super) fn opening(text: &str) -> Result<f64, Problem> {
    let named = match text {
        "shut" | "closed" | "close" | "off" => Some(0.0),
        "crack" | "little" | "bit" | "slightly" => Some(0.1),
        "quarter" | "1/4" | "one quarter" => Some(0.25),
        "third" | "1/3" | "one third" => Some(1.0 / 3.0),
        "half" | "halfway" | "half way" | "1/2" | "half open" => Some(0.5),
        "two thirds" | "2/3" => Some(2.0 / 3.0),
        "three quarters" | "3/4" | "three-quarters" => Some(0.75),
        "full" | "fully" | "wide" | "open" | "all way" | "on" | "wide open" | "fully open" => {
            Some(1.0)
        }
        _ => None,
    };
    let share = |text: &str| {
        text.strip_suffix('%')
            .or_else(|| text.strip_suffix("percent"))
            .or_else(|| text.strip_suffix("per cent"))
            .and_then(|number| plain_number(number.trim()))
            .map(|percent| percent / 100.0)
    };
    named
        .or_else(|| share(text))
        .or_else(|| plain_number(text))
        .filter(|opening| (0.0..=1.0).contains(opening))
        .ok_or_else(|| {
            Problem::new(
                format!("`{text}` does not say how far."),
                ["a crack", "a quarter", "half", "30 %", "fully"]
                    .map(str::to_owned)
                    .to_vec(),
            )
        })
}

/// A number in digits or as a word.
fn plain_number(text: &str) -> Option<f64> {
    let is_plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    if is_plain {
        return text.parse().ok();
    }
    NUMBER_WORDS
        .iter()
        .find(|(word, _)| *word == text)
        .map(|&(_, number)| number)
}

/// `38psi` as `38` and `psi`; fractions and other words as they are.
fn unglued(word: &str) -> Vec<String> {
    let end = word
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(word.len());
    let (number, unit) = word.split_at(end);
    if number.is_empty() || unit.is_empty() || !unit.starts_with(char::is_alphabetic) {
        return vec![word.to_owned()];
    }
    vec![number.to_owned(), unit.to_owned()]
}

/// Number and unit as the reader of quantities spells units.
fn spelled(words: &[String]) -> String {
    words
        .iter()
        .flat_map(|word| unglued(word))
        .map(|word| match word.as_str() {
            "kpa" => "kPa".to_owned(),
            "mpa" => "MPa".to_owned(),
            "pa" => "Pa".to_owned(),
            "pound" | "pounds" => "psi".to_owned(),
            "bars" => "bar".to_owned(),
            "liter" | "liters" | "litre" | "litres" => "L".to_owned(),
            word => NUMBER_WORDS
                .iter()
                .find(|(name, _)| *name == word)
                .map_or_else(|| word.to_owned(), |(_, number)| number.to_string()),
        })
        .collect::<Vec<_>>()
        .join(" ")
}

fn sentence(error: &dyn std::fmt::Display) -> String {
    format!("{}.", capital(&error.to_string()))
}

/// A text with its first letter large.
pub(in crate::cli::practice) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
