//! A plain table of texts.

use findings::words::long_worded;
use leptos::prelude::*;

/// A line of a table.
#[derive(Clone, Debug, Default)]
pub struct Line {
    /// What it is about: the head of the line.
    pub head: String,
    /// What it says.
    pub cells: Vec<String>,
    /// Whether it is struck through.
    pub struck: bool,
    /// What stands under it across the table; empty for most.
    pub note: String,
}

/// A table with a head, one line each.
pub fn table(heads: Vec<String>, lines: Vec<Line>) -> AnyView {
    let width = heads.len().to_string();
    // Words stay whole; one that no column of a phone has room for is broken.
    let long = |text: String| (if long_worded(&text) { "long" } else { "" }, text);
    let head = |word: String| {
        let (class, word) = long(word);
        view! { <th scope="col" class=class>{word}</th> }.into_any()
    };
    let cell = |text: String| {
        let (class, text) = long(text);
        view! { <td class=class>{text}</td> }.into_any()
    };
    let line = |line: Line| {
        let class = if line.struck { "flagged" } else { "" };
        let cells: Vec<AnyView> = line.cells.into_iter().map(cell).collect();
        let width = width.clone();
        let note = (!line.note.is_empty())
            .then(|| view! { <tr class="note-row"><td colspan=width>{line.note}</td></tr> }.into_any());
        let (long_head, head) = long(line.head);
        view! { <tr class=class><th scope="row" class=long_head>{head}</th>{cells}</tr> {note} }.into_any()
    };
    let heads: Vec<AnyView> = heads.into_iter().map(head).collect();
    let lines: Vec<AnyView> = lines.into_iter().map(line).collect();
    view! { <table class="readings"><thead><tr>{heads}</tr></thead><tbody>{lines}</tbody></table> }.into_any()
}
