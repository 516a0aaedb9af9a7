//! A line cut into words.

/// Words that carry nothing: a line means the same without them.
const FILLERS: &[&str] = &["the", "a", "an", "please", "my", "me", "lets", "just"];

/// The words of a line: lower case, without fillers and without punctuation at their ends.
pub(super) fn split(line: &str) -> Vec<String> {
    line.split_whitespace()
        .flat_map(|word| word.split(','))
        .map(clean)
        .filter(|word| !word.is_empty() && !FILLERS.contains(&word.as_str()))
        .collect()
}

fn clean(word: &str) -> String {
    let word: String = word
        .chars()
        .filter(|letter| !letter.is_control() && !matches!(letter, '\'' | '\u{2019}'))
        .collect();
    word.to_lowercase()
        .trim_matches(|c: char| matches!(c, '"' | '`' | '(' | ')' | ';' | '!' | '?' | ':' | '='))
        .trim_end_matches('.')
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::split;

    #[test]
    fn words_lose_articles_case_and_marks_but_not_their_points() {
        for (line, words) in [
            ("Go to the Panel.", "go to panel"),
            (
                "volts between switch.load1, switch.load2!",
                "volts between switch.load1 switch.load2",
            ),
            ("it's the splice, a bad joint", "its splice bad joint"),
            ("set air to 12.5 psi", "set air to 12.5 psi"),
            ("  \u{7} \t ", ""),
        ] {
            assert_eq!(split(line).join(" "), words, "{line}");
        }
    }
}
