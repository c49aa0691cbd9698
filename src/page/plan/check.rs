//! What the plan will be able to tell apart.

use leptos::prelude::*;

use crate::findings;
use crate::page::desk::Desk;

/// The check before starting.
pub fn section(desk: Desk) -> AnyView {
    let said = Memo::new(move |_| {
        let found = desk.findings.get();
        desk.with(|test| findings::plan_check(test, &found, &desk.tongue()))
    });
    view! {
        <h2>"What this plan can tell apart"</h2>
        <ul class="check">{move || said.get().into_iter().map(|said| view! { <li>{said}</li> }).collect_view()}</ul>
    }
    .into_any()
}
