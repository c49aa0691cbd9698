//! A choice of one among few.

use std::sync::Arc;

use leptos::prelude::*;

use super::{derived, memo};

use crate::page::desk::Desk;
use record::{Action, Pick};

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

/// A row of buttons for a choice of the record. While nobody has chosen, the one at `default` shows as chosen.
pub fn picks(desk: Desk, label: &str, options: Vec<(String, Pick)>, default: Option<usize>) -> AnyView {
    let (mut words, mut all) = (Vec::new(), Vec::new());
    for (word, pick) in options {
        words.push(word);
        all.push(pick);
    }
    let held = all.clone();
    let chosen = memo(move || desk.with(|test| held.iter().position(|pick| pick.holds(test))).or(default));
    choices(label, words, move || chosen.get(), move |place| desk.press(Action::Choose(all[place].clone())))
}
