//! The practice yard's place: until it is built, the first ten minutes of a site as the
//! terminal shows them.

use std::io::{stderr, stdout};
use std::process::ExitCode;

fn main() -> ExitCode {
    sim_viewer::run(&mut stdout().lock(), &mut stderr().lock())
}
