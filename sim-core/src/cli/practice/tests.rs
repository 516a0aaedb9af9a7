//! Practice from the first line to the last, on the real plant.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;
use tempfile::TempDir;

use super::input::Written;
use super::page::Page;
use super::*;
use crate::cli::args::{Cli, Command};

struct Practised {
    text: String,
    err: String,
    code: Result<ExitCode>,
}

/// Practises with these arguments and lines, on a page so wide.
fn practise(args: &[&str], lines: &str, columns: usize) -> Practised {
    let cli = Cli::try_parse_from(["shortcycle", "practice"].iter().chain(args)).unwrap();
    let Command::Practice(args) = cli.command else {
        panic!("not practice");
    };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = setup::begin(&args, &mut err).and_then(|begun| {
        let conversation = Conversation::new(begun, args.units, Page::plain(columns));
        talk(conversation, &mut Written::new(lines.as_bytes()), &mut out)
    });
    Practised {
        text: String::from_utf8(out).unwrap(),
        err: String::from_utf8(err).unwrap(),
        code,
    }
}

fn folder() -> TempDir {
    tempfile::tempdir().unwrap()
}

fn in_folder(folder: &TempDir, name: &str) -> String {
    folder.path().join(name).display().to_string()
}

/// A visit to a loose joint, done as it should be.
const JOINT: &str = "\
look
read the gauge
suspect splice.high_resistance
volts across the contacts
panel
dress for live work
open the panel cover
volts line1 to neutral
clamp line1
close the panel cover
breaker off
lock out
go to the splice box
open the lid
prove dead
tighten the splice
close the splice box
panel
remove the lock
breaker on
wall
watch the gauge for 4 min every 10 s
prove
call bad joint at the splice
notebook
close up
";

/// Lines for looking at widths.
const WIDE: &str = "\
help
help meters
help water
look
read the gauge
tap the gauge
watch the gauge for 3 min every 10 s
map
kit
points
faults
opne the drain
volts
units si
read the gauge
status
enter the cistern
undo
notebook
quit
";

#[test]
fn a_loose_joint_is_found_mended_and_proved() {
    let folder = folder();
    let log = in_folder(&folder, "log.jsonl");
    let practised = practise(&["dim-lights", "--log", &log], JOINT, 80);
    assert_eq!(practised.code.unwrap(), ExitCode::SUCCESS);
    // Where the logbook lies differs from machine to machine, and with it the line breaks.
    let (before, rest) = practised.text.split_once("\nLogbook:").unwrap();
    let (_, talk) = rest.split_once("\nSay what").unwrap();
    let (talk, _) = talk.rsplit_once("\nLogbook:").unwrap();
    insta::assert_snapshot!(format!("{before}\nSay what{talk}"));
}

#[test]
fn no_line_is_wider_than_the_page_it_is_written_for() {
    for columns in [30, 60, 80, 120] {
        let folder = folder();
        // A short name: a path is one word, and is broken where it must be.
        let log = in_folder(&folder, "l");
        let text = practise(&["dim-lights", "--log", &log], WIDE, columns).text;
        for line in text.lines().filter(|line| !line.starts_with("> ")) {
            assert!(line.chars().count() <= columns, "{columns}: {line}");
        }
        for told in ["STOP. ", "Did you mean `open the drain`?", "give or take"] {
            let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(flat.contains(told.trim()), "{columns}: {told} in\n{text}");
        }
        assert!(
            !text.contains('\u{1b}'),
            "no color and no cursor on a plain page"
        );
    }
}

#[test]
fn a_logbook_cut_off_in_the_middle_of_a_line_is_gone_on_with() {
    let folder = folder();
    let log = in_folder(&folder, "log.jsonl");
    let first = practise(
        &["dim-lights", "--log", &log],
        "look\nread the gauge\nlisten\n",
        80,
    );
    assert!(first.text.contains("--resume"), "{}", first.text);
    let whole = fs::read(&log).unwrap();
    assert_eq!(whole.iter().filter(|byte| **byte == b'\n').count(), 4);

    // However much of the last line is missing, the actions before it are there.
    for cut in [1, 2, 20] {
        fs::write(&log, &whole[..whole.len() - cut]).unwrap();
        let again = practise(&["--resume", &log], "quit\n", 80);
        assert_eq!(again.code.unwrap(), ExitCode::SUCCESS);
        if cut == 1 {
            assert!(
                again.text.contains("3 actions lived again"),
                "{}",
                again.text
            );
        } else {
            assert!(
                again.text.contains("cut off in the middle"),
                "{}",
                again.text
            );
            assert!(
                again.text.contains("2 actions lived again"),
                "{}",
                again.text
            );
        }
    }
    // The action is done again, and the logbook is as if nothing had happened.
    let again = practise(&["--resume", &log], "listen\n", 80);
    assert_eq!(again.code.unwrap(), ExitCode::SUCCESS);
    assert_eq!(fs::read(&log).unwrap(), whole);
}

#[test]
fn an_edited_logbook_is_not_gone_on_with() {
    let folder = folder();
    let log = in_folder(&folder, "log.jsonl");
    practise(&["dim-lights", "--log", &log], "look\nread the gauge\n", 80);
    let text = fs::read_to_string(&log)
        .unwrap()
        .replace("\"look\"", "\"listen\"")
        .replace("\"at\":null,", "")
        .replace(",\"at\":null", "");
    fs::write(&log, text).unwrap();
    let again = practise(&["--resume", &log], "quit\n", 80);
    assert!(format!("{:#}", again.code.unwrap_err()).contains("edited"));
}

#[test]
fn no_logbook_is_written_over() {
    let folder = folder();
    let log = in_folder(&folder, "log.jsonl");
    fs::write(&log, "precious").unwrap();
    let refused = practise(&["dim-lights", "--log", &log], "look\n", 80);
    assert!(format!("{:#}", refused.code.unwrap_err()).contains("log.jsonl"));
    assert_eq!(fs::read_to_string(&log).unwrap(), "precious");
}

#[test]
fn where_no_logbook_can_be_kept_practice_goes_on_only_when_asked_and_grading_never() {
    let folder = folder();
    fs::write(folder.path().join("file"), "").unwrap();
    let log = Path::new(&in_folder(&folder, "file")).join("log.jsonl");
    let log = log.display().to_string();
    let refused = practise(&["dim-lights", "--log", &log], "look\n", 80);
    assert!(format!("{:#}", refused.code.unwrap_err()).contains("--no-log"));
    let allowed = practise(&["dim-lights", "--log", &log, "--no-log"], "look\n", 80);
    assert!(allowed.err.contains("without a logbook"), "{}", allowed.err);
    assert!(allowed.text.contains("You look round."));
    let graded = practise(&["dim-lights", "--log", &log, "--graded"], "look\n", 80);
    assert!(format!("{:#}", graded.code.unwrap_err()).contains("graded"));
}

#[test]
fn a_dangerous_act_ends_a_graded_exercise_and_stops_a_practice() {
    let folder = folder();
    let log = in_folder(&folder, "graded.jsonl");
    let lines = "source\nenter the cistern\nlook\n";
    let graded = practise(&["dim-lights", "--graded", "--log", &log], lines, 80).text;
    assert!(
        graded.contains("STOP. ") && graded.contains("The exercise is over."),
        "{graded}"
    );
    assert!(!graded.contains("You look round."), "{graded}");

    let log = in_folder(&folder, "practice.jsonl");
    let lines = "source\nenter the cistern\nlook\nundo\nlook\n";
    let practice = practise(&["dim-lights", "--log", &log], lines, 80).text;
    assert!(
        practice.contains("Not done. A dangerous act has stopped"),
        "{practice}"
    );
    assert!(practice.contains("You look round."), "{practice}");
}

#[test]
fn a_script_that_is_not_text_is_read_to_its_end() {
    let folder = folder();
    let log = in_folder(&folder, "log.jsonl");
    let lines = String::from_utf8_lossy(b"look\xff\x00\nlook\n\n# remark\nquit\nlook").into_owned();
    let text = practise(&["dim-lights", "--log", &log], &lines, 80).text;
    assert_eq!(text.matches("You look round.").count(), 1, "{text}");
}
