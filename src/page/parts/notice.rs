//! What must be read: troubles with what can be done about them, and the cautions.

use leptos::prelude::*;

use super::live::{items, lines};

/// Something that went wrong, with what can be done.
pub fn alert(said: Vec<String>, then: AnyView) -> AnyView {
    view! { <div class="notice alert" role="alert">{lines("", move || said.clone())} {then}</div> }.into_any()
}

/// The cautions that go with every test.
pub fn cautions() -> AnyView {
    view! {
        <section class="cautions">
            <h2>"Before mixing, spraying and warming"</h2>
            {items("", &findings::words::CAUTIONS)}
        </section>
    }
    .into_any()
}
