//! The fields of one group in a site file: found by name, each taken with its
//! unit, range and position, every problem reported where it stands.
//!
//! Invariant: a getter that returns `None` for a required field has reported why,
//! or the group was damaged and that has been reported.

mod numbers;

use super::draft::SITE_FIELDS;
use super::problem::{Position, Problems, Spot, nearest, one_of, quoted};
use super::quantity::{Refusal, Unit, four_digits};
use super::ron_text::{Field, Value, ValueKind};

/// Something read from a file, with where it stood and how it was written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Located<T> {
    /// What was read.
    pub(super) value: T,
    /// Where.
    pub(super) spot: Spot,
    /// As written, in quotes, for messages.
    pub(super) written: String,
    /// Unit that it was written in.
    pub(super) unit: Option<&'static Unit>,
}

/// A field's value, or nothing after a reported problem.
pub(super) type Found<T> = Option<Located<T>>;

impl<T> Located<T> {
    /// Another SI value in the unit that this one was written in.
    pub(super) fn show_si(&self, si: f64) -> String {
        match self.unit {
            Some(unit) => unit.show(si),
            None => four_digits(si),
        }
    }

    /// Like [`Self::show_si`], but rounded up when rounding would fall below.
    pub(super) fn show_at_least(&self, si: f64) -> String {
        match self.unit {
            Some(unit) => unit.show_at_least(si),
            None => four_digits(si),
        }
    }

    /// As written, without quotes.
    pub(super) fn plain(&self) -> &str {
        self.written.trim_matches('"')
    }

    /// The same place with another value.
    pub(super) fn map<U>(self, change: impl FnOnce(T) -> U) -> Located<U> {
        Located {
            value: change(self.value),
            spot: self.spot,
            written: self.written,
            unit: self.unit,
        }
    }
}

/// A variant's name and the fields that it accepts.
pub(super) type Variant = (&'static str, &'static [&'static str]);

/// The fields of one group.
#[derive(Debug)]
pub(super) struct Fields<'a> {
    part: String,
    at: Position,
    accepted: &'static [&'static str],
    slots: Vec<Option<&'a Value>>,
    damaged: bool,
    problems: &'a Problems,
}

impl<'a> Fields<'a> {
    /// Opens a group without a name; reports unknown and repeated fields.
    pub(super) fn open(
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
        let hint = if !self.part.is_empty() && SITE_FIELDS.contains(&field.name.as_str()) {
            // Sections of the site often end up here when a bracket is missing above.
            ", which belongs to the site itself; is a `)` missing above?".to_owned()
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
    pub(super) fn spot(&self) -> Spot {
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
    pub(super) fn is_given(&self, name: &str) -> bool {
        self.slot(name).is_some()
    }

    /// Where the field's value stands, when it is given.
    pub(super) fn spot_of(&self, name: &str) -> Option<Spot> {
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
    pub(super) fn report_refusal(&self, spot: &Spot, refusal: Refusal) {
        self.problems
            .report_spot(spot, refusal.message, refusal.accepted);
    }

    /// Reports that a field is given beside one that says the same otherwise.
    pub(super) fn report_conflict(&self, kept: &str, also: &str) {
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
    pub(super) fn section(&self, name: &str, accepted: &'static [&'static str]) -> Fields<'a> {
        match self.required(name, || format!("({}: ..)", accepted.join(": .., "))) {
            Some(value) => Fields::open(value, self.name_of(name), accepted, self.problems),
            None => Fields::broken(self.at, self.name_of(name), accepted, self.problems),
        }
    }

    /// A group inside this one that may be left out.
    pub(super) fn optional_section(
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

    /// One of several named groups or bare names.
    pub(super) fn variant(
        &self,
        name: &str,
        variants: &'static [Variant],
    ) -> Option<(&'static str, Fields<'a>)> {
        let accepted = || {
            one_of(variants.iter().map(|(variant, fields)| {
                if fields.is_empty() {
                    (*variant).to_owned()
                } else {
                    format!("{variant}({}: ..)", fields.join(": .., "))
                }
            }))
        };
        let value = self.required(name, accepted)?;
        let (written, fields, damaged): (&str, &[Field], bool) = match &value.kind {
            ValueKind::Damaged => return None,
            ValueKind::Name(written) => (written, &[], false),
            ValueKind::Struct {
                name: Some(written),
                fields,
                damaged,
            } => (written, fields, *damaged),
            _ => {
                let message = format!("{} is none of the choices", value.describe());
                self.refuse(
                    name,
                    value,
                    Refusal {
                        message,
                        accepted: accepted(),
                    },
                );
                return None;
            }
        };
        let Some((variant, known)) = variants.iter().find(|(variant, _)| *variant == written)
        else {
            let hint = nearest(written, variants.iter().map(|(variant, _)| *variant))
                .map(|name| format!(", perhaps meant as {name}"))
                .unwrap_or_default();
            let message = format!("unknown choice {}{hint}", quoted(written));
            self.refuse(
                name,
                value,
                Refusal {
                    message,
                    accepted: accepted(),
                },
            );
            return None;
        };
        let opened = Fields::from_list(
            fields,
            damaged,
            value.at,
            self.name_of(name),
            known,
            self.problems,
        );
        Some((variant, opened))
    }

    /// The groups in a list, `least` to `most` of them; empty after a problem.
    pub(super) fn groups(
        &self,
        name: &str,
        (least, most): (usize, usize),
        accepted: &'static [&'static str],
    ) -> Vec<Fields<'a>> {
        let shown = || {
            format!(
                "a list of {least} to {most} groups [({}: ..), ..]",
                accepted.join(": .., ")
            )
        };
        let Some(value) = self.required(name, shown) else {
            return Vec::new();
        };
        let Some(items) = self.items(name, value, (least, most), shown) else {
            return Vec::new();
        };
        items
            .iter()
            .take(most)
            .enumerate()
            .map(|(idx, item)| {
                let part = format!("{}[{}]", self.name_of(name), idx + 1);
                Fields::open(item, part, accepted, self.problems)
            })
            .collect()
    }

    /// The items of a list, `None` after a problem.
    fn items(
        &self,
        name: &str,
        value: &'a Value,
        (least, most): (usize, usize),
        accepted: impl FnOnce() -> String,
    ) -> Option<&'a [Value]> {
        match &value.kind {
            ValueKind::Damaged => None,
            ValueKind::List { items, damaged } => {
                if items.len() > most || (items.len() < least && !damaged) {
                    let message = format!("the list has {} items", items.len());
                    let accepted = accepted();
                    self.refuse(name, value, Refusal { message, accepted });
                }
                Some(items)
            }
            _ => {
                let message = format!("{} is not a list", value.describe());
                let accepted = accepted();
                self.refuse(name, value, Refusal { message, accepted });
                None
            }
        }
    }

    /// The texts in a list, or a bare number in its place; nothing when absent.
    pub(super) fn texts_or_number(&self, name: &str, most: usize) -> TextsOrNumber {
        let accepted = || format!("a number, or a list of up to {most} texts");
        let Some(value) = self.slot(name) else {
            return TextsOrNumber::Absent;
        };
        if let ValueKind::Number { .. } = &value.kind {
            return TextsOrNumber::Number;
        }
        let Some(items) = self.items(name, value, (0, most), accepted) else {
            return TextsOrNumber::Broken;
        };
        let mut texts = Vec::new();
        for item in items.iter().take(most) {
            match &item.kind {
                ValueKind::Text(text) => {
                    texts.push(self.located(name, item, text.clone(), quoted(text)));
                }
                ValueKind::Damaged => return TextsOrNumber::Broken,
                _ => {
                    let message = format!("{} is not a text", item.describe());
                    let accepted = accepted();
                    self.refuse(name, item, Refusal { message, accepted });
                    return TextsOrNumber::Broken;
                }
            }
        }
        TextsOrNumber::Texts(texts)
    }

    /// A text that must be there.
    pub(super) fn text(&self, name: &str, accepted: &str) -> Found<String> {
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
    pub(super) fn text_if_text(&self, name: &str) -> Found<String> {
        let value = self.slot(name)?;
        match &value.kind {
            ValueKind::Text(text) => Some(self.located(name, value, text.clone(), quoted(text))),
            _ => None,
        }
    }
}

/// What [`Fields::texts_or_number`] found.
#[derive(Debug)]
pub(super) enum TextsOrNumber {
    /// The field is not given.
    Absent,
    /// A bare number.
    Number,
    /// Texts.
    Texts(Vec<Located<String>>),
    /// Something else, reported.
    Broken,
}
