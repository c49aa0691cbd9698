//! A plain table of texts.

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
pub fn table(heads: &[&'static str], lines: Vec<Line>) -> AnyView {
    let width = heads.len().to_string();
    let head = |word: &&'static str| view! { <th scope="col">{*word}</th> }.into_any();
    let cell = |text: String| view! { <td>{text}</td> }.into_any();
    let line = |line: Line| {
        let class = if line.struck { "flagged" } else { "" };
        let cells: Vec<AnyView> = line.cells.into_iter().map(cell).collect();
        let width = width.clone();
        let note = (!line.note.is_empty())
            .then(|| view! { <tr class="note-row"><td colspan=width>{line.note}</td></tr> }.into_any());
        view! { <tr class=class><th scope="row">{line.head}</th>{cells}</tr> {note} }.into_any()
    };
    let heads: Vec<AnyView> = heads.iter().map(head).collect();
    let lines: Vec<AnyView> = lines.into_iter().map(line).collect();
    view! { <table class="readings"><thead><tr>{heads}</tr></thead><tbody>{lines}</tbody></table> }.into_any()
}
