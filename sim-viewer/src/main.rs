//! The practice yard's place: until it is built, the practice in the terminal.

use std::io::{stderr, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    sim_viewer::run(std::env::args_os(), &mut stdout().lock(), &mut stderr())
}
