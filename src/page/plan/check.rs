//! What the plan will be able to tell apart.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::lines;

/// The check before starting.
pub fn section(desk: Desk) -> AnyView {
    let said = lines("check", move || {
        let panels = desk.panels.get();
        let current = desk.current();
        findings::plan::plan_check(&current.test, &panels.told, &current.wording)
    });
    view! { <h2>"What this plan can tell apart"</h2> {said} }.into_any()
}
