//! The `shortcycle` command.

use std::io::{stderr, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    sim_core::cli::run(std::env::args_os(), &mut stdout(), &mut stderr())
}
