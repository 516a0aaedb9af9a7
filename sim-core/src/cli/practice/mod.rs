//! Practice in a plain terminal.
//!
//! A thin face: lines become actions, what comes back is told in words.  What is possible
//! is the visit's business, and so is every refusal.  Nothing here moves a cursor; color
//! comes on a terminal only and never says anything that the words do not.

mod chart;
mod conversation;
mod debrief;
mod dial;
mod grammar;
mod input;
mod keeping;
mod page;
mod said;
mod screens;
mod setup;
mod telling;

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;

use self::conversation::Conversation;
use self::input::Lines;
use super::args::PracticeArgs;

/// What is told once per start of the program.
pub(super) const NOTICE: &str = "This is a simulator. Its numbers are training values: nameplates, \
    local codes and licensed practice decide what is done to a real system. Readings on real \
    equipment are for people trained to take them. Mains voltage, stored pressure, confined \
    spaces and drinking water can kill.";

/// Practises a scenario with lines from a script, a pipe or a person.
pub(super) fn run(
    args: &PracticeArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<ExitCode> {
    let mut lines = input::open(args.script.as_deref())?;
    run_with(args, &mut *lines, out, err)
}

fn run_with(
    args: &PracticeArgs,
    lines: &mut dyn Lines,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<ExitCode> {
    let page = lines.page();
    let begun = setup::begin(args, err)?;
    let mut conversation = Conversation::new(begun, args.units, page);
    conversation.introduce(out, NOTICE)?;
    conversation.go_on(lines, out)
}

#[cfg(test)]
mod tests;
