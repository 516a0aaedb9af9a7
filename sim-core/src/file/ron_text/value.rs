//! The tree of values that a file holds, each with its position.

use crate::file::problem::Position;

/// A value and where it begins.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Value {
    /// Where it begins.
    pub(crate) at: Position,
    /// What it is.
    pub(crate) kind: ValueKind,
}

/// What a value is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum ValueKind {
    /// Text in quotes, escapes resolved.
    Text(String),
    /// A number as written and as read.
    Number {
        /// As written.
        written: String,
        /// As read, finite.
        number: f64,
    },
    /// `true` or `false`.
    Truth(bool),
    /// A bare name, such as `Submersible`.
    Name(String),
    /// `None`.
    Nothing,
    /// `(a: .., b: ..)` or `Name(a: .., b: ..)`.
    Struct {
        /// Name before the parenthesis.
        name: Option<String>,
        /// Fields in file order.
        fields: Vec<Field>,
        /// Some fields may have been lost to a reported problem.
        damaged: bool,
    },
    /// `[a, b]`.
    List {
        /// Items in file order.
        items: Vec<Value>,
        /// Some items may have been lost to a reported problem.
        damaged: bool,
    },
    /// Something unreadable, already reported.
    Damaged,
}

/// A field of a struct.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Field {
    /// Name.
    pub(crate) name: String,
    /// Where the name stands.
    pub(crate) at: Position,
    /// Value.
    pub(crate) value: Value,
}

impl Value {
    /// What it is, for a message.
    pub(crate) fn describe(&self) -> String {
        match &self.kind {
            ValueKind::Text(text) => crate::file::problem::quoted(text),
            ValueKind::Number { written, .. } => format!("the bare number {written}"),
            ValueKind::Truth(truth) => format!("{truth}"),
            ValueKind::Name(name) => format!("the name {}", crate::file::problem::quoted(name)),
            ValueKind::Nothing => "None".to_owned(),
            ValueKind::Struct { name: None, .. } => "a group in parentheses".to_owned(),
            ValueKind::Struct {
                name: Some(name), ..
            } => format!("the group {}", crate::file::problem::quoted(name)),
            ValueKind::List { .. } => "a list".to_owned(),
            ValueKind::Damaged => "something unreadable".to_owned(),
        }
    }
}
