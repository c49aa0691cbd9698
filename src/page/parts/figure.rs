//! A number that is told.

use leptos::prelude::*;

use findings::words::Figure;

/// A number with its name; an en dash and the reason where it cannot be had.
pub fn told(figure: Figure) -> AnyView {
    let Figure { name, value, note } = figure;
    let note = (!note.is_empty()).then(|| view! { <span class="note">{note}</span> }.into_any());
    view! {
        <div class="told">
            <dt>{name}</dt>
            <dd><span class="value">{value.unwrap_or_else(|| "–".into())}</span> {note}</dd>
        </div>
    }
    .into_any()
}
