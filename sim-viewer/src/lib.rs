//! The practice yard.
//!
//! Not built yet.  So that the first command a newcomer types does something real, it
//! runs the first start of a site and tells what happened, as `shortcycle trace` does.

use std::io::Write;
use std::process::ExitCode;

/// What is run in place of the yard.
const FIRST_TEN_MINUTES: [&str; 7] = [
    "shortcycle",
    "trace",
    "orchard-cottage",
    "--start",
    "dry",
    "--for",
    "10min",
];

/// Says that there is no yard yet and shows the first site's first ten minutes.
pub fn run(out: &mut dyn Write, err: &mut dyn Write) -> ExitCode {
    let told = writeln!(
        err,
        "The practice yard is not built yet; here are a site's first ten minutes instead.\n\
         This is a simulator: local codes and licensed practice decide what is done to a\n\
         real system.\n"
    );
    if told.is_err() {
        return ExitCode::from(2);
    }
    sim_core::cli::run(FIRST_TEN_MINUTES, out, err)
}
