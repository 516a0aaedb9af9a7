//! Names of pages: made of what people typed, safe on every file system, never twice.

use std::collections::BTreeSet;
use std::path::Path;

use crate::marking::Report;

/// Longest part of a name that comes from a person.
const MAX_CHARS: usize = 60;

/// Names given so far.
#[derive(Debug, Default)]
pub(super) struct Names {
    /// In small letters: some file systems know no others.
    taken: BTreeSet<String>,
}

impl Names {
    /// A page's name: person, or else the logbook's name, and scenario.
    pub(super) fn page(&mut self, logbook: &Path, report: &Report) -> String {
        let stem = logbook.file_stem().map(|stem| stem.to_string_lossy());
        let who = [safe(&report.person), safe(stem.as_deref().unwrap_or(""))]
            .into_iter()
            .find(|name| !name.is_empty())
            .unwrap_or_else(|| "logbook".to_owned());
        self.free(&format!("{who}-{}", safe(&report.scenario.name)))
    }

    fn free(&mut self, name: &str) -> String {
        let mut free = format!("{name}.html");
        let mut n = 1_u32;
        while !self.taken.insert(free.to_lowercase()) {
            n += 1;
            free = format!("{name}-{n}.html");
        }
        free
    }
}

/// Letters and digits of a text, a hyphen for everything between them.
fn safe(text: &str) -> String {
    let mut name = String::new();
    for c in text.chars().take(MAX_CHARS) {
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    name.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_plain_and_come_once() {
        for (text, name) in [
            ("Reader One", "Reader-One"),
            ("../../etc/passwd", "etc-passwd"),
            ("a\u{0}b\nc", "a-b-c"),
            ("..", ""),
            ("Zoë", "Zoë"),
            ("\u{202E}gnp.exe", "gnp-exe"),
        ] {
            assert_eq!(safe(text), name);
        }
        assert!(safe(&"x".repeat(5_000)).len() <= MAX_CHARS);
        let mut names = Names::default();
        assert_eq!(names.free("a"), "a.html");
        assert_eq!(names.free("A"), "A-2.html");
        assert_eq!(names.free("a"), "a-3.html");
        // A name that looks like one given for a double is no clash either.
        assert_eq!(names.free("a-2"), "a-2-2.html");
    }
}
