//! The `shortcycle` command: words and pictures about what the plant does.
//!
//! The command holds no rules of the plant; it reads arguments and files, asks for a
//! run, and writes it down.  Results go to the first writer, messages to the second.
//! Exit codes: 0 done, 1 done but failed, 2 could not.

mod advise;
mod args;
mod debrief;
mod display;
mod faults;
mod library;
mod list;
mod mark;
mod palette;
mod plot;
mod practice;
mod probe;
mod progress;
mod site;
mod sites;
mod study;
mod trace;
mod vet;
mod wiring;
mod words;

use std::ffi::OsString;
use std::io::{ErrorKind, Write};
use std::process::ExitCode;

use clap::Parser;

use self::args::{Cli, Command};
use self::wiring::{Engine, Plant};

/// Did what was asked; it failed there.
const FAILED: u8 = 1;
/// Could not do what was asked.
const COULD_NOT: u8 = 2;

/// Runs the command with these arguments, the program's name first.
///
/// A reader who stops reading, as `| head` does, is no failure.
pub fn run<A>(args: A, out: &mut dyn Write, err: &mut dyn Write) -> ExitCode
where
    A: IntoIterator,
    A::Item: Into<OsString> + Clone,
{
    run_with(&Plant, args, out, err)
}

fn run_with<E, A>(engine: &E, args: A, out: &mut dyn Write, err: &mut dyn Write) -> ExitCode
where
    E: Engine,
    A: IntoIterator,
    A::Item: Into<OsString> + Clone,
{
    let result = match Cli::try_parse_from(args) {
        Ok(cli) => match cli.command {
            Command::Trace(args) => trace::run(engine, &args, out, err).map(|()| ExitCode::SUCCESS),
            Command::Probe(args) => probe::run(&args, out),
            Command::List(args) => list::run(&args, out),
            Command::Practice(args) => practice::run(&args, out, err),
            Command::Site(args) => site::run(&args, out, err),
            Command::Faults(args) => faults::run(&args, out),
            Command::Mark(args) => mark::run(&args, out, err),
            Command::Debrief(args) => debrief::run(&args, out, err),
            Command::Vet(args) => vet::run(&args, out, err),
            Command::Advise(args) => advise::run(&args, out, err),
            Command::Study(args) => study::run(&args, out, err),
        },
        // Help and version are results; everything else is a message.
        Err(message) if message.exit_code() == 0 => write!(out, "{}", message.render())
            .map(|()| ExitCode::SUCCESS)
            .map_err(anyhow::Error::from),
        Err(message) => {
            // Where even a message cannot be written, the exit code still tells.
            let _ = write!(err, "{}", message.render());
            return ExitCode::from(COULD_NOT);
        }
    };
    match result.and_then(|code| Ok(out.flush().map(|()| code)?)) {
        Ok(code) => code,
        Err(error) if is_broken_pipe(&error) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(err, "shortcycle: {error:#}");
            ExitCode::from(COULD_NOT)
        }
    }
}

fn is_broken_pipe(error: &anyhow::Error) -> bool {
    error.chain().any(|cause| {
        let io = cause.downcast_ref::<std::io::Error>();
        let json = cause.downcast_ref::<serde_json::Error>();
        let csv = cause.downcast_ref::<csv::Error>();
        let kind = io
            .map(std::io::Error::kind)
            .or_else(|| json?.io_error_kind())
            .or_else(|| match csv?.kind() {
                csv::ErrorKind::Io(error) => Some(error.kind()),
                _ => None,
            });
        kind == Some(ErrorKind::BrokenPipe)
    })
}

#[cfg(test)]
mod tests;
