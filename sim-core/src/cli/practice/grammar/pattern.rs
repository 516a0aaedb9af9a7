//! Phrases, and whether a line fits one of them.
//!
//! A pattern is a row of elements: a word, `a|b` for either, `two_words` for words that
//! belong together, `?word` for one that may be left out, `<slot>` for a name or amount.

use super::rules::{self, Built, Rule};
use super::slots::{self, Problem, Value};
use super::{Context, Line, Misunderstood};

/// Most ways of laying one pattern over a line that are tried.
const MAX_WAYS: usize = 4_000;

/// What came of reading a line.
pub(super) enum Attempt {
    /// It fits a phrase.
    Fits(Line),
    /// It fits the beginning of one, and something must be said besides.
    Asks(Misunderstood),
    /// It fits none; with what was wrong where it fitted best.
    Fails(Option<(Problem, &'static Rule)>),
}

/// Reads words against every phrase; the first that fits counts.
pub(super) fn attempt(words: &[String], context: &Context<'_>) -> Attempt {
    let mut best: Option<(usize, Problem, &'static Rule)> = None;
    for rule in rules::all() {
        for pattern in rule.patterns {
            let elements: Vec<Element> = pattern.split_whitespace().map(Element::of).collect();
            let mut ways = Ways::default();
            ways.lay(&elements, words, 0, &mut Way::default());
            for way in &ways.found {
                match values(way, words, context) {
                    Ok(values) => match (rule.build)(context, &values) {
                        Built::Line(line) => return Attempt::Fits(line),
                        Built::Ask(message) => {
                            return Attempt::Asks(Misunderstood {
                                message,
                                suggestion: None,
                                accepted: rule.accepted(),
                            });
                        }
                        Built::No => {}
                    },
                    Err(problem) => {
                        if best.as_ref().is_none_or(|(score, ..)| way.literal > *score) {
                            best = Some((way.literal, problem, rule));
                        }
                    }
                }
            }
        }
    }
    Attempt::Fails(
        best.filter(|(score, ..)| *score > 0)
            .map(|(_, problem, rule)| (problem, rule)),
    )
}

fn values(way: &Way, words: &[String], context: &Context<'_>) -> Result<Vec<Value>, Problem> {
    way.slots
        .iter()
        .map(|&(slot, from, to)| slots::read(slot, &words[from..to], context))
        .collect()
}

/// One element of a pattern.
enum Element {
    /// Words, any of these rows of them.
    Words(Vec<Vec<&'static str>>),
    /// The same, may be left out.
    Optional(Vec<Vec<&'static str>>),
    /// A name or amount.
    Slot(&'static str),
}

impl Element {
    fn of(text: &'static str) -> Self {
        if let Some(slot) = text.strip_prefix('<').and_then(|t| t.strip_suffix('>')) {
            return Self::Slot(slot);
        }
        let rows = |text: &'static str| {
            text.split('|')
                .map(|row| row.split('_').collect())
                .collect()
        };
        match text.strip_prefix('?') {
            Some(rest) => Self::Optional(rows(rest)),
            None => Self::Words(rows(text)),
        }
    }
}

/// Which words of a line belong to which slot.
#[derive(Debug, Clone, Default)]
struct Way {
    slots: Vec<(&'static str, usize, usize)>,
    literal: usize,
}

#[derive(Default)]
struct Ways {
    found: Vec<Way>,
    tried: usize,
}

impl Ways {
    /// Lays the elements over the words from `at` on, in every way that takes all words.
    fn lay(&mut self, elements: &[Element], words: &[String], at: usize, way: &mut Way) {
        self.tried += 1;
        if self.tried > MAX_WAYS {
            return;
        }
        let Some((element, rest)) = elements.split_first() else {
            if at == words.len() {
                self.found.push(way.clone());
            }
            return;
        };
        match element {
            Element::Words(rows) => self.lay_words(rows, rest, words, at, way),
            Element::Optional(rows) => {
                self.lay_words(rows, rest, words, at, way);
                self.lay(rest, words, at, way);
            }
            Element::Slot(slot) => {
                for end in (at + 1..=words.len()).rev() {
                    way.slots.push((slot, at, end));
                    self.lay(rest, words, end, way);
                    way.slots.pop();
                }
            }
        }
    }

    fn lay_words(
        &mut self,
        rows: &[Vec<&'static str>],
        rest: &[Element],
        words: &[String],
        at: usize,
        way: &mut Way,
    ) {
        for row in rows {
            let end = at + row.len();
            let fits = words
                .get(at..end)
                .is_some_and(|here| here.iter().zip(row).all(|(word, literal)| word == literal));
            if fits {
                way.literal += row.len();
                self.lay(rest, words, end, way);
                way.literal -= row.len();
            }
        }
    }
}

/// Every word that stands in a pattern.
pub(super) fn literals() -> impl Iterator<Item = &'static str> {
    rules::all()
        .flat_map(|rule| rule.patterns)
        .flat_map(|pattern| pattern.split_whitespace())
        .filter(|element| !element.starts_with('<'))
        .flat_map(|element| element.trim_start_matches('?').split(['|', '_']))
}
