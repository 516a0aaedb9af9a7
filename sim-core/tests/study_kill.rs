//! A study is killed at random moments and gone on with, whole and in shards, and ended by
//! Ctrl-C: the bytes are those of one run.  And its memory does not grow with its settings.
//!
//! Starts the real executable: only a process of its own can be killed.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on has failed, and says where"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

/// How often a study is killed.
const KILLS: usize = 60;
/// Where the moments come from.
const SEED: u64 = 20_261_125;
/// Shards that the study is split into.
const SHARDS: usize = 4;

/// A study of so many settings, each of so many days.
fn study_file(folder: &Path, name: &str, settings: usize, days: f64) -> String {
    let path = folder.join(format!("{name}.ron"));
    fs::write(
        &path,
        format!(
            "(version: 1, name: \"{name}\", title: \"A study\", site: \"orchard-cottage\",
            overrides: (source: Cistern(refill: \"8 gpm\")),
            demand: Household(occupants: 2.6), days: {days}, vary: [
                Range(path: \"tank.precharge\", from: \"20 psi\", to: \"38 psi\", \
             count: {settings}),
            ], limits: [RunTime(least: \"20 s\"), StartsPerDay()])"
        ),
    )
    .unwrap();
    path.display().to_string()
}

fn shortcycle(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_shortcycle"));
    command
        .arg("study")
        .args(args)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped());
    command
}

/// Runs to the end; what it says on standard error.
fn run(args: &[&str]) -> String {
    let output = shortcycle(args).output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{args:?}: {said}");
    said
}

fn results(folder: &Path) -> Vec<u8> {
    fs::read(folder.join("results.jsonl")).unwrap_or_default()
}

/// Runs, kills, and goes on until the study is over; how often it was killed alive.
fn killed_to_the_end(args: &[&str], whole: &Path, wanted: &[u8], random: &mut ChaCha8Rng) -> usize {
    let mut kills = 0;
    let mut most_us = 300_000;
    loop {
        let mut child = shortcycle(args).spawn().unwrap();
        std::thread::sleep(Duration::from_micros(random.random_range(0..most_us)));
        let was_alive = child.try_wait().unwrap().is_none();
        // SIGKILL: nothing in the program gets to run any more.
        child.kill().unwrap();
        let status = child.wait().unwrap();
        let found = results(whole);
        let end = found.iter().rposition(|byte| *byte == b'\n');
        let kept = &found[..end.map_or(0, |end| end + 1)];
        assert!(
            wanted.starts_with(kept),
            "whole lines are those of one run, after {kills} kills"
        );
        if !was_alive && status.success() {
            return kills;
        }
        kills += usize::from(was_alive);
        // However slow the machine is, it comes to an end.
        most_us += 5_000;
    }
}

#[test]
fn a_study_killed_at_random_and_resumed_has_the_bytes_of_one_run() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path(), "killed", 32, 20.0);
    let folder = |name: &str| temp.path().join(name);
    let one = folder("one");
    run(&[&study, "--out", one.to_str().unwrap(), "--threads", "1"]);
    let whole = results(&one);
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let (mut kills, mut rounds) = (0, 0);
    while kills < KILLS || rounds < 3 {
        rounds += 1;
        let again = folder(&format!("again-{rounds}"));
        let out = again.to_str().unwrap();
        let args = [&study, "--out", out, "--threads", "2", "--resume"];
        kills += killed_to_the_end(&args, &again, &whole, &mut random);
        assert_eq!(results(&again), whole, "after {kills} kills");
        for report in ["results.csv", "report.html", "results.parquet"] {
            let read = |folder: &PathBuf| fs::read(folder.join(report)).unwrap();
            assert!(read(&again) == read(&one), "{report}");
        }
    }

    // In shards, each killed and gone on with, then merged.
    let mut parts = Vec::new();
    for number in 1..=SHARDS {
        let part = folder(&format!("part-{number}"));
        let shard = format!("{number}/{SHARDS}");
        let alone = folder(&format!("alone-{number}"));
        let out = alone.to_str().unwrap();
        run(&[&study, "--out", out, "--shard", &shard]);
        let wanted = results(&alone);
        let out = part.to_str().unwrap().to_owned();
        let args = [&study, "--out", &out, "--shard", &shard, "--resume"];
        killed_to_the_end(&args, &part, &wanted, &mut random);
        assert_eq!(results(&part), wanted, "shard {shard}");
        parts.push(out);
    }
    let merged = folder("merged");
    let mut args = vec!["--merge"];
    args.extend(parts.iter().rev().map(String::as_str));
    args.extend(["--out", merged.to_str().unwrap()]);
    run(&args);
    assert_eq!(results(&merged), whole);
}

#[cfg(unix)]
#[test]
fn a_study_ended_by_ctrl_c_says_how_to_go_on_and_can() {
    let temp = tempfile::tempdir().unwrap();
    let study = study_file(temp.path(), "ended", 60, 20.0);
    let one = temp.path().join("one");
    run(&[&study, "--out", one.to_str().unwrap()]);
    let two = temp.path().join("two");
    let args = [&study, "--out", two.to_str().unwrap(), "--threads", "2"];
    let child = shortcycle(&args).spawn().unwrap();
    // Some rows, but far from all.
    let some_came = (0..30_000).any(|_| {
        std::thread::sleep(Duration::from_millis(2));
        results(&two).iter().filter(|byte| **byte == b'\n').count() >= 4
    });
    assert!(some_came, "no rows come");
    let pid = child.id().to_string();
    let status = Command::new("kill").args(["-INT", &pid]).status().unwrap();
    assert!(status.success());
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(130), "{said}");
    assert!(said.contains("--resume"), "{said}");
    assert!(results(&two).len() < results(&one).len());
    run(&[&study, "--out", two.to_str().unwrap(), "--resume"]);
    assert_eq!(results(&two), results(&one));
}

/// What the command says about its memory [MiB].
#[cfg(target_os = "linux")]
fn peak_mib(said: &str) -> f64 {
    let (_, rest) = said.split_once("peak memory ").expect("it is told");
    rest.split(' ').next().unwrap().parse().unwrap()
}

#[cfg(target_os = "linux")]
#[test]
fn memory_does_not_grow_with_the_number_of_settings() {
    // An hour of each; tests/data/studies/ten-thousand.ron is the same with years.
    let temp = tempfile::tempdir().unwrap();
    let peak_of = |settings: usize| {
        let name = format!("wide-{settings}");
        let study = study_file(temp.path(), &name, settings, 0.05);
        let out = temp.path().join(format!("out-{settings}"));
        peak_mib(&run(&[&study, "--out", out.to_str().unwrap()]))
    };
    // Both fill a row group of the Parquet file, which is the most that is held at once.
    let (few, many) = (peak_of(600), peak_of(3_000));
    // A row stays in memory as about a hundred bytes, 0.3 MiB here; kept whole, with the name
    // and pressures of each outlet, the rows would take 2 MiB and more.
    assert!(many < few + 1.0, "{many} MiB for {few} MiB");
}
