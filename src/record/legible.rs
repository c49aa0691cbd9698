//! Texts of a record as they are put into sentences, tables and files. Whatever was typed into a name, the words and numbers
//! around it stay where they are: Unicode lets a text turn its neighbors around, on purpose or since it is written from right to
//! left (Unicode Standard Annex 9). The record itself keeps every text as it was typed.

use std::borrow::Cow;

use super::codec::{each_text, some_text};
use super::model::SprayTest;

/// First-strong isolate, and the end of it.
const ISOLATE: [char; 2] = ['\u{2068}', '\u{2069}'];

/// Marks, embeddings, overrides and isolates: characters that say nothing and turn what stands around them.
fn turns(c: char) -> bool {
    matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Letters and digits of scripts that run from right to left.
fn runs_left(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}' | '\u{10800}'..='\u{10fff}'
        | '\u{1e800}'..='\u{1efff}')
}

/// Ends a line, or has no form at all.
fn is_no_blank(c: char) -> bool {
    matches!(c, '\u{2028}' | '\u{2029}') || (c.is_control() && !matches!(c, '\n' | '\r' | '\t'))
}

/// The characters of a text that stand for something.
pub fn plain_characters(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|c| !turns(*c)).map(|c| if is_no_blank(c) { ' ' } else { c })
}

/// A text as it may stand in a sentence: without characters that turn others, and where it runs from right to left, by itself.
///
/// ```
/// use record::legible_text;
/// assert_eq!(legible_text("Grey"), "Grey");
/// assert_eq!(legible_text("Grey\u{202e} 22"), "Grey 22");
/// assert_eq!(legible_text("אפור"), "\u{2068}אפור\u{2069}");
/// ```
pub fn legible_text(text: &str) -> Cow<'_, str> {
    if is_legible(text) {
        return Cow::Borrowed(text);
    }
    let mut plain = String::new();
    plain_characters(text).for_each(|c| plain.push(c));
    if plain.contains(runs_left) {
        plain.insert(0, ISOLATE[0]);
        plain.push(ISOLATE[1]);
    }
    Cow::Owned(plain)
}

fn is_legible(text: &str) -> bool {
    text.is_ascii() && !text.contains(is_no_blank) || !text.contains(|c| turns(c) || runs_left(c) || is_no_blank(c))
}

/// A test with every text as [`legible_text`] has it: what is to be told is told of this one. Most tests are their own.
///
/// ```
/// use record::{legible, open};
/// let test = open("{ \"format\": \"spray-test\", \"version\": 1, \"title\": \"Gates\u{202e}\" }").unwrap().test;
/// assert_eq!(legible(&test).title, "Gates");
/// assert_eq!(test.title, "Gates\u{202e}");
/// ```
pub fn legible(test: &SprayTest) -> Cow<'_, SprayTest> {
    if !some_text(test, &|text| !is_legible(text)) {
        return Cow::Borrowed(test);
    }
    let mut told = test.clone();
    each_text(&mut told, &|text| {
        if let Cow::Owned(plain) = legible_text(text) {
            *text = plain;
        }
    });
    Cow::Owned(told)
}
