//! The practice yard.
//!
//! Not built yet.  So that the first command a newcomer types does something real, it
//! starts the same practice in the terminal; what is typed behind its name goes to
//! `shortcycle practice`.

use std::ffi::OsString;
use std::io::{IsTerminal, Write, stdin};
use std::process::ExitCode;

/// Starts the practice in the terminal; where nobody can answer, tells what it would be.
pub fn run<A>(args: A, out: &mut dyn Write, err: &mut dyn Write) -> ExitCode
where
    A: IntoIterator<Item = OsString>,
{
    let given: Vec<OsString> = args.into_iter().skip(1).collect();
    let mut line: Vec<OsString> = vec!["shortcycle".into(), "practice".into()];
    if given.is_empty() && !stdin().is_terminal() {
        line.push("--introduce".into());
    }
    line.extend(given);
    let told = writeln!(
        err,
        "The practice yard is not built yet; this is the same practice in the terminal.\n"
    );
    if told.is_err() {
        return ExitCode::from(2);
    }
    sim_core::cli::run(line, out, err)
}
