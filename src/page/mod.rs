//! The screens: Leptos components, a folder a screen. They show what findings say and hand on what is pressed and typed;
//! they work nothing out.

// A closure written out in a view is compiled once for all views; one handed on by name brings its own copy of the machinery.
#![allow(clippy::redundant_closure)]

mod desk;
mod gauge;
mod mixing;
mod parts;
mod plan;
mod results;
mod shelf;
mod shop;
mod spray;
mod weigh;

use leptos::prelude::*;

use crate::device;
use desk::Desk;
use parts::{button, lines, shown};
use shop::{Place, Screen, Shop};

/// The whole page.
#[component]
pub fn Page() -> impl IntoView {
    let shop = Shop::open();
    provide_context(shop);
    device::clear_first_paint();
    view! {
        <Notices shop/>
        {move || match shop.screen.get() {
            Screen::Shelf => view! { <shelf::Shelf/> }.into_any(),
            Screen::Test(id) => match Desk::open(shop, &id) {
                Ok(desk) => {
                    provide_context(desk);
                    view! { <OpenTest desk/> }.into_any()
                }
                Err(trouble) => view! { <shelf::CannotOpen id trouble/> }.into_any(),
            },
        }}
    }
}

/// What the whole page must say: that nothing can be kept, that it was erased, that a newer version waits, or what is off
/// over plain http.
#[component]
fn Notices(shop: Shop) -> impl IntoView {
    let trouble = move || {
        let trouble = shop.trouble.get()?;
        Some(alert(vec![format!("{trouble} What you enter stays on screen until the page is closed.")], ().into_any()))
    };
    let emptied = move || {
        let said = "What this page kept on this phone was erased while it was open: by hand, by the browser, or in another tab. The test that was on screen was written again. Others are gone unless you saved them as files.";
        let known = button("", "I have read this", move || shop.emptied.set(false));
        shop.emptied.get().then(|| alert(vec![said.into()], known))
    };
    view! {
        <aside aria-label="About this page">
            {shown(trouble)}
            {shown(emptied)}
            {shown(move || shop.newer.get().then(newer_version))}
            {(!device::is_secure())
                .then(|| {
                    view! {
                        <p class="notice">
                            "Opened over plain http: use without a network, sharing and keeping the screen awake are off. They need https, or the computer that serves the page."
                        </p>
                    }
                })}
        </aside>
    }
}

/// Something that went wrong, with what can be done.
fn alert(said: Vec<String>, then: AnyView) -> AnyView {
    view! { <div class="notice alert" role="alert">{lines("", move || said.clone())} {then}</div> }.into_any()
}

/// The offer of the version that waits. Nothing is forced: what is being typed stays.
fn newer_version() -> AnyView {
    let held_up = RwSignal::new(false);
    let said = move || {
        let more = "A field still holds something that could not be stored. Put it right or empty it first.";
        let offer = "A newer version of this page is ready. Your tests stay as they are.";
        if held_up.get() { vec![offer.into(), more.into()] } else { vec![offer.into()] }
    };
    let go = button("", "Use the newer version", move || held_up.set(!device::use_newer()));
    view! { <div class="notice" role="status">{lines("", said)} {go}</div> }.into_any()
}

/// An open test: its five places and the bar between them.
#[component]
fn OpenTest(desk: Desk) -> impl IntoView {
    let shop = desk.shop;
    Effect::new(move |_| device::set_title(&[shop.place.get().word(), &desk.title()]));
    view! {
        <header class="card-head">
            <a class="back" href="#">"All tests"</a>
            <p class="title">{move || desk.title()}</p>
            <p class="undo">
                <button class="plain" disabled=move || !desk.can_undo() on:click=move |_| desk.undo()>"Undo"</button>
                <button class="plain" disabled=move || !desk.can_redo() on:click=move |_| desk.redo()>"Redo"</button>
            </p>
        </header>
        <aside aria-label="About this test">
        {move || {
            desk.invented().then(|| view! { <p class="notice">"A worked example: everything in it is invented."</p> })
        }}
        {shown(move || {
            let trouble = desk.unsaved.get()?;
            let save = button("", "Save the record as a file", move || desk.export());
            Some(alert(vec![format!("Not kept: {trouble} It is still on screen; save it as a file.")], save))
        })}
        </aside>
        <main>
            {move || match shop.place.get() {
                Place::Plan => view! { <plan::Plan desk/> }.into_any(),
                Place::Spray => view! { <spray::Spray desk/> }.into_any(),
                Place::Weigh => untrack(|| weigh::weigh(desk)),
                Place::Gauge => untrack(|| gauge::gauge(desk)),
                Place::Results => untrack(|| results::results(desk)),
            }}
        </main>
        <nav class="bar" aria-label="Places">
            {Place::ALL
                .map(|place| {
                    let current = move || (shop.place.get() == place).then_some("page");
                    view! {
                        <a href=move || shop.address_of(place) aria-current=move || current()>{place.word()}</a>
                    }
                })
                .collect_view()}
        </nav>
    }
}
