//! What a person perceives: a table to read, and a law that holds for any plant.

mod laws;
mod table;
