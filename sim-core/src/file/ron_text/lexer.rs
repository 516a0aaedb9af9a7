//! Cuts a file's text into tokens with positions.
//!
//! Every character is looked at once.  What cannot be a token is reported (a run
//! of such characters as one problem) and passed over.

use std::str::Chars;

use crate::file::problem::{Position, Problems, quoted};

/// Longest number that is read [characters].
const MAX_NUMBER_CHARS: usize = 32;

/// A token and where it begins.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Token {
    /// Where it begins.
    pub(crate) at: Position,
    /// What it is.
    pub(crate) kind: TokenKind,
}

/// What a token is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum TokenKind {
    /// `(`, `[` or `{`.
    Open(char),
    /// `)`, `]` or `}`.
    Close(char),
    /// `:`.
    Colon,
    /// `=`, which people write for `:`.
    Equals,
    /// `,`, or `;` after it was reported.
    Comma,
    /// A bare name.
    Name(String),
    /// Text in quotes; `None` when damaged and reported.
    Text(Option<String>),
    /// A number as written and read; `None` when damaged and reported.
    Number(Option<(String, f64)>),
    /// End of the file.
    End,
}

/// The token stream of one file.
#[derive(Debug)]
pub(crate) struct Lexer<'a> {
    rest: Chars<'a>,
    at: Position,
    problems: &'a Problems,
}

impl<'a> Lexer<'a> {
    /// Tokens of `text`.
    pub(crate) fn new(text: &'a str, problems: &'a Problems) -> Self {
        Self {
            rest: text.chars(),
            at: Position::START,
            problems,
        }
    }

    /// The next token; [`TokenKind::End`] again and again once the text is used up.
    pub(crate) fn next_token(&mut self, path: &[String]) -> Token {
        loop {
            self.skip_blanks(path);
            let at = self.at;
            let Some(first) = self.peek() else {
                return Token {
                    at,
                    kind: TokenKind::End,
                };
            };
            if let Some(kind) = self.token(first, at, path) {
                return Token { at, kind };
            }
        }
    }

    fn token(&mut self, first: char, at: Position, path: &[String]) -> Option<TokenKind> {
        let kind = match first {
            '(' | '[' | '{' => {
                self.bump();
                TokenKind::Open(first)
            }
            ')' | ']' | '}' => {
                self.bump();
                TokenKind::Close(first)
            }
            ':' => {
                self.bump();
                TokenKind::Colon
            }
            '=' => {
                self.bump();
                TokenKind::Equals
            }
            ',' => {
                self.bump();
                TokenKind::Comma
            }
            ';' => {
                self.bump();
                self.report(path, at, "`;` between fields", "a comma `,`");
                TokenKind::Comma
            }
            '"' => {
                self.bump();
                TokenKind::Text(self.text(at, path))
            }
            'r' if self.is_raw_text_ahead() => TokenKind::Text(self.raw_text(at, path)),
            '0'..='9' | '-' | '+' | '.' => TokenKind::Number(self.number(at, path)),
            'a'..='z' | 'A'..='Z' | '_' => TokenKind::Name(self.name()),
            _ => {
                self.skip_strange(at, path);
                return None;
            }
        };
        Some(kind)
    }

    /// Reports with the name of the part, which is only put together when it is shown.
    fn report(
        &self,
        path: &[String],
        at: Position,
        message: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        let part = if self.problems.is_full() {
            String::new()
        } else {
            path.join(".")
        };
        self.problems.report(at, &part, message, accepted);
    }

    fn peek(&self) -> Option<char> {
        self.rest.clone().next()
    }

    fn peek_second(&self) -> Option<char> {
        self.rest.clone().nth(1)
    }

    fn bump(&mut self) -> Option<char> {
        let character = self.rest.next()?;
        if character == '\n' {
            self.at.line += 1;
            self.at.column = 1;
        } else {
            self.at.column += 1;
        }
        Some(character)
    }

    /// Passes over white space and comments.
    fn skip_blanks(&mut self, path: &[String]) {
        loop {
            match (self.peek(), self.peek_second()) {
                (Some(' ' | '\t' | '\n' | '\r'), _) => {
                    self.bump();
                }
                (Some('/'), Some('/')) => {
                    while self.peek().is_some_and(|c| c != '\n') {
                        self.bump();
                    }
                }
                (Some('/'), Some('*')) => self.skip_block_comment(path),
                _ => return,
            }
        }
    }

    fn skip_block_comment(&mut self, path: &[String]) {
        let at = self.at;
        let mut depth = 0_usize;
        loop {
            match (self.peek(), self.peek_second()) {
                (Some('/'), Some('*')) => {
                    self.bump();
                    self.bump();
                    depth += 1;
                }
                (Some('*'), Some('/')) => {
                    self.bump();
                    self.bump();
                    depth -= 1;
                    if depth == 0 {
                        return;
                    }
                }
                (Some(_), _) => {
                    self.bump();
                }
                (None, _) => {
                    self.report(
                        path,
                        at,
                        "this comment is never closed",
                        "`*/` for every `/*`",
                    );
                    return;
                }
            }
        }
    }

    /// Passes over a run of characters that begin no token.
    fn skip_strange(&mut self, at: Position, path: &[String]) {
        const MAX_SHOWN: usize = 16;
        let mut run = String::new();
        let mut run_chars = 0_usize;
        while let Some(character) = self.peek() {
            let begins_token = character.is_ascii_alphanumeric()
                || matches!(
                    character,
                    '(' | ')' | '[' | ']' | '{' | '}' | ':' | '=' | ',' | ';' | '"'
                )
                || matches!(character, '-' | '+' | '.' | '_' | ' ' | '\t' | '\n' | '\r');
            if begins_token || (character == '/' && run_chars > 0) {
                break;
            }
            self.bump();
            run_chars += 1;
            if run_chars <= MAX_SHOWN {
                run.push(character);
            }
        }
        self.report(
            path,
            at,
            format!("{} has no meaning here", quoted(&run)),
            "names, numbers, text in \"quotes\", parentheses, commas and // comments",
        );
    }

    fn name(&mut self) -> String {
        let mut name = String::new();
        while let Some(character) = self.peek() {
            if !(character.is_ascii_alphanumeric() || character == '_') {
                break;
            }
            name.push(character);
            self.bump();
        }
        name
    }

    /// Sign, digits, point, exponent; anything glued to it is taken in and refused.
    fn number(&mut self, at: Position, path: &[String]) -> Option<(String, f64)> {
        let mut written = String::new();
        let mut n_chars = 0_usize;
        while let Some(character) = self.peek() {
            let sign_of_exponent =
                matches!(character, '-' | '+') && (n_chars == 0 || written.ends_with(['e', 'E']));
            if !(character.is_ascii_alphanumeric()
                || matches!(character, '.' | '_')
                || sign_of_exponent)
            {
                break;
            }
            self.bump();
            n_chars += 1;
            if n_chars <= MAX_NUMBER_CHARS {
                written.push(character);
            }
        }
        if n_chars <= MAX_NUMBER_CHARS
            && let Some(number) = plain_number(&written)
        {
            return Some((written, number));
        }
        self.report(
            path,
            at,
            format!("{} is not a number", quoted(&written)),
            "a number such as 2, -0.5 or 1.5e-3; quantities stand in quotes with their unit, \
             such as \"40 psi\"",
        );
        None
    }

    fn text(&mut self, at: Position, path: &[String]) -> Option<String> {
        let mut text = String::new();
        let mut is_whole = true;
        loop {
            match self.peek() {
                None | Some('\n') => {
                    self.report(
                        path,
                        at,
                        "this text is not closed on its line",
                        "a second `\"` on the same line",
                    );
                    return None;
                }
                Some('"') => {
                    self.bump();
                    return is_whole.then_some(text);
                }
                Some('\\') => {
                    let escape_at = self.at;
                    self.bump();
                    match self.escape() {
                        Some(character) => text.push(character),
                        None => {
                            is_whole = false;
                            self.report(
                                path,
                                escape_at,
                                "unknown escape after `\\`",
                                "\\\", \\\\, \\n, \\t, \\r or \\u{..}",
                            );
                        }
                    }
                }
                Some(character) => {
                    text.push(character);
                    self.bump();
                }
            }
        }
    }

    /// The character that the escape after a backslash stands for.
    fn escape(&mut self) -> Option<char> {
        match self.peek()? {
            '\n' => None,
            'u' => {
                self.bump();
                if self.peek() != Some('{') {
                    return None;
                }
                self.bump();
                let mut digits = String::new();
                while let Some(digit) = self.peek().filter(char::is_ascii_hexdigit) {
                    if digits.len() == 6 {
                        return None;
                    }
                    digits.push(digit);
                    self.bump();
                }
                if self.peek() != Some('}') {
                    return None;
                }
                self.bump();
                u32::from_str_radix(&digits, 16)
                    .ok()
                    .and_then(char::from_u32)
            }
            simple => {
                let character = match simple {
                    '"' => '"',
                    '\\' => '\\',
                    'n' => '\n',
                    't' => '\t',
                    'r' => '\r',
                    _ => return None,
                };
                self.bump();
                Some(character)
            }
        }
    }

    /// Whether `r"` or `r#..#"` comes next, rather than a name that begins with r.
    fn is_raw_text_ahead(&self) -> bool {
        let mut ahead = self.rest.clone();
        ahead.next();
        // A bound, so that a long row of `#` is not looked at again and again.
        for _ in 0..=MAX_HASHES {
            match ahead.next() {
                Some('#') => {}
                Some('"') => return true,
                _ => return false,
            }
        }
        false
    }

    fn raw_text(&mut self, at: Position, path: &[String]) -> Option<String> {
        self.bump();
        let mut n_hashes = 0_usize;
        while self.bump() == Some('#') {
            n_hashes += 1;
        }
        let mut text = String::new();
        loop {
            let Some(character) = self.bump() else {
                self.report(
                    path,
                    at,
                    "this raw text is never closed",
                    "`\"` and as many `#` as it began with",
                );
                return None;
            };
            if character == '"' {
                let hashes = self.rest.clone().take(n_hashes);
                if hashes.filter(|c| *c == '#').count() == n_hashes {
                    for _ in 0..n_hashes {
                        self.bump();
                    }
                    return Some(text);
                }
            }
            text.push(character);
        }
    }
}

/// Most `#` around a raw text.
const MAX_HASHES: usize = 8;

/// A finite decimal number: sign, digits, point and digits, exponent.
fn plain_number(written: &str) -> Option<f64> {
    let unsigned = written.strip_prefix(['-', '+']).unwrap_or(written);
    let is_plain = unsigned.starts_with(|c: char| c.is_ascii_digit())
        && unsigned
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | 'e' | 'E' | '-' | '+'));
    // Whole numbers beyond 18 digits would not fit what other RON readers hold.
    let is_whole = unsigned.chars().all(|c| c.is_ascii_digit());
    if !is_plain || (is_whole && unsigned.len() > 18) {
        return None;
    }
    written
        .parse()
        .ok()
        .filter(|number: &f64| number.is_finite())
}
