//! A choice of one among few.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::record::{Action, Pick};

/// A row of buttons of which one is chosen.
#[component]
pub fn Choices<T: Copy + PartialEq + Send + Sync + 'static>(
    /// What is chosen.
    label: &'static str,
    /// A word and a value each.
    choices: Vec<(&'static str, T)>,
    /// The value chosen so far.
    chosen: impl Fn() -> T + Copy + Send + Sync + 'static,
    /// Chooses another.
    choose: impl Fn(T) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    view! {
        <fieldset class="choice">
            <legend>{label}</legend>
            {choices
                .into_iter()
                .map(|(word, value)| {
                    view! {
                        <button aria-pressed=move || (chosen() == value).to_string() on:click=move |_| choose(value)>
                            {word}
                        </button>
                    }
                })
                .collect_view()}
        </fieldset>
    }
}

/// A row of buttons for a choice of the record. While nobody has chosen, the one at `default` shows as chosen.
pub fn picks(desk: Desk, label: &str, options: Vec<(String, Pick)>, default: Option<usize>) -> AnyView {
    let all: Vec<Pick> = options.iter().map(|(_, pick)| pick.clone()).collect();
    let chosen = Memo::new(move |_| desk.with(|test| all.iter().position(|pick| pick.holds(test))).or(default));
    let button = |(place, (word, pick)): (usize, (String, Pick))| {
        let pressed = move || (chosen.get() == Some(place)).to_string();
        view! {
            <button aria-pressed=pressed on:click=move |_| desk.press(Action::Choose(pick.clone()))>{word}</button>
        }
    };
    let buttons: Vec<_> = options.into_iter().enumerate().map(button).collect();
    view! { <fieldset class="choice"><legend>{label.to_owned()}</legend>{buttons}</fieldset> }.into_any()
}
