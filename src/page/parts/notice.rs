//! What must be read: troubles with what can be done about them, and the cautions.

use leptos::prelude::*;

use super::list::fold;
use super::live::{items, lines};

/// Something that went wrong, with what can be done.
pub fn alert(said: Vec<String>, then: AnyView) -> AnyView {
    view! { <div class="notice alert" role="alert">{lines("", move || said.clone())} {then}</div> }.into_any()
}

/// The cautions that go with every test, folded for those who have read them.
pub fn cautions(read: bool) -> AnyView {
    let said = || "Two-pack primers can injure: before you mix, spray, sand, or heat".into();
    view! { <div class="cautions">{fold(said, !read, || items("", &findings::words::CAUTIONS))}</div> }.into_any()
}
