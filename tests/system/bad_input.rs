//! A site file is untrusted input: any byte string gives a site or a list of
//! problems, each with its place, its part and what would be accepted.
//!
//! The broken sites are in `tests/data/broken-sites`: whole files, and edits of
//! two valid templates.  The golden list of their problems is for people to read:
//! is every message one that helps?  Update it with `INSTA_UPDATE=always` when
//! wording or template changed on purpose.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use sim_core::site::{MAX_FILE_BYTES, Problem, SiteSpec, parse};

/// One case of `edits.txt`.
#[derive(Debug, Default)]
pub(crate) struct Edited {
    pub(crate) name: String,
    template: String,
    pub(crate) edits: Vec<(String, String)>,
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn broken_sites() -> PathBuf {
    root().join("tests/data/broken-sites")
}

fn read(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn template(name: &str) -> String {
    String::from_utf8(read(&broken_sites().join(format!("{name}.ron"))))
        .expect("templates are UTF-8")
}

fn demo_site(name: &str) -> String {
    String::from_utf8(read(&root().join(format!("scenarios/sites/{name}.ron"))))
        .expect("demo sites are UTF-8")
}

fn parse_valid(name: &str, text: &str) -> SiteSpec {
    parse(&format!("{name}.ron"), text).unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{name} has problems:\n{}", lines.join("\n"))
    })
}

/// The cases of a list of edits.
pub(crate) fn edited_cases(list: &Path) -> Vec<Edited> {
    let mut cases: Vec<Edited> = Vec::new();
    let list = String::from_utf8(read(list)).expect("the list is UTF-8");
    for line in list.lines() {
        if let Some(name) = line.strip_prefix("== ") {
            cases.push(Edited {
                name: name.to_owned(),
                template: "template-cistern".to_owned(),
                edits: Vec::new(),
            });
        } else if let Some(name) = line.strip_prefix("@ ") {
            cases.last_mut().expect("a case has begun").template = name.to_owned();
        } else if let Some(old) = line.strip_prefix("- ") {
            let case = cases.last_mut().expect("a case has begun");
            case.edits.push((old.to_owned(), String::new()));
        } else if let Some(new) = line.strip_prefix("+ ") {
            let case = cases.last_mut().expect("a case has begun");
            case.edits.last_mut().expect("`-` comes before `+`").1 = new.to_owned();
        } else {
            assert!(line.is_empty() || line.starts_with('#'), "{line:?}");
        }
    }
    cases
}

fn apply(case: &Edited) -> String {
    let mut text = template(&case.template);
    for (old, new) in &case.edits {
        assert_eq!(text.matches(old).count(), 1, "{}: {old:?}", case.name);
        text = text.replace(old, new);
    }
    text
}

/// What holds of every list of problems.
fn assert_well_formed(name: &str, problems: &[Problem]) {
    assert!(!problems.is_empty(), "{name} is accepted");
    assert!(problems.len() <= 101, "{name}: {} problems", problems.len());
    for problem in problems {
        let shown = problem.to_string();
        assert!(problem.line > 0 && problem.column > 0, "{name}: {shown}");
        assert!(!problem.part.is_empty(), "{name}: {shown}");
        assert!(!problem.message.is_empty(), "{name}: {shown}");
        assert!(!problem.accepted.is_empty(), "{name}: {shown}");
        // The net under the rule that every refusal says why; nothing falls into it.
        assert!(!shown.contains("could not be read"), "{name}: {shown}");
        assert!(shown.chars().count() < 4000, "{name}: {shown}");
        assert!(!shown.contains('\n'), "{name}: {shown}");
    }
    let places: Vec<_> = problems.iter().map(|p| (p.line, p.column)).collect();
    assert!(places.is_sorted(), "{name}: not in file order");
}

#[test]
fn templates_and_demo_sites_are_valid() {
    for name in ["template-cistern", "template-suction"] {
        assert_eq!(parse_valid(name, &template(name)).name, name);
    }
    for name in ["orchard-cottage", "hill-farm"] {
        assert_eq!(parse_valid(name, &demo_site(name)).name, name);
    }
}

#[test]
fn every_broken_site_is_refused_with_messages_that_help() {
    let mut shown = String::new();
    let mut n_cases = 0;
    let mut show = |name: &str, result: Result<SiteSpec, Vec<Problem>>| {
        let problems = result.err().unwrap_or_default();
        assert_well_formed(name, &problems);
        writeln!(shown, "== {name}").unwrap();
        for problem in &problems {
            writeln!(shown, "{problem}").unwrap();
        }
        n_cases += 1;
    };
    let mut files: Vec<PathBuf> = std::fs::read_dir(broken_sites().join("files"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    for path in files {
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        show(&name, parse(&name, read(&path)));
    }
    for case in edited_cases(&broken_sites().join("edits.txt")) {
        let file = format!("{}.ron", case.template);
        show(&case.name, parse(&file, apply(&case)));
    }
    assert!(n_cases >= 60, "only {n_cases} broken sites");
    insta::assert_snapshot!("broken_sites", shown);
}

#[test]
fn five_separate_mistakes_are_five_problems() {
    let text = template("template-cistern")
        .replace("cut_out: \"60 psi\"", "cut_out: \"35 psi\"")
        .replace("altitude: \"500 ft\"", "altitude: \"500 gal\"")
        .replace("poles: 2", "poles: 2.0.0")
        .replace("rise: \"7 ft\"", "rise: \"4 ft\"")
        .replace("supply: (", "suply: 1, supply: (");
    let problems = parse("template-cistern.ron", text).unwrap_err();
    let parts: Vec<&str> = problems.iter().map(|p| p.part.as_str()).collect();
    assert_eq!(
        parts,
        [
            "altitude",
            "motor.poles",
            "run[2].rise",
            "wall.pressure_switch.cut_out",
            "site"
        ]
    );
}

/// Regression of the wording that the format was designed for.
#[test]
fn a_cut_out_below_cut_in_is_told_with_both_settings_and_both_bounds() {
    let text = demo_site("orchard-cottage").replace("\"60 psi\",", "\"35 psi\",");
    let problems = parse("orchard-cottage.ron", &text).unwrap_err();
    let line = 1 + text.lines().position(|l| l.contains("cut_out")).unwrap();
    assert_eq!(
        problems[0].to_string(),
        format!(
            "orchard-cottage.ron:{line}:22: wall.pressure_switch.cut_out: \"35 psi\" is not above \
             cut_in \"40 psi\"; accepted: more than 40 psi and at most the tank's rated pressure \
             100 psi"
        )
    );
}

#[test]
fn faulty_settings_are_legal_sites() {
    for (old, new) in [
        // Waterlogged, precharge above cut-in, beyond the pump's reach, wrong voltage.
        ("precharge: \"38 psi\"", "precharge: \"0 psi\""),
        ("precharge: \"38 psi\"", "precharge: \"52 psi\""),
        (
            "cut_out: \"60 psi\", port_lag: \"50 ms\"),",
            "cut_out: \"99 psi\", port_lag: \"20 min\"),",
        ),
        ("voltage: \"115 V\", freq", "voltage: \"230 V\", freq"),
        ("water_depth: \"5 ft\"", "water_depth: \"0 ft\""),
    ] {
        let mut text = template("template-cistern");
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
        if new.contains("99 psi") {
            text = text.replace("set_pressure: \"75 psi\"", "set_pressure: \"100 psi\"");
        }
        parse_valid("template-cistern", &text);
    }
}

#[test]
fn every_choice_of_the_format_makes_a_site() {
    let upright = "UprightCylinder(diameter: \"7 ft\", height: \"8 ft\")";
    let floating = "Floating(below_surface: \"16 in\", lowest_above_floor: \"8 in\")";
    let pipe = "\"1 in sch40 pvc\"";
    for (old, new) in [
        (
            upright,
            "LyingCylinder(diameter: \"8 ft\", length: \"12 ft\")",
        ),
        (
            upright,
            "Box(length: \"9 ft\", width: \"6 ft\", height: \"8 ft\")",
        ),
        (floating, "Fixed(above_floor: \"1 ft\")"),
        (floating, "Fixed(depth: \"8 ft 6 in\")"),
        (pipe, "\"1 in pe sidr7\""),
        (pipe, "\"1 IN\""),
        (pipe, "\"32 mm hdpe pn10\""),
        (pipe, "\"28 mm copper\""),
        (pipe, "\"1 in galvanised steel\""),
        ("floor_depth: \"10 ft\"", "floor_depth: Some(\"10 ft\")"),
        ("vent: \"40 s\"", "vent: None"),
        (
            "fittings: 1.5",
            "fittings: [\"1 entrance\", \"45 elbow\", \"2 unions\"]",
        ),
    ] {
        let text = template("template-cistern");
        assert_eq!(text.matches(old).count(), 1, "{old}");
        let result = parse("template-cistern.ron", text.replace(old, new));
        assert_eq!(result.is_ok(), new != "\"1 IN\"", "{new}: {result:?}");
    }
}

#[test]
fn the_order_of_fields_and_outlets_means_nothing() {
    let text = template("template-cistern");
    let lines: Vec<&str> = text.lines().collect();
    let at = |needle: &str| lines.iter().position(|l| l.starts_with(needle)).unwrap();
    // Top-level sections: from one line with four blanks to the next.
    let mut sections: Vec<String> = Vec::new();
    for line in &lines[at("(") + 1..at(")")] {
        let begins = line.starts_with("    ") && line.as_bytes()[4].is_ascii_lowercase();
        if begins {
            sections.push(String::new());
        }
        let section = sections.last_mut().unwrap();
        section.push_str(line);
        section.push('\n');
    }
    assert!(sections.len() > 10);
    sections.reverse();
    let tap = lines.iter().find(|l| l.contains("kitchen-tap")).unwrap();
    let shower = lines.iter().find(|l| l.contains("shower")).unwrap();
    let permuted = format!("(\n{})\n", sections.concat())
        .replace(&format!("{tap}\n{shower}"), &format!("{shower}\n{tap}"))
        .replace(
            "cut_in: \"40 psi\", cut_out: \"60 psi\"",
            "cut_out: \"60 psi\", cut_in: \"40 psi\"",
        );
    assert_ne!(permuted, text);
    assert_eq!(
        parse_valid("template-cistern", &permuted),
        parse_valid("template-cistern", &text)
    );
}

#[test]
fn units_of_either_system_give_the_same_site() {
    let us = parse_valid("template-cistern", &template("template-cistern"));
    let si = template("template-cistern")
        .replace("depth: \"9 ft\"", "depth: \"2.7432 m\"")
        .replace("diameter: \"7 ft\"", "diameter: Some(\"2133.6 mm\")");
    let si = parse_valid("template-cistern", &si);
    assert!((us.pump.elevation.si() - si.pump.elevation.si()).abs() < 1e-12);
    assert_eq!(us.wall, si.wall);
}

#[test]
fn huge_and_deeply_nested_files_are_refused_at_once() {
    let too_large = "(a: ".repeat(10 * 1024 * 1024 / 4);
    assert_well_formed(
        "10 MiB of nesting",
        &parse("deep.ron", too_large).unwrap_err(),
    );
    for piece in [
        "(a: ", "[", "[[", "Some(", "(", "/*", "\"", "r#\"", ",", ":", "a", "#", "1", "@ ",
    ] {
        let text = piece.repeat(MAX_FILE_BYTES / piece.len());
        assert_well_formed(piece, &parse("deep.ron", text).unwrap_err());
    }
    let wide = format!("(fixtures: [{}])", "(),".repeat(200_000));
    assert_well_formed("wide", &parse("wide.ron", wide).unwrap_err());
}

/// A way to spoil a text.
#[derive(Debug, Clone)]
pub(crate) enum Mutation {
    Flip(prop::sample::Index, u8),
    Delete(prop::sample::Index, usize),
    Duplicate(prop::sample::Index, usize),
    Swap(prop::sample::Index, prop::sample::Index),
    Insert(prop::sample::Index, &'static str),
}

pub(crate) fn mutation() -> impl Strategy<Value = Mutation> {
    let pieces = vec![
        "(", ")", "[", "]", "{", "\"", ",", ":", "/*", "//", "-", "e", "None", "Some(", "\u{fffd}",
        "\n", "0", "1e308", " at ", "#",
    ];
    prop_oneof![
        (any::<prop::sample::Index>(), 1_u8..).prop_map(|(at, bits)| Mutation::Flip(at, bits)),
        (any::<prop::sample::Index>(), 1_usize..40).prop_map(|(at, n)| Mutation::Delete(at, n)),
        (any::<prop::sample::Index>(), 1_usize..200).prop_map(|(at, n)| Mutation::Duplicate(at, n)),
        (any::<prop::sample::Index>(), any::<prop::sample::Index>())
            .prop_map(|(a, b)| Mutation::Swap(a, b)),
        (any::<prop::sample::Index>(), prop::sample::select(pieces))
            .prop_map(|(at, piece)| Mutation::Insert(at, piece)),
    ]
}

pub(crate) fn mutate(mut text: Vec<u8>, mutations: &[Mutation]) -> Vec<u8> {
    for mutation in mutations {
        let len = text.len().max(1);
        match mutation {
            Mutation::Flip(at, bits) => {
                if let Some(byte) = text.get_mut(at.index(len)) {
                    *byte ^= bits;
                }
            }
            Mutation::Delete(at, n) => {
                let from = at.index(len).min(text.len());
                let to = (from + n).min(text.len());
                text.drain(from..to);
            }
            Mutation::Duplicate(at, n) => {
                let from = at.index(len).min(text.len());
                let to = (from + n).min(text.len());
                let copy = text[from..to].to_vec();
                text.splice(from..from, copy);
            }
            Mutation::Swap(a, b) => {
                // Tokens, roughly: what stands between blanks.
                let words: Vec<&[u8]> = text.split(|byte| *byte == b' ').collect();
                let mut order: Vec<usize> = (0..words.len()).collect();
                order.swap(a.index(words.len()), b.index(words.len()));
                let swapped: Vec<&[u8]> = order.iter().map(|idx| words[*idx]).collect();
                text = swapped.join(&b' ');
            }
            Mutation::Insert(at, piece) => {
                let from = at.index(len).min(text.len());
                text.splice(from..from, piece.bytes());
            }
        }
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn a_spoilt_site_is_refused_in_good_order_or_is_a_site(
        is_hill_farm in any::<bool>(),
        mutations in prop::collection::vec(mutation(), 1..8),
    ) {
        let name = if is_hill_farm { "hill-farm" } else { "orchard-cottage" };
        let text = mutate(demo_site(name).into_bytes(), &mutations);
        match parse(&format!("{name}.ron"), &text) {
            Err(problems) => assert_well_formed(name, &problems),
            // Differential: whatever is accepted, an independent reader of the
            // notation accepts as well.
            Ok(_) => {
                let text = String::from_utf8(text).unwrap();
                prop_assert!(ron::from_str::<ron::Value>(&text).is_ok());
            }
        }
    }

    #[test]
    fn any_bytes_are_refused_in_good_order(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        assert_well_formed("bytes", &parse("bytes.ron", &bytes).unwrap_err());
    }
}
