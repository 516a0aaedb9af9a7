//! Why a reading is worth taking, in plain words.

use super::information::View;
use super::shown::{Feature, Shown};
use super::troubleshooter::Troubleshooter;
use crate::faults::FaultKind;

impl Troubleshooter {
    /// A suspect for people: the titles of its faults.
    #[must_use]
    pub fn title(&self, faults: &[FaultKind]) -> String {
        if faults.is_empty() {
            return "nothing is wrong".to_owned();
        }
        let titles: Vec<&str> = faults
            .iter()
            .filter_map(|kind| self.books.catalog.entry(*kind))
            .map(|entry| entry.title.as_str())
            .collect();
        titles.join(" with ")
    }

    /// A suspect taken for granted.
    fn supposed(&self, faults: &[FaultKind]) -> String {
        if faults.is_empty() {
            "If nothing is wrong".to_owned()
        } else {
            format!("If it is {}", self.title(faults))
        }
    }

    /// Which two suspects a view would part, and what it would show with each.
    pub(super) fn why(&self, view: &View) -> String {
        let weights = self.belief.of_hypotheses();
        let groups = self.belief.groups();
        let asked = &self.outlook.twins;
        // The heaviest twin of each group stands for it.
        let mut heads: Vec<(usize, f64, usize)> = Vec::new();
        for (place, at) in asked.iter().enumerate() {
            let (group, weight) = (groups[*at], weights[*at]);
            match heads.iter_mut().find(|head| head.0 == group) {
                Some(head) if head.1 < weight => *head = (group, weight, place),
                Some(_) => {}
                None => heads.push((group, weight, place)),
            }
        }
        heads.sort_by(|a, b| b.1.total_cmp(&a.1));
        for (rank, second) in heads.iter().enumerate().skip(1) {
            for first in &heads[..rank] {
                let pair = (&view.shown[first.2], &view.shown[second.2]);
                if let Some((label, one, other)) = difference(pair.0, pair.1) {
                    return format!(
                        "{}: {label} {one}. {}: {label} {other}.",
                        self.supposed(&self.group_kinds[first.0]),
                        self.supposed(&self.group_kinds[second.0]),
                    );
                }
            }
        }
        "It parts none of the likely suspects.".to_owned()
    }
}

/// What differs most between two twins: what it is, and as what each shows it.
fn difference(one: &[Feature], other: &[Feature]) -> Option<(String, String, String)> {
    let mut most: Option<(f64, (String, String, String))> = None;
    let mut keep = |size: f64, words: (String, String, String)| {
        if size > 2.0 && most.as_ref().is_none_or(|(known, _)| size > *known) {
            most = Some((size, words));
        }
    };
    for feature in one {
        let twin = other.iter().find(|twin| twin.key == feature.key);
        let quoted = |f: &Feature| match f.shown {
            Shown::Cue { .. } => format!("says \"{}\"", f.text),
            Shown::Number { .. } => format!("shows {}", f.text),
            Shown::Word(_) if f.text.is_empty() => "comes as waited for".to_owned(),
            Shown::Word(_) => format!("shows \"{}\"", f.text),
        };
        match twin {
            None => keep(
                3.0,
                (label(feature), quoted(feature), "is not there".to_owned()),
            ),
            Some(twin) => {
                let size = match (feature.shown, twin.shown) {
                    (Shown::Number { value, error, .. }, Shown::Number { value: there, .. }) => {
                        (value - there).abs() / error
                    }
                    (Shown::Word(a), Shown::Word(b)) if a != b => 4.0,
                    (Shown::Cue { words: a, .. }, Shown::Cue { words: b, .. }) if a != b => 2.5,
                    (Shown::Number { .. }, Shown::Word(_))
                    | (Shown::Word(_), Shown::Number { .. }) => 4.0,
                    _ => 0.0,
                };
                keep(size, (label(feature), quoted(feature), quoted(twin)));
            }
        }
    }
    for feature in other {
        if one.iter().all(|twin| twin.key != feature.key) {
            let text = format!("shows \"{}\"", feature.text);
            keep(3.0, (label(feature), "is not there".to_owned(), text));
        }
    }
    most.map(|(_, words)| words)
}

fn label(feature: &Feature) -> String {
    match feature.label.strip_prefix("cue ") {
        Some(name) => format!("the sign `{}`", name.replace('_', " ")),
        None => format!("\"{}\"", feature.label.replace('_', " ")),
    }
}
