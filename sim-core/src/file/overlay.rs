//! Lays the values of one file over those of another, so that a file may change a few
//! numbers of another and both are validated as one.
//!
//! Groups of the same name are laid over each other field by field; everything else, a list
//! as well, takes the place of what was there.  Every value keeps its position, those of the
//! upper file marked, so that a problem is told where it was written.

use std::collections::BTreeMap;

use super::ron_text::{Field, Value, ValueKind};

/// `above` laid over `below`.
///
/// A damaged value above has been reported and changes nothing.  Time is proportional to
/// the size of both, but for a logarithm.
pub(crate) fn overlay(below: Value, above: &Value) -> Value {
    match (below.kind, &above.kind) {
        (kind, ValueKind::Damaged) => Value { at: below.at, kind },
        (
            ValueKind::Struct {
                name,
                fields,
                damaged,
            },
            ValueKind::Struct {
                name: name_above,
                fields: fields_above,
                damaged: damaged_above,
            },
        ) if name == *name_above => Value {
            at: below.at,
            kind: ValueKind::Struct {
                name,
                fields: overlay_fields(fields, fields_above),
                damaged: damaged || *damaged_above,
            },
        },
        _ => marked(above),
    }
}

fn overlay_fields(mut below: Vec<Field>, above: &[Field]) -> Vec<Field> {
    // Where the lower file has each name first; a name is laid over once, and what is
    // written again stands beside it, to be refused as a repetition.
    let mut first: BTreeMap<String, usize> = BTreeMap::new();
    for (idx, field) in below.iter().enumerate() {
        first.entry(field.name.clone()).or_insert(idx);
    }
    for field in above {
        match first.remove(&field.name) {
            Some(idx) => {
                let at = marked_at(field.at);
                let value = std::mem::replace(
                    &mut below[idx].value,
                    Value {
                        at,
                        kind: ValueKind::Damaged,
                    },
                );
                below[idx].value = overlay(value, &field.value);
            }
            None => below.push(marked_field(field)),
        }
    }
    below
}

fn marked(value: &Value) -> Value {
    let kind = match &value.kind {
        ValueKind::Struct {
            name,
            fields,
            damaged,
        } => ValueKind::Struct {
            name: name.clone(),
            fields: fields.iter().map(marked_field).collect(),
            damaged: *damaged,
        },
        ValueKind::List { items, damaged } => ValueKind::List {
            items: items.iter().map(marked).collect(),
            damaged: *damaged,
        },
        other => other.clone(),
    };
    Value {
        at: marked_at(value.at),
        kind,
    }
}

fn marked_field(field: &Field) -> Field {
    Field {
        name: field.name.clone(),
        at: marked_at(field.at),
        value: marked(&field.value),
    }
}

fn marked_at(mut at: super::problem::Position) -> super::problem::Position {
    at.in_overlay = true;
    at
}
