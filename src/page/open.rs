//! An open test: its five places and the bar between them.

use leptos::prelude::*;

use super::app::{App, Place};
use super::desk::{CannotOpen, Desk};
use super::parts::{alert, button, button_while, lines, shown};
use super::{gauge, plan, results, spray, weigh};
use crate::device;
use crate::store::Trouble;
use record::{file_name, unread};

/// The test of this id on the desk, or why it cannot be laid there.
pub fn open(app: App, id: &str) -> AnyView {
    match Desk::open(app, id) {
        Ok(desk) => {
            provide_context(desk);
            view! { <OpenTest desk/> }.into_any()
        }
        Err(trouble) => cannot_open(id, trouble),
    }
}

/// A test that cannot be laid on the desk.
fn cannot_open(id: &str, trouble: CannotOpen) -> AnyView {
    device::set_title(&["This test cannot be opened"]);
    let sentence = trouble.to_string();
    let raw = match trouble {
        CannotOpen::Text(_, text) => Some(text),
        CannotOpen::Storage(_) | CannotOpen::NotHere => None,
    };
    view! {
        <main>
            <h1>"This test cannot be opened"</h1>
            <p class="trouble" role="alert">{sentence}</p>
            {raw.map(|text| {
                let name = file_name(id);
                view! {
                    <p>"Nothing was changed or deleted. Save what is there, so that it can be mended."</p>
                    {button("accent", "Save its text as a file", move || device::download(&name, &text))}
                }
            })}
            <p><a href="#">"All tests"</a></p>
        </main>
    }
    .into_any()
}

#[component]
fn OpenTest(desk: Desk) -> impl IntoView {
    let app = desk.app;
    Effect::new(move |_| device::set_title(&[app.place.get().word(), &desk.title()]));
    view! {
        <header class="card-head">
            <a class="back" href="#">"All tests"</a>
            <p class="title">{move || desk.title()}</p>
            <p class="undo">
                {button_while(move || desk.can_undo(), "Undo", move || desk.undo())}
                {button_while(move || desk.can_redo(), "Redo", move || desk.redo())}
            </p>
        </header>
        <aside aria-label="About this test">
        {lines("notice", move || findings::facts::invented_said(&desk.current().test).into_iter().collect())}
        {shown(move || {
            let trouble = desk.keeper.unsaved.get()?;
            let save = button("", "Save the record", move || desk.keeper.export());
            let again = (trouble == Trouble::Erased).then(|| button("", "Keep it after all", move || desk.keeper.keep_after_all()));
            let save = view! { {save} " " {again} }.into_any();
            Some(alert(vec![format!("Not kept: {trouble} It is still on screen; save it as a file.")], save))
        })}
        {lines("notice", move || unread(&desk.current().test))}
        {shown(move || Some(alert(vec![desk.refused.get()?], ().into_any())))}
        </aside>
        <main>
            {move || match app.place.get() {
                Place::Plan => untrack(|| plan::plan(desk)),
                Place::Spray => untrack(|| spray::spray(desk)),
                Place::Weigh => untrack(|| weigh::weigh(desk)),
                Place::Gauge => untrack(|| gauge::gauge(desk)),
                Place::Results => untrack(|| results::results(desk)),
            }}
        </main>
        <nav class="bar" aria-label="Places">
            {Place::ALL
                .map(|place| {
                    let current = move || (app.place.get() == place).then_some("page");
                    view! {
                        <a href=move || app.address_of(place) aria-current=move || current()>{place.word()}</a>
                    }
                })
                .collect_view()}
        </nav>
    }
}
