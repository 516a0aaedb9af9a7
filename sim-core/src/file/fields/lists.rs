//! Choices and lists of a group: variants, groups in a list, texts in a list.

use super::{Fields, Located, Refusal, Variant};
use crate::file::problem::{nearest, one_of, quoted};
use crate::file::ron_text::{Field, Value, ValueKind};

impl<'a> Fields<'a> {
    /// One of several named groups or bare names.
    pub(crate) fn variant(
        &self,
        name: &str,
        variants: &'static [Variant],
    ) -> Option<(&'static str, Fields<'a>)> {
        let value = self.required(name, || shown(variants))?;
        self.variant_of(name, self.name_of(name), value, variants)
    }

    /// A list of such choices, `least` to `most` of them; those refused are left out.
    pub(crate) fn variants(
        &self,
        name: &str,
        (least, most): (usize, usize),
        variants: &'static [Variant],
    ) -> Vec<(&'static str, Fields<'a>)> {
        let accepted = || format!("a list of {least} to {most} of {}", shown(variants));
        let Some(value) = self.required(name, accepted) else {
            return Vec::new();
        };
        let Some(items) = self.items(name, value, (least, most), accepted) else {
            return Vec::new();
        };
        items
            .iter()
            .take(most)
            .enumerate()
            .filter_map(|(idx, item)| {
                let part = format!("{}[{}]", self.name_of(name), idx + 1);
                self.variant_of(name, part, item, variants)
            })
            .collect()
    }

    fn variant_of(
        &self,
        name: &str,
        part: String,
        value: &'a Value,
        variants: &'static [Variant],
    ) -> Option<(&'static str, Fields<'a>)> {
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
                let accepted = shown(variants);
                self.refuse(name, value, Refusal { message, accepted });
                return None;
            }
        };
        let Some((variant, known)) = variants.iter().find(|(variant, _)| *variant == written)
        else {
            let hint = nearest(written, variants.iter().map(|(variant, _)| *variant))
                .map(|name| format!(", perhaps meant as {name}"))
                .unwrap_or_default();
            let message = format!("unknown choice {}{hint}", quoted(written));
            let accepted = shown(variants);
            self.refuse(name, value, Refusal { message, accepted });
            return None;
        };
        let opened = Fields::from_list(fields, damaged, value.at, part, known, self.problems);
        Some((variant, opened))
    }

    /// The groups in a list, `least` to `most` of them; empty after a problem.
    pub(crate) fn groups(
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
    pub(crate) fn texts_or_number(&self, name: &str, most: usize) -> TextsOrNumber {
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

    /// The texts in a list, `least` to `most` of them; empty after a problem.
    pub(crate) fn texts(&self, name: &str, (least, most): (usize, usize)) -> Vec<Located<String>> {
        let accepted = || format!("a list of {least} to {most} texts");
        let Some(value) = self.required(name, accepted) else {
            return Vec::new();
        };
        let Some(items) = self.items(name, value, (least, most), accepted) else {
            return Vec::new();
        };
        let mut texts = Vec::new();
        for item in items.iter().take(most) {
            match &item.kind {
                ValueKind::Text(text) => {
                    texts.push(self.located(name, item, text.clone(), quoted(text)));
                }
                ValueKind::Damaged => {}
                _ => {
                    let message = format!("{} is not a text", item.describe());
                    let accepted = accepted();
                    self.refuse(name, item, Refusal { message, accepted });
                }
            }
        }
        texts
    }
}

/// Choices as messages show them.
fn shown(variants: &[Variant]) -> String {
    one_of(variants.iter().map(|(variant, fields)| {
        if fields.is_empty() {
            (*variant).to_owned()
        } else {
            format!("{variant}({}: ..)", fields.join(": .., "))
        }
    }))
}

/// What [`Fields::texts_or_number`] found.
#[derive(Debug)]
pub(crate) enum TextsOrNumber {
    /// The field is not given.
    Absent,
    /// A bare number.
    Number,
    /// Texts.
    Texts(Vec<Located<String>>),
    /// Something else, reported.
    Broken,
}
