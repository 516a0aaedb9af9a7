//! Words in lines.

/// Breaks a text into lines of at most so many characters, at its spaces; a longer word
/// stands alone.
pub(in crate::cli) fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut n_chars = 0;
    for word in text.split_whitespace() {
        let n_word = word.chars().count();
        if n_chars > 0 && n_chars + 1 + n_word > columns {
            lines.push(String::new());
            n_chars = 0;
        }
        if let Some(line) = lines.last_mut() {
            if n_chars > 0 {
                line.push(' ');
                n_chars += 1;
            }
            line.push_str(word);
            n_chars += n_word;
        }
    }
    lines
}

/// A text behind a label, its further lines under its first.
pub(super) fn hang(label: &str, indent: usize, text: &str, columns: usize) -> String {
    let mut shown = String::new();
    let mut head = label;
    for line in wrap(text, columns.saturating_sub(indent)) {
        shown += format!("{head:<indent$}{line}").trim_end();
        shown.push('\n');
        head = "";
    }
    shown
}

/// With a capital letter.
pub(in crate::cli) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
