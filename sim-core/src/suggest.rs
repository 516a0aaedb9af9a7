//! "Did you mean": the accepted name nearest to a mistyped one.

/// The accepted name with the fewest edits from `typed`, if that is few enough to be a
/// slip; the first of equals.
pub(crate) fn nearest<'a>(
    typed: &str,
    accepted: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let typed = typed.to_lowercase();
    let allowed = (typed.chars().count() / 3).max(1);
    accepted
        .into_iter()
        .map(|name| {
            let begins = typed.len() >= 3 && name.starts_with(&typed);
            let edits = if begins { 0 } else { edits(&typed, name) };
            (edits, name)
        })
        .filter(|&(edits, _)| edits <= allowed)
        .min_by_key(|&(edits, _)| edits)
        .map(|(_, name)| name)
}

/// Levenshtein distance: letters inserted, dropped or replaced.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter_a) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &letter_b) in b.iter().enumerate() {
            let replaced = diagonal + usize::from(letter_a != letter_b);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name_and_a_stranger_finds_none() {
        let names = ["orchard-cottage", "hill-farm"];
        assert_eq!(nearest("orchard-cotage", names), Some("orchard-cottage"));
        assert_eq!(nearest("Hill-Farm", names), Some("hill-farm"));
        assert_eq!(nearest("orchard", names), Some("orchard-cottage"));
        assert_eq!(nearest("lighthouse", names), None);
        assert_eq!(nearest("", names), None);
    }
}
