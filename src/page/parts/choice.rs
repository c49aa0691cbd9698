//! A choice of one among few.

use std::sync::Arc;

use leptos::prelude::*;

use super::live::derived;
use super::press::{pressed_in, toggle};

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
        toggle(|| "", move || pressed_in(chosen.get() == Some(place)), word.into_any(), move || choose(place))
    };
    let buttons: Vec<AnyView> = words.into_iter().enumerate().map(button).collect();
    view! { <fieldset class="choice"><legend>{label}</legend>{buttons}</fieldset> }.into_any()
}
