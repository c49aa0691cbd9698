//! Rust text as tokens: comments gone, strings whole, line numbers kept. Not a parser, and not meant to become one.

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Word,
    Number,
    /// A string or character literal; `text` is what stands between the quotes.
    Text,
    Lifetime,
    Mark,
}

#[derive(Clone, Debug)]
pub struct Token {
    pub kind: Kind,
    pub text: String,
    pub line: usize,
    /// White space stands before it.
    pub apart: bool,
}

impl Token {
    pub fn is(&self, text: &str) -> bool {
        matches!(self.kind, Kind::Word | Kind::Mark) && self.text == text
    }

    pub fn is_word(&self) -> bool {
        self.kind == Kind::Word
    }
}

/// Marks of more than one character, longest first. `>>` and `||` are left out: two closing brackets of a generic type
/// and the empty parameter list of a closure look the same.
const LONG_MARKS: [&str; 18] =
    ["..=", "...", "::", "->", "=>", "==", "!=", "<=", ">=", "&&", "+=", "-=", "*=", "/=", "%=", "^=", "..", "|="];

pub fn tokens(text: &str) -> Vec<Token> {
    let mut reader = Reader { rest: text, line: 1, apart: false, found: Vec::new() };
    while !reader.rest.is_empty() {
        reader.step();
    }
    reader.found
}

struct Reader<'a> {
    rest: &'a str,
    line: usize,
    apart: bool,
    found: Vec<Token>,
}

impl Reader<'_> {
    fn step(&mut self) {
        let rest = self.rest;
        let first = rest.chars().next().expect("something is left");
        if first.is_whitespace() {
            self.skip(first.len_utf8());
        } else if rest.starts_with("//") {
            self.skip(rest.find('\n').unwrap_or(rest.len()));
        } else if rest.starts_with("/*") {
            self.skip(comment_length(rest));
        } else if let Some((open, length, close)) = string_at(rest) {
            self.take(Kind::Text, open, length, close);
        } else if first == '\'' {
            self.quote();
        } else if first.is_ascii_digit() {
            self.take(Kind::Number, 0, number_length(rest), 0);
        } else if first == '_' || first.is_alphabetic() {
            let length = rest.find(|c: char| c != '_' && !c.is_alphanumeric()).unwrap_or(rest.len());
            self.take(Kind::Word, 0, length, 0);
        } else {
            let long = LONG_MARKS.iter().find(|mark| rest.starts_with(**mark));
            self.take(Kind::Mark, 0, long.map_or(first.len_utf8(), |mark| mark.len()), 0);
        }
    }

    /// A character literal, or else a lifetime.
    fn quote(&mut self) {
        let rest = self.rest;
        let mut after = rest[1..].char_indices();
        let literal = match after.next() {
            Some((_, '\\')) => rest[3.min(rest.len())..].find('\'').map(|at| at + 3),
            Some((_, c)) => rest[1 + c.len_utf8()..].starts_with('\'').then_some(1 + c.len_utf8()),
            None => None,
        };
        match literal {
            Some(end) => self.take(Kind::Text, 1, end - 1, 1),
            None => {
                let length = rest[1..].find(|c: char| c != '_' && !c.is_alphanumeric()).unwrap_or(rest.len() - 1);
                self.take(Kind::Lifetime, 1, length, 0);
            }
        }
    }

    fn skip(&mut self, length: usize) {
        self.line += self.rest[..length].matches('\n').count();
        self.rest = &self.rest[length..];
        self.apart = true;
    }

    fn take(&mut self, kind: Kind, open: usize, length: usize, close: usize) {
        let text = self.rest[open..open + length].to_owned();
        self.found.push(Token { kind, text, line: self.line, apart: self.apart });
        self.skip(open + length + close);
        self.apart = false;
    }
}

/// Block comments nest.
fn comment_length(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while at < text.len() {
        if text[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if text[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

/// If a string of any kind starts here: the lengths of its opening, its content and its closing.
fn string_at(text: &str) -> Option<(usize, usize, usize)> {
    let prefix = text.find(|c: char| !matches!(c, 'b' | 'c' | 'r')).filter(|length| *length <= 2)?;
    let hashes = text[prefix..].len() - text[prefix..].trim_start_matches('#').len();
    if !text[prefix + hashes..].starts_with('"') {
        return None;
    }
    let open = prefix + hashes + 1;
    if text[..prefix].contains('r') {
        let close = format!("\"{}", "#".repeat(hashes));
        let length = text[open..].find(&close).unwrap_or(text.len() - open);
        return Some((open, length, close.len().min(text.len() - open - length)));
    }
    if hashes > 0 {
        return None;
    }
    let mut escaped = false;
    for (at, c) in text[open..].char_indices() {
        match c {
            '"' if !escaped => return Some((open, at, 1)),
            _ => escaped = c == '\\' && !escaped,
        }
    }
    Some((open, text.len() - open, 0))
}

/// Digits, a fraction if a digit follows the point, an exponent with its sign, a suffix.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let word = |from: usize| {
        text[from..].find(|c: char| c != '_' && !c.is_alphanumeric()).map_or(text.len(), |length| from + length)
    };
    let mut end = word(0);
    if bytes.get(end) == Some(&b'.') && bytes.get(end + 1).is_some_and(u8::is_ascii_digit) {
        end = word(end + 1);
    }
    let hex = text.starts_with("0x") || text.starts_with("0b");
    let exponent = !hex && matches!(bytes[end - 1], b'e' | b'E') && matches!(bytes.get(end), Some(b'+' | b'-'));
    if exponent { word(end + 1) } else { end }
}
