//! A field for a line of text, and a number that is told.

use leptos::prelude::*;

use super::fresh_element_id;
use crate::findings::Figure;
use crate::page::desk::Desk;
use crate::record::{Action, Phrase};

/// A field for a line of text of the record.
#[component]
pub fn PhraseField(
    /// What the text is.
    #[prop(into)]
    label: String,
    /// Which line.
    phrase: Phrase,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let id = fresh_element_id();
    let shown = {
        let phrase = phrase.clone();
        move || desk.with(|test| phrase.read(test).unwrap_or_default().to_owned())
    };
    let take = move |typed: String| desk.press(Action::Write(phrase.clone(), typed.trim().to_owned()));
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input
                id=id
                type="text"
                autocomplete="off"
                prop:value=shown
                on:change:target=move |event| take(event.target().value())
            />
        </div>
    }
}

/// A number with its name; an en dash and the reason where it cannot be had.
#[component]
pub fn Told(
    /// The number.
    figure: Figure,
) -> impl IntoView {
    let Figure { name, value, note } = figure;
    view! {
        <div class="told">
            <dt>{name}</dt>
            <dd>
                <span class="value">{value.unwrap_or_else(|| "–".into())}</span>
                {(!note.is_empty()).then(|| view! { <span class="note">{note}</span> })}
            </dd>
        </div>
    }
}
