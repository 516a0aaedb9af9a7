//! What to say to a line that fits no phrase.

use super::pattern::{Attempt, attempt, literals};
use super::rules::{self, Rule};
use super::slots::Problem;
use super::words::split;
use super::{Context, Misunderstood, faults, names};

/// Most lines that are offered.
const MOST_OFFERED: usize = 6;

/// Explains why a line was not understood: one line that may have been meant, and what
/// would be understood.
pub(super) fn explain(
    line: &str,
    words: &[String],
    context: &Context<'_>,
    problem: Option<(Problem, &'static Rule)>,
) -> Misunderstood {
    let corrected = correct(words, context);
    let suggestion = corrected.filter(|corrected| {
        corrected != words && matches!(attempt(corrected, context), Attempt::Fits(_))
    });
    match problem {
        Some((problem, rule)) => {
            let accepted = if suggestion.is_some() {
                Vec::new()
            } else if problem.accepted.is_empty() {
                rule.accepted()
            } else {
                problem.accepted.into_iter().take(12).collect()
            };
            Misunderstood {
                message: problem.message,
                suggestion: suggestion.map(|words| as_typed(line, &words)),
                accepted,
            }
        }
        None => Misunderstood {
            message: format!("`{}` is not understood; nothing was done.", shown(line)),
            accepted: if suggestion.is_some() {
                Vec::new()
            } else {
                offers(words, context)
            },
            suggestion: suggestion.map(|words| as_typed(line, &words)),
        },
    }
}

/// The line with every unknown word replaced by the known one nearest to it.
fn correct(words: &[String], context: &Context<'_>) -> Option<Vec<String>> {
    let known: Vec<String> = literals()
        .chain(names::words())
        .chain(faults::words())
        .map(str::to_owned)
        .chain(
            context
                .outlets
                .iter()
                .flat_map(|name| name.split(['-', '_']).map(str::to_owned)),
        )
        .collect();
    words
        .iter()
        .map(|word| {
            let is_number = word.starts_with(|c: char| c.is_ascii_digit());
            if is_number || known.contains(word) {
                return Some(word.clone());
            }
            crate::suggest::nearest(word, known.iter().map(String::as_str)).map(str::to_owned)
        })
        .collect()
}

/// Lines about what was perhaps meant, else what one does where one stands.
fn offers(words: &[String], context: &Context<'_>) -> Vec<String> {
    let shares_word = |rule: &&Rule| {
        rule.example
            .split_whitespace()
            .any(|word| word.len() > 3 && words.iter().any(|typed| typed == word))
    };
    let about: Vec<String> = rules::all()
        .filter(shares_word)
        .take(MOST_OFFERED)
        .map(|rule| rule.example.to_owned())
        .collect();
    if about.is_empty() {
        rules::here(context.station)
            .iter()
            .map(|line| (*line).to_owned())
            .collect()
    } else {
        about
    }
}

/// A line as it can be repeated: short, without control characters.
fn shown(line: &str) -> String {
    let plain: String = line.chars().filter(|letter| !letter.is_control()).collect();
    if plain.chars().count() <= 60 {
        return plain;
    }
    let head: String = plain.chars().take(57).collect();
    format!("{head}...")
}

/// A corrected line with the words that needed no correction as they were typed.
fn as_typed(line: &str, corrected: &[String]) -> String {
    let mut right = corrected.iter();
    line.split_whitespace()
        .filter_map(|typed| {
            // A word that was left out when reading stays where it stood.
            if split(typed).is_empty() {
                return Some(typed.to_lowercase());
            }
            right.next().cloned()
        })
        .collect::<Vec<_>>()
        .join(" ")
}
