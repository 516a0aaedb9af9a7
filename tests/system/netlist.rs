//! Reads the circuits of `tests/data/netlists` into networks of ours.
//!
//! The same text is solved by ngspice, so this reads exactly the forms that stand there
//! and refuses all else: a title line, `R`, `L`, `C` and `V … AC magnitude [phase]` with
//! the suffixes of numbers, one `.ac` line with one frequency, and a `.control` block
//! whose printing is not ours to read.  Node 0 is the reference.

use std::path::{Path, PathBuf};

use sim_core::electric::{Complex, Element, Frequency, Network, NetworkBuilder};

/// A circuit with its text.
#[derive(Debug)]
pub(crate) struct Netlist {
    pub(crate) name: String,
    pub(crate) text: String,
    pub(crate) network: Network,
    pub(crate) frequency: Frequency,
    /// Names of the voltage sources, as written.
    pub(crate) sources: Vec<String>,
}

pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/netlists")
}

/// Every circuit, in the order of their names.
pub(crate) fn all() -> Vec<Netlist> {
    let mut names: Vec<String> = std::fs::read_dir(folder())
        .expect("the folder of netlists is there")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter_map(|file| file.strip_suffix(".cir").map(str::to_owned))
        .collect();
    names.sort();
    names.iter().map(|name| load(name)).collect()
}

/// The circuit of a name.
pub(crate) fn load(name: &str) -> Netlist {
    let path = folder().join(format!("{name}.cir"));
    let text = std::fs::read_to_string(&path)
        .unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    parse(name, &text).unwrap_or_else(|line| panic!("{name}: cannot read {line:?}"))
}

/// Gives the line that it cannot read when there is one.
fn parse(name: &str, text: &str) -> Result<Netlist, String> {
    let mut builder = NetworkBuilder::new("0");
    let mut frequency = None;
    let mut sources = Vec::new();
    let mut in_control = false;
    // The first line is the title whatever it says.
    for line in text.lines().skip(1) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let refused = || line.to_owned();
        match words[..] {
            [".control"] => in_control = true,
            [".endc"] => in_control = false,
            _ if in_control => {}
            [] | [".end"] => {}
            [first, ..] if first.starts_with('*') => {}
            [".ac", "lin", "1", from, to] if from == to => {
                frequency = Some(Frequency::Alternating {
                    hertz: number(from).ok_or_else(refused)?,
                });
            }
            [part, a, b, ref values @ ..] => {
                let element = element(part, values).ok_or_else(refused)?;
                if matches!(element, Element::VoltageSource { .. }) {
                    sources.push(part.to_owned());
                }
                let (a, b) = (builder.node(a), builder.node(b));
                builder.place(part, a, b, element);
            }
            _ => return Err(refused()),
        }
    }
    Ok(Netlist {
        name: name.to_owned(),
        text: text.to_owned(),
        network: builder
            .build()
            .map_err(|problems| format!("{problems:?}"))?,
        frequency: frequency.ok_or("no .ac line")?,
        sources,
    })
}

fn element(part: &str, values: &[&str]) -> Option<Element> {
    let first = || number(values.first()?);
    let is_single = values.len() == 1;
    match part.chars().next()? {
        'R' if is_single => Some(Element::Resistance { ohm: first()? }),
        'L' if is_single => Some(Element::SeriesRl {
            ohm: 0.0,
            henry: first()?,
        }),
        'C' if is_single => Some(Element::Capacitance { farad: first()? }),
        'V' => {
            let (magnitude, degrees) = match values {
                ["AC", magnitude] => (number(magnitude)?, 0.0),
                ["AC", magnitude, phase] => (number(magnitude)?, number(phase)?),
                _ => return None,
            };
            Some(Element::ideal_alternating(Complex::phasor(
                magnitude, degrees,
            )))
        }
        _ => None,
    }
}

/// A number with the suffix of its multiple: m is milli, MEG is mega.
fn number(text: &str) -> Option<f64> {
    let text = text.to_ascii_lowercase();
    let multiples = [
        ("meg", 1e6),
        ("p", 1e-12),
        ("n", 1e-9),
        ("u", 1e-6),
        ("m", 1e-3),
        ("k", 1e3),
        ("g", 1e9),
    ];
    for (suffix, multiple) in multiples {
        if let Some(digits) = text.strip_suffix(suffix) {
            return Some(digits.parse::<f64>().ok()? * multiple);
        }
    }
    text.parse().ok()
}

#[test]
fn numbers_are_read_with_their_multiples() {
    for (text, value) in [
        ("10MEG", 1e7),
        ("47.7464829m", 0.047_746_482_9),
        ("1G", 1e9),
        ("20k", 2e4),
        ("0.02", 0.02),
        ("25u", 25e-6),
    ] {
        let read = number(text).unwrap();
        assert!((read / value - 1.0).abs() < 1e-15, "{text}");
    }
    assert_eq!(number("ten"), None);
}

#[test]
fn forms_that_no_netlist_here_has_are_refused() {
    for line in [
        "X1 a b c sub",
        "R1 a 0",
        "R1 a 0 1k 2",
        "V1 a 0 DC 5",
        ".tran 1 2",
        "I1 0 a 1",
    ] {
        let text = format!("* title\nR0 a 0 1\n{line}\n.ac lin 1 60 60\n");
        assert!(parse("test", &text).is_err(), "{line}");
    }
}
