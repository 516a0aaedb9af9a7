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

/// Edits between two words: letters inserted, dropped, replaced, or two neighbors swapped
/// (optimal string alignment).
fn edits(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let replaced = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = replaced.min(row[j - 1] + 1).min(last[j] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(before[j - 2] + 1);
            }
            row.push(least);
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
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
        assert_eq!(nearest("raed", ["read", "wait"]), Some("read"));
        assert_eq!(nearest("lighthouse", names), None);
        assert_eq!(nearest("", names), None);
    }
}
