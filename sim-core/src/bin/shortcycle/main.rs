//! The `shortcycle` command.
fn main() {}
