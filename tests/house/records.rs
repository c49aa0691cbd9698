//! Tests change a record by its builder (`tests/records`), which fails when a change meets nothing. Replacing a piece of its text
//! passes in silence then, and the test looks at something other than it says.
//!
//! Looks for `.replace(…)` and `.replacen(…)` whose first argument is a text, or begins with `&format!` of one, that names a field
//! (`"bare_g":`). Cannot see: a text handed over by name, and a field cut out of its quotes.

use crate::source::Source;
use crate::tokens::Kind;

pub fn replaced(source: &Source) -> Vec<String> {
    let mut findings = Vec::new();
    for (place, token) in source.tokens.iter().enumerate() {
        let called = token.is("replace") || token.is("replacen");
        if !called || place == 0 || !source.tokens[place - 1].is(".") {
            continue;
        }
        let first = source.tokens[place + 1..]
            .iter()
            .find(|token| token.kind == Kind::Text || !["(", "&", "format", "!"].iter().any(|passed| token.is(passed)));
        if first.is_some_and(|token| token.kind == Kind::Text && names_a_field(&token.text)) {
            findings.push(
                source.finding(token.line, "change a record by its builder, which fails when nothing is changed"),
            );
        }
    }
    findings
}

/// Whether a JSON field stands in a text as it is written in the source, quotes escaped or not.
fn names_a_field(text: &str) -> bool {
    let plain = text.replace('\\', "");
    let name = |before: &str| before.chars().next_back().is_some_and(|c| c.is_ascii_alphanumeric() || c == '_');
    plain.match_indices('"').any(|(at, _)| name(&plain[..at]) && plain[at + 1..].trim_start().starts_with(':'))
}
