//! What the pages for people tell to type works, and what they show is what comes.
//!
//! Starts the real executable in a folder of its own, as a reader would.

#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on has failed, and says where"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn page(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn shortcycle(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_shortcycle"))
        .args(args)
        .current_dir(folder)
        .env("COLUMNS", "80")
        .stdin(Stdio::null())
        .output()
        .expect("the executable starts")
}

/// Blocks of code of a page: what stands behind the backticks, and the lines.
fn blocks(text: &str) -> Vec<(&str, Vec<&str>)> {
    let mut blocks = Vec::new();
    let mut open: Option<(&str, Vec<&str>)> = None;
    for line in text.lines() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(kind), None) => open = Some((kind, Vec::new())),
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (None, Some((_, lines))) => lines.push(line),
            (None, None) => {}
        }
    }
    blocks
}

/// Stands where lines were left out.
const LEFT_OUT: &str = "[…]";

/// The visit that README.md shows is this one; only what is marked is left out.
///
/// When this fails because the program says something else now, run the command of the
/// message and put what it says into README.md.
#[test]
fn the_visit_in_the_readme_is_what_the_program_says() {
    let folder = tempfile::tempdir().unwrap();
    let script = root().join("docs/first-practice.txt");
    let args = [
        "practice",
        "first-steps",
        "--script",
        &script.display().to_string(),
        "--log",
        "visit.jsonl",
    ];
    let output = shortcycle(folder.path(), &args);
    assert!(output.status.success());
    let said = String::from_utf8(output.stdout).unwrap();
    let mut said = said.lines().map(str::trim_end);

    let readme = page("README.md");
    let blocks = blocks(&readme);
    let (_, shown) = blocks.iter().find(|(kind, _)| *kind == "text").unwrap();
    let command = "COLUMNS=80 shortcycle practice first-steps --script docs/first-practice.txt \
                   --log visit.jsonl";
    let (mut n_lines, mut may_skip) = (0, false);
    for line in shown {
        if line.trim() == LEFT_OUT {
            may_skip = true;
            continue;
        }
        n_lines += 1;
        let is_there = if may_skip {
            said.any(|other| other == *line)
        } else {
            said.next() == Some(*line)
        };
        assert!(
            is_there,
            "README.md shows a line that does not come there: {line:?}\nsee\n    {command}"
        );
        may_skip = false;
    }
    assert!(
        may_skip || said.next().is_none(),
        "README.md ends early; see\n    {command}"
    );
    assert!(
        n_lines > 30,
        "README.md shows {n_lines} lines of a visit only"
    );
}

/// Commands of a page, without what a shell would do with them.
fn commands(text: &str) -> Vec<Vec<String>> {
    let mut commands = Vec::new();
    for (kind, lines) in blocks(text) {
        for line in lines.iter().filter(|_| kind == "sh") {
            let line = line.split(" #").next().unwrap_or(line).trim();
            let args = line
                .strip_prefix("shortcycle ")
                .or_else(|| line.strip_prefix("cargo run --release -p sim-core -- "));
            let words = args.map(|args| args.split_whitespace().map(str::to_owned).collect());
            commands.extend(words);
        }
    }
    commands
}

/// The block of a kind in a page, its lines joined.
fn block(name: &str, kind: &str) -> String {
    let page = page(name);
    let blocks = blocks(&page);
    let found = blocks.iter().find(|(other, _)| *other == kind);
    let (_, lines) = found.unwrap_or_else(|| panic!("{name} has no block of {kind}"));
    lines.join("\n") + "\n"
}

/// What a reader has beside them: the trainer's scenario, under the names of the pages.
fn lay_out(folder: &Path) {
    let guide = "docs/trainers-guide.md";
    let scenario = block(guide, "ron");
    let folder_of_scenarios = folder.join("my-scenarios");
    fs::create_dir(&folder_of_scenarios).unwrap();
    fs::write(folder_of_scenarios.join("quick-clicks.ron"), &scenario).unwrap();
    fs::write(folder_of_scenarios.join("try.txt"), block(guide, "text")).unwrap();
    let mine = scenario.replacen("\"quick-clicks\"", "\"my\"", 1);
    fs::write(folder.join("my.ron"), mine).unwrap();
}

/// The trainer's example is read without a problem, and its try ends well: every line is
/// done, nothing dangerous, passed, and with all that its kit allows.
#[test]
fn the_trainers_example_can_be_solved_as_the_guide_says() {
    let folder = tempfile::tempdir().unwrap();
    lay_out(folder.path());
    let line = "practice my-scenarios/quick-clicks.ron --seed 2 --script my-scenarios/try.txt \
                --log try.jsonl";
    let args: Vec<&str> = line.split_whitespace().collect();
    let output = shortcycle(folder.path(), &args);
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success(), "{said}");
    assert!(
        !said.contains("Not done.") && !said.contains("Accepted:"),
        "{said}"
    );
    for result in [
        "Result: passed.",
        "The call: 30 of 30",
        "The repair: 20 of 20",
        "The proof: 15 of 15",
        "Safety: 25 of 25",
    ] {
        assert!(said.contains(result), "{result} is not in\n{said}");
    }
    // The table below the example explains each of its fields.
    let guide = page("docs/trainers-guide.md");
    for line in block("docs/trainers-guide.md", "ron").lines() {
        let field = line
            .strip_prefix("    ")
            .and_then(|line| line.split_once(": "));
        if let Some((field, _)) = field.filter(|(field, _)| !field.contains([' ', '('])) {
            let is_explained = guide
                .lines()
                .filter(|line| line.starts_with("| `"))
                .any(|line| line.contains(&format!("`{field}`")));
            assert!(is_explained, "`{field}` of the example is not explained");
        }
    }
}

/// The lines that the apprentice's guide tells to type are all understood.
#[test]
fn the_twenty_lines_of_the_apprentices_guide_are_understood() {
    let guide = page("docs/apprentices-guide.md");
    let (_, table) = guide.split_once("## Twenty lines").unwrap();
    let lines: Vec<&str> = table
        .lines()
        .filter(|line| line.starts_with("| `"))
        .filter_map(|line| line.split('`').nth(1))
        .collect();
    assert_eq!(lines.len(), 20);
    let folder = tempfile::tempdir().unwrap();
    for line in lines {
        // Each where it is said: at the station of the table's second column.
        let place = table
            .lines()
            .find(|row| row.starts_with(&format!("| `{line}`")))
            .and_then(|row| row.split('|').nth(2))
            .unwrap()
            .trim();
        let go = match place.split(',').next().unwrap() {
            "anywhere" | "wall" | "at an open cover" => "status",
            station => station,
        };
        let script = folder.path().join("script.txt");
        fs::write(&script, format!("{go}\n{line}\n")).unwrap();
        let args = ["practice", "dim-lights", "--script", "script.txt"];
        let said = String::from_utf8(shortcycle(folder.path(), &args).stdout).unwrap();
        let (_, answer) = said.split_once(&format!("> {line}\n")).unwrap();
        for trouble in ["Accepted:", "Did you mean", "that is done at"] {
            assert!(!answer.contains(trouble), "{line}:\n{answer}");
        }
    }
}

/// Every command line of these pages is run in order of appearance; a practice without
/// lines ends at once, and leaves the logbook that later lines name.
#[test]
fn every_command_of_the_pages_runs() {
    for (name, least) in [
        ("README.md", 6),
        ("docs/apprentices-guide.md", 3),
        ("docs/trainers-guide.md", 9),
        ("docs/practice.md", 4),
        ("docs/troubleshooter.md", 1),
    ] {
        let folder = tempfile::tempdir().unwrap();
        lay_out(folder.path());
        let commands = commands(&page(name));
        assert!(commands.len() >= least, "{name} has lost its commands");
        for command in commands {
            let args: Vec<&str> = command.iter().map(String::as_str).collect();
            let output = shortcycle(folder.path(), &args);
            // 1 says that a mark is below the pass mark, which a visit without a line is.
            let is_marked = matches!(args.first(), Some(&("mark" | "debrief")));
            let code = output.status.code();
            assert!(
                code == Some(0) || (is_marked && code == Some(1)),
                "{name}: shortcycle {}\n{}",
                command.join(" "),
                String::from_utf8_lossy(&output.stderr)
            );
        }
    }
}

/// The cautions are told at the first start, before anything can be done.
#[test]
fn a_practice_begins_with_the_cautions() {
    let folder = tempfile::tempdir().unwrap();
    let output = shortcycle(folder.path(), &["practice"]);
    let said = String::from_utf8(output.stdout).unwrap();
    let (before, _) = said.split_once("The customer says").unwrap();
    let before = before.split_whitespace().collect::<Vec<_>>().join(" ");
    for caution in [
        "This is a simulator",
        "training values",
        "local codes and licensed practice decide",
        "people trained to take them",
        "Mains voltage, stored pressure, confined spaces and drinking water can kill",
    ] {
        assert!(before.contains(caution), "{caution}\nis not in\n{before}");
    }
}
