//! Builds the tree of values, and carries on after a mistake so that one run
//! shows them all.
//!
//! After something unexpected the reader reports it once, marks the surrounding
//! struct or list as damaged, and goes on at the next comma or closing bracket
//! of the same level.

use super::lexer::{Lexer, Token, TokenKind};
use super::value::{Field, Value, ValueKind};
use crate::file::problem::{Position, Problems, quoted};

/// Deepest nesting of parentheses and lists; real files need about six.
pub(crate) const MAX_DEPTH: usize = 64;

/// Most values in one file, which bounds the memory of the tree.
pub(crate) const MAX_VALUES: usize = 20_000;

/// Reads a whole file.
pub(crate) fn read(text: &str, problems: &Problems) -> Value {
    let mut reader = Reader {
        lexer: Lexer::new(text, problems),
        ahead: None,
        open: Vec::new(),
        path: Vec::new(),
        n_values: 0,
        is_end_reported: false,
        problems,
    };
    let value = reader.value();
    let after = reader.peek().clone();
    if after.kind != TokenKind::End && !reader.is_end_reported {
        problems.report(
            after.at,
            "",
            format!(
                "{} after the end of the {}",
                describe(&after.kind),
                problems.form().noun
            ),
            "nothing but comments after the last `)`",
        );
    }
    value
}

#[derive(Debug)]
struct Reader<'a> {
    lexer: Lexer<'a>,
    ahead: Option<Token>,
    /// Brackets that are open here, outermost first.
    open: Vec<char>,
    /// Names of the fields that are open here.
    path: Vec<String>,
    n_values: usize,
    is_end_reported: bool,
    problems: &'a Problems,
}

impl Reader<'_> {
    fn peek(&mut self) -> &Token {
        if self.ahead.is_none() {
            self.ahead = Some(self.lexer.next_token(&self.path));
        }
        self.ahead
            .as_ref()
            .expect("filled just above when it was empty")
    }

    fn next(&mut self) -> Token {
        self.peek();
        self.ahead.take().expect("peek has filled it")
    }

    fn report(&self, at: Position, message: impl Into<String>, accepted: impl Into<String>) {
        if self.is_end_reported {
            return;
        }
        let part = if self.problems.is_full() {
            String::new()
        } else {
            self.path.join(".")
        };
        self.problems.report(at, &part, message, accepted);
    }

    fn value(&mut self) -> Value {
        self.n_values += 1;
        let token = self.peek().clone();
        let at = token.at;
        let kind = match token.kind {
            TokenKind::Text(text) => {
                self.next();
                text.map_or(ValueKind::Damaged, ValueKind::Text)
            }
            TokenKind::Number(number) => {
                self.next();
                number.map_or(ValueKind::Damaged, |(written, number)| ValueKind::Number {
                    written,
                    number,
                })
            }
            TokenKind::Name(name) => {
                self.next();
                self.named(name)
            }
            TokenKind::Open('[') => self.list(),
            TokenKind::Open(_) => self.structure(None),
            TokenKind::Close(_) | TokenKind::Comma => {
                self.report(
                    at,
                    format!("{} where a value should stand", describe(&token.kind)),
                    "a value",
                );
                ValueKind::Damaged
            }
            TokenKind::End => {
                self.report(
                    at,
                    "the file ends where a value should stand",
                    self.problems.form().outline,
                );
                self.is_end_reported = true;
                ValueKind::Damaged
            }
            TokenKind::Colon | TokenKind::Equals => {
                self.report(
                    at,
                    format!("{} where a value should stand", describe(&token.kind)),
                    "a value",
                );
                self.next();
                self.skip_to_separator();
                ValueKind::Damaged
            }
        };
        Value { at, kind }
    }

    /// What follows a bare name: nothing, or the fields of a variant.
    fn named(&mut self, name: String) -> ValueKind {
        let is_open = self.peek().kind == TokenKind::Open('(');
        match (name.as_str(), is_open) {
            ("true", _) => ValueKind::Truth(true),
            ("false", _) => ValueKind::Truth(false),
            ("None", _) => ValueKind::Nothing,
            ("Some", true) => self.some(),
            ("Some", false) => {
                let at = self.peek().at;
                self.report(
                    at,
                    "`Some` without a value",
                    "Some(value), or the value alone",
                );
                ValueKind::Damaged
            }
            (_, true) => self.structure(Some(name)),
            (_, false) => ValueKind::Name(name),
        }
    }

    /// `Some(x)` is x: an optional field may be written either way.
    fn some(&mut self) -> ValueKind {
        let opened_at = self.peek().at;
        if !self.enter() {
            return ValueKind::Damaged;
        }
        let inner = self.value();
        if self.peek().kind == TokenKind::Comma {
            self.next();
        }
        let token = self.peek().clone();
        if token.kind != TokenKind::Close(')') {
            self.report(
                token.at,
                format!("{} after the value in `Some(..)`", describe(&token.kind)),
                "one value and `)`",
            );
            self.skip_to_close();
        }
        self.leave(opened_at);
        inner.kind
    }

    fn structure(&mut self, name: Option<String>) -> ValueKind {
        let opened_at = self.peek().at;
        if !self.enter() {
            return ValueKind::Damaged;
        }
        let mut fields = Vec::new();
        let mut damaged = false;
        while !self.is_at_close_or_end() {
            let token = self.next();
            match token.kind {
                TokenKind::Name(field_name) => {
                    match self.field(field_name, token.at) {
                        Some(field) => fields.push(field),
                        None => damaged = true,
                    }
                    damaged |= !self.separator("a comma `,` or `)` after the field");
                }
                TokenKind::Comma => {
                    self.report(token.at, "a comma with nothing before it", "a field");
                    damaged = true;
                }
                other => {
                    self.report(
                        token.at,
                        format!("{} where a field's name should stand", describe(&other)),
                        "name: value",
                    );
                    damaged = true;
                    self.skip_rest_of(&other);
                    self.separator("a comma `,` or `)`");
                }
            }
        }
        damaged |= !self.leave(opened_at);
        ValueKind::Struct {
            name,
            fields,
            damaged,
        }
    }

    fn field(&mut self, name: String, at: Position) -> Option<Field> {
        self.path.push(shortened(&name));
        let token = self.peek().clone();
        let field = match token.kind {
            TokenKind::Colon => {
                self.next();
                Some(self.value())
            }
            TokenKind::Equals => {
                self.report(token.at, "`=` after a field's name", "a colon `:`");
                self.next();
                Some(self.value())
            }
            TokenKind::Text(_) | TokenKind::Number(_) | TokenKind::Open('[') => {
                self.report(
                    token.at,
                    "no colon between the field's name and its value",
                    "name: value",
                );
                Some(self.value())
            }
            _ => {
                self.path.pop();
                self.report(
                    at,
                    format!("{} is not followed by a value", quoted(&name)),
                    "name: value",
                );
                if self.peek().kind == TokenKind::Open('(') {
                    let open = self.next().kind;
                    self.skip_rest_of(&open);
                }
                return None;
            }
        };
        self.path.pop();
        field.map(|value| Field { name, at, value })
    }

    fn list(&mut self) -> ValueKind {
        let opened_at = self.peek().at;
        if !self.enter() {
            return ValueKind::Damaged;
        }
        let mut items = Vec::new();
        let mut damaged = false;
        while !self.is_at_close_or_end() {
            if self.peek().kind == TokenKind::Comma {
                let at = self.next().at;
                self.report(at, "a comma with nothing before it", "a list item");
                damaged = true;
                continue;
            }
            let item = self.value();
            damaged |= item.kind == ValueKind::Damaged;
            items.push(item);
            damaged |= !self.separator("a comma `,` or `]` after the list item");
        }
        damaged |= !self.leave(opened_at);
        ValueKind::List { items, damaged }
    }

    /// Takes a comma; `false` when something else stood there and was reported.
    fn separator(&mut self, accepted: &str) -> bool {
        let token = self.peek().clone();
        match token.kind {
            TokenKind::Comma => {
                self.next();
                true
            }
            TokenKind::Close(_) | TokenKind::End => true,
            // A forgotten comma: what follows still counts.
            TokenKind::Name(_) | TokenKind::Open(_) | TokenKind::Text(_) => {
                self.report(
                    token.at,
                    format!("no comma before {}", describe(&token.kind)),
                    accepted,
                );
                true
            }
            TokenKind::Number(_) | TokenKind::Colon | TokenKind::Equals => {
                self.report(
                    token.at,
                    format!("{} after a value", describe(&token.kind)),
                    accepted,
                );
                self.skip_to_separator();
                if self.peek().kind == TokenKind::Comma {
                    self.next();
                }
                false
            }
        }
    }

    /// Takes an opening bracket; `false` when the file goes too deep, in which case
    /// the whole group has been passed over.
    fn enter(&mut self) -> bool {
        let token = self.next();
        let TokenKind::Open(bracket) = token.kind else {
            return false;
        };
        if self.open.len() >= MAX_DEPTH {
            self.report(
                token.at,
                "too many brackets inside each other",
                format!("at most {MAX_DEPTH}"),
            );
            self.skip_rest_of(&token.kind);
            return false;
        }
        if bracket == '{' {
            self.report(
                token.at,
                "`{` begins a map",
                "a group in parentheses `(..)`",
            );
        }
        self.open.push(bracket);
        true
    }

    /// Takes the closing bracket of the innermost group; `false` when it was not there.
    fn leave(&mut self, opened_at: Position) -> bool {
        let bracket = self.open.pop().unwrap_or('(');
        let expected = closing(bracket);
        let token = self.peek().clone();
        match token.kind {
            TokenKind::Close(found) if found == expected => {
                self.next();
                true
            }
            TokenKind::Close(found) => {
                self.report(
                    token.at,
                    format!(
                        "`{found}` closes the `{bracket}` of line {}, column {}",
                        opened_at.line, opened_at.column
                    ),
                    format!("`{expected}`"),
                );
                // If it closes a group further out, leave it to that one.
                if !self.open.iter().any(|outer| closing(*outer) == found) {
                    self.next();
                }
                false
            }
            _ => {
                self.report(
                    opened_at,
                    format!("this `{bracket}` is never closed"),
                    format!("`{expected}` before the end of the file"),
                );
                self.is_end_reported = true;
                false
            }
        }
    }

    /// True at a closing bracket or the end; also once the file holds too much.
    fn is_at_close_or_end(&mut self) -> bool {
        if self.n_values >= MAX_VALUES {
            let at = self.peek().at;
            if self.peek().kind != TokenKind::End {
                self.report(
                    at,
                    "the file holds too many values",
                    format!("at most {MAX_VALUES}"),
                );
            }
            self.is_end_reported = true;
            while self.next().kind != TokenKind::End {}
        }
        matches!(self.peek().kind, TokenKind::Close(_) | TokenKind::End)
    }

    /// After `token` was taken: if it opened a group, passes over the group.
    fn skip_rest_of(&mut self, token: &TokenKind) {
        if matches!(token, TokenKind::Open(_)) {
            self.skip_to_close();
            if matches!(self.peek().kind, TokenKind::Close(_)) {
                self.next();
            }
        }
    }

    /// Passes over everything up to the closing bracket of this level.
    fn skip_to_close(&mut self) {
        loop {
            self.skip_to_separator();
            if self.peek().kind != TokenKind::Comma {
                return;
            }
            self.next();
        }
    }

    /// Passes over everything up to a comma or closing bracket of this level.
    fn skip_to_separator(&mut self) {
        let mut depth = 0_usize;
        loop {
            match self.peek().kind {
                TokenKind::End => return,
                TokenKind::Comma if depth == 0 => return,
                TokenKind::Close(_) if depth == 0 => return,
                TokenKind::Close(_) => depth -= 1,
                TokenKind::Open(_) => depth += 1,
                _ => {}
            }
            self.next();
        }
    }
}

/// The bracket that closes `bracket`.
fn closing(bracket: char) -> char {
    match bracket {
        '[' => ']',
        '{' => '}',
        _ => ')',
    }
}

/// Field names in the path are kept short: they end up in messages.
fn shortened(name: &str) -> String {
    name.chars().take(40).collect()
}

fn describe(kind: &TokenKind) -> String {
    match kind {
        TokenKind::Open(bracket) | TokenKind::Close(bracket) => format!("`{bracket}`"),
        TokenKind::Colon => "`:`".to_owned(),
        TokenKind::Equals => "`=`".to_owned(),
        TokenKind::Comma => "`,`".to_owned(),
        TokenKind::Name(name) => quoted(name),
        TokenKind::Text(Some(text)) => format!("the text {}", quoted(text)),
        TokenKind::Text(None) => "a text".to_owned(),
        TokenKind::Number(Some((written, _))) => format!("the number {written}"),
        TokenKind::Number(None) => "a number".to_owned(),
        TokenKind::End => "the end of the file".to_owned(),
    }
}
