//! A field for a line of text.

use leptos::prelude::*;

use super::field::{Field, Typed};
use crate::page::desk::Desk;
use crate::page::parts::derived;
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
    let shown = derived(move || read.read(&desk.current().typed).unwrap_or_default().to_owned());
    let take = move |typed: &str| Ok(desk.act(Action::Write(phrase.clone(), typed.to_owned()))?);
    let unit = Signal::stored("");
    Field { label, of, typed: Typed::Words, shown, unit, hint, fresh: false, take: Box::new(take) }.view()
}
