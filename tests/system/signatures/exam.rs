//! What an examination of a site came to: numbers read, things perceived, and for what
//! could not be had, why.
//!
//! Everything here was got through `Visit::perform`: readings of instruments and names of
//! cues.  No state of the plant gets in.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use sim_core::cues::Cue;

/// One observable.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Finding {
    /// A number, in the unit that its name goes with.
    Number(f64),
    /// What a display or a person says.
    Text(String),
    /// It could not be had, and why.
    None(String),
}

/// All observables of one examination.
#[derive(Debug, Clone, Default)]
pub(super) struct Exam {
    /// Site and fault, for messages.
    pub(super) title: String,
    findings: BTreeMap<String, Finding>,
    /// Cues by occasion: names, each with what was said of it last.
    cues: BTreeMap<String, BTreeMap<String, String>>,
}

impl Exam {
    pub(super) fn new(title: String) -> Self {
        Self {
            title,
            ..Self::default()
        }
    }

    pub(super) fn put(&mut self, name: &str, finding: Finding) {
        self.findings.insert(name.to_owned(), finding);
    }

    pub(super) fn put_number(&mut self, name: &str, value: f64) {
        self.put(name, Finding::Number(value));
    }

    /// Adds perceived cues to an occasion.
    pub(super) fn perceive(&mut self, occasion: &str, cues: &[Cue]) {
        let list = self.cues.entry(occasion.to_owned()).or_default();
        for cue in cues {
            list.insert(cue.name.clone(), cue.caption.clone());
        }
    }

    /// Names for which nothing was put get a reason.
    pub(super) fn excuse(&mut self, names: &[&str], reason: &str) {
        for name in names {
            self.findings
                .entry((*name).to_owned())
                .or_insert_with(|| Finding::None(reason.to_owned()));
        }
    }

    pub(super) fn get(&self, name: &str) -> Option<f64> {
        match self.findings.get(name) {
            Some(Finding::Number(value)) => Some(*value),
            Some(_) => None,
            None => panic!("{}: the examination has no `{name}`:\n{}", self.title, self),
        }
    }

    /// A number that must have been had.
    #[track_caller]
    pub(super) fn number(&self, name: &str) -> f64 {
        self.get(name)
            .unwrap_or_else(|| panic!("{}: no number for `{name}`:\n{self}", self.title))
    }

    /// Whether nothing could be read: no number, by a display's OL or for another reason.
    pub(super) fn has_none(&self, name: &str) -> bool {
        self.get(name).is_none()
    }

    /// What a display or a person said; the reason where there was nothing.
    pub(super) fn text(&self, name: &str) -> String {
        match self.findings.get(name) {
            Some(Finding::Text(text)) => text.clone(),
            Some(Finding::None(reason)) => reason.clone(),
            Some(Finding::Number(value)) => value.to_string(),
            None => panic!("{}: the examination has no `{name}`:\n{}", self.title, self),
        }
    }

    fn occasion(&self, occasion: &str) -> &BTreeMap<String, String> {
        self.cues
            .get(occasion)
            .unwrap_or_else(|| panic!("{}: no occasion `{occasion}`:\n{self}", self.title))
    }

    /// Whether a cue was perceived on an occasion.
    pub(super) fn has(&self, occasion: &str, cue: &str) -> bool {
        self.occasion(occasion).contains_key(cue)
    }

    /// What a cue said on an occasion; nothing when it was not perceived.
    pub(super) fn said(&self, occasion: &str, cue: &str) -> &str {
        self.occasion(occasion).get(cue).map_or("", String::as_str)
    }

    /// Whether a cue was perceived on any occasion.
    pub(super) fn has_anywhere(&self, cue: &str) -> bool {
        self.cues.values().any(|names| names.contains_key(cue))
    }

    /// Every cue, each once, over all occasions.
    pub(super) fn all_cues(&self) -> BTreeSet<&str> {
        self.cues
            .values()
            .flat_map(BTreeMap::keys)
            .map(String::as_str)
            .collect()
    }
}

impl std::fmt::Display for Exam {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut text = String::new();
        for (name, finding) in &self.findings {
            match finding {
                Finding::Number(value) => writeln!(text, "  {name:24} {value:.3}")?,
                Finding::Text(words) => writeln!(text, "  {name:24} {words}")?,
                Finding::None(reason) => writeln!(text, "  {name:24} none: {reason}")?,
            }
        }
        for (occasion, names) in &self.cues {
            let names: Vec<&str> = names.keys().map(String::as_str).collect();
            writeln!(text, "  {occasion:24} {}", names.join(" "))?;
        }
        f.write_str(&text)
    }
}
