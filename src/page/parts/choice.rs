//! A choice of one among few.

use leptos::prelude::*;

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
