//! Starts the real executable: that it is wired to standard output, standard error and
//! its exit code.  Everything else about the command is tested in process.

use std::process::{Command, Output};

fn shortcycle(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_shortcycle"))
        .args(args)
        .output()
        .expect("the executable starts")
}

#[test]
fn help_goes_to_standard_output() {
    let output = shortcycle(&["--help"]);
    assert_eq!(output.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&output.stdout).contains("Usage: shortcycle"));
    assert!(output.stderr.is_empty());
}

#[test]
fn an_unknown_flag_is_named_on_standard_error() {
    let output = shortcycle(&["trace", "orchard-cottage", "--colour"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    assert!(String::from_utf8_lossy(&output.stderr).contains("--colour"));
}
