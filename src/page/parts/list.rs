//! Lists that are followed one by one, and parts that stay folded until they are asked for. Functions and not generic
//! components, so that the page holds their code once.

use std::sync::Arc;

use leptos::prelude::*;

use crate::record::Id;

/// One view for each id; what is typed into one stays when others come and go.
pub fn each(ids: Memo<Vec<Id>>, view: impl Fn(Id) -> AnyView + Send + Sync + 'static) -> AnyView {
    let view: Arc<dyn Fn(Id) -> AnyView + Send + Sync> = Arc::new(view);
    view! {
        <For each=move || ids.get() key=Id::clone let:id>
            {view(id)}
        </For>
    }
    .into_any()
}

/// A part under its summary, made when it is first unfolded and kept from then on.
pub fn fold(summary: Signal<String>, open: bool, inside: impl Fn() -> AnyView + Send + Sync + 'static) -> AnyView {
    let inside: Box<dyn Fn() -> AnyView + Send + Sync> = Box::new(inside);
    let opened = RwSignal::new(open);
    view! {
        <details open=open on:toggle=move |_| opened.set(true)>
            <summary>{move || summary.get()}</summary>
            {move || opened.get().then(|| inside())}
        </details>
    }
    .into_any()
}
