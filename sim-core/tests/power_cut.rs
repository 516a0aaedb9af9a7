//! Practice is killed in the middle of things, as a power cut ends it, and gone on with:
//! nothing that was told is lost, at most one action has to be done again, and the mark is
//! that of a visit that was never broken off.
//!
//! Starts the real executable: only a process of its own can be killed.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on has failed, and says where"
)]

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use sim_core::session::Logbook;

/// How often practice is killed.
const KILLS: usize = 200;
/// Where the moments come from.
const SEED: u64 = 20_261_125;
/// Longest wait for a line of output; reached only when something hangs.
const PATIENCE: Duration = Duration::from_secs(60);

/// A visit of which every line is an action that can be done, so that lines and records
/// can be compared.
const LINES: [&str; 36] = [
    "look",
    "read the gauge",
    "tap the gauge",
    "listen",
    "suspect house valve left shut",
    "wait 20 s",
    "look at the house valve",
    "feel the tank",
    "knock on the tank",
    "note the needle stands still",
    "smell",
    "go to the panel",
    "breaker off",
    "wait 5 s",
    "breaker on",
    "lock out",
    "remove the lock",
    "breaker on",
    "go to the house",
    "open the kitchen tap",
    "shut the kitchen tap",
    "go to the wall",
    "watch the gauge for 30 s every 5 s",
    "crack the drain",
    "shut the drain",
    "open the house valve",
    "wait until the needle stands still",
    "read the gauge",
    "go to the house",
    "bucket at the kitchen tap",
    "go to the wall",
    "wait until the needle stands still",
    "cross out pump worn impellers",
    "prove",
    "call house valve left shut",
    "close up",
];

fn shortcycle(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_shortcycle"));
    command.args(args).env("COLUMNS", "200");
    command
}

/// A practice that runs, with what it says.
struct Practice {
    child: Child,
    stdin: ChildStdin,
    said: Receiver<String>,
    /// Lines that it has shown as taken.
    taken: usize,
    /// Lines of which something came.
    answered: usize,
    is_waiting: bool,
}

impl Practice {
    fn start(log: &Path) -> Self {
        let log_name = log.display().to_string();
        let args: &[&str] = if log.exists() {
            &["practice", "--resume", &log_name]
        } else {
            &["practice", "first-steps", "--log", &log_name]
        };
        let mut child = shortcycle(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the executable starts");
        let stdin = child.stdin.take().expect("a pipe");
        let stdout = child.stdout.take().expect("a pipe");
        let (send, said) = channel();
        std::thread::spawn(move || {
            let mut lines = BufReader::new(stdout);
            let mut line = String::new();
            // A line without its end was never shown whole.
            while lines.read_line(&mut line).is_ok() && line.ends_with('\n') {
                if send.send(std::mem::take(&mut line)).is_err() {
                    break;
                }
            }
        });
        Self {
            child,
            stdin,
            said,
            taken: 0,
            answered: 0,
            is_waiting: false,
        }
    }

    /// Feeds lines; practice may have ended already.
    fn feed(&mut self, lines: &[&str]) {
        let text: String = lines.iter().map(|line| format!("{line}\n")).collect();
        let _ = self.stdin.write_all(text.as_bytes());
    }

    fn note(&mut self, line: &str) {
        if line.starts_with("> ") {
            self.taken += 1;
            self.is_waiting = true;
        } else if self.is_waiting && !line.trim().is_empty() {
            self.answered += 1;
            self.is_waiting = false;
        }
    }

    /// Listens until so many lines were taken, or practice has ended.
    fn wait_for_taken(&mut self, lines: usize) {
        while self.taken < lines {
            match self.said.recv_timeout(PATIENCE) {
                Ok(line) => self.note(&line),
                Err(std::sync::mpsc::RecvTimeoutError::Disconnected) => return,
                Err(error) => panic!("practice hangs: {error}"),
            }
        }
    }

    /// Kills it, or finds it gone; whether it was killed, and the lines taken and answered.
    fn kill(mut self) -> (bool, usize, usize) {
        let was_alive = self.child.try_wait().expect("a child").is_none();
        self.child.kill().expect("it can be killed");
        self.child.wait().expect("it has ended");
        while let Ok(line) = self.said.recv_timeout(PATIENCE) {
            self.note(&line);
        }
        (was_alive, self.taken, self.answered)
    }
}

/// The unbroken visit's logbook.
fn unbroken(folder: &Path) -> (PathBuf, Vec<u8>) {
    let log = folder.join("unbroken.jsonl");
    let mut practice = Practice::start(&log);
    practice.feed(&LINES);
    practice.wait_for_taken(usize::MAX);
    assert!(practice.child.wait().unwrap().success());
    let bytes = fs::read(&log).unwrap();
    let records = Logbook::parse("unbroken", &bytes).unwrap().records.len();
    assert_eq!(
        records,
        LINES.len(),
        "every line is an action that can be done"
    );
    (log, bytes)
}

fn debrief(log: &Path) -> String {
    let log = log.display().to_string();
    let output = shortcycle(&["debrief", &log, "--format", "json"])
        .output()
        .unwrap();
    assert!(output.status.success(), "{log}");
    String::from_utf8(output.stdout).unwrap()
}

/// Records of a logbook that a kill has left; none when not even its header is whole.
fn records(log: &Path, whole: &[u8]) -> Option<usize> {
    let bytes = fs::read(log).unwrap_or_default();
    if !bytes.contains(&b'\n') {
        return None;
    }
    let logbook = Logbook::parse("killed", &bytes).expect("what a kill leaves can be read");
    let end = bytes.iter().rposition(|byte| *byte == b'\n').unwrap();
    assert!(
        whole.starts_with(&bytes[..=end]),
        "a killed visit is the unbroken one up to there"
    );
    Some(logbook.records.len())
}

#[test]
fn a_practice_killed_two_hundred_times_loses_at_most_the_line_in_flight() {
    let folder = tempfile::tempdir().unwrap();
    let (unbroken_log, whole) = unbroken(folder.path());
    let unbroken_mark = debrief(&unbroken_log);
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let (mut kills, mut torn, mut in_flight, mut rounds) = (0, 0, 0, 0);
    let mut log = folder.path().join("round-0.jsonl");
    let mut done = 0;
    while kills < KILLS {
        let mut practice = Practice::start(&log);
        let fed = random.random_range(1..=8).min(LINES.len() - done);
        let heard = random.random_range(0..=fed);
        practice.feed(&LINES[done..done + fed]);
        practice.wait_for_taken(heard);
        // With nothing heard, the kill falls into the beginning: header, replay, mending.
        let most_us = if heard == 0 { 30_000 } else { 3_000 };
        std::thread::sleep(Duration::from_micros(random.random_range(0..most_us)));
        let (was_alive, taken, answered) = practice.kill();
        kills += usize::from(was_alive);

        let Some(found) = records(&log, &whole) else {
            assert_eq!((done, answered), (0, 0), "a visit was lost with its header");
            let _ = fs::remove_file(&log);
            continue;
        };
        let kept = found
            .checked_sub(done)
            .expect("older records are still there");
        assert!(
            kept >= answered,
            "{answered} lines were answered, {kept} are kept"
        );
        assert!(
            kept <= taken && taken <= kept + 1,
            "{taken} taken, {kept} kept"
        );
        in_flight += usize::from(taken > kept);
        done = found;

        // A power cut, other than a kill, also leaves half a line, unless this kill has
        // left one already.
        let bytes = fs::read(&log).unwrap();
        if done > 0 && bytes.ends_with(b"\n") && random.random_ratio(1, 4) {
            let last = bytes.trim_ascii_end();
            let begin = last.iter().rposition(|byte| *byte == b'\n').unwrap() + 1;
            let cut = random.random_range(begin + 1..last.len());
            fs::write(&log, &bytes[..cut]).unwrap();
            done -= 1;
            torn += 1;
            assert_eq!(records(&log, &whole), Some(done));
        }
        if done == LINES.len() {
            assert_eq!(
                fs::read(&log).unwrap(),
                whole,
                "broken off and gone on with"
            );
            assert_eq!(debrief(&log), unbroken_mark);
            rounds += 1;
            log = folder.path().join(format!("round-{rounds}.jsonl"));
            done = 0;
        }
    }

    // The last one is gone on with to its end, and its mark is that of the unbroken visit.
    if done > 0 {
        let mut practice = Practice::start(&log);
        practice.feed(&LINES[done..]);
        practice.wait_for_taken(usize::MAX);
        assert!(practice.child.wait().unwrap().success());
        assert_eq!(fs::read(&log).unwrap(), whole);
        assert_eq!(debrief(&log), unbroken_mark);
    }
    assert!(
        rounds >= 3,
        "visits that came to their end through kills: {rounds}"
    );
    assert!(torn >= 10, "logbooks with half a line: {torn}");
    assert!(
        in_flight > 0,
        "no kill fell between taking a line and keeping it"
    );
}
