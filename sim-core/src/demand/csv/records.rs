//! One line of CSV cut into fields, with the column where each begins.
//!
//! RFC 4180 quoting; a quoted field must end on the line on which it begins, since no
//! column of a demand file holds more than one line.

use super::problem::{DemandProblem, DemandProblemKind};

/// A field and the column at which it begins, counted in characters from 1.
pub(super) struct Field {
    pub(super) column: usize,
    pub(super) text: String,
}

/// The fields of one line.
pub(super) struct Record {
    pub(super) line: usize,
    pub(super) fields: Vec<Field>,
}

impl Record {
    pub(super) fn parse(line: usize, text: &str) -> Result<Self, DemandProblem> {
        let mut fields = Vec::new();
        let mut letters = text.chars().enumerate().peekable();
        loop {
            let column = letters
                .peek()
                .map_or_else(|| text.chars().count(), |&(i, _)| i)
                + 1;
            let mut field = String::new();
            if letters.next_if(|&(_, letter)| letter == '"').is_some() {
                loop {
                    match letters.next() {
                        Some((_, '"')) => {
                            if letters.next_if(|&(_, letter)| letter == '"').is_none() {
                                break;
                            }
                            field.push('"');
                        }
                        Some((_, letter)) => field.push(letter),
                        None => {
                            let kind = DemandProblemKind::OpenQuote;
                            return Err(DemandProblem { line, column, kind });
                        }
                    }
                }
            } else {
                while let Some((_, letter)) = letters.next_if(|&(_, letter)| letter != ',') {
                    field.push(letter);
                }
            }
            fields.push(Field {
                column,
                text: field,
            });
            match letters.next() {
                None => return Ok(Self { line, fields }),
                Some((_, ',')) => {}
                Some((i, _)) => {
                    let kind = DemandProblemKind::AfterQuote;
                    let column = i + 1;
                    return Err(DemandProblem { line, column, kind });
                }
            }
        }
    }
}
