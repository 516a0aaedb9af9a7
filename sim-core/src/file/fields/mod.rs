//! The fields of one group in a file: found by name, each taken with its
//! unit, range and position, every problem reported where it stands.
//!
//! Invariant: a getter that returns `None` for a required field has reported why,
//! or the group was damaged and that has been reported.

mod lists;
mod numbers;

pub(crate) use lists::TextsOrNumber;

use super::problem::{Position, Problems, Spot, nearest, one_of, quoted};
use super::quantity::{Refusal, Unit, four_digits};
use super::ron_text::{Field, Value, ValueKind};

/// Something read from a file, with where it stood and how it was written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Located<T> {
    /// What was read.
    pub(crate) value: T,
    /// Where.
    pub(crate) spot: Spot,
    /// As written, in quotes, for messages.
    pub(crate) written: String,
    /// Unit that it was written in.
    pub(crate) unit: Option<&'static Unit>,
}

/// A field's value, or nothing after a reported problem.
pub(crate) type Found<T> = Option<Located<T>>;

impl<T> Located<T> {
    /// Another SI value in the unit that this one was written in.
    pub(crate) fn show_si(&self, si: f64) -> String {
        match self.unit {
            Some(unit) => unit.show(si),
            None => four_digits(si),
        }
    }

    /// Like [`Self::show_si`], but rounded up when rounding would fall below.
    pub(crate) fn show_at_least(&self, si: f64) -> String {
        match self.unit {
            Some(unit) => unit.show_at_least(si),
            None => four_digits(si),
        }
    }

    /// As written, without quotes.
    pub(crate) fn plain(&self) -> &str {
        self.written.trim_matches('"')
    }

    /// The same place with another value.
    pub(crate) fn map<U>(self, change: impl FnOnce(T) -> U) -> Located<U> {
        Located {
            value: change(self.value),
            spot: self.spot,
            written: self.written,
            unit: self.unit,
        }
    }
}

/// A variant's name and the fields that it accepts.
pub(crate) type Variant = (&'static str, &'static [&'static str]);

/// The fields of one group.
#[derive(Debug)]
pub(crate) struct Fields<'a> {
    part: String,
    at: Position,
    accepted: &'static [&'static str],
    slots: Vec<Option<&'a Value>>,
    damaged: bool,
    problems: &'a Problems,
}

impl<'a> Fields<'a> {
    /// Opens the group that is the whole file.
    pub(crate) fn whole(tree: &'a Value, problems: &'a Problems) -> Self {
        Self::open(tree, String::new(), problems.form().fields, problems)
    }

    /// Opens a group without a name; reports unknown and repeated fields.
    pub(crate) fn open(
        value: &'a Value,
        part: String,
        accepted: &'static [&'static str],
        problems: &'a Problems,
    ) -> Self {
        match &value.kind {
            ValueKind::Struct {
                name,
                fields,
                damaged,
            } => {
                if let Some(name) = name {
                    problems.report(
                        value.at,
                        &part,
                        format!("{} before the parenthesis has no meaning", quoted(name)),
                        "a group without a name: (field: value, ..)",
                    );
                }
                Self::from_list(fields, *damaged, value.at, part, accepted, problems)
            }
            ValueKind::Damaged => Self::broken(value.at, part, accepted, problems),
            _ => {
                problems.report(
                    value.at,
                    &part,
                    format!("{} is not a group of fields", value.describe()),
                    format!("({}: ..)", accepted.join(": .., ")),
                );
                Self::broken(value.at, part, accepted, problems)
            }
        }
    }

    fn from_list(
        fields: &'a [Field],
        damaged: bool,
        at: Position,
        part: String,
        accepted: &'static [&'static str],
        problems: &'a Problems,
    ) -> Self {
        let mut opened = Self::broken(at, part, accepted, problems);
        opened.damaged = damaged;
        for field in fields {
            match accepted.iter().position(|name| *name == field.name) {
                Some(idx) if opened.slots[idx].is_some() => problems.report(
                    field.at,
                    &opened.name_of(accepted[idx]),
                    "this field stands here a second time",
                    "each field once",
                ),
                Some(idx) => opened.slots[idx] = Some(&field.value),
                None => opened.report_unknown(field),
            }
        }
        opened
    }

    fn broken(
        at: Position,
        part: String,
        accepted: &'static [&'static str],
        problems: &'a Problems,
    ) -> Self {
        Self {
            part,
            at,
            accepted,
            slots: vec![None; accepted.len()],
            damaged: true,
            problems,
        }
    }

    fn report_unknown(&self, field: &Field) {
        if self.problems.is_full() {
            self.problems.report(field.at, "", "", "");
            return;
        }
        let form = self.problems.form();
        let hint = if !self.part.is_empty() && form.fields.contains(&field.name.as_str()) {
            // Sections of the whole often end up here when a bracket is missing above.
            format!(
                ", which belongs to the {} itself; is a `)` missing above?",
                form.noun
            )
        } else {
            nearest(&field.name, self.accepted.iter().copied())
                .map(|name| format!(", perhaps meant as {name}"))
                .unwrap_or_default()
        };
        let accepted = if self.accepted.is_empty() {
            "no fields".to_owned()
        } else {
            one_of(self.accepted)
        };
        self.problems.report(
            field.at,
            &self.part,
            format!("unknown field {}{hint}", quoted(&field.name)),
            accepted,
        );
    }

    /// Where the group begins and what it is called.
    pub(crate) fn spot(&self) -> Spot {
        Spot {
            at: self.at,
            part: self.part.clone(),
        }
    }

    fn name_of(&self, name: &str) -> String {
        if self.part.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.part)
        }
    }

    /// The value of a field, unless it is absent or `None`.
    fn slot(&self, name: &str) -> Option<&'a Value> {
        debug_assert!(self.accepted.contains(&name), "{name} is not accepted");
        let idx = self.accepted.iter().position(|known| *known == name)?;
        self.slots[idx].filter(|value| value.kind != ValueKind::Nothing)
    }

    /// Whether the file gives the field.
    pub(crate) fn is_given(&self, name: &str) -> bool {
        self.slot(name).is_some()
    }

    /// The field's value as it stands in the file, when it is given.
    pub(crate) fn raw(&self, name: &str) -> Option<&'a Value> {
        self.slot(name)
    }

    /// The field's value when it is a group without a name; reports anything else that is
    /// given.
    pub(crate) fn group_value(&self, name: &str) -> Option<&'a Value> {
        let value = self.slot(name)?;
        match &value.kind {
            ValueKind::Struct { name: None, .. } => Some(value),
            ValueKind::Damaged => None,
            _ => {
                let message = format!("{} is not a group of fields", value.describe());
                let accepted = "a group without a name: (field: value, ..)".to_owned();
                self.refuse(name, value, Refusal { message, accepted });
                None
            }
        }
    }

    /// Whether the field is this bare name.
    pub(crate) fn is_name(&self, name: &str, bare: &str) -> bool {
        self.slot(name)
            .is_some_and(|value| matches!(&value.kind, ValueKind::Name(written) if written == bare))
    }

    /// Where the field's value stands, when it is given.
    pub(crate) fn spot_of(&self, name: &str) -> Option<Spot> {
        self.slot(name).map(|value| Spot {
            at: value.at,
            part: self.name_of(name),
        })
    }

    fn required(&self, name: &str, accepted: impl FnOnce() -> String) -> Option<&'a Value> {
        let value = self.slot(name);
        if value.is_none() && !self.damaged {
            self.problems
                .report(self.at, &self.name_of(name), "is missing", accepted());
        }
        value
    }

    fn refuse(&self, name: &str, value: &Value, refusal: Refusal) {
        self.problems.report(
            value.at,
            &self.name_of(name),
            refusal.message,
            refusal.accepted,
        );
    }

    /// Reports a refusal at a place inside the group.
    pub(crate) fn report_refusal(&self, spot: &Spot, refusal: Refusal) {
        self.problems
            .report_spot(spot, refusal.message, refusal.accepted);
    }

    /// Reports that a field is given beside one that says the same otherwise.
    pub(crate) fn report_conflict(&self, kept: &str, also: &str) {
        if let Some(value) = self.slot(also) {
            let message = format!("both {kept} and {also} are given");
            let accepted = format!("one of {kept} or {also}");
            self.refuse(also, value, Refusal { message, accepted });
        }
    }

    fn located<T>(&self, name: &str, value: &Value, read: T, written: String) -> Located<T> {
        Located {
            value: read,
            spot: Spot {
                at: value.at,
                part: self.name_of(name),
            },
            written,
            unit: None,
        }
    }

    /// A group inside this one that must be there.
    pub(crate) fn section(&self, name: &str, accepted: &'static [&'static str]) -> Fields<'a> {
        match self.required(name, || format!("({}: ..)", accepted.join(": .., "))) {
            Some(value) => Fields::open(value, self.name_of(name), accepted, self.problems),
            None => Fields::broken(self.at, self.name_of(name), accepted, self.problems),
        }
    }

    /// A group inside this one that may be left out.
    pub(crate) fn optional_section(
        &self,
        name: &str,
        accepted: &'static [&'static str],
    ) -> Option<Fields<'a>> {
        let value = self.slot(name)?;
        Some(Fields::open(
            value,
            self.name_of(name),
            accepted,
            self.problems,
        ))
    }

    /// A text that must be there.
    pub(crate) fn text(&self, name: &str, accepted: &str) -> Found<String> {
        let value = self.required(name, || accepted.to_owned())?;
        match &value.kind {
            ValueKind::Text(text) => Some(self.located(name, value, text.clone(), quoted(text))),
            ValueKind::Damaged => None,
            _ => {
                let message = format!("{} is not a text in quotes", value.describe());
                let accepted = accepted.to_owned();
                self.refuse(name, value, Refusal { message, accepted });
                None
            }
        }
    }

    /// A text or a group: the text is handed out, a group goes to `variant`.
    pub(crate) fn text_if_text(&self, name: &str) -> Found<String> {
        let value = self.slot(name)?;
        match &value.kind {
            ValueKind::Text(text) => Some(self.located(name, value, text.clone(), quoted(text))),
            _ => None,
        }
    }
}
