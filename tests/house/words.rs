//! Reasons are values until `findings/words` makes sentences of them, in the units chosen.

use crate::source::Source;
use crate::tokens::{Kind, Token};

/// In `findings`, outside its `words`: a failure that is a sentence already, `Result<_, String>` or `Err::<_, &str>`.
///
/// Cannot see: a sentence in a variant of an enum, or a type alias of `String`.
pub fn worded_too_early(source: &Source) -> Vec<String> {
    if source.room() != "findings" || source.module.get(1).is_some_and(|folder| folder == "words") {
        return vec![];
    }
    let tokens = &source.tokens;
    let named = |i: &usize| ["Result", "Ok", "Err"].iter().any(|name| tokens[*i].is(name));
    let is_text = |i: &usize| failure(&tokens[i + 1..]).iter().any(|token| token.is("String") || token.is("str"));
    let lines = (0..tokens.len()).filter(named).filter(is_text).map(|i| tokens[i].line);
    lines.map(|line| source.finding(line, "a reason is a value until 'words' says it")).collect()
}

/// The second type between the angle brackets that open here, if any do.
fn failure(tokens: &[Token]) -> &[Token] {
    let open = usize::from(tokens.first().is_some_and(|token| token.is("::")));
    if !tokens.get(open).is_some_and(|token| token.is("<")) {
        return &[];
    }
    let (mut depth, mut begin) = (0_usize, None);
    for (i, token) in tokens.iter().enumerate().skip(open) {
        match token.text.as_str() {
            _ if token.kind != Kind::Mark => {}
            "<" | "(" | "[" => depth += 1,
            ">" | ")" | "]" if depth == 1 => return begin.map_or(&[], |begin| &tokens[begin..i]),
            ">" | ")" | "]" => depth -= 1,
            "," if depth == 1 => begin = Some(i + 1),
            _ => {}
        }
    }
    &[]
}

/// A value of the science that writes itself out, so that it could reach a painter past `words`: with `Display`, which none of its
/// types has (its errors do in `error`, a feature that the page is built without, so that `to_string` does not compile); or with `{:?}` in a text of a room that tells people something.
pub fn science_speaks(source: &Source) -> Vec<String> {
    let folder = source.module.get(1).map(String::as_str);
    let is = |token: &&Token| match source.room() {
        "science" => !matches!(folder, Some("examples" | "error")) && token.is("Display"),
        "findings" | "share" | "page" | "chart" => token.kind == Kind::Text && token.text.contains("?}"),
        _ => false,
    };
    let lines = source.tokens.iter().filter(is).map(|token| token.line);
    lines.map(|line| source.finding(line, "the science says nothing itself: 'findings/words' does")).collect()
}
