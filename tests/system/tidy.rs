//! Pages for people name what is there: folders, files, commands.

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn page(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// What stands between single backticks outside of blocks of code.
fn code_words(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut is_block = false;
    for line in text.lines() {
        if line.starts_with("```") {
            is_block = !is_block;
        } else if !is_block {
            words.extend(line.split('`').skip(1).step_by(2).map(str::to_owned));
        }
    }
    words
}

/// Targets of links to files.
fn links(text: &str) -> Vec<String> {
    text.split("](")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
        .map(|target| target.split('#').next().unwrap_or(target).to_owned())
        .filter(|target| !target.is_empty() && !target.contains("://"))
        .collect()
}

/// Pages for people.
fn pages() -> Vec<String> {
    let mut pages = vec![
        "README.md".to_owned(),
        "DEVELOPERS.md".to_owned(),
        "scenarios/README.md".to_owned(),
    ];
    let mut docs: Vec<String> = fs::read_dir(root().join("docs"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".md"))
        .map(|name| format!("docs/{name}"))
        .collect();
    docs.sort();
    pages.extend(docs);
    pages
}

#[test]
fn every_path_named_in_developers_md_exists() {
    let text = page("DEVELOPERS.md");
    let mut bases: Vec<PathBuf> = vec![root(), root().join("sim-core/src")];
    bases.push(root().join("sim-core/src/session"));
    let mut n_paths = 0;
    for word in code_words(&text) {
        let is_path = word.contains('/')
            && !word.contains(' ')
            && !word.contains("::")
            && !word.starts_with('/');
        if !is_path {
            continue;
        }
        n_paths += 1;
        assert!(
            bases.iter().any(|base| base.join(&word).exists()),
            "DEVELOPERS.md names `{word}`, which is neither in the project nor in sim-core/src"
        );
    }
    assert!(n_paths > 30, "the test has lost its paths: {n_paths}");
}

#[test]
fn the_code_map_has_every_folder_of_the_core() {
    let text = page("DEVELOPERS.md");
    for folder in ["sim-core/src", "sim-core/src/cli"] {
        for entry in fs::read_dir(root().join(folder)).unwrap() {
            let entry = entry.unwrap();
            let name = entry.file_name().into_string().unwrap();
            if entry.path().is_dir() && !matches!(name.as_str(), "bin" | "snapshots") {
                let is_named = code_words(&text)
                    .iter()
                    .any(|word| word == &name || word.ends_with(&format!("/{name}")));
                assert!(is_named, "the code map lacks `{folder}/{name}`");
            }
        }
    }
}

#[test]
fn links_lead_somewhere() {
    for name in pages() {
        let folder = root().join(&name).parent().unwrap().to_owned();
        for target in links(&page(&name)) {
            assert!(
                folder.join(&target).exists(),
                "{name} links to {target}, which is not there"
            );
        }
    }
}

#[test]
fn the_index_of_docs_lists_every_page_once() {
    let index = page("docs/README.md");
    let listed = links(&index);
    for name in pages() {
        if let Some(name) = name
            .strip_prefix("docs/")
            .filter(|name| *name != "README.md")
        {
            let n = listed.iter().filter(|link| *link == name).count();
            assert_eq!(n, 1, "docs/README.md lists {name} {n} times");
        }
    }
}

#[test]
fn the_cautions_begin_the_readme_and_both_guides() {
    for name in [
        "README.md",
        "docs/apprentices-guide.md",
        "docs/trainers-guide.md",
    ] {
        let text = page(name);
        let beginning: String = text.lines().take(14).collect::<Vec<_>>().join(" ");
        for caution in [
            "simulator",
            "training values",
            "ocal codes and licensed practice decide",
            "people trained to take them",
            "ains voltage, stored pressure, confined spaces and drinking water can kill",
        ] {
            assert!(
                beginning.contains(caution),
                "{name} begins without: {caution}"
            );
        }
    }
    for name in [
        "docs/trainers-guide.md",
        "docs/apprentices-guide.md",
        "docs/marking.md",
    ] {
        let text = page(name);
        assert!(
            text.contains("not a certificate of competence"),
            "{name} does not say what a mark is not"
        );
    }
}
