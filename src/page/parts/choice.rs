//! A choice of one among few.

use std::sync::Arc;

use leptos::prelude::*;

use super::live::derived;

/// A row of buttons of which one is chosen, by its place.
pub fn choices(
    label: impl Into<String>,
    words: Vec<String>,
    chosen: impl Fn() -> Option<usize> + Send + Sync + 'static,
    choose: impl Fn(usize) + Send + Sync + 'static,
) -> AnyView {
    buttons(label.into(), words, derived(chosen), Arc::new(choose))
}

fn buttons(
    label: String,
    words: Vec<String>,
    chosen: Signal<Option<usize>>,
    choose: Arc<dyn Fn(usize) + Send + Sync>,
) -> AnyView {
    let button = |(place, word): (usize, String)| {
        let choose = choose.clone();
        let pressed = move || (chosen.get() == Some(place)).to_string();
        view! { <button aria-pressed=move || pressed() on:click=move |_| choose(place)>{word}</button> }.into_any()
    };
    let buttons: Vec<AnyView> = words.into_iter().enumerate().map(button).collect();
    view! { <fieldset class="choice"><legend>{label}</legend>{buttons}</fieldset> }.into_any()
}
