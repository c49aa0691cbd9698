//! Lists that are followed one by one, and parts that stay folded until they are asked for. Functions and not generic
//! components, so that the page holds their code once.

use std::sync::Arc;

use leptos::prelude::*;

use super::live::{derived, shown};
use record::Id;

/// A view of one of a list.
type ViewOf = Arc<dyn Fn(Id) -> AnyView + Send + Sync>;

/// One view for each id; what is typed into one stays when others come and go.
pub fn each(ids: Memo<Vec<Id>>, view: impl Fn(Id) -> AnyView + Send + Sync + 'static) -> AnyView {
    each_of(ids, Arc::new(view))
}

fn each_of(ids: Memo<Vec<Id>>, view: ViewOf) -> AnyView {
    view! {
        <For each=move || ids.get() key=Id::clone let:id>
            {view(id)}
        </For>
    }
    .into_any()
}

/// A part under its summary, made when it is first unfolded and kept from then on.
pub fn fold(
    summary: impl Fn() -> String + Send + Sync + 'static,
    open: bool,
    inside: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    folded(derived(summary), open, Box::new(inside))
}

fn folded(summary: Signal<String>, open: bool, inside: Box<dyn Fn() -> AnyView + Send>) -> AnyView {
    unfolded_under(None, view! { {move || summary.get()} }.into_any(), open, inside)
}

/// A part under a summary that is drawn, closed at first. `described_by` is the id of what describes it for those who listen.
pub fn fold_under(described_by: String, summary: AnyView, inside: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    unfolded_under(Some(described_by), summary, false, Box::new(inside))
}

fn unfolded_under(
    described_by: Option<String>,
    summary: AnyView,
    open: bool,
    inside: Box<dyn Fn() -> AnyView + Send>,
) -> AnyView {
    let opened = RwSignal::new(open);
    view! {
        <details open=open on:toggle=move |_| opened.set(true)>
            <summary aria-describedby=described_by>{summary}</summary>
            {shown(move || opened.get().then(&inside))}
        </details>
    }
    .into_any()
}
