//! The practice yard.
fn main() {}
