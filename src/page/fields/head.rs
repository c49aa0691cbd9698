//! Whose something is: the mark of a candidate, the head of a panel.

use leptos::prelude::*;

use crate::page::desk::Desk;
use crate::page::parts::{memo, sign};
use chart::Mark;
use record::{Id, Phrase};

/// A candidate's mark, the same beside its name everywhere.
#[component]
pub fn MarkSign(candidate: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    sign(memo(move || {
        let current = desk.current();
        let known = findings::facts::candidates_in_order(&current.test);
        known.iter().position(|known| known.id == candidate).map(Mark::of)
    }))
}

/// A panel's number with its candidate's mark and name.
#[component]
pub fn PanelHead(panel: Id) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let head = move || {
        let current = desk.current();
        let panel = current.test.panels.find(&panel)?;
        let candidate = panel.candidate.as_ref()?.clone();
        let name = Phrase::Candidate(candidate.clone()).read(&current.test).unwrap_or_default().to_owned();
        Some((panel.label.clone(), candidate, name))
    };
    view! {
        {move || {
            head().map(|(label, candidate, name)| {
                view! { <h3><MarkSign candidate/> <span>{label}</span> <span class="quiet">{name}</span></h3> }
            })
        }}
    }
}
