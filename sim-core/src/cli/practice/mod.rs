//! Practice in a plain terminal.

mod grammar;
