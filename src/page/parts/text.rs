//! A field for a line of text, and a number that is told.

use leptos::prelude::*;

use super::derived;

use super::field::{Field, Typed};
use crate::page::desk::Desk;
use findings::words::Figure;
use record::{Action, Phrase};

/// A field for a line of text of the record.
#[component]
pub fn PhraseField(
    /// What the text is.
    #[prop(into)]
    label: String,
    /// Which line.
    phrase: Phrase,
    /// A line under the field.
    #[prop(optional, into)]
    hint: Signal<String>,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (read, of) = (phrase.clone(), phrase.owners());
    let shown = derived(move || desk.with_typed(|test| read.read(test).unwrap_or_default().to_owned()));
    let take = move |typed: &str| Ok(desk.act(Action::Write(phrase.clone(), typed.to_owned()))?);
    let unit = Signal::stored("");
    Field { label, of, typed: Typed::Words, shown, unit, hint, fresh: false, take: Box::new(take) }.view()
}

/// A number with its name; an en dash and the reason where it cannot be had.
pub fn told(figure: Figure) -> AnyView {
    let Figure { name, value, note, .. } = figure;
    let note = (!note.is_empty()).then(|| view! { <span class="note">{note}</span> }.into_any());
    view! {
        <div class="told">
            <dt>{name}</dt>
            <dd><span class="value">{value.unwrap_or_else(|| "–".into())}</span> {note}</dd>
        </div>
    }
    .into_any()
}
