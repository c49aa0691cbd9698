//! The paths a file mentions (`use` trees unfolded, `self` and `super` resolved), and the words.

use crate::rooms::is_package;
use crate::source::Source;
use crate::tokens::{Kind, Token};

#[derive(Debug, PartialEq, Eq)]
pub struct Mention {
    /// `["crate", "record", "gate"]` inside the crate; else as written, from its first segment.
    pub path: Vec<String>,
    pub line: usize,
}

impl Mention {
    /// The room it leads to: a module of this package, or a package of ours; the science goes by two names.
    pub fn room(&self) -> Option<&str> {
        match self.path[0].as_str() {
            "comb_scale_science" => Some("science"),
            "crate" => self.path.get(1).map(String::as_str),
            package => (self.path.len() > 1 && is_package(package)).then_some(package),
        }
    }

    /// The crate it leads to: the first segment of a path of several, or of a `use`.
    pub fn outside(&self) -> Option<&str> {
        (self.path[0] != "crate").then_some(self.path[0].as_str())
    }

    pub fn shown(&self) -> String {
        self.path.join("::")
    }
}

/// Every path and every single word. Sees `use` trees, written-out paths and modules within the file; does not see what
/// a macro from elsewhere writes, nor follow a type re-exported under another name.
pub fn mentions(source: &Source) -> Vec<Mention> {
    let tokens = &source.tokens;
    let mut module = source.module.clone();
    // Depths of braces at which a module within the file was opened.
    let mut inner = Vec::new();
    let (mut depth, mut at) = (0_usize, 0);
    let mut found = Vec::new();
    while at < tokens.len() {
        let token = &tokens[at];
        let follows = |offset: usize, text: &str| tokens.get(at + offset).is_some_and(|next| next.is(text));
        if token.is("{") {
            depth += 1;
            at += 1;
        } else if token.is("}") {
            depth = depth.saturating_sub(1);
            if inner.last() == Some(&depth) {
                inner.pop();
                module.pop();
            }
            at += 1;
        } else if token.is("mod") && follows(2, "{") {
            module.push(tokens[at + 1].text.clone());
            inner.push(depth);
            at += 2;
        } else if token.is("use") && !follows(1, "<") {
            at = tree(tokens, at + 1, &[], &module, &mut found);
        } else if token.is_word() {
            let (path, next) = written_out(tokens, at);
            // `pub(super)` says who may know of it, and names nothing.
            if path != ["super"] {
                found.push(Mention { path: resolve(path, &module), line: token.line });
            }
            at = next;
        } else {
            at += 1;
        }
    }
    found
}

/// `a::b::c` from `at`; generic arguments end it.
fn written_out(tokens: &[Token], at: usize) -> (Vec<String>, usize) {
    let mut path = vec![tokens[at].text.clone()];
    let mut next = at + 1;
    while next + 1 < tokens.len() && tokens[next].is("::") && tokens[next + 1].is_word() {
        path.push(tokens[next + 1].text.clone());
        next += 2;
    }
    (path, next)
}

/// One branch of a `use` tree from `at`; returns where it ended.
fn tree(tokens: &[Token], mut at: usize, stem: &[String], module: &[String], found: &mut Vec<Mention>) -> usize {
    let mut path = stem.to_vec();
    let line = tokens.get(at).map_or(0, |token| token.line);
    while let Some(token) = tokens.get(at) {
        if token.is("{") {
            at += 1;
            while tokens.get(at).is_some_and(|token| !token.is("}")) {
                let before = at;
                at = tree(tokens, at, &path, module, found);
                if tokens.get(at).is_some_and(|token| token.is(",")) {
                    at += 1;
                }
                if at == before {
                    break;
                }
            }
            return at + 1;
        }
        if token.is("as") {
            at += 2;
        } else if token.is_word() || token.is("*") {
            path.push(token.text.clone());
            at += 1;
        } else if token.is("::") {
            at += 1;
        } else {
            break;
        }
    }
    if !path.is_empty() {
        found.push(Mention { path: resolve(path, module), line });
    }
    at
}

/// Paths into the crate start with `crate` afterwards.
fn resolve(mut path: Vec<String>, module: &[String]) -> Vec<String> {
    let mut place = match path[0].as_str() {
        "crate" | "comb_scale" => Vec::new(),
        "self" | "super" => module.to_vec(),
        _ => return path,
    };
    while let Some(first) = path.first().cloned() {
        match first.as_str() {
            "super" => drop(place.pop()),
            "self" | "crate" | "comb_scale" => {}
            _ => break,
        }
        path.remove(0);
    }
    let mut whole = vec!["crate".to_owned()];
    whole.append(&mut place);
    whole.append(&mut path);
    whole
}

/// The statements that hold all of `words`: tokens between `;`, `{` and `}`.
pub fn statements_with<'a>(
    source: &'a Source,
    holds: impl Fn(&[Token]) -> bool + 'a,
) -> impl Iterator<Item = usize> + 'a {
    source
        .tokens
        .split(|token| token.kind == Kind::Mark && matches!(token.text.as_str(), ";" | "{" | "}"))
        .filter(move |statement| holds(statement))
        .map(|statement| statement[0].line)
}
