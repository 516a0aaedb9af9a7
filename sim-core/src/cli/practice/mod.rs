//! Practice in a plain terminal.
//!
//! A thin face: lines become actions, what comes back is told in words.  What is possible
//! is the visit's business, and so is every refusal.  Nothing here moves a cursor; color
//! comes on a terminal only and never says anything that the words do not.

mod chart;
mod conversation;
mod counsel;
mod dial;
mod grammar;
mod input;
mod keeping;
pub(super) mod page;
mod said;
mod screens;
pub(super) mod setup;
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

/// Exit code of a program that Ctrl-C has ended, as shells have it (128 + SIGINT).
const INTERRUPTED: i32 = 130;

/// Practises a scenario with lines from a script, a pipe or a person.
pub(super) fn run(
    args: &PracticeArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<ExitCode> {
    let mut lines = input::open(args.script.as_deref())?;
    let page = lines.page();
    if args.introduce {
        let begun = setup::without_logbook(args)?;
        return Conversation::new(begun, args.units, page).only_introduce(out, NOTICE);
    }
    let begun = setup::begin(args, err)?;
    if let Some(keeper) = &begun.keeper {
        tell_when_interrupted(keeper.path());
    }
    talk(Conversation::new(begun, args.units, page), &mut *lines, out)
}

/// Says, when Ctrl-C ends the program in the middle of something, that nothing is lost.
fn tell_when_interrupted(logbook: &std::path::Path) {
    let path = logbook.display().to_string();
    // Where no handler can be set, the program ends without a word and loses as little.
    let _ = ctrlc::set_handler(move || {
        let _ = writeln!(
            std::io::stderr(),
            "\nStopped. Every action that was done is in the logbook; go on with:\n  \
             shortcycle practice --resume {path}"
        );
        std::process::exit(INTERRUPTED);
    });
}

fn talk(
    mut conversation: Conversation,
    lines: &mut dyn Lines,
    out: &mut dyn Write,
) -> Result<ExitCode> {
    conversation.introduce(out, NOTICE)?;
    conversation.go_on(lines, out)
}

#[cfg(test)]
mod tests;
