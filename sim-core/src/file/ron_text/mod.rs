//! Reads the notation of files into a tree that remembers where everything stood.
//!
//! The notation is a subset of RON (Rusty Object Notation): named and unnamed
//! structs, enum variants, lists, strings, numbers, `true`/`false`,
//! `Some(..)`/`None`, line comments and nested block comments, trailing commas,
//! raw strings.  Left out: maps, tuples, characters, byte strings, attributes,
//! strings over several lines (raw strings may).  The usual RON libraries stop
//! at the first error and forget positions after it, hence this reader; whatever
//! it accepts they accept too.
//!
//! Invariants: any text gives a tree, at worst a damaged one, in time linear in
//! its length; nesting is bounded by `reader::MAX_DEPTH`, the number of values
//! by `reader::MAX_VALUES`; a damaged value has been reported.

mod lexer;
mod reader;
mod value;

pub(crate) use reader::read;
pub(crate) use value::{Field, Value, ValueKind};

#[cfg(test)]
mod tests;
