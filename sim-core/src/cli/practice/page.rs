//! The page that is written on: its width, and whether it can show color.

/// Narrowest page that is written for [columns].
const NARROWEST: usize = 24;
/// Widest: longer lines are hard to read [columns].
const WIDEST: usize = 120;

/// A page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) struct Page {
    columns: usize,
    has_color: bool,
}

/// How a text is set off, beside the words that already say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum Ink {
    /// A caution.
    Caution,
    /// A dangerous act.
    Stop,
    /// A heading.
    Heading,
}

impl Page {
    /// A page without color.
    pub(in crate::cli) fn plain(columns: usize) -> Self {
        Self {
            columns: columns.clamp(NARROWEST, WIDEST),
            has_color: false,
        }
    }

    /// A terminal's page.
    pub(in crate::cli) fn terminal(columns: usize) -> Self {
        Self {
            has_color: std::env::var_os("NO_COLOR").is_none(),
            ..Self::plain(columns)
        }
    }

    /// Width [columns].
    pub(in crate::cli) const fn columns(self) -> usize {
        self.columns
    }

    /// A paragraph wrapped to the page: the first line begins with `first`, the others with
    /// as many blanks.
    pub(in crate::cli) fn paragraph(self, first: &str, text: &str) -> String {
        let indent = first.chars().count();
        if indent > self.columns / 2 {
            return self.paragraph("  ", &format!("{} {text}", first.trim()));
        }
        let room = self.columns - indent;
        let mut lines: Vec<String> = Vec::new();
        let mut line = String::new();
        for word in text.split_whitespace().flat_map(|word| pieces(word, room)) {
            let needed = line.chars().count() + 1 + word.chars().count();
            if !line.is_empty() && needed > room {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&word);
        }
        lines.push(line);
        let blanks = " ".repeat(indent);
        let mut all = String::new();
        for (index, line) in lines.iter().enumerate() {
            let head = if index == 0 { first } else { &blanks };
            all.push_str(format!("{head}{line}").trim_end());
            all.push('\n');
        }
        all
    }

    /// A text in an ink where the page has color.
    pub(in crate::cli) fn inked(self, ink: Ink, text: &str) -> String {
        if !self.has_color {
            return text.to_owned();
        }
        let code = match ink {
            Ink::Caution => "33",
            Ink::Stop => "1;31",
            Ink::Heading => "1",
        };
        text.lines()
            .map(|line| format!("\u{1b}[{code}m{line}\u{1b}[0m\n"))
            .collect()
    }
}

/// A word in pieces that fit.
fn pieces(word: &str, room: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunks(room.max(1))
        .map(|piece| piece.iter().collect())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_page() {
        let text = "The needle stands at 42 psi and anextraordinarilylongwordthatfitsnolineofanarrowpage does not move.";
        for columns in [24, 40, 60, 80, 120] {
            for first in ["", "  ", "Caution: "] {
                let paragraph = Page::plain(columns).paragraph(first, text);
                for line in paragraph.lines() {
                    assert!(line.chars().count() <= columns, "{columns}: {line}");
                }
                let letters = |text: &str| {
                    text.chars()
                        .filter(|c| !c.is_whitespace())
                        .collect::<String>()
                };
                assert_eq!(letters(&paragraph), letters(&format!("{first}{text}")));
            }
        }
    }
}
