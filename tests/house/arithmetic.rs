//! The page does no arithmetic: what it shows was worked out, rounded and worded by `findings` and `quantity`.
//!
//! Looks for the operators `*` `/` `%` `+` `-` between two values, for their assigning forms, and for methods that
//! compute. Let through: signs and dereferences; bounds (`impl Fn() + Clone + 'static`); markup within `view!`
//! (`</p>`, `<br/>`, `aria-label`, `class:is-open`); attributes; `#[cfg(test)]` modules; comparing, `min`, `max`, `clamp`
//! and `len`; and stepping through a list with `checked_…`, `saturating_…` or `wrapping_…`, which only whole numbers have.
//!
//! Cannot see: arithmetic hidden in a function of another room (where it belongs), in a macro, in CSS `calc`, or a `-`
//! without spaces around it within `view!` (rustfmt puts them everywhere else); nor a sum whose right side looks like
//! the name of a trait.

use crate::source::Source;
use crate::tokens::{Kind, Token};

const COMPUTING: &[&str] = &[
    "abs",
    "acos",
    "add",
    "asin",
    "atan",
    "atan2",
    "cbrt",
    "ceil",
    "cos",
    "cosh",
    "div",
    "div_euclid",
    "exp",
    "exp2",
    "exp_m1",
    "floor",
    "fract",
    "hypot",
    "ln",
    "ln_1p",
    "log",
    "log10",
    "log2",
    "mul",
    "mul_add",
    "neg",
    "pow",
    "powf",
    "powi",
    "product",
    "recip",
    "rem",
    "rem_euclid",
    "round",
    "sin",
    "sinh",
    "sqrt",
    "sub",
    "sum",
    "tan",
    "tanh",
    "to_degrees",
    "to_radians",
    "trunc",
];

const ASSIGNING: [&str; 5] = ["+=", "-=", "*=", "/=", "%="];

/// Words after which a value begins, so that an operator there is a sign or a dereference.
const BEFORE_A_VALUE: &[&str] = &[
    "return", "in", "if", "match", "else", "while", "move", "break", "let", "mut", "as", "box", "where", "dyn", "impl",
];

pub fn in_page(source: &Source) -> Vec<String> {
    if source.room() == "page" { in_any(source) } else { vec![] }
}

pub fn in_any(source: &Source) -> Vec<String> {
    let tokens = without_views(without_tests(without_attributes(&source.tokens)));
    let fault = |at: usize| {
        let Seen { token, in_view } = tokens[at];
        let before = at.checked_sub(1).map(|before| tokens[before].token);
        let after = tokens.get(at + 1).map(|seen| seen.token);
        if token.kind == Kind::Mark && ASSIGNING.contains(&token.text.as_str()) {
            return Some(format!("'{}'", token.text));
        }
        if token.is_word() && COMPUTING.contains(&token.text.as_str()) {
            let called = after.is_some_and(|after| after.is("(") || after.is("::"));
            let method = before.is_some_and(|before| before.is(".") || before.is("::"));
            return (called && method).then(|| format!("'{}'", token.text));
        }
        is_operator(token, before?, after?, in_view).then(|| format!("'{}'", token.text))
    };
    let page = "the page does no arithmetic; it belongs in findings, quantity or science";
    (0..tokens.len())
        .filter_map(|at| Some(source.finding(tokens[at].token.line, format!("{} ({page})", fault(at)?))))
        .collect()
}

fn is_operator(token: &Token, before: &Token, after: &Token, in_view: bool) -> bool {
    if token.kind != Kind::Mark || !matches!(token.text.as_str(), "+" | "-" | "*" | "/" | "%") {
        return false;
    }
    let ends_a_value = match before.kind {
        Kind::Word => !BEFORE_A_VALUE.contains(&before.text.as_str()),
        Kind::Number | Kind::Text => true,
        Kind::Mark => matches!(before.text.as_str(), ")" | "]" | "?"),
        Kind::Lifetime => false,
    };
    match token.text.as_str() {
        // `*const` and `&'a *x` aside, a star after a value multiplies.
        "*" => ends_a_value,
        // Closing tags; and the end of a lone tag, whose last attribute may be a value.
        "/" => ends_a_value && !(in_view && after.is(">")),
        "-" => ends_a_value && (!in_view || token.apart && after.apart),
        "+" => ends_a_value && !is_bound(after),
        _ => ends_a_value,
    }
}

/// What follows a `+` in a list of bounds: a lifetime, `?Sized`, `for<'a>`, or a name in camel case.
fn is_bound(after: &Token) -> bool {
    let camel = || {
        let mut letters = after.text.chars();
        after.is_word() && letters.next().is_some_and(char::is_uppercase) && letters.any(char::is_lowercase)
    };
    after.kind == Kind::Lifetime || after.is("?") || after.is("for") || after.is("use") || camel()
}

fn without_attributes(tokens: &[Token]) -> Vec<&Token> {
    let mut kept = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        let open = 1 + usize::from(tokens.get(at + 1).is_some_and(|next| next.is("!")));
        if tokens[at].is("#") && tokens.get(at + open).is_some_and(|next| next.is("[")) {
            let end = closing(&tokens.iter().collect::<Vec<_>>()[..], at + open);
            // The mark that the next item is for tests only is needed once more.
            if tokens[at..end].iter().map(|token| token.text.as_str()).eq(["#", "[", "cfg", "(", "test", ")"]) {
                kept.push(&tokens[at]);
            }
            at = end + 1;
        } else {
            kept.push(&tokens[at]);
            at += 1;
        }
    }
    kept
}

/// Drops the item behind each `#` that the step before left standing.
fn without_tests(tokens: Vec<&Token>) -> Vec<&Token> {
    let mut kept = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if tokens[at].is("#") {
            let end = tokens[at..]
                .iter()
                .position(|token| token.is("{") || token.is(";"))
                .map_or(tokens.len() - 1, |to| at + to);
            at = 1 + if tokens[end].is("{") { closing(&tokens, end) } else { end };
        } else {
            kept.push(tokens[at]);
            at += 1;
        }
    }
    kept
}

#[derive(Clone, Copy)]
struct Seen<'a> {
    token: &'a Token,
    in_view: bool,
}

fn without_views(tokens: Vec<&Token>) -> Vec<Seen<'_>> {
    let mut seen = Vec::with_capacity(tokens.len());
    let mut view_ends = 0;
    for (at, token) in tokens.iter().enumerate() {
        let opens = at >= 2 && tokens[at - 1].is("!") && tokens[at - 2].is("view") && (token.is("{") || token.is("("));
        if opens {
            view_ends = view_ends.max(closing(&tokens, at));
        }
        seen.push(Seen { token, in_view: at < view_ends });
    }
    seen
}

/// Where the bracket at `open` closes.
fn closing(tokens: &[&Token], open: usize) -> usize {
    let mut depth = 0_usize;
    for (at, token) in tokens.iter().enumerate().skip(open) {
        if token.is("{") || token.is("(") || token.is("[") {
            depth += 1;
        } else if token.is("}") || token.is(")") || token.is("]") {
            depth -= 1;
            if depth == 0 {
                return at;
            }
        }
    }
    tokens.len() - 1
}
